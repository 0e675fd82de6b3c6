package certs

import (
	"bytes"
	"crypto/tls"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
	"sync"
	"time"

	"golang.org/x/crypto/acme"
	"golang.org/x/crypto/acme/autocert"
)

// Authority is one that speaks ACME (RFC 8555). The zero one is Let's Encrypt.
type Authority struct {
	Directory string            // URL
	Transport http.RoundTripper // to reach it by; nil for the usual one
}

// ACME gets and renews a certificate for a public host from an authority, whose terms are taken for
// accepted and which must reach the server at that name on port 443, and keeps it in a folder. tell hears
// why there is none, and where one that ends soon was not renewed.
func ACME(dir, host string, authority Authority, now func() time.Time, tell func(error)) *tls.Config {
	heard := &hearing{next: authority.Transport}
	if heard.next == nil {
		heard.next = http.DefaultTransport
	}
	manager := &autocert.Manager{
		Prompt: autocert.AcceptTOS, Cache: autocert.DirCache(dir), HostPolicy: autocert.HostWhitelist(host),
		Client: &acme.Client{DirectoryURL: authority.Directory, HTTPClient: &http.Client{Transport: heard}},
	}
	config := manager.TLSConfig()
	config.GetCertificate = Watch(host, config.GetCertificate, func() string {
		return heard.problem() + "see that the name leads here and that port 443 is open to the internet"
	}, now, tell)
	return config
}

// hearing remembers what an authority said last that went wrong. autocert keeps it to itself: that a
// challenge failed it calls "no viable challenge type found", and of renewing it tells nothing at all.
type hearing struct {
	next http.RoundTripper

	mu   sync.Mutex
	last string // empty for nothing since the last certificate
}

// mostHeard is above any message of an authority, certificates with their chains included.
const mostHeard = 1 << 20

// RoundTrip is for http.Client.
func (h *hearing) RoundTrip(r *http.Request) (*http.Response, error) {
	response, err := h.next.RoundTrip(r)
	if err != nil {
		h.note(fmt.Sprintf("%s cannot be reached: %v", r.URL.Host, err))
		return nil, err
	}
	body, err := io.ReadAll(io.LimitReader(response.Body, mostHeard))
	_ = response.Body.Close() // what it says of itself was read
	if err != nil {
		return nil, fmt.Errorf("reading what %s says: %w", r.URL.Host, err)
	}
	response.Body = io.NopCloser(bytes.NewReader(body))
	if strings.HasPrefix(response.Header.Get("Content-Type"), "application/pem-certificate-chain") {
		h.note("")
	} else if problem := problemIn(body); problem != "" {
		h.note(fmt.Sprintf("%s says: %s", r.URL.Host, problem))
	}
	return response, nil
}

// problemIn is what a message of an authority says that went wrong: with the request (RFC 8555, section
// 6.7) or with a challenge (section 8). A nonce that is too old is not worth a word: it is sent anew.
func problemIn(body []byte) string {
	type problem struct{ Type, Detail string }
	var said struct {
		problem
		Challenges []struct{ Error problem }
	}
	if json.Unmarshal(body, &said) != nil { // what is no JSON tells no problem
		return ""
	}
	details := []string{}
	if !strings.HasSuffix(said.Type, ":badNonce") && said.Detail != "" {
		details = append(details, said.Detail)
	}
	for _, challenge := range said.Challenges {
		if challenge.Error.Detail != "" {
			details = append(details, challenge.Error.Detail)
		}
	}
	return strings.Join(details, "; ")
}

func (h *hearing) note(problem string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.last = problem
}

// problem is what was heard, to go on with; empty for nothing.
func (h *hearing) problem() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.last == "" {
		return ""
	}
	return h.last + "; "
}
