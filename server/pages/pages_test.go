package pages

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/json"
	"math/big"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"
)

const (
	origin = "https://shed.local:8420"
	iPhone = "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15"
	robot  = "Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 Chrome/130"
)

// authorityNamed is a certificate with a name.
func authorityNamed(t *testing.T, name string) []byte {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{
		SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: name},
		NotAfter: time.Date(2036, 6, 8, 12, 0, 0, 0, time.UTC), IsCA: true, BasicConstraintsValid: true,
	}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &key.PublicKey, key)
	if err != nil {
		t.Fatal(err)
	}
	return der
}

func ofFarm(t *testing.T) Config {
	return Config{
		Origin: origin, AuthorityDER: authorityNamed(t, "The farm's authority"),
		Names: []string{"shed.local"}, Networks: []netip.Prefix{netip.MustParsePrefix("192.168.7.20/24")},
		Here: "http://127.0.0.1:8420", FarmName: func() string { return "Three Springs" },
		QR: func(text string) (string, error) { return `<svg aria-hidden="true" data-of="` + text + `"></svg>`, nil },
	}
}

func newPages(t *testing.T, config Config) *Pages {
	t.Helper()
	p, err := New(config)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// site is what a farm's server makes of the pages, under three hosts.
func site(p *Pages) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.Host {
		case "plain":
			p.Before(p.Explain()).ServeHTTP(w, r)
		default:
			p.Before(p.Elsewhere()).ServeHTTP(w, r)
		}
	})
}

// ask asks as a browser does that shows a page, where the headers say nothing else.
func ask(p *Pages, method, url string, headers map[string]string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, url, nil)
	r.Header.Set("Accept", "text/html,application/xhtml+xml")
	for name, value := range headers {
		r.Header.Set(name, value)
	}
	w := httptest.NewRecorder()
	site(p).ServeHTTP(w, r)
	return w
}

func get(p *Pages, url string) *httptest.ResponseRecorder { return ask(p, http.MethodGet, url, nil) }

// every is the address of each page.
var every = []string{"http://plain/", "http://plain/trust", "http://other/"}

func TestWhatIsAnswered(t *testing.T) {
	p := newPages(t, ofFarm(t))
	program := map[string]string{"Accept": "*/*"}
	tests := []struct {
		name, method, url string
		headers           map[string]string
		status            int
		kind, says        string
	}{
		{"a person by plain http", "GET", "http://plain/", nil, 200, "text/html", "not private"},
		{"a person at any place of the app by plain http", "GET", "http://plain/beds/4", nil, 200, "text/html", "not private"},
		{"a program by plain http", "GET", "http://plain/api/farm", program, 403, "application/json", `"code":"plain"`},
		{"a websocket by plain http", "GET", "http://plain/sync", map[string]string{"Accept": "", "Upgrade": "websocket"}, 403, "application/json", origin},
		{"a file by plain http", "POST", "http://plain/api/unsent", nil, 403, "application/json", `"code":"plain"`},
		{"a person under another name", "GET", "http://other/", nil, 421, "text/html", "another address"},
		{"a program under another name", "GET", "http://other/api/farm", program, 421, "application/json", `"code":"host"`},
		{"the way to trust by plain http", "GET", "http://plain/trust", nil, 200, "text/html", "trust the farm"},
		{"the way to trust under another name", "GET", "http://other/trust", nil, 200, "text/html", "trust the farm"},
		{"the way to trust, written to", "POST", "http://plain/trust", nil, 405, "application/json", `"code":"method"`},
		{"the style", "GET", "http://plain/pages.css", program, 200, "text/css", "--paper"},
		{"the authority", "GET", "http://plain/authority.crt", nil, 200, "application/x-x509-ca-cert", ""},
		{"the profile", "GET", "http://plain/authority.mobileconfig", nil, 200, "application/x-apple-aspen-config", "com.apple.security.root"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := ask(p, tt.method, tt.url, tt.headers)
			if w.Code != tt.status || !strings.HasPrefix(w.Header().Get("Content-Type"), tt.kind) {
				t.Errorf("status %d of %s, want %d of %s", w.Code, w.Header().Get("Content-Type"), tt.status, tt.kind)
			}
			if !strings.Contains(w.Body.String(), tt.says) {
				t.Errorf("it does not say %q", tt.says)
			}
			if tt.kind == "application/json" && !json.Valid(w.Body.Bytes()) {
				t.Errorf("it is no JSON: %s", w.Body)
			}
			if got := w.Header().Get("Cache-Control"); got != "no-store" {
				t.Errorf("a browser may keep it: %s", got)
			}
			if got := w.Header().Get("Content-Security-Policy"); !strings.HasPrefix(got, "default-src 'none'; style-src 'self'; img-src 'self' data:;") {
				t.Errorf("it may load %s", got)
			}
			head := ask(p, http.MethodHead, tt.url, tt.headers)
			if tt.method == "GET" && (head.Code != tt.status || head.Body.Len() > 0) {
				t.Errorf("HEAD gives %d and %d bytes", head.Code, head.Body.Len())
			}
		})
	}
}

