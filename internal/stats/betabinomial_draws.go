package stats

import (
	"math"
	"math/rand/v2"
)

// Draw draws from the posterior: the logit of each group's mean share, and that of rho. Within a step of the grid
// every value is alike.
func (b *BetaBinPosterior) Draw(source *rand.Rand) (means []float64, rho float64) {
	at := pickByLog(source, len(b.logRho), func(j int) float64 { return b.logRho[j] })
	means = make([]float64, len(b.groups))
	for g := range b.groups {
		group := &b.groups[g]
		i := pickByLog(source, len(group.mean.nodes), func(i int) float64 { return group.logDens[at][i] })
		means[g] = group.mean.within(i, source)
	}
	return means, b.rho.within(at, source)
}

// pickByLog draws one of n by its log density.
func pickByLog(source *rand.Rand, n int, logDensity func(int) float64) int {
	best, top := 0, math.Inf(-1)
	for i := range n {
		// The greatest of the logs with Gumbel noise is a draw by them.
		if noisy := logDensity(i) - math.Log(source.ExpFloat64()); noisy > top {
			best, top = i, noisy
		}
	}
	return best
}

// within is a value in the step about a node.
func (l gridLine) within(i int, source *rand.Rand) float64 {
	return l.nodes[i] + (source.Float64()-0.5)*(l.nodes[1]-l.nodes[0])
}
