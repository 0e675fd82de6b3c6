package yield

import (
	"slices"
	"testing"

	"corymb/internal/crop"
)

// cell is what a table expects of one age and flush.
type cell struct {
	age    int
	flush  crop.Flush
	stems  int
	plants int
}

func cellsOf(r Report) []cell {
	var list []cell
	for _, a := range r.Ages {
		for _, g := range a.Grades {
			list = append(list, cell{a.Age, g.Flush, g.Stems, g.Plants})
		}
	}
	return list
}

const day = crop.Date("2024-05-20")

func first(n int) crop.Count { return stems(crop.GradeFirst, n) }

// onceCases are laid on two plants in bed A (age 1 in 2024), one in B (age 2) and one of either age
// in M.
var onceCases = map[string]struct {
	lay    func(p plot)
	cells  []cell
	totals map[int]int
	note   string
}{
	"plants' rows alone, counted or not": {
		lay: func(p plot) {
			p.count("a1", 2024)
			p.cut("a1", day, first(3), stems(crop.GradeOut, 1))
			p.cut("a2", day, first(2))
		},
		cells: []cell{{1, "spring", 6, 2}}, totals: map[int]int{1: 6},
	},
	"a bench total stands for the plants' rows of its bed and day": {
		lay: func(p plot) {
			p.cut("a1", day, first(3))
			p.cut("a1", "2024-05-22", first(5))
			p.bench("A", day, first(20), stems(crop.GradeExtra, 10))
		},
		cells: []cell{{1, "spring", 35, 2}}, totals: map[int]int{1: 35},
	},
	"bench over bed cut over plants": {
		lay: func(p plot) {
			p.cut("a1", day, first(3))
			p.visit(crop.Visit{Bed: "A", Date: day, Purpose: crop.PurposeBedCut, Counts: []crop.Count{first(28)}})
			p.bench("A", day, first(30))
		},
		cells: []cell{{1, "spring", 30, 2}}, totals: map[int]int{1: 30},
	},
	"a bed cut stands for the plants' rows too": {
		lay: func(p plot) {
			p.cut("a1", day, first(3))
			p.visit(crop.Visit{Bed: "A", Date: day, Purpose: crop.PurposeBedCut, Counts: []crop.Count{first(28)}})
		},
		cells: []cell{{1, "spring", 28, 2}}, totals: map[int]int{1: 28},
	},
	"a bench total without a grade gives the total, the plants the grades": {
		lay: func(p plot) {
			p.cut("a1", day, first(3))
			p.bench("A", day, stems("", 30))
		},
		cells: []cell{{1, "spring", 3, 1}}, totals: map[int]int{1: 30},
	},
	"untold grades are missing, not guessed": {
		lay:   func(p plot) { p.bench("A", day, first(10), stems("", 30)) },
		cells: []cell{{1, "spring", 10, 1}}, totals: map[int]int{1: 40},
	},
	"several bench totals of a day add up": {
		lay: func(p plot) {
			p.bench("A", day, first(10))
			p.bench("A", day, first(5))
		},
		cells: []cell{{1, "spring", 15, 1}}, totals: map[int]int{1: 15},
	},
	"a bed of several ages needs an age: the plants' rows serve": {
		lay: func(p plot) {
			p.cut("m1", day, first(3))
			p.bench("M", day, first(30))
		},
		cells: []cell{{2, "spring", 3, 1}}, totals: map[int]int{2: 3}, note: NoteBenchUnusable,
	},
	"an age told makes it usable and stands for that age only": {
		lay: func(p plot) {
			p.cut("m1", day, first(3))
			p.cut("n1", day, first(4))
			p.visit(crop.Visit{Bed: "M", Date: day, Purpose: crop.PurposeBench, Age: 2, Counts: []crop.Count{first(30)}})
		},
		cells: []cell{{1, "spring", 4, 1}, {2, "spring", 30, 2}}, totals: map[int]int{1: 4, 2: 30},
	},
	"a planting told makes it usable and stands for that planting only": {
		lay: func(p plot) {
			p.cut("m1", day, first(3))
			p.cut("n1", day, first(4))
			p.visit(crop.Visit{Bed: "M", Date: day, Purpose: crop.PurposeBench, Planting: "n", Counts: []crop.Count{first(30)}})
		},
		cells: []cell{{1, "spring", 30, 2}, {2, "spring", 3, 1}}, totals: map[int]int{1: 30, 2: 3},
	},
	"a planting that is gone leaves the bed one age": {
		lay: func(p plot) {
			p.remove("m1", "2024-03-01")
			p.bench("M", day, first(30))
		},
		cells: []cell{{1, "spring", 30, 1}}, totals: map[int]int{1: 30},
	},
	"on the day of its removal a plant is still there": {
		lay: func(p plot) {
			p.remove("b1", day)
			p.bench("B", day, first(30))
		},
		cells: []cell{{2, "spring", 30, 1}}, totals: map[int]int{2: 30},
	},
	"a bench total of a bed where nothing stands any more is left out and said": {
		lay: func(p plot) {
			p.remove("b1", "2024-05-19")
			p.bench("B", day, first(30))
		},
		totals: map[int]int{}, note: NoteBedBare,
	},
	"an age told that nothing in the bed has is left out and said": {
		lay: func(p plot) {
			p.visit(crop.Visit{Bed: "B", Date: day, Purpose: crop.PurposeBench, Age: 5, Counts: []crop.Count{first(30)}})
		},
		totals: map[int]int{}, note: NoteBedBare,
	},
	"a cut from an unknown plant is left out and said": {
		lay:    func(p plot) { p.cut("nobody", day, first(9)) },
		totals: map[int]int{}, note: NoteUnplaced,
	},
	"two seasons of one bed's totals are two clusters": {
		lay: func(p plot) {
			p.bench("B", "2024-05-20", first(30))
			p.bench("B", "2024-06-20", first(30))
			p.bench("B", "2025-05-20", first(30))
		},
		cells: []cell{{2, "spring", 60, 1}, {3, "spring", 30, 1}}, totals: map[int]int{2: 60, 3: 30},
	},
}

