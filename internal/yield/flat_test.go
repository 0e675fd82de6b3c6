package yield

import (
	"encoding/json"
	"maps"
	"math"
	"slices"
	"testing"

	"corymb/internal/crop"
)

// flatPlot has three plants in their first season (a) and three in their second (b), all counted in 2025.
func flatPlot() plot {
	p := newPlot()
	p.set("a", "yarrow", "A", 2025, 3)
	p.set("b", "yarrow", "B", 2024, 3)
	for id := range p.Plants {
		p.count(id, 2025)
	}
	return p
}

// A geometric count (NB2 of size 1) exceeds y with the probability (m/(1+m))^(y+1).
func TestTheRangeOfACountIsFoundOrSaidToBeNone(t *testing.T) {
	for _, c := range []struct {
		name       string
		mean, size float64
		lo, hi     int
	}{
		{"geometric of mean 9", 9, 1, 0, 28},
		{"geometric of mean 99", 99, 1, 5, 298},
		{"nothing at all", 0, 1, 0, 0},
		{"a mean in the thousands, where P(0) is no number", 4000, 1e9, 3896, 4104},
		{"one plant that gave a million beside one that gave nothing", 5e5, 0.0565, 0, 2762557},
		{"no mean", math.NaN(), 1, 0, 0},
		{"no size", 8, math.NaN(), 0, 0},
		{"a mean without end", math.Inf(1), 1, 0, 0},
		{"a size without end", 8, math.Inf(1), 0, 0},
		{"a size of 0", 8, 0, 0, 0},
		{"more than any plant gives", 1e12, 1, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			if lo, hi := countRange(c.mean, c.size); math.Abs(float64(lo-c.lo)) > 1e-3*float64(c.lo) || math.Abs(float64(hi-c.hi)) > 1e-3*float64(c.hi) {
				t.Errorf("%d to %d, want %d to %d", lo, hi, c.lo, c.hi)
			}
		})
	}
}

func TestAPlainMeanLengthWithoutAMaximumIsNullAndSaysWhy(t *testing.T) {
	for _, c := range []struct {
		name  string
		later []crop.Count // in the second season; in the first, two classes
		null  bool
	}{
		{"two classes have a mean", []crop.Count{long("first", 50, 5), long("first", 60, 5)}, false},
		{"the last class alone, which is open, has none", []crop.Count{{Grade: "first", Length: crop.LengthClass{Lo: 800, Hi: crop.OpenEnd}, Stems: 9}}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := flatPlot()
			p.cut("a1", "2025-05-10", long("first", 40, 5), long("first", 50, 5))
			p.cut("b1", "2025-05-10", c.later...)
			report := mustFit(t, p.Farm, Options{Prior: PriorFlat})
			for _, length := range ageOf(t, report, 1).LengthCM {
				if !length.Mean.Known() {
					t.Errorf("the first season's mean length is %v", length)
				}
			}
			for flush, length := range ageOf(t, report, 2).LengthCM {
				if length.Mean.Known() == c.null || length.Lo.Known() == c.null || length.Hi.Known() == c.null {
					t.Errorf("the second season's mean length is %v", length)
				}
				if c.null {
					wantNote(t, report, NoteNoMean, map[string]string{"age": "2", "flush": string(flush)})
				}
			}
		})
	}
}

func TestOneClassOfLengthHasNoMeanNorSpread(t *testing.T) {
	p := flatPlot()
	p.cut("a1", "2025-05-10", long("first", 40, 5))
	report := mustFit(t, p.Farm, Options{Prior: PriorFlat})
	written, err := json.Marshal(ageOf(t, report, 1).LengthCM["spring"])
	if want := `{"mean":null,"lo":null,"hi":null}`; err != nil || string(written) != want {
		t.Errorf("%s, want %s (%v)", written, want, err)
	}
	wantNote(t, report, NoteNoMean, map[string]string{"age": "1", "flush": "spring"})
	wantNote(t, report, NoteNoSpread, nil)
}

func TestWhatThePlainGradesLeaveWithoutAMaximumIsNullAndSaysWhy(t *testing.T) {
	for _, c := range []struct {
		name string
		cuts map[crop.PlantID][]crop.Count
		code string
		null func(g *FlatGrades) Figure
	}{
		{"a threshold between grades that no age shares", map[crop.PlantID][]crop.Count{
			"a1": {stems("out", 4), stems("second", 5)}, "a2": {stems("out", 5), stems("second", 4)},
			"b1": {stems("first", 4), stems("extra", 4)}, "b2": {stems("first", 4), stems("extra", 4)},
		}, NoteParted, func(g *FlatGrades) Figure { return g.Thresholds["second|first"] }},
		{"how far plants differ that gave one grade each", map[crop.PlantID][]crop.Count{
			"a1": {stems("out", 90)}, "a2": {stems("first", 90)}, "a3": {stems("out", 90)},
		}, NoteNoPlantSD, func(g *FlatGrades) Figure { return g.PlantSD }},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := flatPlot()
			for _, plant := range slices.Sorted(maps.Keys(c.cuts)) {
				p.cut(plant, "2025-05-10", c.cuts[plant]...)
			}
			report := mustFit(t, p.Farm, Options{Prior: PriorFlat})
			if got := c.null(report.GradeModel); got.Known() {
				t.Errorf("it is %g, want null", got)
			}
			wantNote(t, report, c.code, nil)
		})
	}
}

// Five plants gave one grade each and one gave two: their spread grows so far that the search gives up.
func TestASearchThatCameToNoMaximumIsTold(t *testing.T) {
	astray, sound := flatPlot(), flatPlot()
	astray.cut("a1", "2025-05-10", stems("second", 3))
	astray.cut("a2", "2025-05-10", stems("extra", 4))
	astray.cut("a3", "2025-05-10", stems("first", 4))
	astray.cut("b2", "2025-05-10", stems("extra", 3))
	astray.cut("b3", "2025-05-10", stems("out", 30), stems("second", 2))
	for _, id := range slices.Sorted(maps.Keys(sound.Plants)) {
		sound.cut(id, "2025-05-10", stems("out", 2), stems("second", 3), stems("first", 5), stems("extra", 4))
	}
	wantNote(t, mustFit(t, astray.Farm, Options{Prior: PriorFlat}), NoteNotConverged, map[string]string{"of": "grades"})
	if told := codes(mustFit(t, sound.Farm, Options{Prior: PriorFlat})); slices.Contains(told, NoteNotConverged) {
		t.Errorf("a sound fit says %v", told)
	}
}
