package stats

import "math"

// Ordered are counts over ordered categories under the proportional-odds model,
//
//	logit P(Y <= j) = theta_j - eta
//
// (McCullagh 1980, Journal of the Royal Statistical Society B 42:109-142). The thresholds are the first
// one and then the logs of the spacings, so that they never cross.
type Ordered struct {
	// Count is by observation and category.
	Count [][]float64
	// First is the parameter of the first threshold; those of the log spacings follow it.
	First int
	// Pooled is, by observation, the part of the effect's standard deviation by which single units of a
	// pool differ from its mean: the probabilities are then averaged over units. nil is none, and then
	// EffectSD is not used.
	Pooled []float64
	// EffectSD is the parameter that is the logarithm of the effect's standard deviation.
	EffectSD int
	// Spread is, by observation, the parameter that is the logarithm of how much of that part's variance the
	// units of this pool happen to have; negative for one. nil is none.
	Spread []int

	cuts    int
	theta   []float64
	inverse []float64 // exp of minus the thresholds
	near    bool      // no threshold is so far out that its exponential is not
	odds    []float64 // by cut, working space: of lying above it
	spacing []float64 // exp of the log spacings; place 0 is not used
	within  []float64 // log(1-exp(-spacing)) by category, 0 at both ends
	between []float64 // exp of within
	x       []float64 // the parameters in force
	aux     []int
	pool    pool
}

// Set tells the parameters in force.
func (f *Ordered) Set(x []float64) {
	if f.theta == nil {
		f.prepare()
	}
	f.theta[0] = x[f.First]
	for j := 1; j < f.cuts; j++ {
		f.spacing[j] = math.Exp(x[f.First+j])
		f.theta[j] = f.theta[j-1] + f.spacing[j]
		f.between[j] = -math.Expm1(-f.spacing[j])
		f.within[j] = math.Log(f.between[j])
	}
	f.near = true
	for j, theta := range f.theta {
		f.inverse[j] = math.Exp(-theta)
		f.near = f.near && math.Abs(theta) < farOut
	}
	f.x = append(f.x[:0], x...)
	f.pool.turn++
}

func (f *Ordered) prepare() {
	categories := 2
	if len(f.Count) > 0 {
		categories = len(f.Count[0])
	}
	f.cuts = categories - 1
	f.theta, f.spacing = make([]float64, f.cuts), make([]float64, f.cuts)
	f.inverse, f.odds = make([]float64, f.cuts), make([]float64, f.cuts)
	f.within, f.between = make([]float64, categories), make([]float64, categories)
	f.between[0], f.between[f.cuts] = 1, 1
	f.aux = make([]int, 0, f.cuts+2)
	f.pool = newPool(categories, f.Pooled)
}

// Clone shares the observations.
func (f *Ordered) Clone() Family {
	return &Ordered{Count: f.Count, First: f.First, Pooled: f.Pooled, EffectSD: f.EffectSD, Spread: f.Spread}
}

// Aux lists the thresholds' parameters, and for a pool the effect's and its spread's.
func (f *Ordered) Aux(i int) []int {
	if f.theta == nil {
		f.prepare()
	}
	f.aux = f.aux[:0]
	for j := range f.cuts {
		f.aux = append(f.aux, f.First+j)
	}
	if f.pooled(i) > 0 {
		f.aux = append(f.aux, f.EffectSD)
		if s := spreadOf(f.Spread, i); s >= 0 {
			f.aux = append(f.aux, s)
		}
	}
	return f.aux
}

// apart is the standard deviation of the effects of single units of observation i about their pool's mean.
func (f *Ordered) apart(i int) float64 {
	logSD := f.x[f.EffectSD]
	if s := spreadOf(f.Spread, i); s >= 0 {
		logSD += f.x[s] / 2
	}
	return f.pooled(i) * math.Exp(logSD)
}

// spreadOf observation i, negative for none.
func spreadOf(spread []int, i int) int {
	if spread == nil {
		return -1
	}
	return spread[i]
}

func (f *Ordered) pooled(i int) float64 {
	if f.Pooled == nil {
		return 0
	}
	return f.Pooled[i]
}

const (
	// farOut is a logit of which the exponential, and its product with that of another, neither overflows nor vanishes.
	farOut = 300
	// noFarther is one beyond which odds are not told apart.
	noFarther = 690
)

