package packing

import (
	"math/bits"
	"slices"
)

// meets says whether stems are good enough for a line: its grade or a better one, as long or longer, of its colours.
func (d *Day) meets(s Supply, line Demand) bool {
	return (line.MinGrade == "" || slices.Index(d.Grades, s.Grade) >= slices.Index(d.Grades, line.MinGrade)) &&
		s.LengthMM >= line.MinLengthMM &&
		(len(line.Colours) == 0 || slices.Contains(line.Colours, s.Colour))
}

// dearEnough says whether a line pays a supply's floor for every stem.
func dearEnough(s Supply, line Demand) bool {
	high, low := bits.Mul64(uint64(s.Floor), uint64(line.Bunch))
	return high == 0 && low <= uint64(line.Price)
}

func (d *Day) allowed(s Supply, line Demand) bool { return d.meets(s, line) && dearEnough(s, line) }
