package door

import (
	"net/http"
	"net/netip"
	"slices"
)

// Plain answers requests of plain http: with the app where the connection comes from an address that is
// trusted, else with explain. What a request says of itself, such as X-Forwarded-For, is not asked:
// anybody can write it.
func Plain(app, explain http.Handler, trusted func(remote netip.Addr) bool) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		remote, err := netip.ParseAddrPort(r.RemoteAddr)
		if err != nil || !trusted(bare(remote.Addr())) {
			explain.ServeHTTP(w, r)
			return
		}
		app.ServeHTTP(w, r)
	})
}

// Trusted is for Plain. Without a reverse proxy it is this machine itself, for which a browser needs no
// https (https://www.w3.org/TR/secure-contexts/, section 3.1). With proxies it is they alone: a proxy on
// this machine would else make whoever comes by it pass for this machine.
func Trusted(proxies []netip.Prefix) func(remote netip.Addr) bool {
	if len(proxies) == 0 {
		return netip.Addr.IsLoopback
	}
	return func(remote netip.Addr) bool {
		return slices.ContainsFunc(proxies, func(p netip.Prefix) bool { return p.Contains(remote) })
	}
}
