package httpapi_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"corymb/internal/crop"
	"corymb/server/httpapi"
)

func TestColoursAreJudgedOnceForEachChangeAndToldOfToday(t *testing.T) {
	g := newGround()
	day, judged := 1, 0
	var before [][]httpapi.SpeciesColour
	h := handler(t, g, func(c *httpapi.Config) {
		c.Now = func() time.Time { return time.Date(2026, 6, day, 12, 0, 0, 0, time.UTC) }
		c.Colours = func(_ crop.Farm, last []httpapi.SpeciesColour) ([]httpapi.SpeciesColour, error) {
			judged++
			before = append(before, last)
			return []httpapi.SpeciesColour{{Species: "s", LeftOut: judged, Rests: "what it rests on"}}, nil
		}
	})
	steps := []struct {
		name   string
		move   func()
		judged int
		asOf   crop.Date
	}{
		{"the first time", func() {}, 1, "2026-06-01"},
		{"the same again", func() {}, 1, "2026-06-01"},
		{"another day and nothing new", func() { day = 2 }, 1, "2026-06-02"},
		{"a change", func() { g.newest.Store(7) }, 2, "2026-06-02"},
	}
	for _, step := range steps {
		step.move()
		w := call(h, "GET", "/api/colour")
		var got struct {
			Arrival int64
			AsOf    crop.Date
			Species []struct {
				Species string
				LeftOut int `json:"left_out"`
			}
		}
		err := json.Unmarshal(w.Body.Bytes(), &got)
		if err != nil || got.Arrival != g.Newest() || got.AsOf != step.asOf || len(got.Species) != 1 || got.Species[0].LeftOut != step.judged {
			t.Errorf("%s: %s (%v), want the judgement %d as of %s", step.name, w.Body, err, step.judged, step.asOf)
		}
		if strings.Contains(w.Body.String(), "what it rests on") {
			t.Errorf("%s: what it rests on is told: %s", step.name, w.Body)
		}
	}
	if before[0] != nil || len(before[1]) != 1 || before[1][0].Rests != "what it rests on" {
		t.Errorf("judged with %v before", before)
	}
}

func TestNoColoursAreAnEmptyList(t *testing.T) {
	h := handler(t, newGround(), func(c *httpapi.Config) {
		c.Colours = func(crop.Farm, []httpapi.SpeciesColour) ([]httpapi.SpeciesColour, error) { return nil, nil }
	})
	if w := call(h, "GET", "/api/colour"); w.Body.String() != `{"arrival":0,"asof":"2026-06-01","species":[]}` {
		t.Errorf("answered %d %s", w.Code, w.Body)
	}
}