// setOdds leaves those of lying above each cut at eta, exp(eta - theta_j): of one exponential, where none is far out.
func (f *Ordered) setOdds(eta float64) {
	if f.near && math.Abs(eta) < farOut {
		f.scaleOdds(math.Exp(eta))
		return
	}
	for j, theta := range f.theta {
		f.odds[j] = math.Exp(max(-noFarther, min(noFarther, eta-theta)))
	}
}

// scaleOdds leaves those at an eta whose exponential is given.
func (f *Ordered) scaleOdds(expEta float64) {
	for j, inverse := range f.inverse {
		f.odds[j] = expEta * inverse
	}
}

// LogDensity has no multinomial constant. With u_j = theta_j - eta and F the logistic function,
//
//	log P(Y = j) = log F(u_j) + log F(-u_(j-1)) + log(1 - exp(-(u_j - u_(j-1))))
//
// which loses no digit in either tail, nor for a spacing near 0.
func (f *Ordered) LogDensity(i int, eta float64) float64 {
	if f.pooled(i) > 0 {
		return f.poolLogDensity(i, eta)
	}
	f.setOdds(eta)
	n := f.Count[i]
	sum := 0.0
	for j, odds := range f.odds {
		if below, above := n[j], n[j+1]; below+above > 0 {
			sum += below*f.within[j] - cutLoss(below, above, f.theta[j]-eta, odds)
		}
	}
	return sum
}

// cutLoss is -(below log F(u) + above log F(-u)), with the odds exp(-u).
func cutLoss(below, above, u, odds float64) float64 {
	if u < 0 {
		return (below+above)*math.Log1p(1/odds) - below*u
	}
	return (below+above)*math.Log1p(odds) + above*u
}

// Slope is by eta.
func (f *Ordered) Slope(i int, eta float64) (first, second float64) {
	if f.pooled(i) > 0 {
		return f.poolSlope(i, eta)
	}
	f.setOdds(eta)
	n := f.Count[i]
	for j, odds := range f.odds {
		if all := n[j] + n[j+1]; all > 0 {
			up := 1 / (1 + odds)
			over := odds * up
			first += n[j+1]*up - n[j]*over
			second -= all * up * over
		}
	}
	return first, second
}

// Derivatives by eta, the first threshold and the log spacings: u_j has derivative -1 by eta, 1 by the
// first threshold, and by each log spacing up to j that spacing, which is its second derivative too.
func (f *Ordered) Derivatives(i int, eta float64, d *Derivatives) {
	*d = Derivatives{}
	if f.pooled(i) > 0 {
		f.poolDerivatives(i, eta, d)
		return
	}
	n := f.Count[i]
	var by [1 + maxAux]float64
	by[0], by[1] = -1, 1
	for j, theta := range f.theta {
		if j > 0 {
			by[1+j] = f.spacing[j]
		}
		up := Logistic(theta - eta)
		slope := n[j]*(1-up) - n[j+1]*up
		bend := -(n[j] + n[j+1]) * up * (1 - up)
		for a := 0; a <= 1+j; a++ {
			d.Grad[a] += slope * by[a]
			for b := a; b <= 1+j; b++ {
				d.Hess[a][b] += bend * by[a] * by[b]
			}
		}
		for k := 1; k <= j; k++ {
			d.Hess[1+k][1+k] += slope * by[1+k]
		}
		if j > 0 && n[j] > 0 {
			first, second := withinSlopes(f.spacing[j])
			d.Grad[1+j] += n[j] * first
			d.Hess[1+j][1+j] += n[j] * second
		}
	}
}

// withinSlopes are the derivatives of log(1 - exp(-s)) by log s: s/(e^s-1), and that times
// 1 - s/(1-e^-s).
func withinSlopes(s float64) (first, second float64) {
	if s == 0 {
		return 1, 0
	}
	first = s / math.Expm1(s)
	return first, first * (1 + s/math.Expm1(-s))
}

// Probs writes the probability of each category at eta, from the parameters in force: by the same product as
// LogDensity.
func (f *Ordered) Probs(into []float64, eta float64) {
	f.setOdds(eta)
	copy(into, f.between)
	for j, odds := range f.odds {
		upTo := 1 / (1 + odds)
		into[j] *= upTo
		into[j+1] *= odds * upTo
	}
}
