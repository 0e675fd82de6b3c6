package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"corymb/internal/yield"
)

// sheet is the path of one of the sample spreadsheets.
func sheet(t *testing.T, name string) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join("..", "testdata", "sheets", name))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// pair names the two spreadsheets of a folder as flags.
func pair(t *testing.T, folder string) []string {
	return []string{"-plants", sheet(t, folder+"/plants.csv"), "-cuts", sheet(t, folder+"/cuts.csv")}
}

// said runs the program and returns what it printed and whether it succeeded.
func said(t *testing.T, args ...string) (out, errs string, ok bool) {
	t.Helper()
	cmd := program(t, args...)
	var o, e strings.Builder
	cmd.Stdout, cmd.Stderr = &o, &e
	err := cmd.Run()
	return o.String(), e.String(), err == nil
}

func TestAgesPrintsTheModelOfFiles(t *testing.T) {
	for _, folder := range []string{"good", "plain", "semicolon"} {
		t.Run(folder, func(t *testing.T) {
			out, errs, ok := said(t, append([]string{"ages", "-format", "json"}, pair(t, folder)...)...)
			if !ok {
				t.Fatalf("it failed: %s", errs)
			}
			var report struct {
				Ages []struct {
					Age          int
					PlantSeasons int `json:"plant_seasons"`
					Stems        struct{ Mean, Lo, Hi, Size float64 }
					Grades       []struct {
						Flush string
						P     map[string]float64
					}
				}
				Notes []struct{ Code string }
			}
			if err := json.Unmarshal([]byte(out), &report); err != nil {
				t.Fatalf("it printed no JSON: %v", err)
			}
			if len(report.Ages) == 0 {
				t.Fatal("it says nothing of any age")
			}
			for _, a := range report.Ages {
				if a.PlantSeasons == 0 || !(a.Stems.Lo <= a.Stems.Mean && a.Stems.Mean <= a.Stems.Hi) {
					t.Errorf("age %d: %d plant-seasons, stems %+v", a.Age, a.PlantSeasons, a.Stems)
				}
				for _, g := range a.Grades {
					sum := g.P["out"] + g.P["second"] + g.P["first"] + g.P["extra"]
					if sum < .999999 || sum > 1.000001 {
						t.Errorf("age %d, %s: the grades sum to %g", a.Age, g.Flush, sum)
					}
				}
			}
			assumed := false
			for _, n := range report.Notes {
				assumed = assumed || n.Code == "assumed_counted"
			}
			if want := folder == "plain"; assumed != want {
				t.Errorf("it says that the counted plants were assumed: %v, want %v", assumed, want)
			}
		})
	}
}

func TestBadFilesAreRefusedWhole(t *testing.T) {
	data := filepath.Join(t.TempDir(), "farm")
	out, errs, ok := said(t, append([]string{"import", "-data", data}, pair(t, "bad")...)...)
	if ok || out != "" {
		t.Fatalf("it took a file with bad rows and said %q", out)
	}
	for _, want := range []string{"plants.csv line 3, planted:", "cuts.csv line 3, date:", "nothing was loaded"} {
		if !strings.Contains(errs, want) {
			t.Errorf("it does not say %q: %s", want, errs)
		}
	}
	if out, _, ok := said(t, "verify", "-data", data); !ok || !strings.Contains(out, "0 changes") {
		t.Errorf("something was stored: %s", out)
	}
}

func TestImportingTheSameFilesAgainChangesNothing(t *testing.T) {
	data := filepath.Join(t.TempDir(), "farm")
	args := append([]string{"import", "-data", data}, pair(t, "good")...)
	if out, errs, ok := said(t, args...); !ok || !strings.Contains(out, "were new to the farm") {
		t.Fatalf("the first import said %q %q", out, errs)
	}
	before, _, _ := said(t, "verify", "-data", data)
	if out, errs, ok := said(t, args...); !ok || !strings.Contains(out, "Nothing new") {
		t.Errorf("the second import said %q %q", out, errs)
	}
	for _, flags := range [][]string{nil, {"-rebuild"}} {
		if after, errs, _ := said(t, append([]string{"verify", "-data", data}, flags...)...); after != before {
			t.Errorf("the farm changed: %s, then with %v %s %s", before, flags, after, errs)
		}
	}
}

