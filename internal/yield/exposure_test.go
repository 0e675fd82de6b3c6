package yield

import (
	"testing"

	"corymb/internal/crop"
)

// dot is what a table expects of one exposed plant-season.
type dot struct {
	plant  crop.PlantID
	season crop.Season
	stems  int
	open   bool
}

func dotsOf(r Report) []dot {
	var list []dot
	for _, a := range r.Ages {
		for _, p := range a.Plants {
			list = append(list, dot{p.Plant, p.Season, p.Stems, p.Open})
		}
	}
	return list
}

// exposureCases are laid on two yarrows set for 2024 and one phlox set for 2023.
var exposureCases = map[string]struct {
	lay     func(p plot)
	options Options
	want    []dot
}{
	"a counted plant's cuts add up, untold and out too": {
		lay: func(p plot) {
			p.count("a1", 2024)
			p.cut("a1", "2024-05-20", stems(crop.GradeOut, 1), stems("", 4))
			p.cut("a1", "2024-05-22", stems(crop.GradeExtra, 2))
		},
		want: []dot{{"a1", 2024, 7, false}},
	},
	"a counted plant without a cut is zero, an uncounted one never": {
		lay: func(p plot) {
			p.count("a1", 2024)
			p.cut("a2", "2024-05-20", stems(crop.GradeFirst, 9))
		},
		want: []dot{{"a1", 2024, 0, false}},
	},
	"a plant that was moved gives what it gave before": {
		lay: func(p plot) {
			p.count("a1", 2024, 2025)
			p.cut("a1", "2024-05-20", stems(crop.GradeFirst, 3))
			p.cut("a1", "2024-07-01", stems(crop.GradeFirst, 2))
			p.cut("a2", "2025-05-20", stems(crop.GradeFirst, 4))
			p.cut("a1", "2025-05-20", stems(crop.GradeFirst, 9))
			p.move("a1", "2024-07-01", "B")
		},
		want: []dot{{"a1", 2024, 5, false}},
	},
	"a season without any cut is not yet begun": {
		lay: func(p plot) {
			p.count("a1", 2024, 2025)
			p.cut("a1", "2024-05-20", stems(crop.GradeFirst, 3))
		},
		want: []dot{{"a1", 2024, 3, false}},
	},
	"a bench total begins a season": {
		lay: func(p plot) {
			p.count("a1", 2024)
			p.bench("A", "2024-05-20", stems(crop.GradeFirst, 30))
		},
		want: []dot{{"a1", 2024, 0, false}},
	},
	"standing and nothing here add no stem and begin no season": {
		lay: func(p plot) {
			p.count("a1", 2024, 2025)
			p.cut("a1", "2024-05-20", stems(crop.GradeFirst, 3))
			for _, purpose := range []crop.Purpose{crop.PurposeStanding, crop.PurposeNothingHere} {
				p.visit(crop.Visit{Plant: "a1", Bed: "A", Date: "2024-05-21", Purpose: purpose, Counts: []crop.Count{stems("", 8)}})
				p.visit(crop.Visit{Plant: "a1", Bed: "A", Date: "2025-05-21", Purpose: purpose, Counts: []crop.Count{stems("", 8)}})
			}
		},
		want: []dot{{"a1", 2024, 3, false}},
	},
	"cuts outside the window or the season do not count": {
		lay: func(p plot) {
			p.Plants["a1"].Counted[2024] = crop.Window{From: "2024-05-01", To: "2025-12-31"}
			p.cut("a1", "2024-04-30", stems("", 1))
			p.cut("a1", "2024-05-01", stems("", 2))
			p.cut("a1", "2025-05-01", stems("", 4))
		},
		want: []dot{{"a1", 2024, 2, false}},
	},
	"a window wholly outside its season says nothing": {
		lay: func(p plot) {
			p.Plants["a1"].Counted[2024] = crop.Window{From: "2023-05-01", To: "2023-06-30"}
			p.cut("a2", "2024-05-01", stems("", 2))
		},
	},
	"a window that reaches into the next season without meeting its cutting is no zero there": {
		lay: func(p plot) {
			for _, s := range []crop.Season{2024, 2025} {
				p.Plants["a1"].Counted[s] = crop.Window{From: "2024-06-01", To: "2025-01-31"}
			}
			p.cut("a2", "2024-06-10", stems("", 2))
			p.cut("a2", "2025-06-10", stems("", 2))
		},
		want: []dot{{"a1", 2024, 0, false}},
	},
	"a window that closed before its own bed was cut is no zero, though other beds were": {
		lay: func(p plot) {
			p.Plants["a1"].Counted[2024] = crop.Window{From: "2024-04-01", To: "2024-05-31"}
			p.cut("b1", "2024-05-10", stems("", 2))
			p.cut("a2", "2024-06-10", stems("", 2))
		},
	},
	"a window over the farm's cutting is a zero where the plant's bed was never cut": {
		lay: func(p plot) {
			p.count("a1", 2024)
			p.cut("b1", "2024-05-10", stems("", 2))
		},
		want: []dot{{"a1", 2024, 0, false}},
	},
	"a window outside the farm's cutting is none": {
		lay: func(p plot) {
			p.Plants["a1"].Counted[2024] = crop.Window{From: "2024-06-01", To: "2024-10-31"}
			p.cut("b1", "2024-05-10", stems("", 2))
		},
	},
	"removed before the window opened is not exposed": {
		lay: func(p plot) {
			p.Plants["a1"].Counted[2024] = crop.Window{From: "2024-06-01", To: "2024-10-31"}
			p.remove("a1", "2024-05-20")
			p.cut("a2", "2024-05-10", stems("", 2))
			p.cut("a2", "2024-06-10", stems("", 2))
		},
	},
	"a row of no stems opens no season": {
		lay: func(p plot) {
			p.count("a1", 2024)
			p.cut("a1", "2024-05-10", stems("", 0))
			p.bench("A", "2024-05-10", stems(crop.GradeFirst, 0))
		},
	},
	"another species' cuts open no season": {
		options: Options{Species: "yarrow"},
		lay: func(p plot) {
			p.count("a1", 2024)
			p.cut("b1", "2024-05-10", stems("", 5))
			p.bench("B", "2024-05-12", stems("", 5))
		},
	},
	"another species' earlier cuts do not tell when this one's began": {
		options: Options{Species: "yarrow"},
		lay: func(p plot) {
			p.count("a1", 2024)
			p.remove("a1", "2024-06-01")
			p.cut("b1", "2024-05-10", stems("", 5))
			p.bench("A", "2024-06-20", stems("", 5))
		},
	},
	"before its first season a plant is not exposed": {
		lay: func(p plot) {
			p.count("a1", 2023)
			p.cut("b1", "2023-05-20", stems("", 5))
		},
	},
	"removed before the farm's first cut of the season is not exposed, on that day is": {
		lay: func(p plot) {
			p.count("a1", 2024)
			p.count("a2", 2024)
			p.remove("a1", "2024-05-09")
			p.remove("a2", "2024-05-10")
			p.cut("b1", "2024-05-10", stems("", 5))
		},
		want: []dot{{"a2", 2024, 0, false}},
	},
	"a window that still runs is open, its last day included": {
		options: Options{AsOf: "2024-10-31"},
		lay: func(p plot) {
			p.count("a1", 2024)
			p.Plants["a2"].Counted[2024] = crop.Window{From: "2024-04-01", To: "2024-10-30"}
			p.cut("a1", "2024-05-10", stems("", 5))
		},
		want: []dot{{"a1", 2024, 5, true}, {"a2", 2024, 0, false}},
	},
	"a window over several seasons is open only in the one that runs": {
		options: Options{AsOf: "2025-06-01"},
		lay: func(p plot) {
			for _, s := range []crop.Season{2024, 2025} {
				p.Plants["a1"].Counted[s] = crop.Window{From: "2024-04-01", To: "2026-12-31"}
			}
			p.cut("a1", "2024-05-10", stems("", 5))
			p.cut("a1", "2025-05-10", stems("", 6))
		},
		want: []dot{{"a1", 2024, 5, false}, {"a1", 2025, 6, true}},
	},
	"one species at a time": {
		options: Options{Species: "phlox"},
		lay: func(p plot) {
			p.count("a1", 2024)
			p.count("b1", 2024)
			p.cut("a1", "2024-05-10", stems("", 5))
			p.cut("b1", "2024-05-10", stems("", 6))
		},
		want: []dot{{"b1", 2024, 6, false}},
	},
}

