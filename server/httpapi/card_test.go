package httpapi_test

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"corymb/internal/access"
	"corymb/internal/tags"
	"corymb/server/httpapi"
)

func postCard(h http.Handler, body string) *httptest.ResponseRecorder {
	r := httptest.NewRequest("POST", "/api/card", strings.NewReader(body))
	r.Host = "shed.example"
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func askingCards(batch, paper, language string, sheets int) string {
	return fmt.Sprintf(`{"batch":%q,"paper":%q,"language":%q,"sheets":%d}`, batch, paper, language, sheets)
}

func TestCardsArePrintedOfTheBatchThatTheAppMade(t *testing.T) {
	h := handler(t, newGround(), nil)
	for word, paper := range tags.Papers {
		var want bytes.Buffer
		if err := tags.WriteCards(&want, tags.CardPrint{Batch: "K7M4QE", Paper: paper, Language: "es", Sheets: 3}); err != nil {
			t.Fatal(err)
		}
		w := postCard(h, askingCards("K7M4QE", word, "es", 3))
		head := w.Header()
		if w.Code != 200 || !bytes.Equal(w.Body.Bytes(), want.Bytes()) || head.Get("Content-Type") != "application/pdf" {
			t.Errorf("%s: %d %.200s", word, w.Code, w.Body)
		}
		if head.Get("Cache-Control") != "no-store" || head.Get("Content-Disposition") != `attachment; filename="card-K7M4QE.pdf"` {
			t.Errorf("%s: %v", word, head)
		}
	}
}

func TestCardsAreRefusedWithAReason(t *testing.T) {
	h := handler(t, newGround(), nil)
	tests := []struct {
		name, body string
		status     int
		code       string
	}{
		{"no JSON", "[", 400, "malformed"},
		{"no batch", askingCards("", "a4", "en", 1), 400, "batch"},
		{"a batch with a wrong sign", askingCards("K7M4QF", "a4", "en", 1), 400, "batch"},
		{"another paper", askingCards("K7M4QE", "a3", "en", 1), 400, "paper"},
		{"another language", askingCards("K7M4QE", "a4", "fr", 1), 400, "language"},
		{"no sheets", askingCards("K7M4QE", "a4", "en", 0), 400, "sheets"},
		{"too many sheets", askingCards("K7M4QE", "a4", "en", 21), 400, "sheets"},
		{"more than can be read", askingCards(strings.Repeat("K", 2000), "a4", "en", 1), 413, "too_large"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { checkError(t, postCard(h, tt.body), tt.status, tt.code) })
	}
}

func TestCardsArePrintedByOwnersAlone(t *testing.T) {
	desk := &deskOf{}
	h := handler(t, newGround(), func(c *httpapi.Config) { c.Desk = desk })
	for role, status := range map[access.Role]int{access.Owner: 200, access.Crew: 403, access.Viewer: 403, "": 403} {
		desk.grant = access.Grant{Role: role, Person: "p"}
		if w := postCard(h, askingCards("K7M4QE", "a4", "en", 1)); w.Code != status {
			t.Errorf("%q: %d, want %d", role, w.Code, status)
		}
	}
}
