// Package pages are the pages for phones that do not have the app yet: why plain http shows no records,
// how a phone comes to trust the farm, and where the farm is.
package pages

import (
	"bytes"
	"crypto/x509"
	"embed"
	"encoding/json"
	"fmt"
	"html/template"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strings"
)

// Where some of the pages are, under every name and by https and plain http alike.
const (
	TrustPath     = "/trust"
	AuthorityPath = "/authority.crt"
	ProfilePath   = "/authority.mobileconfig"
	StylePath     = "/pages.css"
)

const (
	// policy lets a page load its style and pictures, and run nothing.
	policy = "default-src 'none'; style-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
	// features are the powers of a browser that a page may ask for: none of those that matter.
	features = "camera=(), display-capture=(), geolocation=(), hid=(), microphone=(), midi=(), payment=(), serial=(), usb=()"
)

var (
	//go:embed templates/*.html
	templateFiles embed.FS
	//go:embed style.css
	style []byte
	// templates hold no word of a language.
	templates = template.Must(template.ParseFS(templateFiles, "templates/*.html"))
)

// Config is what the pages tell of.
type Config struct {
	Origin string // the farm's one address: https, host and port
	// AuthorityDER is the certificate of the farm's own authority; nil where the farm's certificate is of
	// an authority that phones know already.
	AuthorityDER []byte
	// Names and Networks are those for which that authority may vouch.
	Names    []string
	Networks []netip.Prefix
	Here     string                            // where the app is on the shed's own machine by plain http; "" for nowhere
	FarmName func() string                     // "" where it has none yet
	QR       func(text string) (string, error) // a picture, as SVG; nil for none
}

// Pages are handlers that are safe for concurrent use.
type Pages struct {
	config    Config
	host      string            // of the origin, with the port
	authority *x509.Certificate // nil for none
	code      template.HTML     // leads a phone to TrustPath
}

// New makes the pages. It refuses an origin that is none, and an authority that cannot be read.
func New(config Config) (*Pages, error) {
	origin, err := url.Parse(config.Origin)
	if err != nil || origin.Scheme != "https" || origin.Host == "" || origin.String() != "https://"+origin.Host {
		return nil, fmt.Errorf("the farm's address %q is none: write it like https://shed.local:8420", config.Origin)
	}
	p := &Pages{config: config, host: origin.Host}
	if config.AuthorityDER != nil {
		if p.authority, err = x509.ParseCertificate(config.AuthorityDER); err != nil {
			return nil, fmt.Errorf("reading the farm's authority to show it to phones: %w", err)
		}
	}
	if config.QR != nil {
		svg, err := config.QR(p.wayToTrust())
		if err != nil {
			return nil, fmt.Errorf("drawing the way to %s: %w", TrustPath, err)
		}
		p.code = template.HTML(svg)
	}
	return p, nil
}

// wayToTrust is for phones that do not trust the farm yet: by plain http, on the same port.
func (p *Pages) wayToTrust() string {
	switch {
	case p.authority == nil:
		return p.config.Origin + TrustPath
	case hostOnly(p.host) == p.host: // without a port it is that of https
		return "http://" + p.host + ":443" + TrustPath
	}
	return "http://" + p.host + TrustPath
}

// Before answers with the pages and files that have a path of their own, and leaves all else to next.
func (p *Pages) Before(next http.Handler) http.Handler {
	own := map[string]http.Handler{
		TrustPath: p.Trust(), AuthorityPath: p.Authority(), ProfilePath: p.Profile(), StylePath: p.Style(),
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if handler, ok := own[r.URL.Path]; ok {
			handler.ServeHTTP(w, r)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// Explain answers whatever is asked for by plain http: a person with a page, and a program, which would
// take a page for an answer, with an error.
func (p *Pages) Explain() http.Handler {
	return p.reading("explain.html", http.StatusOK, refusal{http.StatusForbidden, "plain", "refused.plain"})
}

// Elsewhere answers whatever is asked for under another name than the farm's: a person with a page, a
// program with an error. Both have the status of a request that went to the wrong server (RFC 9110,
// section 15.5.20).
func (p *Pages) Elsewhere() http.Handler {
	return p.reading("elsewhere.html", http.StatusMisdirectedRequest, refusal{http.StatusMisdirectedRequest, "host", "refused.host"})
}

// Trust walks a phone through trusting the farm.
func (p *Pages) Trust() http.Handler {
	return onlyReading(func(w http.ResponseWriter, r *http.Request) { p.show(w, r, "trust.html", http.StatusOK) })
}

// Style is what the pages look like.
func (p *Pages) Style() http.Handler {
	return onlyReading(func(w http.ResponseWriter, r *http.Request) {
		send(w, r, http.StatusOK, "text/css; charset=utf-8", style)
	})
}

// refusal is an error in the words of a catalogue.
type refusal struct {
	status    int
	code, key string
}

func (p *Pages) reading(name string, status int, else_ refusal) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if reads(r) && strings.Contains(r.Header.Get("Accept"), "text/html") {
			p.show(w, r, name, status)
			return
		}
		refuse(w, r, else_.status, else_.code, p.page(r).say(else_.key))
	})
}

// show writes a page that is whole, or none.
func (p *Pages) show(w http.ResponseWriter, r *http.Request, name string, status int) {
	var body bytes.Buffer
	if err := templates.ExecuteTemplate(&body, name, p.page(r)); err != nil {
		panic(fmt.Errorf("a page that every test shows cannot be shown: %w", err)) // the server tells of it
	}
	send(w, r, status, "text/html; charset=utf-8", body.Bytes())
}

func reads(r *http.Request) bool { return r.Method == http.MethodGet || r.Method == http.MethodHead }

func onlyReading(handler http.HandlerFunc) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !reads(r) {
			refuse(w, r, http.StatusMethodNotAllowed, "method", "This address does not take "+r.Method+".")
			return
		}
		handler(w, r)
	})
}

// refuse has the form of every error of the farm's server.
func refuse(w http.ResponseWriter, r *http.Request, status int, code, text string) {
	body, err := json.Marshal(map[string]map[string]string{"error": {"code": code, "text": text}})
	if err != nil {
		panic(err) // texts can be written
	}
	send(w, r, status, "application/json; charset=utf-8", body)
}

// send answers with what no browser may keep: under the same address the app may stand tomorrow.
func send(w http.ResponseWriter, r *http.Request, status int, contentType string, body []byte) {
	for name, value := range map[string]string{
		"Cache-Control": "no-store", "Content-Security-Policy": policy, "Content-Type": contentType,
		"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin",
		"Permissions-Policy": features, "Referrer-Policy": "no-referrer", "X-Content-Type-Options": "nosniff",
		"X-Frame-Options": "DENY",
	} {
		w.Header().Set(name, value)
	}
	w.WriteHeader(status)
	if r.Method != http.MethodHead {
		_, _ = w.Write(body) // whoever asked has gone
	}
}

// hostOnly is a host without its port.
func hostOnly(host string) string {
	if name, _, err := net.SplitHostPort(host); err == nil {
		return name
	}
	return host
}