func TestDemoLeavesARealFarmAlone(t *testing.T) {
	data := filepath.Join(t.TempDir(), "farm")
	if _, errs, ok := said(t, append([]string{"import", "-data", data}, pair(t, "good")...)...); !ok {
		t.Fatal(errs)
	}
	_, errs, ok := said(t, "demo", "-listen", "127.0.0.1:0", "-data", data)
	if ok || !strings.Contains(errs, "was not made up") {
		t.Errorf("demo on a real farm: ok %v, said %q", ok, errs)
	}
}

func TestWrongCommandLinesAreExplained(t *testing.T) {
	tests := []struct {
		name string
		args []string
		want string
	}{
		{"no spreadsheet", []string{"ages"}, "name both spreadsheets"},
		{"a spreadsheet that is not there", []string{"ages", "-plants", "none.csv", "-cuts", "none.csv"}, "none.csv"},
		{"another format", append([]string{"ages", "-format", "xml"}, pair(t, "good")...), "use json"},
		{"an address open to the network", []string{"serve", "-listen", "0.0.0.0:8420"}, "needs https"},
		{"no such command", []string{"harvest"}, "there is no command"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, errs, ok := said(t, tt.args...); ok || !strings.Contains(errs, tt.want) {
				t.Errorf("ok %v, said %q, want %q", ok, errs, tt.want)
			}
		})
	}
}

func TestAFarmAndItsFilesGiveTheSameModel(t *testing.T) {
	files := spreadsheets{plants: sheet(t, "good/plants.csv"), cuts: sheet(t, "good/cuts.csv")}
	data := t.TempDir()
	if _, errs, ok := said(t, "import", "-data", data, "-plants", files.plants, "-cuts", files.cuts); !ok {
		t.Fatal(errs)
	}
	fromFiles, errs, ok := said(t, "ages", "-plants", files.plants, "-cuts", files.cuts)
	if !ok {
		t.Fatal(errs)
	}
	fromFarm := agesOfFolder(t, data)
	var farm, file yield.Report
	for into, written := range map[*yield.Report][]byte{&farm: fromFarm, &file: []byte(fromFiles)} {
		if err := json.Unmarshal(written, into); err != nil {
			t.Fatal(err)
		}
	}
	sameModel(t, farm, file)
}

// sameModel compares reports of farms that differ in their ids alone: what was counted is the same, and what
// was estimated as far as draws go, whose order hangs on the ids.
func sameModel(t *testing.T, farm, file yield.Report) {
	t.Helper()
	if len(farm.Ages) != len(file.Ages) || fmt.Sprint(farm.Notes) != fmt.Sprint(file.Notes) {
		t.Fatalf("%d ages with %v, and %d with %v", len(farm.Ages), farm.Notes, len(file.Ages), file.Notes)
	}
	for i, a := range farm.Ages {
		b := file.Ages[i]
		if a.PlantSeasons != b.PlantSeasons || a.Zero != b.Zero || a.StemsTotal != b.StemsTotal || a.Alive != b.Alive || len(a.Grades) != len(b.Grades) {
			t.Errorf("age %d: %+v, and %+v", a.Age, a, b)
			continue
		}
		width := float64(a.Stems.Hi - a.Stems.Lo)
		near(t, "mean", float64(a.Stems.Mean), float64(b.Stems.Mean), 0.08*width)
		near(t, "lo", float64(a.Stems.Lo), float64(b.Stems.Lo), 0.08*width)
		near(t, "hi", float64(a.Stems.Hi), float64(b.Stems.Hi), 0.15*width)
		for k, g := range a.Grades {
			h := b.Grades[k]
			near(t, "extra", float64(g.P.Extra), float64(h.P.Extra), 0.08*float64(g.Hi.Extra-g.Lo.Extra))
		}
	}
}

// agesOfFolder fits the farm in a folder as the running server does.
func agesOfFolder(t *testing.T, data string) []byte {
	t.Helper()
	if _, err := os.Stat(filepath.Join(data, "corymb.db")); err != nil {
		t.Fatal(err)
	}
	fitted, err := fitFolder(t, data)
	if err != nil || len(fitted) != 1 {
		t.Fatalf("fitted %d species (%v), want one", len(fitted), err)
	}
	text, err := json.Marshal(fitted[0].Report)
	if err != nil {
		t.Fatal(err)
	}
	return text
}
