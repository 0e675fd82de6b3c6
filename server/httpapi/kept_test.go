package httpapi_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"corymb/internal/crop"
	"corymb/internal/drift"
	"corymb/internal/yield"
	"corymb/server/answers"
	"corymb/server/httpapi"
)

// shed is one run of the program on a data folder. What it works out rests on the farm's name alone, and how often it
// did is counted.
type shed struct {
	dir, build         string
	ground             *ground
	day                int
	fits, judged, made int
}

func (s *shed) start(t *testing.T) http.Handler {
	return handler(t, s.ground, func(c *httpapi.Config) {
		c.Now = func() time.Time { return time.Date(2026, 6, s.day, 12, 0, 0, 0, time.UTC) }
		c.Kept = answers.In(s.dir, s.build)
		c.Ages = func(f crop.Farm, asOf crop.Date, before []httpapi.SpeciesAges) ([]httpapi.SpeciesAges, error) {
			rests := f.Name + " " + string(asOf)
			if len(before) == 1 && before[0].Rests == rests {
				return before, nil
			}
			s.fits++
			report := yield.Report{Level: yield.Level, Notes: []yield.Note{{Code: rests}}, Spread: &yield.Spread{Graders: []yield.Grader{{Person: "p1", Stems: 3}}}}
			return []httpapi.SpeciesAges{{Species: "s", Report: report, Plan: json.RawMessage(`{"level":0.9}`), Rests: rests}}, nil
		}
		c.Colours = func(f crop.Farm, before []httpapi.SpeciesColour) ([]httpapi.SpeciesColour, error) {
			if len(before) == 1 && before[0].Rests == f.Name {
				return before, nil
			}
			s.judged++
			return []httpapi.SpeciesColour{{Species: f.Name, Report: drift.Report{Level: 0.9}, Rests: f.Name}}, nil
		}
		c.Forecast = func(f crop.Farm, asOf crop.Date, before *httpapi.Forecast) (httpapi.Forecast, error) {
			said := forecastSaid(asOf, f.Name)
			if before != nil && before.Rests == said.Rests {
				return *before, nil
			}
			s.made++
			return said, nil
		}
	})
}

// logged is a farm as a log left it, with so many changes.
func logged(name string, arrival int64) *ground {
	g := groundNamed(name)
	g.newest.Store(arrival)
	return g
}

func TestAfterARestartWhatStillHoldsIsNotWorkedOutAgain(t *testing.T) {
	tests := []struct {
		name      string
		meanwhile func(*shed)
		fits      int
		judged    int
	}{
		{"nothing", func(*shed) {}, 0, 0},
		{"changes on which neither rests", func(s *shed) { s.ground = logged("Larkfield", 9) }, 0, 0},
		{"an older log put back, on which neither rests", func(s *shed) { s.ground = logged("Larkfield", 3) }, 0, 0},
		{"another log put back that is just as long", func(s *shed) { s.ground = logged("Sparrow End", 7) }, 1, 1},
		{"a new day", func(s *shed) { s.day = 2 }, 1, 0},
		{"a clock put back", func(s *shed) { s.day = 0 }, 1, 0},
		{"another program", func(s *shed) { s.build = "v2" }, 1, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := &shed{dir: t.TempDir(), build: "v1", ground: logged("Larkfield", 7), day: 1}
			told := func() (all string) {
				h := s.start(t)
				for _, path := range []string{"/api/ages", "/api/colour", "/api/forecast"} {
					all += call(h, "GET", path).Body.String()
				}
				return all
			}
			told()
			if s.fits != 1 || s.judged != 1 || s.made != 1 {
				t.Fatalf("at first it fitted %d times, judged %d and forecast %d times", s.fits, s.judged, s.made)
			}
			s.fits, s.judged, s.made = 0, 0, 0
			tt.meanwhile(s)
			got := told()
			// What is to come is asked of a day, as the ages are.
			if s.fits != tt.fits || s.judged != tt.judged || s.made != tt.fits {
				t.Errorf("it fitted %d times, judged %d and forecast %d times, want %d, %d and %d", s.fits, s.judged, s.made, tt.fits, tt.judged, tt.fits)
			}
			s.dir = t.TempDir()
			if fresh := told(); got != fresh {
				t.Errorf("it says\n%s, and with nothing kept\n%s", got, fresh)
			}
			if arrival := fmt.Sprintf(`"arrival":%d`, s.ground.Newest()); strings.Count(got, arrival) != 3 {
				t.Errorf("it does not say %s: %s", arrival, got)
			}
		})
	}
}

// noDisk keeps nothing.
type noDisk struct{ asked int }

func (*noDisk) Read(string, any) bool { return false }

func (n *noDisk) Write(string, any) error {
	n.asked++
	return errors.New("the disk is full")
}

func TestWhatCannotBeKeptIsToldAllTheSame(t *testing.T) {
	disk := &noDisk{}
	h := handler(t, newGround(), func(c *httpapi.Config) { c.Kept = disk })
	for _, path := range []string{"/api/ages", "/api/colour", "/api/forecast"} {
		if w := call(h, "GET", path); w.Code != 200 {
			t.Errorf("%s: %d %s", path, w.Code, w.Body)
		}
	}
	if disk.asked != 3 {
		t.Errorf("it was to be kept %d times", disk.asked)
	}
}

func TestAPhoneThatOnlyTakesTheAgesAlongIsToldThoseOfTheLastHour(t *testing.T) {
	g := newGround()
	now, fits := time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC), 0
	h := handler(t, g, func(c *httpapi.Config) {
		c.Now = func() time.Time { return now }
		c.Ages = func(crop.Farm, crop.Date, []httpapi.SpeciesAges) ([]httpapi.SpeciesAges, error) {
			fits++
			return nil, nil
		}
	})
	steps := []struct {
		name  string
		path  string
		later time.Duration
		fits  int
		knows int64
	}{
		{"before any fit", "/api/ages?recent", 0, 1, 1},
		{"after a change", "/api/ages?recent", 59 * time.Minute, 1, 1},
		{"the newest is asked for", "/api/ages", 0, 2, 3},
		{"after more changes", "/api/ages?recent=", 59 * time.Minute, 2, 3},
		{"after an hour", "/api/ages?recent", time.Minute, 3, 5},
		{"on the next day", "/api/ages?recent", 11 * time.Hour, 4, 6},
	}
	for i, step := range steps {
		now = now.Add(step.later)
		g.newest.Store(int64(i + 1))
		var got struct{ Arrival int64 }
		w := call(h, "GET", step.path)
		if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || fits != step.fits || got.Arrival != step.knows {
			t.Errorf("%s: %s after %d fits (%v), want %d of %d", step.name, w.Body, fits, err, step.fits, step.knows)
		}
	}
}
