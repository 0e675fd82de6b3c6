package httpapi_test

import (
	"compress/gzip"
	"encoding/json"
	"io"
	"testing"
	"time"

	"corymb/internal/crop"
	"corymb/internal/forecast"
	"corymb/server/httpapi"
)

// forecastSaid is a forecast of one week that rests on a name and a day.
func forecastSaid(asOf crop.Date, name string) httpapi.Forecast {
	week := forecast.Week{Week: name, Total: forecast.Range{Mean: 4.5, Q95: 9}}
	return httpapi.Forecast{
		Answer: forecast.Answer{
			Season: 2026, Forecast: forecast.Forecast{AsOf: asOf}, Dated: []forecast.Dated{{Week: week, First: "2026-06-01"}},
			Draws:  forecast.Packed{N: 2, From: asOf.Add(1), Weeks: []crop.Date{"2026-06-01"}, Coded: "AAAA"},
			Scores: forecast.Scores{Weeks: []forecast.Scored{}},
		},
		Scored: map[string]forecast.Scored{"w": {Week: "2026-W20", Came: 3}},
		Rests:  name + " as of " + string(asOf),
	}
}

func TestTheForecastIsToldWithItsWeeksAndDraws(t *testing.T) {
	h := handler(t, newGround(), nil)
	var got struct {
		Arrival int64
		AsOf    crop.Date
		Season  int
		Weeks   []struct {
			Week  string
			First crop.Date
			Total map[string]float64
		}
		Draws  map[string]any
		Scores map[string]any
		Scored any
		Rests  any
	}
	w := call(h, "GET", "/api/forecast")
	if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || w.Code != 200 {
		t.Fatalf("%d %s (%v)", w.Code, w.Body, err)
	}
	if got.AsOf != "2026-06-01" || got.Season != 2026 || len(got.Weeks) != 1 || got.Weeks[0].First != "2026-06-01" || got.Weeks[0].Total["q95"] != 9 || got.Draws["coded"] != "AAAA" || got.Scores == nil {
		t.Errorf("told %s", w.Body)
	}
	if got.Scored != nil || got.Rests != nil {
		t.Errorf("what it rests on is told: %s", w.Body)
	}
}

func TestALargeAnswerIsSentInGzipToWhoeverReadsIt(t *testing.T) {
	h := handler(t, newGround(), nil)
	plain := call(h, "GET", "/api/forecast")
	if plain.Header().Get("Content-Encoding") != "" || plain.Header().Get("Vary") != "Accept-Encoding" {
		t.Errorf("plain: %v", plain.Header())
	}
	small := call(h, "GET", "/api/forecast", "Accept-Encoding", "gzip, br")
	reader, err := gzip.NewReader(small.Body)
	if err != nil || small.Header().Get("Content-Encoding") != "gzip" {
		t.Fatalf("%v %v", err, small.Header())
	}
	text, err := io.ReadAll(reader)
	if err != nil || string(text) != plain.Body.String() {
		t.Errorf("unpacked it is %s (%v), want %s", text, err, plain.Body)
	}
}

func TestTheForecastIsMadeOnceForEachChangeAndDay(t *testing.T) {
	g := newGround()
	now, made := time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC), 0
	h := handler(t, g, func(c *httpapi.Config) {
		c.Now = func() time.Time { return now }
		c.Forecast = func(f crop.Farm, asOf crop.Date, _ *httpapi.Forecast) (httpapi.Forecast, error) {
			made++
			return forecastSaid(asOf, f.Name), nil
		}
	})
	steps := []struct {
		name    string
		path    string
		arrival int64
		later   time.Duration
		made    int
	}{
		{"first", "/api/forecast", 1, 0, 1},
		{"nothing new", "/api/forecast", 1, time.Minute, 1},
		{"a change, to be taken along", "/api/forecast?recent", 2, time.Minute, 1},
		{"a change, to be looked at", "/api/forecast", 2, time.Minute, 2},
		{"another day", "/api/forecast", 2, 12 * time.Hour, 3},
	}
	for _, step := range steps {
		now = now.Add(step.later)
		g.newest.Store(step.arrival)
		if w := call(h, "GET", step.path); w.Code != 200 || made != step.made {
			t.Errorf("%s: %d, made %d times, want %d", step.name, w.Code, made, step.made)
		}
	}
}
