package stats

import (
	"math"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mathext"
)

// Mean is the p-quantile of the mean.
func (n NegBinPosterior) Mean(p float64) float64 {
	marginal := make([]float64, len(n.logMean))
	for i, row := range n.weight {
		for _, w := range row {
			marginal[i] += w
		}
	}
	return math.Exp(gridQuantile(n.logMean, marginal, p))
}

// Size is the p-quantile of the size.
func (n NegBinPosterior) Size(p float64) float64 {
	marginal := make([]float64, len(n.logSize))
	for _, row := range n.weight {
		for j, w := range row {
			marginal[j] += w
		}
	}
	return math.Exp(gridQuantile(n.logSize, marginal, p))
}

// finer is how many steps are laid between two nodes before a density is summed.
const finer = 16

// gridQuantile inverts the integral of a density known at evenly spaced nodes. Its logarithm is
// smooth, so a cubic through it gives the density between them.
func gridQuantile(nodes, density []float64, p float64) float64 {
	logDens := make([]float64, len(density))
	for i, d := range density {
		logDens[i] = math.Log(max(d, math.SmallestNonzeroFloat64))
	}
	var curve interp.NotAKnotCubic
	// The only errors are too few nodes or nodes out of order.
	if err := curve.Fit(nodes, logDens); err != nil {
		panic(err)
	}
	steps := (len(nodes) - 1) * finer
	step := (nodes[len(nodes)-1] - nodes[0]) / float64(steps)
	fine := make([]float64, steps+1)
	all := 0.0
	for i := range fine {
		fine[i] = math.Exp(curve.Predict(nodes[0] + float64(i)*step))
		all += fine[i]
	}
	all -= (fine[0] + fine[steps]) / 2
	below := 0.0
	for i := 1; i <= steps; i++ {
		piece := (fine[i-1] + fine[i]) / 2
		if want := p*all - below; want <= piece {
			return nodes[0] + step*(float64(i-1)+partOfTrapezoid(fine[i-1], fine[i], want))
		}
		below += piece
	}
	return nodes[len(nodes)-1]
}

// NewCount is the least count that a new draw (its mean and size from the posterior) does not exceed
// with probability p or more.
func (n NegBinPosterior) NewCount(p float64) int {
	terms := n.predictive()
	lo, hi := -1, 1
	for hi < mostCount && cdf(terms, hi) < p {
		lo, hi = hi, 2*hi
	}
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; cdf(terms, mid) < p {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

const (
	// mostCount ends a search whose answer no reader would want in digits.
	mostCount = 1 << 20
	// leastWeight drops nodes that together hold well under a hundredth of the posterior; the rest
	// is scaled up to 1.
	leastWeight = 3e-6
)

// component is one node's negative binomial.
type component struct {
	weight, size, prob float64
}

func (n NegBinPosterior) predictive() []component {
	var terms []component
	kept := 0.0
	for i, row := range n.weight {
		mu := math.Exp(n.logMean[i])
		for j, w := range row {
			if r := math.Exp(n.logSize[j]); w > leastWeight {
				terms = append(terms, component{weight: w, size: r, prob: r / (r + mu)})
				kept += w
			}
		}
	}
	for i := range terms {
		terms[i].weight /= kept
	}
	return terms
}

// cdf is P(Y <= k) of the mixture: a negative binomial's is the regularised incomplete beta function
// I_prob(size, k+1) (Johnson, Kemp and Kotz 2005, Univariate Discrete Distributions, section 5.6).
func cdf(terms []component, k int) float64 {
	sum := 0.0
	for _, t := range terms {
		sum += t.weight * mathext.RegIncBeta(t.size, float64(k+1), t.prob)
	}
	return sum
}
