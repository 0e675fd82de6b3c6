package stats

import (
	"fmt"
	"math"
)

// The grid on which a posterior is summed, and how deep below its top the tails are cut: exp(-18) of
// the density at the top, so that what is left out is nowhere near a millionth of the whole.
const (
	meanNodes   = 61
	sizeNodes   = 41
	tailDepth   = 18.0
	zooms       = 60
	leastSpread = 0.5 // of the nodes of an axis, those that must carry the posterior
)

// NegBinPosterior is the joint posterior of log mean and log size of counts that share both, on a
// grid; weights sum to 1.
type NegBinPosterior struct {
	logMean, logSize []float64
	weight           [][]float64 // [mean][size]
}

// NewNegBinPosterior sums the posterior of the counts under independent normal priors, both of them
// proper. The trapezoid rule on a grid that covers the tails converges faster than any power of the
// spacing for a smooth density (Trefethen and Weideman 2014, SIAM Review 56:385-458).
func NewNegBinPosterior(counts *Tally, meanPrior, sizePrior Normal) (NegBinPosterior, error) {
	for _, p := range []Normal{meanPrior, sizePrior} {
		if !(p.SD > 0) || math.IsInf(p.SD, 1) || math.IsNaN(p.Mean) {
			return NegBinPosterior{}, fmt.Errorf("posterior of counts: prior normal(%g, %g) is not proper: give a finite mean and a finite standard deviation above 0", p.Mean, p.SD)
		}
	}
	g := newGrid(counts, meanPrior, sizePrior)
	for range zooms {
		g.fill()
		if g.zoom() {
			return g.posterior(), nil
		}
	}
	return NegBinPosterior{}, fmt.Errorf("posterior of counts: no grid covers it (%d counts, %d in all)", counts.N, counts.Total)
}

// grid looks for the box that holds the posterior.
type grid struct {
	counts    *Tally
	meanPrior Normal
	sizePrior Normal
	mean      axis
	size      axis
	logDens   [][]float64
	top       float64
}

// axis is one side of the box, evenly divided.
type axis struct {
	lo, hi float64
	nodes  []float64
}

func (a *axis) place() {
	for i := range a.nodes {
		a.nodes[i] = a.lo + (a.hi-a.lo)*float64(i)/float64(len(a.nodes)-1)
	}
}

// newGrid starts from a box that holds both what the priors and what the counts say.
func newGrid(counts *Tally, meanPrior, sizePrior Normal) *grid {
	g := &grid{counts: counts, meanPrior: meanPrior, sizePrior: sizePrior}
	g.mean = axis{lo: meanPrior.Mean - 7*meanPrior.SD, hi: meanPrior.Mean + 7*meanPrior.SD, nodes: make([]float64, meanNodes)}
	g.size = axis{lo: sizePrior.Mean - 7*sizePrior.SD, hi: sizePrior.Mean + 7*sizePrior.SD, nodes: make([]float64, sizeNodes)}
	if counts.N > 0 {
		seen := math.Log((float64(counts.Total) + 0.5) / float64(counts.N))
		g.mean.lo = min(g.mean.lo, seen-2)
		g.mean.hi = max(g.mean.hi, seen+2)
	}
	g.logDens = make([][]float64, meanNodes)
	for i := range g.logDens {
		g.logDens[i] = make([]float64, sizeNodes)
	}
	return g
}

// fill sets the density at every node. What hangs on the size alone is found once for each size: it
// is the costly sum.
func (g *grid) fill() {
	g.mean.place()
	g.size.place()
	g.top = math.Inf(-1)
	for j, a := range g.size.nodes {
		r := math.Exp(a)
		fixed, _, _ := g.counts.sizeTerm(r)
		fixed += g.sizePrior.logDensity(a)
		for i, m := range g.mean.nodes {
			d := fixed + g.counts.meanTerm(m, r) + g.meanPrior.logDensity(m)
			g.logDens[i][j] = d
			g.top = max(g.top, d)
		}
	}
}

// zoom moves the box to where the density is above the tail's depth, and tells whether the box was
// already right: covering the tails and not mostly empty.
func (g *grid) zoom() bool {
	iLo, iHi, jLo, jHi := meanNodes, -1, sizeNodes, -1
	for i, row := range g.logDens {
		for j, d := range row {
			if d > g.top-tailDepth {
				iLo, iHi = min(iLo, i), max(iHi, i)
				jLo, jHi = min(jLo, j), max(jHi, j)
			}
		}
	}
	meanRight := g.mean.fit(iLo, iHi)
	sizeRight := g.size.fit(jLo, jHi)
	return meanRight && sizeRight
}

// fit sets the axis to the nodes from lo to hi and one node more at each end, or a fifth of the axis
// more where the posterior runs over the edge.
func (a *axis) fit(lo, hi int) bool {
	last := len(a.nodes) - 1
	inside := lo > 0 && hi < last
	if inside && float64(hi-lo) >= leastSpread*float64(last) {
		return true
	}
	step := a.nodes[1] - a.nodes[0]
	below, above := step, step
	if lo == 0 {
		below = (a.hi - a.lo) / 5
	}
	if hi == last {
		above = (a.hi - a.lo) / 5
	}
	a.lo, a.hi = a.nodes[lo]-below, a.nodes[hi]+above
	return false
}

// posterior turns log densities into weights; the spacing cancels.
func (g *grid) posterior() NegBinPosterior {
	sum := 0.0
	for _, row := range g.logDens {
		for j := range row {
			row[j] = math.Exp(row[j] - g.top)
			sum += row[j]
		}
	}
	for _, row := range g.logDens {
		for j := range row {
			row[j] /= sum
		}
	}
	return NegBinPosterior{logMean: g.mean.nodes, logSize: g.size.nodes, weight: g.logDens}
}
