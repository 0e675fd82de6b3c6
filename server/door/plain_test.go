package door

import (
	"io"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"testing"
)

func says(text string) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { _, _ = io.WriteString(w, text) })
}

func TestWhoReachesTheAppByPlainHTTP(t *testing.T) {
	proxy := []netip.Prefix{netip.MustParsePrefix("192.168.7.2/32")}
	local := []netip.Prefix{netip.MustParsePrefix("127.0.0.1/32")}
	tests := []struct {
		name    string
		proxies []netip.Prefix
		remote  string
		want    string
	}{
		{"this machine", nil, "127.0.0.1:5000", "app"},
		{"this machine by another of its own addresses", nil, "127.0.0.9:5000", "app"},
		{"this machine by IPv6", nil, "[::1]:5000", "app"},
		{"this machine by IPv4 in IPv6", nil, "[::ffff:127.0.0.1]:5000", "app"},
		{"a phone", nil, "192.168.7.31:5000", "explain"},
		{"a phone by IPv6", nil, "[fe80::1%eth0]:5000", "explain"},
		{"nobody knows", nil, "@", "explain"},
		{"the proxy", proxy, "192.168.7.2:5000", "app"},
		{"the proxy by IPv4 in IPv6", proxy, "[::ffff:192.168.7.2]:5000", "app"},
		{"a phone beside the proxy", proxy, "192.168.7.31:5000", "explain"},
		{"this machine beside the proxy", proxy, "127.0.0.1:5000", "explain"},
		{"the proxy on this machine", local, "127.0.0.1:5000", "app"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			handler := Plain(says("app"), says("explain"), Trusted(tt.proxies))
			for _, header := range []string{"", "X-Forwarded-For", "X-Forwarded-Host", "X-Real-Ip", "Forwarded"} {
				for _, value := range []string{"127.0.0.1", "192.168.7.2", "192.168.7.31", "for=127.0.0.1;proto=https"} {
					r := httptest.NewRequest(http.MethodGet, "/", nil)
					r.RemoteAddr = tt.remote
					if header != "" {
						r.Header.Set(header, value)
						r.Header.Set("X-Forwarded-Proto", "https")
					}
					w := httptest.NewRecorder()
					handler.ServeHTTP(w, r)
					if got := w.Body.String(); got != tt.want {
						t.Errorf("with %s: %s it gave %s", header, value, got)
					}
				}
			}
		})
	}
}
