package stats

import "math"

// Intervals are values of a normal known to lie within bounds,
//
//	P = Phi((hi-eta)/sd) - Phi((lo-eta)/sd),
//
// the interval-censored regression of Tobin (1958, Econometrica 26:24-36) and after. Bounds that meet
// are a value known exactly, which adds its density; infinite bounds are open ends.
type Intervals struct {
	// Lo, Hi and Count are by observation and class.
	Lo, Hi, Count [][]float64
	// LogSD is the parameter that is the logarithm of the standard deviation; where units have effects, of
	// both together, and Ratio the one that is the logarithm of the effect's to the units' own (see
	// LogSDOfBoth); it is negative for none.
	LogSD, Ratio int
	// Pooled and Spread are as of Ordered; nil is none.
	Pooled []float64
	Spread []int

	x         []float64 // the parameters in force
	sd, share float64
	aux       [3]int
}

// Set tells the parameters in force.
func (f *Intervals) Set(x []float64) {
	f.x = append(f.x[:0], x...)
	f.sd, f.share = math.Exp(x[f.LogSD]), 0
	if f.Ratio >= 0 {
		f.share = shareOfEffect(x[f.Ratio])
	}
}

// Clone shares the observations.
func (f *Intervals) Clone() Family {
	return &Intervals{Lo: f.Lo, Hi: f.Hi, Count: f.Count, LogSD: f.LogSD, Ratio: f.Ratio, Pooled: f.Pooled, Spread: f.Spread}
}

// Aux is the log standard deviation, the ratio where there is one, and for a pool its spread.
func (f *Intervals) Aux(i int) []int {
	f.aux = [3]int{f.LogSD, f.Ratio, spreadOf(f.Spread, i)}
	switch {
	case f.Ratio < 0:
		return f.aux[:1]
	case f.aux[2] < 0:
		return f.aux[:2]
	}
	return f.aux[:]
}

// spread is the standard deviation of one unit of observation i given the mean effect of its group, and the
// derivatives of its logarithm by the ratio's and the pool's spread's. With p the effect's share in the variance
// of both, and b the part of the effect's variance that the pool's units have about their mean (none for a
// plant's own stems),
//
//	variance = that of both times u,  u = 1 - p + p b.
type spread struct {
	sd             float64
	slope, bend    float64 // by the ratio
	pool, poolBend float64 // by the spread
	cross          float64
}

func (f *Intervals) spread(i int) spread {
	p, b := f.share, 0.0
	if f.Pooled != nil {
		b = f.Pooled[i] * f.Pooled[i]
	}
	if s := spreadOf(f.Spread, i); s >= 0 {
		b *= math.Exp(f.x[s])
	}
	u, odds := 1-p+p*b, p*(1-p)
	part := p * b / u
	return spread{
		sd: f.sd * math.Sqrt(u), slope: (b - 1) * odds / u,
		bend: 2*(b-1)*odds*(1-2*p)/u - 2*(b-1)*odds*(b-1)*odds/(u*u),
		pool: part / 2, poolBend: part * (1 - part) / 2, cross: b * odds / (u * u),
	}
}

// LogDensity has no multinomial constant.
func (f *Intervals) LogDensity(i int, eta float64) float64 {
	sd := f.spread(i).sd
	sum := 0.0
	for c, n := range f.Count[i] {
		lo, hi := (f.Lo[i][c]-eta)/sd, (f.Hi[i][c]-eta)/sd
		if lo == hi {
			sum += n * (-lo*lo/2 - math.Log(sd*math.Sqrt(2*math.Pi)))
		} else {
			sum += n * logNormalBetween(lo, hi)
		}
	}
	return sum
}

// Slope is by eta.
func (f *Intervals) Slope(i int, eta float64) (first, second float64) {
	var d Derivatives
	f.Derivatives(i, eta, &d)
	return d.Grad[0], d.Hess[0][0]
}

