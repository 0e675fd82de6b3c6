package yield

import (
	"math"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// qualityPriors are those of a model of what stems are like: of grades on the logit scale, of lengths in
// centimetres.
type qualityPriors struct {
	first      stats.Normal // of the first season; grades have thresholds instead
	secondStep stats.Normal
	laterStep  stats.Normal
	fall       stats.Normal // of any later flush against the spring's
	week       stats.Normal // from one week of a flush to the next
	plotSD     stats.Normal // of plantings, and of beds; this and the next on the logarithms
	graderSD   stats.Normal
}

var (
	// gradePriors: broad heads in the first season are about a fifth of what the second shows, and a fall
	// flush is of lower grade (common practice, no source): centred on half of the first and some of the
	// second, and wide enough for the opposite.
	gradePriors = qualityPriors{
		secondStep: stats.Normal{Mean: 0.7, SD: 1}, laterStep: stats.Normal{SD: 0.7},
		fall: stats.Normal{Mean: -0.5, SD: 1}, week: stats.Normal{SD: 0.4},
		plotSD:   stats.Normal{Mean: math.Log(0.3), SD: 0.6},
		graderSD: stats.Normal{Mean: math.Log(0.3), SD: 0.6},
	}
	plantGradeSDPrior = stats.Normal{Mean: math.Log(0.7), SD: 0.6}
	// Equal shares of the four grades put the first threshold at logit(1/4) and the spacings at log 3; the
	// spreads let any share be overruled by a score of stems. The prior is on the log spacings themselves,
	// so that a grade that was never seen stays possible.
	firstThresholdPrior = stats.Normal{Mean: -math.Log(3), SD: 1.5}
	logSpacingPrior     = stats.Normal{Mean: math.Log(math.Log(3)), SD: 1}

	// lengthPriors: published trials saw 36 to 64 cm in a first season (yarrow 14 in, 2019; eupatorium 25 in,
	// rudbeckia 23 in, 2011) and 18 to 36 cm more in the second (rudbeckia over 30 in, eupatorium 39 in).
	lengthPriors = qualityPriors{
		first:      stats.Normal{Mean: 48, SD: 15},
		secondStep: stats.Normal{Mean: 15, SD: 12}, laterStep: stats.Normal{SD: 6},
		fall: stats.Normal{Mean: -6, SD: 8}, week: stats.Normal{SD: 3},
		plotSD:   stats.Normal{Mean: math.Log(3), SD: 0.6},
		graderSD: stats.Normal{Mean: math.Log(1.5), SD: 0.6},
	}
	// lengthSDPrior is of how much stems of one whence vary together, and lengthRatioPrior of how much plants
	// do, against the stems of one.
	lengthSDPrior    = stats.Normal{Mean: math.Log(8), SD: 0.5}
	lengthRatioPrior = stats.Normal{Mean: math.Log(0.55), SD: 0.6}
	// rankPrior is of how much longer the stems of one grade are than those of the next lower.
	rankPrior = stats.Normal{Mean: 2, SD: 3}
	// untoldPrior is of stems whose grade was not told, against those of grade first.
	untoldPrior = stats.Normal{SD: 4}
)

// The names of the quality models' parameters and scales beside those of the stems model.
const (
	parPlantSD     = "log sd of plants"
	parThreshold   = "first threshold"
	parFirstOf     = "length in the first season"
	parLengthSD    = "log sd of lengths"
	parLengthRatio = "log ratio of sd of plants"
	scaleGrader    = "grader"
)

// qualityRow is the linear predictor of a stem's grade or length, without its plant's effect. Stems of a pool
// of several plantings lie at the mean of those, by their plants.
func qualityRow(p *parameters, w whence, q qualityPriors, pool pool) stats.Row {
	row := stats.Row{}
	add := func(i int) { row.Terms = append(row.Terms, stats.Coef{Parameter: i, Value: 1}) }
	for age := 2; age <= w.age; age++ {
		prior := q.laterStep
		if age == 2 {
			prior = q.secondStep
		}
		add(p.own(name("step", age), prior))
	}
	if w.flush != crop.FlushSpring {
		add(p.own(name("flush", w.flush), q.fall))
	}
	for week := 2; week <= w.week; week++ {
		add(p.own(name("week", week), q.week))
	}
	for _, of := range pool.of {
		row.Terms = append(row.Terms, stats.Coef{
			Parameter: p.shared(name("planting", of.planting), scalePlot, q.plotSD), Value: float64(of.plants) / float64(pool.plants),
		})
	}
	add(p.shared(name("bed", w.bed), scaleBed, q.plotSD))
	if w.grader != "" {
		add(p.shared(name("grader", w.grader), scaleGrader, q.graderSD))
	}
	return row
}

// rankTerms add the steps between grades up to a rank; first (rank 2) is the reference, so that lower
// grades take steps off.
func rankTerms(p *parameters, rank int) []stats.Coef {
	const reference = 2
	var terms []stats.Coef
	switch {
	case rank < 0:
		terms = append(terms, stats.Coef{Parameter: p.own("grade untold", untoldPrior), Value: 1})
	case rank > reference:
		for k := reference + 1; k <= rank; k++ {
			terms = append(terms, stats.Coef{Parameter: p.own(name("grade", k), rankPrior), Value: 1})
		}
	default:
		for k := rank + 1; k <= reference; k++ {
			terms = append(terms, stats.Coef{Parameter: p.own(name("grade", k), rankPrior), Value: -1})
		}
	}
	return terms
}
