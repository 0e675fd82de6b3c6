package stats

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/mathext"
)

// Sum is a total over many units of which none was counted alone. A unit's count is NB2 with log mean
// eta + sd z, z its own standard normal effect.
//
// The sum of n units is taken for NB2 again, with the mean and the variance that it has. With s = sd^2 the
// mean effect of n units, on the log scale, is taken for normal with the variance that the mean of n
// lognormals has,
//
//	tau^2 = log(1 + (e^s - 1)/n),
//
// and given it the sum has mean n exp(eta + s/2 + tau w - tau^2/2), w standard normal, and the squared
// coefficient of variation beyond Poisson k/size, k = e^s/(e^s + n - 1). For n = 1, and for any n without
// effects, this is exact; NB2 counts of one mean and size add up to NB2 (Johnson, Kemp and Kotz 2005,
// Univariate Discrete Distributions, section 5.12).
type Sum struct {
	Total int
	Of    []Pool
}

// Pool is units alike within a Sum.
type Pool struct {
	Units   int
	Row     Row
	LogSize int // the parameter: as of Counts
	// Mean is the parameter that is w above, a standard normal a priori. Sums that are of the same units
	// at other times share it.
	Mean int
}

// Sums is an Extra: sums of which all units have effects of one standard deviation.
type Sums struct {
	List   []Sum
	Effect Effect
}

// Value is the log-likelihood of all sums.
func (s Sums) Value(x []float64) float64 {
	value := 0.0
	for _, sum := range s.List {
		logMean, logSquares := math.Inf(-1), math.Inf(-1)
		for _, p := range sum.Of {
			mean, squares, _ := s.moments(p, x)
			logMean, logSquares = logAdd(logMean, mean), logAdd(logSquares, squares)
		}
		value += sum.logDensity(logMean, 2*logMean-logSquares)
	}
	return value
}

// logDensity of NB2 by log mean and log size.
func (s Sum) logDensity(logMean, logSize float64) float64 {
	y, r := float64(s.Total), math.Exp(logSize)
	high, _ := math.Lgamma(y + r)
	low, _ := math.Lgamma(r)
	factorial, _ := math.Lgamma(y + 1)
	return high - low - factorial + y*(logMean-logSize) - (y+r)*math.Log1p(math.Exp(logMean-logSize))
}

// poolSlopes holds what derivatives of a pool's moments need: by the effect's log sd l of
// tau and of the log of k.
type poolSlopes struct {
	tau, tauL, tauLL float64
	meanL, meanLL    float64 // of s/2 + tau w - tau^2/2
	shareL, shareLL  float64 // of log k
}

// moments are the log mean of a pool's sum, the log of its mean squared times k/size, and the slopes.
func (s Sums) moments(p Pool, x []float64) (logMean, logSquares float64, d poolSlopes) {
	eta := p.Row.Offset
	for _, t := range p.Row.Terms {
		eta += t.Value * x[t.Parameter]
	}
	sd := s.Effect.SD(x)
	n, square, w := float64(p.Units), sd*sd, x[p.Mean]
	rest := (n - 1) * math.Exp(-square)
	k := 1 / (1 + rest)
	tau2 := square + math.Log((1+rest)/n)
	tau2L := 2 * square * k
	tau2LL := 4*square*k + 4*square*square*k*(1-k)
	d.tau = math.Sqrt(max(tau2, 0))
	if d.tau > 0 {
		d.tauL = tau2L / (2 * d.tau)
		d.tauLL = tau2LL/(2*d.tau) - tau2L*tau2L/(4*d.tau*d.tau*d.tau)
	}
	d.meanL = square + d.tauL*w - tau2L/2
	d.meanLL = 2*square + d.tauLL*w - tau2LL/2
	d.shareL = 2 * square * (1 - k)
	d.shareLL = 4*square*(1-k) - 4*square*square*k*(1-k)
	logMean = math.Log(n) + eta + square/2 + d.tau*w - tau2/2
	return logMean, 2*logMean + math.Log(k) - s.Effect.LogSize(x, x[p.LogSize]), d
}

func logAdd(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}

// AddDerivatives chains: the density by log mean and log size, those by every pool's log moments, and
// these by the parameters.
func (s Sums) AddDerivatives(x, grad []float64, hess *mat.SymDense) float64 {
	value := 0.0
	for _, sum := range s.List {
		value += s.add(sum, x, grad, hess)
	}
	return value
}