func TestNoStemCountsTwice(t *testing.T) {
	for name, c := range onceCases {
		t.Run(name, func(t *testing.T) {
			p := newPlot()
			p.set("a", "yarrow", "A", 2024, 2)
			p.set("b", "yarrow", "B", 2023, 1)
			p.set("m", "yarrow", "M", 2023, 1)
			p.set("n", "yarrow", "M", 2024, 1)
			c.lay(p)
			r := mustReport(t, p.Farm, Options{})
			checkCells(t, cellsOf(r), c.cells)
			if len(r.Ages) != len(c.totals) {
				t.Errorf("%d ages, want %d", len(r.Ages), len(c.totals))
			}
			for _, a := range r.Ages {
				if a.StemsTotal != c.totals[a.Age] {
					t.Errorf("age %d: %d stems in all, want %d", a.Age, a.StemsTotal, c.totals[a.Age])
				}
			}
			if c.note != "" {
				wantNote(t, r, c.note, nil)
			}
		})
	}
}

func checkCells(t *testing.T, got, want []cell) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("cells %v, want %v", got, want)
	}
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("cell %v, want %v", got[i], want[i])
		}
	}
}

func TestFlushIsAsToldElseByTheCutBack(t *testing.T) {
	cases := map[string]struct {
		cutBack crop.Date
		told    crop.Flush
		day     crop.Date
		want    crop.Flush
	}{
		"never cut back":            {"", "", "2024-09-20", "spring"},
		"the day before":            {"2024-07-01", "", "2024-06-30", "spring"},
		"from that day on":          {"2024-07-01", "", "2024-07-01", "fall"},
		"as told, whatever the day": {"2024-07-01", "fall", "2024-05-20", "fall"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			p := newPlot()
			p.set("a", "yarrow", "A", 2024, 1)
			if c.cutBack != "" {
				p.Beds["A"].CutBack[2024] = c.cutBack
			}
			p.visit(crop.Visit{Plant: "a1", Date: c.day, Purpose: crop.PurposeCut, Flush: c.told, Counts: []crop.Count{stems(crop.GradeFirst, 2)}})
			checkCells(t, cellsOf(mustReport(t, p.Farm, Options{})), []cell{{1, c.want, 2, 1}})
		})
	}
}

func TestBenchTotalsOfAMixedBedBelongToNoOneSpecies(t *testing.T) {
	p := newPlot()
	p.set("a", "yarrow", "A", 2024, 1)
	p.set("x", "phlox", "A", 2024, 1)
	p.bench("A", "2024-05-20", stems(crop.GradeFirst, 30))
	both := mustReport(t, p.Farm, Options{})
	checkCells(t, cellsOf(both), []cell{{1, "spring", 30, 1}})
	one := mustReport(t, p.Farm, Options{Species: "phlox"})
	checkCells(t, cellsOf(one), nil)
	wantNote(t, one, NoteBenchUnusable, map[string]string{"visits": "1", "stems": "30"})
	p.set("y", "yarrow", "Y", 2024, 1)
	p.remove("y1", "2024-05-01")
	p.bench("Y", "2024-05-20", stems(crop.GradeFirst, 9))
	if other := mustReport(t, p.Farm, Options{Species: "phlox"}); slices.Contains(codes(other), NoteBedBare) {
		t.Error("a bare bed of yarrow is told of phlox")
	}
	p.remove("a1", "2024-05-01")
	checkCells(t, cellsOf(mustReport(t, p.Farm, Options{Species: "phlox"})), []cell{{1, "spring", 30, 1}})
}
