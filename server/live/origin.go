package live

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
)

// sameOrigin keeps pages of other sites, which a browser would let in, away from the farm. A page that
// came by plain http is another site to what is asked by https: whoever is on the wifi can have written
// it. Clients that are no browsers name no origin.
func (s *Server) sameOrigin(r *http.Request) bool {
	origin := r.Header.Get("Origin")
	if origin == "" {
		return true
	}
	scheme := "http"
	if s.isSecure(r) {
		scheme = "https"
	}
	u, err := url.Parse(origin)
	return err == nil && u.Scheme == scheme && strings.EqualFold(u.Host, r.Host)
}

func (s *Server) isSecure(r *http.Request) bool {
	if s.Secure == nil {
		return r.TLS != nil
	}
	return s.Secure(r)
}

func refuseUpgrade(w http.ResponseWriter, _ *http.Request, status int, reason error) {
	code, text := "websocket", "This address is for websockets: "+reason.Error()+"."
	if status == http.StatusForbidden {
		code, text = "origin", "A page of another site may not talk to this farm."
	}
	w.Header().Set("Cache-Control", "no-store")
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(status)
	body := map[string]map[string]string{"error": {"code": code, "text": text}}
	_ = json.NewEncoder(w).Encode(body) // whoever asked has gone
}
