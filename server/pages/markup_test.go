package pages

import (
	"errors"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

const evil = `"'><script>alert(1)</script>{{.}}`

func TestNoValueBecomesMarkup(t *testing.T) {
	config := ofFarm(t)
	config.AuthorityDER = authorityNamed(t, evil)
	config.Names, config.FarmName = []string{evil}, func() string { return evil }
	config.Here = "javascript:alert(1)//" + evil
	p := newPages(t, config)
	for _, url := range []string{"http://plain/?lang=" + "%22%3E%3Cscript%3E", "http://plain/trust", "http://other/"} {
		r := httptest.NewRequest(http.MethodGet, url, nil)
		r.Header.Set("Accept", "text/html")
		r.Header.Set("Accept-Language", evil)
		r.Header.Set("User-Agent", evil)
		if r.Host == "other" {
			r.Host = evil
		}
		w := httptest.NewRecorder()
		p.Before(p.Explain()).ServeHTTP(w, r)
		if strings.HasPrefix(url, "http://other") {
			w = httptest.NewRecorder()
			p.Before(p.Elsewhere()).ServeHTTP(w, r)
		}
		body := w.Body.String()
		if !strings.Contains(body, "&lt;script&gt;") {
			t.Errorf("%s does not show the farm's name", url)
		}
		for _, node := range elements(t, body) {
			if node.Data == "script" {
				t.Errorf("%s has a script", url)
			}
			for _, a := range node.Attr {
				if strings.HasPrefix(a.Key, "on") || a.Key == "style" || strings.HasPrefix(a.Val, "javascript:") {
					t.Errorf("%s has %s=%q", url, a.Key, a.Val)
				}
			}
		}
	}
	profile := get(p, "http://plain/authority.mobileconfig").Body.String()
	if strings.Contains(profile, "<script>") || !strings.Contains(profile, "&lt;script&gt;") {
		t.Errorf("the profile has the name as it is: %s", profile)
	}
}

func TestWhatCannotBeShownIsRefusedAtTheStart(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(*Config)
		says  string
	}{
		{"an address of plain http", func(c *Config) { c.Origin = "http://shed.local:8420" }, "write it like"},
		{"an address with a path", func(c *Config) { c.Origin = "https://shed.local:8420/" }, "write it like"},
		{"an address with markup", func(c *Config) { c.Origin = "https://" + evil }, "write it like"},
		{"no address", func(c *Config) { c.Origin = "" }, "write it like"},
		{"an authority that is none", func(c *Config) { c.AuthorityDER = []byte("x") }, "reading the farm's authority"},
		{"no picture", func(c *Config) { c.QR = func(string) (string, error) { return "", errors.New("too long") } }, "too long"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			config := ofFarm(t)
			tt.spoil(&config)
			if _, err := New(config); err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("it says %v", err)
			}
		})
	}
}
