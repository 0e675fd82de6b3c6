package main

import (
	"bytes"
	"context"
	"crypto/tls"
	"encoding/json"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"corymb/syncproto"
)

// proxied is a phone that reaches the farm through a reverse proxy, which serves https.
type proxied struct {
	t    *testing.T
	http http.Client
	line websocket.Dialer
}

// beforeFarm starts a proxy before a farm. It hands on who asks, after whatever a phone wrote there
// itself, as nginx's $proxy_add_x_forwarded_for does, and the name where it is told to.
func beforeFarm(t *testing.T, farm net.Addr, handsOnName bool) *proxied {
	t.Helper()
	proxy := httptest.NewUnstartedServer(&httputil.ReverseProxy{
		ErrorLog: slog.NewLogLogger(slog.DiscardHandler, slog.LevelError),
		Rewrite: func(r *httputil.ProxyRequest) {
			r.SetURL(&url.URL{Scheme: "http", Host: farm.String()})
			if handsOnName {
				r.Out.Host = r.In.Host
			}
			r.Out.Header["X-Forwarded-For"] = r.In.Header["X-Forwarded-For"]
			r.SetXForwarded()
		},
	})
	proxy.StartTLS()
	t.Cleanup(proxy.Close)
	jar, err := cookiejar.New(nil)
	must(t, err)
	trusting := proxy.Client().Transport.(*http.Transport).TLSClientConfig.Clone()
	trusting.ServerName = "example.com" // for which the test's certificate is
	dial := func(ctx context.Context, network, _ string) (net.Conn, error) {
		return (&net.Dialer{}).DialContext(ctx, network, proxy.Listener.Addr().String())
	}
	return &proxied{
		t:    t,
		http: http.Client{Jar: jar, Transport: &http.Transport{TLSClientConfig: trusting, DialContext: dial}},
		line: websocket.Dialer{Jar: jar, TLSClientConfig: only1(trusting), NetDialContext: dial},
	}
}

// only1 speaks HTTP/1.1, by which websockets begin.
func only1(config *tls.Config) *tls.Config {
	config = config.Clone()
	config.NextProtos = []string{"http/1.1"}
	return config
}

func (p *proxied) asks(method, path, body string) (int, string, http.Header) {
	p.t.Helper()
	r, err := http.NewRequest(method, "https://"+publicName+path, strings.NewReader(body))
	must(p.t, err)
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("X-Forwarded-For", "203.0.113.9")
	w, err := p.http.Do(r)
	must(p.t, err)
	defer w.Body.Close()
	answer, err := io.ReadAll(w.Body)
	must(p.t, err)
	return w.StatusCode, string(answer), w.Header
}

func TestAPhoneJoinsAndTalksThroughAReverseProxy(t *testing.T) {
	var log locked
	o, err := openTo(t, t.TempDir(), place{listen: "127.0.0.1:0", host: publicName, proxies: "127.0.0.1"}, &log)
	if err != nil {
		t.Fatal(err)
	}
	o.runs(t)
	p := beforeFarm(t, o.listener.Addr(), true)
	if status, body, header := p.asks("GET", "/", ""); status != 200 || body != "the app" || header.Get("Strict-Transport-Security") == "" {
		t.Errorf("the app is answered %d %q %v", status, body, header)
	}
	link := strings.TrimSpace(strings.Split(o.said.String(), "show it to nobody: ")[1])
	link, _, _ = strings.Cut(link, "\n")
	begin, code, _ := strings.Cut(link, "/#join/")
	if begin != "https://"+publicName {
		t.Errorf("an owner joins at %s", begin)
	}
	status, body, header := p.asks("POST", "/api/join", `{"code":"`+code+`","device":"`+uuid.NewString()+`","label":"phone"}`)
	if cookie := header.Get("Set-Cookie"); status != 200 || !strings.HasPrefix(cookie, "__Host-") || !strings.Contains(cookie, "; Secure") {
		t.Fatalf("joining is answered %d %s, with the cookie %q", status, body, cookie)
	}
	if said := log.String(); !strings.Contains(said, "a device joined") || !strings.Contains(said, "from=127.0.0.1") || strings.Contains(said, "203.0.113.9") {
		t.Errorf("the phone is not whom the proxy names: %s", said)
	}
	if status, body, _ = p.asks("GET", "/api/me", ""); status != 200 || !strings.Contains(body, `"role":"owner"`) {
		t.Errorf("who it is: %d %s", status, body)
	}
	_, body, _ = p.asks("POST", "/api/invitations", `{"person":"`+uuid.NewString()+`","name":"Ben","role":"crew"}`)
	var invited struct {
		Link  string
		Trust any
	}
	must(t, json.Unmarshal([]byte(body), &invited))
	if !strings.HasPrefix(invited.Link, "https://"+publicName+"/#join/") || invited.Trust != nil {
		t.Errorf("the next one is invited by %+v", invited)
	}
	if said := p.hello("https://" + publicName); !bytes.Contains(said, []byte(`"welcome"`)) {
		t.Errorf("the phone's hello is answered %s", said)
	}
	if _, response, err := p.line.Dial("wss://"+publicName+"/sync", http.Header{"Origin": {"https://evil.example"}}); err == nil || response == nil || response.StatusCode != http.StatusForbidden {
		t.Errorf("another site's page is answered %v, %v", response, err)
	}
}

// hello begins a conversation and returns what is said first.
func (p *proxied) hello(origin string) []byte {
	p.t.Helper()
	socket, _, err := p.line.Dial("wss://"+publicName+"/sync", http.Header{"Origin": {origin}})
	must(p.t, err)
	defer socket.Close()
	must(p.t, socket.WriteJSON(syncproto.Hello{T: syncproto.TypeHello, Versions: []int{syncproto.Version}, Device: uuid.NewString(), Incarnation: uuid.NewString()}))
	_, said, err := socket.ReadMessage()
	must(p.t, err)
	return said
}

func TestAProxyThatKeepsTheNameToItselfIsToldSo(t *testing.T) {
	o, err := openAt(t, t.TempDir(), place{listen: "127.0.0.1:0", host: publicName, proxies: "127.0.0.1"})
	if err != nil {
		t.Fatal(err)
	}
	o.runs(t)
	if status, body, _ := beforeFarm(t, o.listener.Addr(), false).asks("GET", "/", ""); status != http.StatusMisdirectedRequest || !strings.Contains(body, "This server is not called 127.0.0.1") {
		t.Errorf("it is answered %d %s", status, body)
	}
}