func TestWhichPlantSeasonsAreExposed(t *testing.T) {
	for name, c := range exposureCases {
		t.Run(name, func(t *testing.T) {
			p := newPlot()
			p.set("a", "yarrow", "A", 2024, 2)
			p.set("b", "phlox", "B", 2023, 1)
			c.lay(p)
			got := dotsOf(mustReport(t, p.Farm, c.options))
			if len(got) != len(c.want) {
				t.Fatalf("exposed %v, want %v", got, c.want)
			}
			for i := range got {
				if got[i] != c.want[i] {
					t.Errorf("exposed %v, want %v", got[i], c.want[i])
				}
			}
		})
	}
}

// South of the equator a cut in November 2023 belongs to the season that starts that July.
func TestSeasonsFollowTheFarmsCalendar(t *testing.T) {
	p := newPlot()
	p.Calendar = crop.Calendar{Start: "07-01", Southern: true}
	p.set("a", "yarrow", "A", 2023, 1)
	p.Plants["a1"].Counted[2023] = crop.Window{From: "2023-10-01", To: "2024-03-31"}
	p.cut("a1", "2023-11-10", stems("", 5))
	p.cut("a1", "2024-02-10", stems("", 2))
	a := ageOf(t, mustReport(t, p.Farm, Options{}), 1)
	if len(a.Plants) != 1 || a.Plants[0].Stems != 7 {
		t.Errorf("exposed %v, want one plant with 7 stems", a.Plants)
	}
}

func TestOpenPlantSeasonsStayOutOfTheFit(t *testing.T) {
	p := newPlot()
	p.set("a", "yarrow", "A", 2024, 3)
	p.count("a1", 2024)
	p.count("a2", 2024, 2025)
	p.cut("a1", "2024-05-10", stems("", 5))
	closed := mustReport(t, p.Farm, Options{AsOf: "2025-02-01"})
	p.cut("a2", "2025-05-10", stems("", 50))
	open := mustReport(t, p.Farm, Options{AsOf: "2025-06-01"})
	if closed.Ages[0].Stems != open.Ages[0].Stems {
		t.Errorf("age 1 moved from %+v to %+v", closed.Ages[0].Stems, open.Ages[0].Stems)
	}
	second := ageOf(t, open, 2)
	if second.PlantSeasons != 0 || len(second.Plants) != 1 || second.StemsTotal != 50 {
		t.Errorf("age 2 has %d plant-seasons, %d dots and %d stems, want 0, 1 and 50", second.PlantSeasons, len(second.Plants), second.StemsTotal)
	}
	wantNote(t, open, NoteOpen, map[string]string{"plants": "1", "seasons": "2025"})
}