func TestThePagesTellWhatTheFarmIs(t *testing.T) {
	config := ofFarm(t)
	config.Networks = append(config.Networks, netip.MustParsePrefix("10.0.0.0/30"), netip.MustParsePrefix("fd00:7::/64"))
	p := newPages(t, config)
	for _, url := range every {
		body := get(p, url).Body.String()
		for _, want := range []string{`href="` + origin + `"`, "Three Springs"} {
			if !strings.Contains(body, want) {
				t.Errorf("%s does not tell %s", url, want)
			}
		}
	}
	trust := get(p, "http://plain/trust").Body.String()
	for _, want := range append(strings.Fields(Fingerprint(config.AuthorityDER)),
		"shed.local", "192.168.7.0 to 192.168.7.255", "10.0.0.0 to 10.0.0.3", "fd00:7:: to fd00:7::ffff:ffff:ffff:ffff",
		"2036-06-08", "http://127.0.0.1:8420", `data-of="http://shed.local:8420/trust"`, "The farm&#39;s authority") {
		if !strings.Contains(trust, want) {
			t.Errorf("the way to trust does not tell %s", want)
		}
	}
	if body := get(p, "http://192.168.7.20:8420/").Body.String(); !strings.Contains(body, "192.168.7.20:8420") {
		t.Error("who came to another address is not told which")
	}
}

func TestAFarmWhoseCertificatePhonesKnowHasNothingToTrust(t *testing.T) {
	config := ofFarm(t)
	config.AuthorityDER, config.Origin = nil, "https://farm.example"
	p := newPages(t, config)
	for _, url := range every {
		body := get(p, url).Body.String()
		for _, not := range []string{AuthorityPath, ProfilePath, "do not go past the warning", "sha256sum", ".local"} {
			if strings.Contains(body, not) {
				t.Errorf("%s tells of %s", url, not)
			}
		}
	}
	if body := get(p, "http://plain/trust").Body.String(); !strings.Contains(body, "nothing to install") || !strings.Contains(body, "Add to Home Screen") {
		t.Error("it does not tell the next step")
	}
	for _, path := range []string{AuthorityPath, ProfilePath} {
		if w := get(p, "http://plain"+path); w.Code != http.StatusNotFound || !json.Valid(w.Body.Bytes()) {
			t.Errorf("%s gives %d: %s", path, w.Code, w.Body)
		}
	}
}

func TestTheCodeLeadsToTheWayToTrust(t *testing.T) {
	own := authorityNamed(t, "Own")
	tests := []struct {
		origin    string
		authority []byte
		want      string
	}{
		{"https://shed.local:8420", own, "http://shed.local:8420/trust"},
		{"https://shed.local", own, "http://shed.local:443/trust"},
		{"https://[fd00:7::20]", own, "http://[fd00:7::20]:443/trust"},
		{"https://farm.example", nil, "https://farm.example/trust"},
	}
	for _, tt := range tests {
		config := ofFarm(t)
		config.Origin, config.AuthorityDER = tt.origin, tt.authority
		if body := get(newPages(t, config), "http://plain/trust").Body.String(); !strings.Contains(body, `data-of="`+tt.want+`"`) {
			t.Errorf("at %s it does not lead to %s", tt.origin, tt.want)
		}
	}
}

func TestTheSectionOfTheOwnDeviceStandsFirstAndOpen(t *testing.T) {
	p := newPages(t, ofFarm(t))
	for userAgent, want := range map[string]string{iPhone: "iPhone or iPad", robot: "Android phone", "": "Laptop", "Mozilla/5.0 (Windows NT 10.0)": "Laptop"} {
		body := ask(p, http.MethodGet, "http://plain/trust", map[string]string{"User-Agent": userAgent}).Body.String()
		_, after, _ := strings.Cut(body, "<details")
		if first, _, _ := strings.Cut(after, "</summary>"); !strings.HasPrefix(first, " open>") || !strings.Contains(first, want) {
			t.Errorf("for %q the first is %q, want %s", userAgent, first, want)
		}
		if n := strings.Count(body, "<details open>"); n != 1 {
			t.Errorf("for %q %d are open", userAgent, n)
		}
	}
}

func TestLinksOfOursLeadSomewhere(t *testing.T) {
	p := newPages(t, ofFarm(t))
	for _, url := range every {
		for _, lang := range []string{"", "?lang=es"} {
			for _, node := range elements(t, get(p, url+lang).Body.String()) {
				href := attribute(node, "href")
				if !strings.HasPrefix(href, "/") {
					continue
				}
				if w := ask(p, http.MethodGet, "http://other"+href, nil); w.Code != http.StatusOK {
					t.Errorf("%s leads to %s, which gives %d", url, href, w.Code)
				}
				if lang != "" && node.Data == "a" && href != AuthorityPath && !strings.HasSuffix(href, lang) {
					t.Errorf("%s forgets the language at %s", url, href)
				}
			}
		}
	}
}

// elements are those of a page.
func elements(t *testing.T, body string) []*html.Node {
	t.Helper()
	root, err := html.Parse(strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	var all []*html.Node
	for node := range root.Descendants() {
		if node.Type == html.ElementNode {
			all = append(all, node)
		}
	}
	if !slices.ContainsFunc(all, func(n *html.Node) bool { return n.Data == "h1" }) {
		t.Fatalf("it is no page: %s", body)
	}
	return all
}

func attribute(node *html.Node, key string) string {
	for _, a := range node.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}
