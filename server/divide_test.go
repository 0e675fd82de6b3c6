package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// dividing is the command line of a plan for the good files.
func dividing(t *testing.T, more ...string) []string {
	t.Helper()
	prices, err := filepath.Abs(filepath.Join("..", "testdata", "division", "prices.csv"))
	if err != nil {
		t.Fatal(err)
	}
	return append(append([]string{"divide", "-prices", prices, "-places", "120", "-hours", "16"}, pair(t, "good")...), more...)
}

func TestDividePrintsWhatBecomesOfEachPlant(t *testing.T) {
	out, errs, ok := said(t, dividing(t, "-goal", "1.5", "-seasons", "2", "-format", "json")...)
	if !ok {
		t.Fatal(errs)
	}
	type ranged struct{ Mean, Lo, Hi *float64 }
	var told struct {
		AsOf    string
		Season  int
		Actions []struct {
			Plant, Do string
			Into      int
			Value     ranged `json:"value_cents"`
			Stems     ranged
			Why       []struct{ Code string }
			GivesUp   *float64 `json:"gives_up_cents"`
		}
		Goal struct {
			Chance *float64
			Draws  int
		}
		Net        ranged `json:"net_cents"`
		Gap        *float64
		PlaceWorth *float64 `json:"place_worth_cents"`
		HourWorth  *float64 `json:"hour_worth_cents"`
	}
	if err := json.Unmarshal([]byte(out), &told); err != nil {
		t.Fatal(err)
	}
	if told.AsOf != "2025-12-31" || told.Season != 2025 || len(told.Actions) != 21 || told.Goal.Chance == nil || told.Goal.Draws < 500 || told.Gap == nil || told.PlaceWorth == nil || told.HourWorth == nil {
		t.Fatalf("%s", out)
	}
	for _, a := range told.Actions {
		for _, r := range []ranged{a.Value, a.Stems} {
			if r.Mean == nil || r.Lo == nil || r.Hi == nil || *r.Lo > *r.Hi {
				t.Errorf("%s has ranges %+v", a.Plant, r)
			}
		}
		if len(a.Why) == 0 || a.GivesUp == nil || (a.Do == "divide") != (a.Into >= 2) {
			t.Errorf("%+v", a)
		}
	}
	text, errs, ok := said(t, dividing(t, "-goal", "1.5", "-format", "text")...)
	if !ok || !strings.Contains(text, "divide into") || !strings.Contains(text, "is reached in ") || strings.Contains(text, "_") {
		t.Errorf("%s%s", text, errs)
	}
}

func TestDivisionsThatCannotBePlannedAreExplained(t *testing.T) {
	wrongPrices := filepath.Join(t.TempDir(), "prices.csv")
	must(t, os.WriteFile(wrongPrices, []byte("colour,grade,channel,price_cents,stems_a_week\nplaid,best,shop,0.5,\n"), 0o600))
	wrongWanted := filepath.Join(t.TempDir(), "wanted.csv")
	must(t, os.WriteFile(wrongWanted, []byte("colour,week,stems\nplaid,May,20\n"), 0o600))
	tests := []struct {
		name string
		args []string
		want []string
	}{
		{"no prices", append([]string{"divide"}, pair(t, "good")...), []string{"-prices prices.csv"}},
		{"no files", []string{"divide", "-prices", wrongPrices}, []string{"-plants plants.csv -cuts cuts.csv"}},
		{"another format", dividing(t, "-format", "csv"), []string{"use json or text"}},
		{"a goal below nothing", dividing(t, "-goal", "-1"), []string{"A goal of -1 cannot be"}},
		{"four seasons", dividing(t, "-seasons", "4"), []string{"4 seasons cannot be planned for"}},
		{"a chance of no goal", dividing(t, "-chance", "0.8"), []string{"like -goal 1.5"}},
		{"a day before any plant", dividing(t, "-asof", "2019-05-25"), []string{"planted by 2019-05-25", "later day"}},
		{"no day", dividing(t, "-asof", "2025-02-30"), []string{"-asof"}},
		{"prices with faults", dividing(t, "-prices", wrongPrices), []string{`line 2, colour: "plaid"`, `grade: "best"`, "price_cents", "0.5"}},
		{"work that brings money", dividing(t, "-hour-cents", "-1"), []string{"0 or more"}},
		{"parts of a minute", dividing(t, "-divide-minutes", "6.5"), []string{"-divide-minutes"}},
		{"wanted stems that are not there", dividing(t, "-wanted", wrongPrices+"x"), []string{"opening what is wanted"}},
		{"wanted stems with faults", dividing(t, "-wanted", wrongWanted), []string{`line 2, colour: "plaid"`, `week: "May"`}},
		{"prices that are not there", dividing(t, "-prices", wrongPrices+"x"), []string{"opening the prices"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, errs, ok := said(t, test.args...)
			for _, want := range test.want {
				if ok || !strings.Contains(errs, want) {
					t.Errorf("%q, want %q in it", errs, want)
				}
			}
		})
	}
}

func TestDivideGoesByCostsAndWantedStemsThatAreGiven(t *testing.T) {
	type told struct {
		Net    struct{ Mean float64 } `json:"net_cents"`
		Wanted []struct {
			Colour, Due string
			Stems       int
			Mean        float64
		}
	}
	plan := func(more ...string) (p told) {
		t.Helper()
		out, errs, ok := said(t, dividing(t, more...)...)
		if err := json.Unmarshal([]byte(out), &p); !ok || err != nil {
			t.Fatal(errs, err)
		}
		return p
	}
	usual := plan()
	if same := plan("-hour-cents", "2000", "-divide-minutes", "6", "-ground-cents", "40", "-standing-worth", "70"); same.Net != usual.Net {
		t.Errorf("net %v with the usual costs given, %v without", same.Net, usual.Net)
	}
	for _, dearer := range [][]string{{"-hour-cents", "9000"}, {"-divide-minutes", "60"}, {"-ground-cents", "900"}, {"-standing-worth", "0"}} {
		if got := plan(dearer...); got.Net.Mean >= usual.Net.Mean {
			t.Errorf("net %v with %v, %v without", got.Net, dearer, usual.Net)
		}
	}
	wanted := filepath.Join(t.TempDir(), "wanted.csv")
	must(t, os.WriteFile(wanted, []byte("colour,week,stems\nshell,2027-W21,90\n"), 0o600))
	if got := plan("-wanted", wanted).Wanted; len(got) != 1 || got[0].Colour != "shell" || got[0].Due != "2027-05-24" || got[0].Stems != 90 || got[0].Mean <= 0 {
		t.Errorf("wanted %+v", got)
	}
	if text, errs, ok := said(t, dividing(t, "-wanted", wanted, "-format", "text")...); !ok || !strings.Contains(text, "Wanted of shell in week 21 of season 2027: 90; ") {
		t.Errorf("%s%s", text, errs)
	}
}
