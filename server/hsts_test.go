package main

import (
	"crypto/tls"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"testing"

	"corymb/server/certs"
)

func TestBrowsersAreHeldToHTTPSWhereTheFarmsHostMaySayThat(t *testing.T) {
	proxies := []netip.Prefix{netip.MustParsePrefix("10.0.0.2/32")}
	tests := []struct {
		name           string
		server         server
		secure, remote string // what is said by https, and to one that comes by plain http from a proxy
	}{
		{"a public certificate on the port of https", server{origin: "https://farm.example", site: site{host: "farm.example"}}, onlySecure, ""},
		{"a public certificate on another port", server{origin: "https://farm.example:8420", site: site{host: "farm.example"}}, "", ""},
		{"an authority of the farm's own", server{origin: "https://corymb.local:8420", site: site{host: "corymb.local", certs: &certs.Local{}}}, "", ""},
		{"the same on the port of https", server{origin: "https://corymb.local", site: site{host: "corymb.local", certs: &certs.Local{}}}, "", ""},
		{"a proxy", server{origin: "https://farm.example", site: site{host: "farm.example", proxies: proxies}}, onlySecure, onlySecure},
		{"this machine alone", server{origin: "http://127.0.0.1:8420"}, "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			handler := tt.server.saySecure(http.NotFoundHandler())
			said := func(remote string, state *tls.ConnectionState) string {
				r := httptest.NewRequest("GET", "/", nil)
				r.RemoteAddr, r.TLS = remote, state
				w := httptest.NewRecorder()
				handler.ServeHTTP(w, r)
				return w.Header().Get("Strict-Transport-Security")
			}
			if got := said("192.168.7.31:1", &tls.ConnectionState{}); got != tt.secure {
				t.Errorf("by https it says %q", got)
			}
			if got := said("10.0.0.2:1", nil); got != tt.remote {
				t.Errorf("by way of the proxy it says %q", got)
			}
			if got := said("192.168.7.31:1", nil); got != "" {
				t.Errorf("by plain http it says %q", got)
			}
		})
	}
}
