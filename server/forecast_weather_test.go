package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"corymb/internal/crop"
)

// weatherOf writes days from the spring of 2024 to May of 2025, 2025 without some days and warmer.
func weatherOf(t *testing.T, usual, warmer float64) string {
	t.Helper()
	var text strings.Builder
	text.WriteString("date,tmin,tmax\n")
	for day := crop.Date("2024-03-01"); day <= "2025-05-20"; day = day.Add(1) {
		mean := usual
		if day >= "2025-03-01" {
			mean = warmer
		}
		if day < "2025-04-10" || day > "2025-04-12" {
			fmt.Fprintf(&text, "%s,%v,%v\n", day, mean-5, mean+5)
		}
	}
	file := filepath.Join(t.TempDir(), "weather.csv")
	if err := os.WriteFile(file, []byte(text.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

func TestForecastGoesByTheWeather(t *testing.T) {
	for _, test := range []struct {
		name   string
		file   string
		degree []string
	}{
		{"in Celsius", weatherOf(t, 18, 21), nil},
		{"in Fahrenheit", weatherOf(t, 64, 70), []string{"-lower", "50", "-upper", "86", "-method", "average"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			args := append([]string{"forecast", "-asof", "2025-04-30", "-weather", test.file}, append(test.degree, pair(t, "good")...)...)
			out, errs, ok := said(t, args...)
			if !ok {
				t.Fatal(errs)
			}
			var told struct {
				Warmth struct {
					Ahead   float64
					Seasons int
					Filled  []map[string]string
				}
				FirstCuts []map[string]any `json:"first_cuts"`
			}
			if err := json.Unmarshal([]byte(out), &told); err != nil {
				t.Fatal(err)
			}
			w := told.Warmth
			if w.Ahead < 10 || w.Seasons != 1 || len(w.Filled) != 1 || w.Filled[0]["last"] != "2025-04-12" || len(told.FirstCuts) == 0 {
				t.Errorf("%+v", told)
			}
			if !strings.Contains(errs, "from 2025-04-10 to 2025-04-12; the usual warmth") {
				t.Errorf("the gap is not told: %s", errs)
			}
		})
	}
}

func TestWeatherThatNoForecastCanGoByIsExplained(t *testing.T) {
	tests := []struct {
		name string
		args []string
		want string
	}{
		{"Fahrenheit by thresholds in Celsius", []string{"-weather", weatherOf(t, 64, 70)}, "-lower 50 -upper 86"},
		{"no such file", []string{"-weather", "nowhere.csv"}, "opening the weather"},
		{"thresholds the wrong way round", []string{"-weather", weatherOf(t, 18, 18), "-lower", "30", "-upper", "10"}, "is not above"},
		{"another method", []string{"-weather", weatherOf(t, 18, 18), "-method", "double"}, "sine or average"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, errs, ok := said(t, append(append([]string{"forecast", "-asof", "2025-04-30"}, pair(t, "good")...), test.args...)...)
			if ok || !strings.Contains(errs, test.want) {
				t.Errorf("%q, want %q in it", errs, test.want)
			}
		})
	}
}

func TestAForecastSaysWhatItMadeOfTheWeather(t *testing.T) {
	tests := []struct {
		name, asOf string
		want, not  []string
	}{
		{"that is of one season only", "2024-05-30", []string{"tells too little", "days alone"}, []string{"stands in"}},
		{"of which days after the question are missing", "2025-04-09", nil, []string{"2025-04-10", "tells too little"}},
		{"before the season begins", "2025-01-20", nil, []string{"tells too little"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, errs, ok := said(t, append([]string{"forecast", "-asof", test.asOf, "-weather", weatherOf(t, 18, 21)}, pair(t, "good")...)...)
			if !ok {
				t.Fatal(errs)
			}
			for _, want := range test.want {
				if !strings.Contains(errs, want) {
					t.Errorf("%q, want %q in it", errs, want)
				}
			}
			for _, not := range test.not {
				if strings.Contains(errs, not) {
					t.Errorf("%q, want no %q in it", errs, not)
				}
			}
		})
	}
}

func TestAForecastAndAPlanTellWhatOfTheFilesWasAddedUpOrLeftOut(t *testing.T) {
	prices, err := filepath.Abs(filepath.Join("..", "testdata", "division", "prices.csv"))
	must(t, err)
	args := pair(t, "good")
	cuts, err := os.ReadFile(args[3])
	must(t, err)
	rows := strings.SplitAfter(string(cuts), "\n")
	twice := filepath.Join(t.TempDir(), "cuts.csv")
	must(t, os.WriteFile(twice, []byte(string(cuts)+rows[1]), 0o600))
	args[3] = twice
	for _, command := range [][]string{{"forecast", "-asof", "2025-05-08"}, {"divide", "-prices", prices}} {
		_, errs, ok := said(t, append(command, args...)...)
		if !ok || !strings.Contains(errs, "earlier row: 1. Their stems were added up.") {
			t.Errorf("%s: %s", command[0], errs)
		}
	}
}
