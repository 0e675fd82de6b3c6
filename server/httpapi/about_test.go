package httpapi_test

import (
	"errors"
	"net/http"
	"strings"
	"testing"

	"corymb/server/httpapi"
)

func TestTheProgramSaysWhatItIsMadeOf(t *testing.T) {
	said := httpapi.About{
		Version: "1.2.0", Go: "go1.26.0", SQLite: "3.54.1", Driver: "example.com/sqlite",
		Dependencies: []httpapi.Dependency{{Name: "a", Version: "v1", Licence: "MIT", Text: "Permission is <granted>"}},
	}
	h := handler(t, newGround(), func(c *httpapi.Config) { c.About = func() (httpapi.About, error) { return said, nil } })
	tests := []struct{ path, body string }{
		{"/api/about", `{"version":"1.2.0","go":"go1.26.0","sqlite":"3.54.1","driver":"example.com/sqlite","dependencies":[{"name":"a","version":"v1","licence":"MIT"}]}`},
		{"/api/about/texts", `{"texts":{"a":"Permission is \u003cgranted\u003e"}}`},
	}
	for _, tt := range tests {
		if w := call(h, "GET", tt.path); w.Code != http.StatusOK || strings.TrimSpace(w.Body.String()) != tt.body {
			t.Errorf("%s answers %d %s, want %s", tt.path, w.Code, w.Body, tt.body)
		}
	}
}

func TestWhatTheProgramCannotSayOfItselfIsAnErrorInWords(t *testing.T) {
	h := handler(t, newGround(), func(c *httpapi.Config) {
		c.About = func() (httpapi.About, error) { return httpapi.About{}, errors.New("no SQLite") }
	})
	for _, path := range []string{"/api/about", "/api/about/texts"} {
		if w := call(h, "GET", path); w.Code != http.StatusInternalServerError || strings.Contains(w.Body.String(), "no SQLite") || !strings.Contains(w.Body.String(), "What was recorded is safe") {
			t.Errorf("%s answers %d %s", path, w.Code, w.Body)
		}
	}
}
