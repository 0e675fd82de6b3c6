package forecast

import (
	"math"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// flushPriors is what common practice says of a flush before a farm has told anything (common practice, no source: a
// spring flush of four to five weeks, the third the heaviest; a fall flush after cutting back, lighter).
type flushPriors struct {
	onset  stats.Normal // days from the season's spring
	length stats.Normal // logarithm of days
	a, b   stats.Normal // logarithms
	part   stats.Normal // logarithm of its stems against the spring's
}

// With these a and b, of five weeks the third has 34 stems of a hundred, and its neighbours 26 and 25.
var priorsOf = map[crop.Flush]flushPriors{
	crop.FlushSpring: {
		onset: stats.Normal{Mean: 80, SD: 18}, length: stats.Normal{Mean: math.Log(35), SD: 0.15},
		a: stats.Normal{Mean: math.Log(2.2), SD: 0.15}, b: stats.Normal{Mean: math.Log(3), SD: 0.2},
		part: stats.Normal{},
	},
	crop.FlushFall: {
		onset: stats.Normal{Mean: 180, SD: 20}, length: stats.Normal{Mean: math.Log(30), SD: 0.2},
		a: stats.Normal{Mean: math.Log(2.2), SD: 0.15}, b: stats.Normal{Mean: math.Log(3), SD: 0.2},
		part: stats.Normal{Mean: math.Log(0.3), SD: 0.5},
	},
}

var (
	// Seasons and stocks shift a flush by so many days, and lengthen it by so much on the log scale.
	seasonOnsetPrior = stats.Normal{Mean: math.Log(6), SD: 0.4} // the logarithm of the standard deviation
	stockOnsetPrior  = stats.Normal{SD: 4}
	// cutBackSD is how many days one season's cutting back lies from another's (common practice, no source).
	cutBackSD = 10.0
	// waitPrior is of how many days after cutting back a fall flush begins: nine in ten after six to nine weeks (common
	// practice, no source).
	waitPrior      = stats.Normal{Mean: 7.5 * 7, SD: 6.4}
	seasonLengthSD = 0.12
	// precisionPrior is of the logarithm of how near a flush keeps to its curve: weather makes a week with a quarter of
	// the stems a fifth better or worse.
	precisionPrior = stats.Normal{Mean: math.Log(100), SD: 0.5}
	// sizePrior is of the logarithm of the NB2 size of plants of one planting in a season: both what stays with a plant
	// and what is that season's.
	sizePrior = stats.Normal{Mean: math.Log(2.5), SD: 0.5}
	// takenPrior is of the part that a cut to order takes of what is open, as counts of stems: some two in three, a third or
	// all but a tenth as well (common practice, no source).
	takenPrior = parts{took: 4, left: 2}
	// fallPrior counts seasons with and without a fall flush before any was seen.
	fallWith, fallWithout = 0.5, 0.5
)

// parts are the counts of a beta distribution.
type parts struct{ took, left float64 }

func (p parts) mean() float64 { return p.took / (p.took + p.left) }

// logOf is the log density of a normal, but for a constant.
func logOf(n stats.Normal, v float64) float64 {
	z := (v - n.Mean) / n.SD
	return -z * z / 2
}
