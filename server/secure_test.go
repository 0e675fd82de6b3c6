package main

import (
	"bytes"
	"context"
	"crypto/tls"
	"log/slog"
	"net"
	"net/http/httptest"
	"strings"
	"testing"
)

// runs serves until the test is over.
func (o *opened) runs(t *testing.T) (stop func()) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- o.run(ctx) }()
	over := false
	stop = func() {
		if over {
			return
		}
		over = true
		cancel()
		must(t, <-ended)
	}
	t.Cleanup(stop)
	return stop
}

func TestEveryAnswerOfTheFarmIsGuarded(t *testing.T) {
	o, err := openAt(t, t.TempDir(), place{listen: "127.0.0.1:0", tls: tlsLocal})
	if err != nil {
		t.Fatal(err)
	}
	named := strings.TrimPrefix(o.origin, "https://")
	const phone, desk = "192.168.7.31:50000", "127.0.0.1:50000"
	for _, as := range []struct {
		name         string
		secure       bool
		remote, host string
	}{
		{"by https", true, phone, named}, {"by https under another name", true, phone, "evil.example"},
		{"by plain http", false, phone, named}, {"at the desk", false, desk, "localhost"}, {"at the desk under another name", false, desk, "evil.example"},
	} {
		for _, path := range []string{
			"/", "/beds", "/trust", "/trust?lang=es", "/authority.crt", "/authority.mobileconfig", "/pages.css",
			"/api/me", "/api/none", "/sync", "/none.js", "//evil.example/..", "/index.html/",
		} {
			for _, method := range []string{"GET", "HEAD", "POST", "TRACE"} {
				r := httptest.NewRequest(method, "/", nil)
				r.URL.Path, r.Host, r.RemoteAddr = path, as.host, as.remote
				r.Header.Set("Accept", "text/html")
				r.Header.Set("Origin", "https://evil.example")
				if as.secure {
					r.TLS = &tls.ConnectionState{}
				}
				w := httptest.NewRecorder()
				o.handler.ServeHTTP(w, r)
				checkGuarded(t, method+" "+path+" "+as.name, w)
			}
		}
	}
}

func checkGuarded(t *testing.T, what string, w *httptest.ResponseRecorder) {
	t.Helper()
	got := w.Header()
	policy := got.Get("Content-Security-Policy")
	for _, part := range []string{"object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'"} {
		if !strings.Contains(policy, part) {
			t.Errorf("%s: %d with the policy %q", what, w.Code, policy)
		}
	}
	if strings.Contains(policy, "unsafe") || got.Get("X-Content-Type-Options") != "nosniff" || got.Get("Referrer-Policy") != "no-referrer" ||
		got.Get("Permissions-Policy") == "" || got.Get("Cross-Origin-Resource-Policy") != "same-origin" {
		t.Errorf("%s: %d %v", what, w.Code, got)
	}
	if got.Get("Access-Control-Allow-Origin") != "" || got.Get("Location") != "" || got.Get("Strict-Transport-Security") != "" {
		t.Errorf("%s: %d %v", what, w.Code, got)
	}
	contentType := got.Get("Content-Type")
	if text := strings.HasPrefix(contentType, "text/") || strings.HasPrefix(contentType, "application/json"); w.Body.Len() > 0 && text && !strings.HasSuffix(contentType, "; charset=utf-8") || contentType == "" {
		t.Errorf("%s: %d of type %q", what, w.Code, contentType)
	}
}

func TestOnlySoundTLSIsSpoken(t *testing.T) {
	o, err := openAt(t, t.TempDir(), place{listen: "127.0.0.1:0", tls: tlsLocal, host: "127.0.0.1"})
	if err != nil {
		t.Fatal(err)
	}
	o.runs(t)
	dial := func(config *tls.Config) (tls.ConnectionState, error) {
		config.InsecureSkipVerify = true // whom it trusts is for another test
		conn, err := tls.Dial("tcp", o.listener.Addr().String(), config)
		if err != nil {
			return tls.ConnectionState{}, err
		}
		defer conn.Close()
		return conn.ConnectionState(), nil
	}
	for _, version := range []uint16{tls.VersionTLS10, tls.VersionTLS11} {
		if _, err := dial(&tls.Config{MinVersion: version, MaxVersion: version}); err == nil || !strings.Contains(err.Error(), "protocol version") {
			t.Errorf("%s: %v", tls.VersionName(version), err)
		}
	}
	for _, suite := range tls.InsecureCipherSuites() {
		if state, err := dial(&tls.Config{MaxVersion: tls.VersionTLS12, CipherSuites: []uint16{suite.ID}}); err == nil {
			t.Errorf("%s is spoken: %+v", suite.Name, state)
		}
	}
	if state, err := dial(&tls.Config{}); err != nil || state.Version != tls.VersionTLS13 {
		t.Errorf("with the newest it speaks %s, %v", tls.VersionName(state.Version), err)
	}
	state, err := dial(&tls.Config{MaxVersion: tls.VersionTLS12})
	if suite := tls.CipherSuiteName(state.CipherSuite); err != nil || !strings.HasPrefix(suite, "TLS_ECDHE_ECDSA_") || strings.Contains(suite, "_CBC_") {
		t.Errorf("with one before it speaks %s, %v", suite, err)
	}
}

func TestWhatIsNoHTTPIsAnsweredWithoutTellingAnything(t *testing.T) {
	o, err := openAt(t, t.TempDir(), place{listen: "127.0.0.1:0"})
	if err != nil {
		t.Fatal(err)
	}
	o.runs(t)
	// A length beside chunks could make a proxy and this server see different requests (RFC 9112, section 6.3).
	for name, request := range map[string]string{
		"no HTTP":              "HELO shed\r\n\r\n",
		"no host":              "GET / HTTP/1.1\r\n\r\n",
		"two hosts":            "GET / HTTP/1.1\r\nHost: localhost\r\nHost: evil.example\r\n\r\n",
		"two lengths":          "POST /api/join HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\n{}",
		"an unknown coding":    "POST /api/join HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: xchunked\r\n\r\n0\r\n\r\n",
		"a header on two":      "GET / HTTP/1.1\r\nHost: localhost\r\nX : y\r\n\r\n",
		"a header that is far": "GET / HTTP/1.1\r\nHost: localhost\r\nX: " + strings.Repeat("x", 100<<10) + "\r\n\r\n",
	} {
		conn, err := net.Dial("tcp", o.listener.Addr().String())
		must(t, err)
		_, _ = conn.Write([]byte(request)) // it may be cut off, which is an answer
		answer := make([]byte, 1024)
		n, _ := conn.Read(answer)
		must(t, conn.Close())
		said := string(answer[:n])
		if status := strings.HasPrefix(said, "HTTP/1.1 400 ") || strings.HasPrefix(said, "HTTP/1.1 431 ") || strings.HasPrefix(said, "HTTP/1.1 501 "); !status || strings.Contains(said, "Server:") {
			t.Errorf("%s is answered %q", name, said)
		}
	}
}

func TestAFaultInARequestIsToldAndABrokenLineIsNot(t *testing.T) {
	var log bytes.Buffer
	out := faultsTo(slog.New(slog.NewTextHandler(&log, nil)))
	out.Print("http: TLS handshake error from 192.168.7.31:1: EOF")
	if log.Len() > 0 {
		t.Errorf("it says %s", log.String())
	}
	out.Print("http: panic serving 192.168.7.31:1: a page cannot be shown\ngoroutine 1 [running]:")
	if said := log.String(); !strings.Contains(said, "level=ERROR") || strings.Count(said, "\n") != 1 {
		t.Errorf("it says %s", said)
	}
}
