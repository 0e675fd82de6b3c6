package packing

import (
	"fmt"
	"math/rand/v2"
)

// kinds are the sorts of days that the solver is measured on.
var kinds = []string{
	"mixed", "correlated", "nearly equal", "all or nothing", "sevens", "seconds", "scarce", "parts", "any colour", "ample", "odd sizes", "web", "minimums",
}

// madeUp is a day of a kind, the same for the same seed. Nothing in it is a real price.
func madeUp(kind string, seed uint64, classes, lines int) Day {
	r := rand.New(rand.NewPCG(seed, uint64(len(kind))*1000+uint64(kind[0])))
	d := Day{Name: fmt.Sprintf("%s %d", kind, seed), Grades: []string{"out", "second", "first", "extra"}}
	colours := 6
	switch kind {
	case "parts":
		colours = 12
	case "any colour":
		colours = 3
	case "web":
		colours = 20
	}
	floors := []int64{0, 12, 18, 21, 25}
	for i := range classes {
		grade := 1 + r.IntN(3)
		d.Supply = append(d.Supply, Supply{
			ID: fmt.Sprintf("S%d", i+1), Grade: d.Grades[grade], LengthMM: int64(300 + 100*r.IntN(5)),
			Colour: fmt.Sprintf("c%d", r.IntN(colours)), Stems: int64(1 + r.IntN(40)), Floor: floors[r.IntN(1+grade)],
			Cut: fmt.Sprintf("2026-06-%02d", 20+r.IntN(5)),
		})
	}
	sizes := []int64{10, 10, 10, 5}
	switch kind {
	case "sevens":
		sizes = []int64{5, 7}
	case "seconds":
		sizes = []int64{10, 10, 15, 20}
	case "mixed":
		sizes = []int64{5, 7, 10, 12, 15, 20, 25}
	case "odd sizes":
		sizes = []int64{7, 9, 11, 13}
	}
	for i := range lines {
		grade := 1 + r.IntN(3)
		line := Demand{
			ID: fmt.Sprintf("D%d", i+1), Channel: "florist", MinGrade: d.Grades[grade], MinLengthMM: int64(300 + 100*r.IntN(4)),
			Bunch: sizes[r.IntN(len(sizes))], MaxBunches: int64(1 + r.IntN(10)),
		}
		switch n := r.IntN(10); {
		case kind == "web":
			for range 2 + r.IntN(5) {
				line.Colours = append(line.Colours, fmt.Sprintf("c%d", r.IntN(colours)))
			}
		case kind == "parts" || n < 5:
			line.Colours = []string{fmt.Sprintf("c%d", r.IntN(colours))}
		case kind != "any colour" && n < 8:
			line.Colours = []string{fmt.Sprintf("c%d", r.IntN(colours)), fmt.Sprintf("c%d", r.IntN(colours))}
		}
		stem := 20 + r.Int64N(50)
		switch kind {
		case "correlated":
			stem = 15 + int64(grade)*10 + line.MinLengthMM/50 + r.Int64N(5)
		case "nearly equal":
			stem = 40
		case "all or nothing":
			line.AllOrNothing = r.IntN(3) > 0
		case "odd sizes":
			stem = 40 + r.Int64N(2)
			line.MaxBunches = int64(3 + r.IntN(20))
		case "web":
			stem = 30 + r.Int64N(8)
			line.MaxBunches = int64(3 + r.IntN(20))
		case "scarce":
			line.MaxBunches = int64(5 + r.IntN(30))
		case "ample":
			line.MaxBunches = int64(1 + r.IntN(4))
		default:
			line.AllOrNothing = r.IntN(10) == 0
		}
		line.Price = stem*line.Bunch + r.Int64N(line.Bunch)
		if kind == "minimums" && r.IntN(4) == 0 {
			line.MinBunches = min(line.MaxBunches, 1+r.Int64N(3))
		}
		if kind == "nearly equal" {
			line.Price = stem*line.Bunch + r.Int64N(7) - 3
		}
		if r.IntN(2) == 0 && kind != "nearly equal" {
			line.Price = (line.Price + 9) / 10 * 10
		}
		d.Demand = append(d.Demand, line)
	}
	return d
}