// Derivatives by eta, the log standard deviation, the ratio and the pool's spread.
func (f *Intervals) Derivatives(i int, eta float64, d *Derivatives) {
	*d = Derivatives{}
	s := f.spread(i)
	for c, n := range f.Count[i] {
		addInterval((f.Lo[i][c]-eta)/s.sd, (f.Hi[i][c]-eta)/s.sd, s.sd, n, d)
	}
	by, byBoth := d.Grad[1], d.Hess[1][1]
	for k, slope := range [2]float64{s.slope, s.pool} {
		d.Grad[2+k] = slope * by
		d.Hess[0][2+k] = slope * d.Hess[0][1]
		d.Hess[1][2+k] = slope * byBoth
	}
	d.Hess[2][2] = s.slope*s.slope*byBoth + s.bend*by
	d.Hess[2][3] = s.slope*s.pool*byBoth + s.cross*by
	d.Hess[3][3] = s.pool*s.pool*byBoth + s.poolBend*by
}

// addInterval adds n times the derivatives by eta and the log sd. With a = phi(lo)/P and b = phi(hi)/P,
//
//	P_eta/P          = (a - b)/sd             P_eta,eta/P = (lo a - hi b)/sd^2
//	P_logsd/P        = lo a - hi b            P_logsd,logsd/P = (lo^3-lo) a - (hi^3-hi) b
//	P_eta,logsd/P    = ((lo^2-1) a - (hi^2-1) b)/sd
func addInterval(lo, hi, sd, n float64, d *Derivatives) {
	if lo == hi {
		d.Grad[0] += n * lo / sd
		d.Grad[1] += n * (lo*lo - 1)
		d.Hess[0][0] -= n / (sd * sd)
		d.Hess[0][1] -= n * 2 * lo / sd
		d.Hess[1][1] -= n * 2 * lo * lo
		return
	}
	lower, upper := edges(lo, hi)
	first := (lower[0] - upper[0]) / sd
	slope := lower[1] - upper[1]
	d.Grad[0] += n * first
	d.Grad[1] += n * slope
	d.Hess[0][0] += n * (slope/(sd*sd) - first*first)
	d.Hess[0][1] += n * ((lower[2]-lower[0]-upper[2]+upper[0])/sd - first*slope)
	d.Hess[1][1] += n * (lower[3] - lower[1] - upper[3] + upper[1] - slope*slope)
}

// edges are phi(z)/P times 1, z, z^2 and z^3 at both bounds of P = Phi(hi) - Phi(lo); all 0 at an open end.
func edges(lo, hi float64) (lower, upper [4]float64) {
	if lo > deepTail || hi < -deepTail {
		logP := logNormalBetween(lo, hi) + math.Log(math.Sqrt(2*math.Pi))
		return powers(lo, math.Exp(-lo*lo/2-logP)), powers(hi, math.Exp(-hi*hi/2-logP))
	}
	p := normalBetween(lo, hi) * math.Sqrt(2*math.Pi)
	return powers(lo, math.Exp(-lo*lo/2)/p), powers(hi, math.Exp(-hi*hi/2)/p)
}

func powers(z, v float64) (list [4]float64) {
	if math.IsInf(z, 0) {
		return list
	}
	return [4]float64{v, v * z, v * z * z, v * z * z * z}
}

// deepTail is where the normal's tail is taken from its expansion, since its double vanishes soon after.
const deepTail = 35

// logNormalBetween is log(Phi(hi) - Phi(lo)), lo < hi, exact in both tails.
func logNormalBetween(lo, hi float64) float64 {
	if lo+hi < 0 {
		lo, hi = -hi, -lo // the same by symmetry, in the upper tail
	}
	if lo > deepTail {
		return logUpper(lo) + math.Log(-math.Expm1(logUpper(hi)-logUpper(lo)))
	}
	return math.Log(normalBetween(lo, hi))
}

// normalBetween is Phi(hi) - Phi(lo) where that is no deep tail.
func normalBetween(lo, hi float64) float64 {
	if lo+hi < 0 {
		lo, hi = -hi, -lo
	}
	if lo > 0 {
		return (math.Erfc(lo/math.Sqrt2) - math.Erfc(hi/math.Sqrt2)) / 2
	}
	return (math.Erf(hi/math.Sqrt2) - math.Erf(lo/math.Sqrt2)) / 2
}

// logUpper is log(1 - Phi(z)) far out (Abramowitz and Stegun 1964, 26.2.12).
func logUpper(z float64) float64 {
	if math.IsInf(z, 1) {
		return z * -1
	}
	q := 1 / (z * z)
	return -z*z/2 - math.Log(z*math.Sqrt(2*math.Pi)) + math.Log1p(-q+3*q*q-15*q*q*q)
}
