package packing

import (
	"cmp"
	"math"
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

// compareStems compares what two lines pay for a stem.
func compareStems(a, b Demand) int {
	aHigh, aLow := bits.Mul64(uint64(a.Price), uint64(b.Bunch))
	bHigh, bLow := bits.Mul64(uint64(b.Price), uint64(a.Bunch))
	return cmp.Or(cmp.Compare(aHigh, bHigh), cmp.Compare(aLow, bLow))
}

// centsAStem is what a line pays for a stem, to a tenth of a cent, for people to read.
func (line Demand) centsAStem() float64 {
	return math.Round(float64(line.Price)/float64(line.Bunch)*10) / 10
}
