package main

import (
	"encoding/json"
	"strings"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/forecast"
)

func TestForecastPrintsTheWeeksThatAreLeft(t *testing.T) {
	out, errs, ok := said(t, append([]string{"forecast", "-asof", "2025-05-08", "-format", "json"}, pair(t, "good")...)...)
	if !ok {
		t.Fatal(errs)
	}
	var told struct {
		AsOf  string
		Weeks []struct {
			Week   string
			Total  map[string]float64
			Grades map[string]map[string]float64
		}
	}
	if err := json.Unmarshal([]byte(out), &told); err != nil {
		t.Fatal(err)
	}
	if told.AsOf != "2025-05-08" || len(told.Weeks) != 35 || told.Weeks[0].Week != "2025-W19" {
		t.Fatalf("%s, %d weeks", told.AsOf, len(told.Weeks))
	}
	for _, week := range told.Weeks {
		ranges := map[string]map[string]float64{"total": week.Total}
		for _, grade := range []string{"extra", "first", "second", "out"} {
			ranges[grade] = week.Grades[grade]
		}
		sum := 0.0
		for name, r := range ranges {
			for _, key := range []string{"mean", "q05", "q25", "q50", "q75", "q95"} {
				if _, there := r[key]; !there {
					t.Fatalf("%s of %s lacks %s", name, week.Week, key)
				}
			}
			if !(0 <= r["q05"] && r["q05"] <= r["q25"] && r["q25"] <= r["q50"] && r["q50"] <= r["q75"] && r["q75"] <= r["q95"]) {
				t.Errorf("%s of %s is out of order: %v", name, week.Week, r)
			}
			if name != "total" {
				sum += r["mean"]
			}
		}
		if d := sum - week.Total["mean"]; d > 1e-6 || d < -1e-6 {
			t.Errorf("%s: grades sum to %v of %v", week.Week, sum, week.Total["mean"])
		}
	}
}

func TestForecastsThatCannotBeAreExplained(t *testing.T) {
	tests := []struct {
		name string
		args []string
		want string
	}{
		{"no files", []string{"-asof", "2025-05-08"}, "-plants plants.csv -cuts cuts.csv"},
		{"no day", append(pair(t, "good"), "-asof", "2025-02-30"), "-asof"},
		{"another format", append(pair(t, "good"), "-asof", "2025-05-08", "-format", "csv"), "use json"},
		{"a day before any plant", append(pair(t, "good"), "-asof", "2019-05-08"), "planted by 2019-05-08"},
		{"thresholds of no weather", append(pair(t, "good"), "-asof", "2025-05-08", "-lower", "50"), "-weather weather.csv"},
		{"files with faults", append(pair(t, "bad"), "-asof", "2025-05-08"), "nothing was loaded"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, errs, ok := said(t, append([]string{"forecast"}, test.args...)...)
			if ok || !strings.Contains(errs, test.want) {
				t.Errorf("%q, want %q in it", errs, test.want)
			}
		})
	}
}

func TestAForecastOfAHalfEnteredSeasonSaysSo(t *testing.T) {
	var told strings.Builder
	tellOfDoubts(&told, "cuts.csv", forecast.Doubts{Silent: &forecast.Silence{Stretch: forecast.Stretch{First: "2025-05-21", Last: "2025-07-01"}, Part: 0.72}, Unseen: []crop.StockID{"Kiln mix"}})
	for _, want := range []string{"cuts.csv has no cut from 2025-05-21 to 2025-07-01", "72 of 100", "-asof 2025-05-20", "Kiln mix"} {
		if !strings.Contains(told.String(), want) {
			t.Errorf("%q is not told: %s", want, told.String())
		}
	}
}
