package httpapi_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"corymb/internal/access"
	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/tags"
	"corymb/server/httpapi"
)

// planted is a farm in memory with some plants of a bed.
func planted(plants ...crop.Plant) *ground {
	g := newGround()
	r := changelog.Recorder{Incarnation: "00000000-0000-4000-8000-000000000001"}
	facts := farm.BedFacts(crop.Bed{ID: "b1", Name: "East"})
	facts = append(facts, farm.StockFacts(crop.Stock{ID: "s1", Name: "Evening strain"})...)
	facts = append(facts, farm.PlantingFacts(crop.Planting{ID: "g1", Stock: "s1", Bed: "b1", Planted: "2024-09-20", FirstSeason: 2025})...)
	for _, p := range plants {
		p.Planting = "g1"
		facts = append(facts, farm.PlantFacts(p)...)
	}
	for _, c := range r.Operation(2, facts...) {
		g.state.Merge(c, c.Stamp)
	}
	return g
}

func postTags(h http.Handler, body string) *httptest.ResponseRecorder {
	r := httptest.NewRequest("POST", "/api/tags", strings.NewReader(body))
	r.Host = "shed.example"
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func asking(paper string, plants ...string) string {
	body, _ := json.Marshal(map[string]any{"paper": paper, "plants": plants}) // texts have JSON
	return string(body)
}

func TestTagsArePrintedOfTheFarmAsItStands(t *testing.T) {
	h := handler(t, planted(
		crop.Plant{ID: "p1", Code: "E-010", Line: 1, Number: 10}, crop.Plant{ID: "p2", Code: "Ñandú 3"}, crop.Plant{ID: "p3", Code: "E-011"},
	), nil)
	for word, paper := range tags.Papers {
		var want bytes.Buffer
		list := []tags.Tag{{Code: "Ñandú 3", Stock: "Evening strain", Bed: "East"}, {Code: "E-010", Stock: "Evening strain", Bed: "East", Line: 1, Number: 10}}
		if err := tags.Write(&want, paper, list); err != nil {
			t.Fatal(err)
		}
		w := postTags(h, asking(word, "p2", "p1"))
		if w.Code != 200 || !bytes.Equal(w.Body.Bytes(), want.Bytes()) {
			t.Errorf("%s: %d %.200s", word, w.Code, w.Body)
		}
		head := w.Header()
		if head.Get("Content-Type") != "application/pdf" || head.Get("Cache-Control") != "no-store" || head.Get("Content-Disposition") != `attachment; filename="tags.pdf"` {
			t.Errorf("%s: %v", word, head)
		}
	}
}

func TestTagsAreRefusedWithAReason(t *testing.T) {
	many := make([]string, 5001)
	for i := range many {
		many[i] = "p1"
	}
	g := planted(crop.Plant{ID: "p1", Code: "E-010"}, crop.Plant{ID: "p2", Code: "花"}, crop.Plant{ID: "p3"}, crop.Plant{ID: "p4", Code: strings.Repeat("x", 129)})
	h := handler(t, g, nil)
	tests := []struct {
		name, body string
		status     int
		code, says string
	}{
		{"no JSON", "[", 400, "malformed", ""},
		{"no list", `{"paper":"a4","plants":"p1"}`, 400, "malformed", ""},
		{"no paper", asking("", "p1"), 400, "paper", "a4 or letter"},
		{"another paper", asking("a3", "p1"), 400, "paper", "a4 or letter"},
		{"no plants", asking("a4"), 400, "no_plants", ""},
		{"too many plants", asking("a4", many...), 413, "too_large", "5000"},
		{"more than can be read", asking("a4", strings.Repeat("x", 600<<10)), 413, "too_large", ""},
		{"plants that nobody knows", asking("a4", "p1", "x1", "x2"), 404, "unknown_plants", `\"x1\", \"x2\"`},
		{"many of them", asking("a4", strings.Split(strings.Repeat("x ", 30), " ")...), 404, "unknown_plants", "and 21 more"},
		{"a code that cannot be printed", asking("a4", "p1", "p2"), 422, "character", `"problem":{"reason":"character","plant":"花","where":"code","text":"花","character":"'花' (U+82B1)"}`},
		{"a plant without a code", asking("a4", "p3"), 422, "no_code", ""},
		{"a code that is too long", asking("a4", "p4"), 422, "long_code", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := postTags(h, tt.body)
			checkError(t, w, tt.status, tt.code)
			if !strings.Contains(w.Body.String(), tt.says) {
				t.Errorf("it says %s", w.Body)
			}
		})
	}
	g.fails.Store(true)
	checkError(t, postTags(h, asking("a4", "p1")), 500, "failed")
}

func TestAsManyTagsAsMayBeArePrinted(t *testing.T) {
	var plants []crop.Plant
	var ids []string
	for i := range 5000 {
		id := fmt.Sprintf("00000000-0000-4000-8000-%012d", i)
		plants, ids = append(plants, crop.Plant{ID: crop.PlantID(id), Code: fmt.Sprintf("E-%04d", i)}), append(ids, id)
	}
	if w := postTags(handler(t, planted(plants...), nil), asking("letter", ids...)); w.Code != 200 || !strings.HasPrefix(w.Body.String(), "%PDF-") {
		t.Errorf("%d %.200s", w.Code, w.Body)
	}
}

func TestWhoOnlyLooksOnPrintsNoTags(t *testing.T) {
	desk := &deskOf{}
	h := handler(t, planted(crop.Plant{ID: "p1", Code: "E-010"}), func(c *httpapi.Config) { c.Desk = desk })
	for role, status := range map[access.Role]int{access.Owner: 200, access.Crew: 200, access.Viewer: 403, "": 403} {
		desk.grant = access.Grant{Role: role, Person: "p"}
		if w := postTags(h, asking("a4", "p1")); w.Code != status {
			t.Errorf("%q: %d, want %d", role, w.Code, status)
		}
	}
}
