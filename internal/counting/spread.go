package counting

import (
	"math"

	"corymb/internal/stats"
	"corymb/internal/yield"
)

// spread is how the season totals of an age's plants differ.
type spread struct {
	variance float64
	excess   float64 // kurtosis, 0 for a normal
}

// spreadOf gives the moments of a Poisson count whose rate is Mean times a gamma of shape Size times a
// lognormal, both of mean 1: the count's factorial moments are the raw moments of the rate (Johnson,
// Kemp and Kotz 2005, Univariate Discrete Distributions, section 8.3 on mixed Poisson; from memory).
func spreadOf(d yield.PlanDraw) spread {
	var f [5]float64
	gamma := 1.0
	for r := 1; r <= 4; r++ {
		gamma *= 1 + float64(r-1)/d.Size
		lognormal := math.Exp(d.PlantSD * d.PlantSD * float64(r*(r-1)) / 2)
		f[r] = math.Pow(d.Mean, float64(r)) * gamma * lognormal
	}
	m := d.Mean
	second := f[2] + f[1]
	third := f[3] + 3*f[2] + f[1]
	fourth := f[4] + 6*f[3] + 7*f[2] + f[1]
	variance := second - m*m
	central := fourth - 4*m*third + 6*m*m*second - 3*m*m*m*m
	return spread{variance: variance, excess: central/(variance*variance) - 3}
}

func spreadsOf(draws []yield.PlanDraw) []spread {
	spreads := make([]spread, len(draws))
	for i, d := range draws {
		spreads[i] = spreadOf(d)
	}
	return spreads
}

// logVariance is the variance of the log of a sample variance from n plants. The sample variance
// itself has mean 1 and variance 2/(n-1) + excess/n in units of the true one, exactly, for n
// independent draws of any distribution (Cramér 1946, Mathematical Methods of Statistics, section
// 27.4). It is taken as lognormal with these two moments: its log is near normal where it itself is
// skew (Bartlett and Kendall 1946, Supplement to the Journal of the Royal Statistical Society
// 8:128-138). A chi-square with as many degrees of freedom as fit the same moments (O'Neill 2014, The
// American Statistician 68:282-296) was tried and misses more with few plants. Sources from memory;
// TestAssuranceIsThatOfSimulatedFarms holds the approximation to simulation.
func (s spread) logVariance(n int) float64 {
	return math.Log1p(2/float64(n-1) + s.excess/float64(n))
}

// halfWidth is half the width of the interval of a mean from n plants whose totals have the standard
// deviation sd, out of endlessly many: Student's t with n-1 degrees of freedom.
func halfWidth(level, sd float64, n int) float64 {
	return stats.StudentT((1+level)/2, float64(n-1)) * sd / math.Sqrt(float64(n))
}

// samples is what samples of some number of plants come to, the plants spread in one of several ways.
type samples struct {
	unit   float64 // half-width from a sample of standard deviation 1
	widths []width
}

// width is where the log of the sample variance is, and how far it varies.
type width struct {
	mean, sd float64
}

func samplesOf(spreads []spread, level float64, n int) samples {
	s := samples{unit: halfWidth(level, 1, n), widths: make([]width, len(spreads))}
	for i, of := range spreads {
		v := of.logVariance(n)
		s.widths[i] = width{mean: math.Log(of.variance) - v/2, sd: math.Sqrt(v)}
	}
	return s
}

// assurance is the chance that a sample gives a half-width of at most half, in the mean over the
// spreads (Kupper and Hafner 1989, The American Statistician 43:101-105, for one known spread and
// normal totals).
func (s samples) assurance(half float64) float64 {
	return s.below(2 * math.Log(half/s.unit))
}

// below is the chance that the log of the sample variance is at most most.
func (s samples) below(most float64) float64 {
	const far = 6 // standard deviations, past which the chance is within 1e-9 of 0 or 1
	sum := 0.0
	for _, w := range s.widths {
		switch z := (most - w.mean) / w.sd; {
		case z > far:
			sum++
		case z > -far:
			sum += math.Erfc(-z/math.Sqrt2) / 2
		}
	}
	return sum / float64(len(s.widths))
}

// mostSecants is many more than any table took: five as a rule, fourteen once.
const mostSecants = 60

// half is the half-width kept to with the assurance wanted. Its log is sought by secants on the normal's scale,
// on which the chance is nearly straight, and by halving where one leads astray.
func (s samples) half(wanted float64) float64 {
	z := probit(wanted)
	lo, hi, sum := math.Inf(1), math.Inf(-1), 0.0
	for _, w := range s.widths { // each spread's own lies among the others', and so does their mean's
		own := w.mean + z*w.sd
		lo, hi, sum = min(lo, own), max(hi, own), sum+own
	}
	const fine = 4e-4 // of the log variance: a fifth of what rounding to four digits may cost
	at, off := sum/float64(len(s.widths)), 0.0
	before := math.NaN()
	for step := 0; hi-lo > fine && step < mostSecants; step++ {
		last := off
		if off = probit(s.below(at)) - z; off < 0 {
			lo = at
		} else {
			hi = at
		}
		next := at - off*(at-before)/(off-last)
		if !(lo < next && next < hi) {
			next = (lo + hi) / 2
		}
		if before, at = at, next; math.Abs(at-before) < fine/2 {
			break
		}
	}
	return s.unit * math.Exp(at/2)
}

// probit is the normal's point under which the share lies.
func probit(share float64) float64 { return -math.Sqrt2 * math.Erfcinv(2*share) }