func (s Sums) add(sum Sum, x, grad []float64, hess *mat.SymDense) float64 {
	n := len(x)
	mean, squares := newLogSum(n), newLogSum(n)
	for _, p := range sum.Of {
		logMean, logSquares, d := s.moments(p, x)
		slope, bend := make([]float64, n), mat.NewSymDense(n, nil)
		for _, t := range p.Row.Terms {
			slope[t.Parameter] += t.Value
		}
		slope[p.Mean] += d.tau
		s.through(x, d.meanL, d.meanLL, slope, bend)
		s.crossed(x, p.Mean, d.tauL, bend)
		mean.add(logMean, slope, bend)
		twice, twiceBend := make([]float64, n), mat.NewSymDense(n, nil)
		for i, v := range slope {
			twice[i] = 2 * v
		}
		twiceBend.ScaleSym(2, bend)
		s.through(x, d.shareL, d.shareLL, twice, twiceBend)
		twice[p.LogSize]--
		s.lessSize(x, twice, twiceBend)
		squares.add(logSquares, twice, twiceBend)
	}
	mean.finish()
	squares.finish()
	logSize := 2*mean.value - squares.value
	by := sum.slopes(mean.value, logSize)
	for i := range n {
		mi, ri := mean.slope[i], 2*mean.slope[i]-squares.slope[i]
		grad[i] += by.Grad[0]*mi + by.Grad[1]*ri
		for j := i; j < n; j++ {
			mj, rj := mean.slope[j], 2*mean.slope[j]-squares.slope[j]
			v := by.Hess[0][0]*mi*mj + by.Hess[0][1]*(mi*rj+mj*ri) + by.Hess[1][1]*ri*rj
			bend := mean.bend.At(i, j)
			v += by.Grad[0]*bend + by.Grad[1]*(2*bend-squares.bend.At(i, j))
			if v != 0 {
				symAdd(hess, i, j, v)
			}
		}
	}
	return sum.logDensity(mean.value, logSize)
}

// through adds the derivatives of what has these by the effect's log sd.
func (s Sums) through(x []float64, first, second float64, slope []float64, bend *mat.SymDense) {
	e := s.Effect.at(x)
	of := s.Effect.parameters()
	for i, p := range of {
		slope[p] += first * e.slope[i]
		for j := i; j < len(of); j++ {
			symAdd(bend, p, of[j], second*e.slope[i]*e.slope[j])
		}
	}
	if len(of) == 2 {
		symAdd(bend, of[1], of[1], first*e.bend)
	}
}

// crossed adds a second derivative by another parameter and the effect's log sd.
func (s Sums) crossed(x []float64, other int, v float64, bend *mat.SymDense) {
	e := s.Effect.at(x)
	for i, p := range s.Effect.parameters() {
		symAdd(bend, other, p, v*e.slope[i])
	}
}

// lessSize takes off those of the log size by the effect's parameters.
func (s Sums) lessSize(x, slope []float64, bend *mat.SymDense) {
	of := s.Effect.parameters()
	if len(of) < 2 {
		return
	}
	_, by, second := s.Effect.sizeAt(x, 0)
	slope[of[0]] -= by[0]
	slope[of[1]] -= by[1]
	symAdd(bend, of[1], of[1], -second)
}

// slopes of the density by log mean and log size: deriveCount's, with the sums over k<y in closed form.
func (s Sum) slopes(logMean, logSize float64) Derivatives {
	y, r := float64(s.Total), math.Exp(logSize)
	first := mathext.Digamma(y+r) - mathext.Digamma(r) // sum of 1/(r+k)
	second := trigamma(r) - trigamma(y+r)              // sum of 1/(r+k)^2
	var d Derivatives
	// share k/(r+k) is 1 - r/(r+k).
	deriveCount(y, logMean, r, -(y - r*first), r*first-r*r*second, &d)
	return d
}

// trigamma is the Hurwitz zeta function at 2 (Abramowitz and Stegun 1964, 6.4.10).
func trigamma(x float64) float64 { return mathext.Zeta(2, x) }

// logSum is the log of a sum of exponentials, with derivatives of up to second order.
type logSum struct {
	values []float64
	slopes [][]float64
	bends  []*mat.SymDense

	value float64
	slope []float64
	bend  *mat.SymDense
}

func newLogSum(n int) *logSum {
	return &logSum{value: math.Inf(-1), slope: make([]float64, n), bend: mat.NewSymDense(n, nil)}
}

func (l *logSum) add(value float64, slope []float64, bend *mat.SymDense) {
	l.values, l.slopes, l.bends = append(l.values, value), append(l.slopes, slope), append(l.bends, bend)
	l.value = logAdd(l.value, value)
}

func (l *logSum) finish() {
	n := len(l.slope)
	for c, v := range l.values {
		part := math.Exp(v - l.value)
		for i, si := range l.slopes[c] {
			l.slope[i] += part * si
			for j := i; j < n; j++ {
				symAdd(l.bend, i, j, part*(l.bends[c].At(i, j)+si*l.slopes[c][j]))
			}
		}
	}
	for i, si := range l.slope {
		for j := i; j < n; j++ {
			symAdd(l.bend, i, j, -si*l.slope[j])
		}
	}
}
