package packing

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
)

var (
	outside = flag.Int("packing.outside", 0, "how many days of each kind HiGHS solves afresh, from packing.first on")
	first   = flag.Uint64("packing.first", 1, "the seed of the first of them")
	size    = flag.String("packing.size", "", "of which size alone: small, middle or large")
	sort    = flag.String("packing.kind", "", "of which kind alone")
	record  = flag.Bool("packing.record", false, "write the kept answers of HiGHS anew")
)

// sizes are those of the days that HiGHS solved: supplies and lines, and how many of each kind are kept.
var sizes = []struct {
	name           string
	classes, lines int
	kept           int
}{{"small", 15, 8, 20}, {"middle", 50, 25, 10}, {"large", 150, 60, 2}}

// written is a day as the command reads it.
func written(d Day) map[string]any {
	supply, demand := []any{}, []any{}
	for _, s := range d.Supply {
		supply = append(supply, map[string]any{
			"id": s.ID, "grade": s.Grade, "length_cm": float64(s.LengthMM) / 10, "colour": s.Colour, "stems": s.Stems,
			"floor_cents": s.Floor, "cut_date": s.Cut,
		})
	}
	for _, line := range d.Demand {
		demand = append(demand, map[string]any{
			"id": line.ID, "channel": line.Channel, "min_grade": line.MinGrade, "min_length_cm": float64(line.MinLengthMM) / 10,
			"colours": append([]string{}, line.Colours...), "bunch": line.Bunch, "price_cents": line.Price,
			"min_bunches": line.MinBunches, "max_bunches": line.MaxBunches, "all_or_nothing": line.AllOrNothing,
			"refused": line.Refused, "pinned_bunches": line.Pinned,
		})
	}
	return map[string]any{"name": d.Name, "grades_low_to_high": d.Grades, "supply": supply, "demand": demand}
}

// byHiGHS has the script beside the kept answers solve days.
func byHiGHS(t *testing.T, days []Day) []*int64 {
	t.Helper()
	all := []any{}
	for _, d := range days {
		all = append(all, written(d))
	}
	text, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	script := exec.Command("node", filepath.Join(references, "solve.mjs"))
	script.Stdin, script.Stderr = bytes.NewReader(text), os.Stderr
	out, err := script.Output()
	if err != nil {
		t.Fatalf("node with highs, by npm ci in webapp: %v", err)
	}
	var revenues []*int64
	if err := json.Unmarshal(out, &revenues); err != nil || len(revenues) != len(days) {
		t.Fatalf("%s: %v", out, err)
	}
	return revenues
}

var references = filepath.Join("..", "..", "testdata", "reference", "packing")

// outsideAnswer is a made-up day by how it is made, and its best revenue as HiGHS told it.
type outsideAnswer struct {
	Kind    string `json:"kind"`
	Seed    uint64 `json:"seed"`
	Classes int    `json:"classes"`
	Lines   int    `json:"lines"`
	Revenue int64  `json:"revenue_cents"` // -1 where not all minimums can be met
}

func (a outsideAnswer) day() Day { return madeUp(a.Kind, a.Seed, a.Classes, a.Lines) }

// solvedOutside asks HiGHS for days of all kinds.
func solvedOutside(t *testing.T, count func(kept int) int, from uint64) (all []outsideAnswer) {
	t.Helper()
	var days []Day
	for _, s := range sizes {
		if *size != "" && *size != s.name {
			continue
		}
		for _, kind := range kinds {
			if *sort != "" && *sort != kind {
				continue
			}
			for seed := range uint64(count(s.kept)) {
				a := outsideAnswer{Kind: kind, Seed: from + seed, Classes: s.classes, Lines: s.lines}
				all = append(all, a)
				days = append(days, a.day())
			}
		}
	}
	kept := all[:0]
	for i, revenue := range byHiGHS(t, days) {
		if revenue == nil {
			t.Logf("HiGHS did not finish %+v", all[i])
			continue
		}
		all[i].Revenue = *revenue
		kept = append(kept, all[i])
	}
	return kept
}

func TestPlansBringWhatAnotherSolverFinds(t *testing.T) {
	path := filepath.Join(references, "highs.json")
	if *record {
		text, err := json.Marshal(solvedOutside(t, func(kept int) int { return kept }, 1))
		if err != nil {
			t.Fatal(err)
		}
		text = bytes.ReplaceAll(text, []byte("},"), []byte("},\n"))
		if err := os.WriteFile(path, append(text, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var answers []outsideAnswer
	if err := json.Unmarshal(text, &answers); err != nil {
		t.Fatal(err)
	}
	if len(answers) < 300 {
		t.Fatalf("%d answers are kept, want hundreds", len(answers))
	}
	compare(t, answers)
}

func TestPlansBringWhatAnotherSolverFindsNow(t *testing.T) {
	if *outside > 0 {
		compare(t, solvedOutside(t, func(int) int { return *outside }, *first))
	}
}

func compare(t *testing.T, answers []outsideAnswer) {
	t.Helper()
	for _, a := range answers {
		d := a.day()
		plan, err := Solve(context.Background(), d, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if wrong := broken(d, plan); len(wrong) > 0 {
			t.Errorf("%+v: %v", a, wrong)
		}
		unmet := slices.ContainsFunc(plan.Warnings, func(n Note) bool { return n.Code == CodeUnmet })
		if unmet != (a.Revenue < 0) {
			t.Errorf("%+v: minimums unmet %v: %v", a, unmet, plan.Warnings)
		}
		if !plan.Proven || a.Revenue >= 0 && plan.Revenue != a.Revenue {
			t.Errorf("%+v: the plan brings %d, proven %v", a, plan.Revenue, plan.Proven)
		}
	}
	t.Logf("%d days compared", len(answers))
}
