package stats

import (
	"fmt"
	"math"
)

// Tally is a pile of counts kept by what a negative binomial likelihood needs of them: how many
// there are, their sum, and for each k how many exceed k.
type Tally struct {
	N       int
	Total   int
	above   []int // above[k] counts exceed k
	logFact float64
}

// Add puts one count on the pile.
func (t *Tally) Add(y int) error {
	if y < 0 {
		return fmt.Errorf("a count of %d: counts are 0 or more", y)
	}
	t.N++
	t.Total += y
	for len(t.above) < y {
		t.above = append(t.above, 0)
	}
	for k := range y {
		t.above[k]++
	}
	lg, _ := math.Lgamma(float64(y) + 1)
	t.logFact += lg
	return nil
}

// sizeTerm is the sum over the counts of sum over k<y of log(1+k/r), less log y!, and its first and
// second derivatives in log r.
func (t *Tally) sizeTerm(r float64) (value, slope, bend float64) {
	value = -t.logFact
	for k, n := range t.above {
		share := float64(k) / (r + float64(k))
		value += float64(n) * math.Log1p(float64(k)/r)
		slope -= float64(n) * share
		bend += float64(n) * share * (1 - share)
	}
	return value, slope, bend
}

// meanTerm is the rest of the log-likelihood of the pile when all its counts share one mean: the
// formula at negBinSurface.at.
func (t *Tally) meanTerm(logMean, r float64) float64 {
	total := float64(t.Total)
	return total*logMean - (total+float64(t.N)*r)*math.Log1p(math.Exp(logMean)/r)
}

// LogLik is the log-likelihood of the pile at one log mean and one log size.
func (t *Tally) LogLik(logMean, logSize float64) float64 {
	r := math.Exp(logSize)
	value, _, _ := t.sizeTerm(r)
	return value + t.meanTerm(logMean, r)
}
