package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"corymb/internal/packing"
)

// dayFile is one of the kept days.
func dayFile(t *testing.T, name string) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join("..", "testdata", "packing", name))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// writtenDay is a file with such a text.
func writtenDay(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "day.json")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestPackPrintsAPlanAsJSON(t *testing.T) {
	out, errs, ok := said(t, "pack", "-in", dayFile(t, "small.json"), "-seconds", "20", "-format", "json")
	if !ok || errs != "" {
		t.Fatal(errs)
	}
	var keys map[string]json.RawMessage
	if err := json.Unmarshal([]byte(out), &keys); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"revenue_cents", "bound_cents", "proven", "seconds", "lines", "unsold", "shortfalls", "one_more_cents"} {
		if _, there := keys[key]; !there {
			t.Errorf("%s is missing", key)
		}
	}
	var plan packing.Plan
	if err := json.Unmarshal([]byte(out), &plan); err != nil {
		t.Fatal(err)
	}
	// By hand: the event's 9 bunches of 10 at 5.20 need all 78 first reds and 12 whites or more; its minimum leaves D3 two
	// bunches of extra whites; the florist's next 4 bunches use the second reds, and the market takes 3 of second whites.
	if want := int64(9*520 + 2*255 + 4*300 + 3*270); plan.Revenue != want || plan.Bound != want || !plan.Proven {
		t.Errorf("%d of %d, proven %v, want %d", plan.Revenue, plan.Bound, plan.Proven, want)
	}
	if len(plan.Lines) != 5 || len(plan.OneStem) != 6 || len(plan.OneBunch) != 5 || len(plan.Shortfalls) != 4 {
		t.Errorf("%d lines, %d and %d of one more, %d shortfalls", len(plan.Lines), len(plan.OneStem), len(plan.OneBunch), len(plan.Shortfalls))
	}
}

func TestPackKeepsToItsTime(t *testing.T) {
	start := time.Now()
	out, errs, ok := said(t, "pack", "-in", dayFile(t, "large.json"), "-seconds", "0.2")
	if !ok {
		t.Fatal(errs)
	}
	var plan packing.Plan
	if err := json.Unmarshal([]byte(out), &plan); err != nil {
		t.Fatal(err)
	}
	if plan.Revenue == 0 || plan.Bound < plan.Revenue || plan.Proven != (plan.Bound == plan.Revenue) {
		t.Errorf("%d of %d, proven %v", plan.Revenue, plan.Bound, plan.Proven)
	}
	t.Logf("it said %.3f s; the process took %v", plan.Seconds, time.Since(start)) // no test holds to time
}

func TestPackSaysAPlanInWords(t *testing.T) {
	out, errs, ok := said(t, "pack", "-in", dayFile(t, "small.json"), "-format", "text")
	if !ok {
		t.Fatal(errs)
	}
	for _, want := range []string{"The plan brings 72.00; no other brings more.", "D1 (florist) gets 4 of 6 bunches", "top down would bring 51.90"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not in %s", want, out)
		}
	}
}

func TestPackWarnsAndStillPlans(t *testing.T) {
	path := writtenDay(t, `{"grades_low_to_high":["a"],"weather":"fine","supply":[{"id":"S","grade":"a","length_cm":50,"colour":"red","stems":20,"floor_cents":1}],
		"demand":[{"id":"D","min_grade":"a","min_length_cm":40,"colours":[],"bunch":10,"price_cents":100,"max_bunches":1}]}`)
	out, errs, ok := said(t, "pack", "-in", path)
	if !ok || !strings.Contains(errs, `the day: "weather" is not known and was ignored`) {
		t.Errorf("%v: %s", ok, errs)
	}
	if !strings.Contains(out, `"unknown_key"`) || !strings.Contains(out, `"revenue_cents": 100`) {
		t.Error(out)
	}
}

func TestPackRefusesWhatCannotBePlanned(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		want string
	}{
		{"no file", nil, "say with -in which day"},
		{"a file that is not there", []string{"-in", "nowhere.json"}, "reading the day: open nowhere.json"},
		{"no JSON", []string{"-in", writtenDay(t, "stems,20")}, "the day is not JSON"},
		{"no time", []string{"-in", dayFile(t, "small.json"), "-seconds", "0"}, "-seconds 0 is no time"},
		{"another format", []string{"-in", dayFile(t, "small.json"), "-format", "csv"}, "-format csv is not known"},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, errs, ok := said(t, append([]string{"pack"}, c.args...)...)
			if ok || out != "" || !strings.Contains(errs, c.want) {
				t.Errorf("%v, %q, said %q, want %q", ok, out, errs, c.want)
			}
		})
	}
}
