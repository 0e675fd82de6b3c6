package main

import (
	"net"
	"net/http"
	"strings"
)

// onlySecure is for a year and for this host alone: what lies below its name is not the farm's
// (RFC 6797, section 6.1; this and the sections below from memory).
const onlySecure = "max-age=31536000"

// saySecure tells browsers that came by https to come by nothing else from then on, where the farm's
// host may say that.
func (s *server) saySecure(next http.Handler) http.Handler {
	if !s.maySaySecure() {
		return next
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if s.cameSecure(r) { // by plain http it may not be said (section 7.2)
			w.Header().Set("Strict-Transport-Security", onlySecure)
		}
		next.ServeHTTP(w, r)
	})
}

// maySaySecure tells whether every plain http of the farm's host may end. What is said is of a host and
// knows no port (RFC 6797, section 8.3), and leaves a person no way round a bad certificate (section
// 12.1). So it is not said on another port than that of https: the name is then that of a machine with
// other things on it. Nor with an authority of the farm's own: the way to trust a new one is by plain http
// under this very name, and phones that could not go it would be shut out for a year. They lose little:
// the app answers a phone that has it without asking the network, and what the app itself connects to
// fails, without a question, where the certificate is not right.
func (s *server) maySaySecure() bool {
	_, _, err := net.SplitHostPort(strings.TrimPrefix(s.origin, "https://"))
	withoutPort := err != nil
	return s.site.host != "" && s.site.certs == nil && withoutPort
}
