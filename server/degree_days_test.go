package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestDegreeDaysArePrintedWithTheirSum(t *testing.T) {
	file := filepath.Join(t.TempDir(), "weather.csv")
	// Days of Zalom et al. 1983, table 7, rows 3, 4 and 5 (see internal/degreedays), then a day missing.
	text := "date,tmin,tmax,wind\n2026-04-02,50,82,3\n2026-04-01,60,80,2\n2026-04-04,60,100,1\n2026-04-05,,70,1\n"
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name string
		args []string
		want string
	}{
		{"by the average", []string{"-method", "average"}, "date,degree_days,sum\n2026-04-01,15,15\n2026-04-02,11,26\n2026-04-04,20,46\n"},
		{
			"by the sine, which is the usual", nil,
			"date,degree_days,sum\n2026-04-01,15,15\n2026-04-02,11.852637231789485,26.852637231789487\n2026-04-04,22.8200443",
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			out, errs, ok := said(t, append([]string{"degree-days", "-weather", file, "-lower", "55", "-upper", "90", "-format", "csv"}, test.args...)...)
			if !ok {
				t.Fatal(errs)
			}
			if !strings.HasPrefix(out, test.want) {
				t.Errorf("it printed\n%s", out)
			}
			for _, told := range []string{"column wind", "not in order", "2026-04-05 lacks", "from 2026-04-03 to 2026-04-03"} {
				if !strings.Contains(errs, told) {
					t.Errorf("it does not tell %q, but\n%s", told, errs)
				}
			}
		})
	}
}

func TestHelpOfDegreeDaysTellsNoDefaultThatIsNoTemperature(t *testing.T) {
	_, errs, _ := said(t, "degree-days", "-h")
	if !strings.Contains(errs, "-lower") || strings.Contains(errs, "NaN") || strings.Contains(errs, "Inf") {
		t.Errorf("it says\n%s", errs)
	}
}

func TestDegreeDaysThatCannotBeAreExplained(t *testing.T) {
	tests := []struct {
		name string
		args []string
		want string
	}{
		{"no file", []string{"-lower", "10"}, "name the weather"},
		{"a file that is not there", []string{"-weather", "nowhere.csv", "-lower", "10"}, "nowhere.csv"},
		{"no lower threshold", []string{"-weather", "w.csv"}, "-lower"},
		{"an upper one below it", []string{"-weather", "w.csv", "-lower", "10", "-upper", "5"}, "not above the lower"},
		{"another method", []string{"-weather", "w.csv", "-lower", "10", "-method", "triangle"}, "use sine or average"},
		{"another format", []string{"-weather", "w.csv", "-lower", "10", "-format", "json"}, "use csv"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, errs, ok := said(t, append([]string{"degree-days"}, test.args...)...)
			if ok || !strings.Contains(errs, test.want) {
				t.Errorf("%q, want %q in it", errs, test.want)
			}
		})
	}
}
