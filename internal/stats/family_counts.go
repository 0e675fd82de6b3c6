package stats

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Counts are observed counts under the negative binomial in its second form (NB2), log link,
//
//	log mu = eta,  variance = mu + mu^2/size
//
// (Lawless 1987, Canadian Journal of Statistics 15:209-225; Venables and Ripley 2002, Modern Applied
// Statistics with S, section 7.4, whose theta is size). A count may be known from below only.
type Counts struct {
	Count []int
	// AtLeast marks counts that are lower bounds; nil is none.
	AtLeast []bool
	// LogSize is, by observation, the parameter that is the logarithm of its size.
	LogSize []int
	// Effect, where it is LogSDOfBoth, holds the sizes too: LogSize are then deviations (see Effect.LogSize).
	Effect Effect

	sizes map[int]*sizeTable // by parameter
	of    []*sizeTable       // by observation
	aux   [3]int
	slope [2]float64 // of log sizes by the effect's parameters
	bend  float64
}

// sizeTable holds, for counts up to the greatest, the sum over k<y of log(1+k/r), less log y!, and its
// derivatives in log r. The likelihood written so stays exact as r grows (Poisson).
type sizeTable struct {
	size               float64
	value, slope, bend []float64
	logFactorial       []float64
}

// Set tells the parameters in force.
func (f *Counts) Set(x []float64) {
	if f.sizes == nil {
		f.prepare()
	}
	for parameter, t := range f.sizes {
		var logSize float64
		logSize, f.slope, f.bend = f.Effect.sizeAt(x, x[parameter])
		t.set(math.Exp(logSize))
	}
}

func (f *Counts) prepare() {
	most := map[int]int{}
	for i, y := range f.Count {
		most[f.LogSize[i]] = max(most[f.LogSize[i]], y)
	}
	f.sizes = map[int]*sizeTable{}
	for parameter, y := range most {
		f.sizes[parameter] = newSizeTable(y)
	}
	f.of = make([]*sizeTable, len(f.Count))
	for i := range f.Count {
		f.of[i] = f.sizes[f.LogSize[i]]
	}
}

func newSizeTable(most int) *sizeTable {
	t := &sizeTable{
		value: make([]float64, most+1), slope: make([]float64, most+1), bend: make([]float64, most+1),
		logFactorial: make([]float64, most+1),
	}
	for y := range t.logFactorial {
		t.logFactorial[y], _ = math.Lgamma(float64(y) + 1)
	}
	return t
}

func (t *sizeTable) set(size float64) {
	t.size = size
	sum, slope, bend := 0.0, 0.0, 0.0
	for y := range t.value {
		t.value[y], t.slope[y], t.bend[y] = sum-t.logFactorial[y], slope, bend
		k := float64(y)
		share := k / (size + k)
		sum += math.Log1p(k / size)
		slope -= share
		bend += share * (1 - share)
	}
}

// Clone shares the observations.
func (f *Counts) Clone() Family {
	return &Counts{Count: f.Count, AtLeast: f.AtLeast, LogSize: f.LogSize, Effect: f.Effect}
}

// Aux is what the observation's log size hangs on.
func (f *Counts) Aux(i int) []int {
	f.aux = [3]int{f.LogSize[i], f.Effect.of[0], f.Effect.of[1]}
	if f.shared() {
		return f.aux[:]
	}
	return f.aux[:1]
}

func (f *Counts) shared() bool { return f.Effect.count == 2 }

func (f *Counts) bounded(i int) bool { return f.AtLeast != nil && f.AtLeast[i] }

// LogDensity is log P(Y = count), or log P(Y >= count) where the count is a lower bound.
func (f *Counts) LogDensity(i int, eta float64) float64 {
	t, y := f.of[i], f.Count[i]
	if f.bounded(i) {
		return logAtLeast(y, eta, t.size)
	}
	return t.value[y] + float64(y)*eta - (float64(y)+t.size)*math.Log1p(math.Exp(eta)/t.size)
}

// addLogDensities adds those of an observation at even steps of eta. Of a count that is no lower bound one exponential is
// enough for all of them; each is then exact to some 1e-14 of itself.
func (f *Counts) addLogDensities(i int, eta, step float64, to []float64) {
	t, y := f.of[i], float64(f.Count[i])
	ratio, more := math.Exp(eta)/t.size, math.Exp(step)
	if f.bounded(i) || ratio < tinyRatio {
		for k := range to {
			to[k] += f.LogDensity(i, eta+float64(k)*step)
		}
		return
	}
	for k := range to {
		to[k] += t.value[f.Count[i]] + y*(eta+float64(k)*step) - (y+t.size)*math.Log1p(ratio)
		ratio *= more
	}
}

// tinyRatio of a mean to its size has, or soon has, fewer digits than other numbers.
const tinyRatio = 1e-290

// Slope is by eta: r (y-mu)/(r+mu) and -r mu (y+r)/(r+mu)^2.
func (f *Counts) Slope(i int, eta float64) (first, second float64) {
	t, y := f.of[i], float64(f.Count[i])
	if f.bounded(i) {
		return slopeAtLeast(f.Count[i], eta, t.size)
	}
	mu := math.Exp(eta)
	whole := t.size + mu
	return t.size * (y - mu) / whole, -t.size * mu * (y + t.size) / (whole * whole)
}

// Derivatives by eta and a = log r, of
//
//	l = sum over k<y of log(1+k/r) - log y! + y eta - (y+r) log(1+q),  q = mu/r:
//
//	l_a     = (sum)' - r log(1+q) + (y+r) mu/(r+mu)
//	l_a,a   = (sum)" - r log(1+q) + 2 r mu/(r+mu) - (y+r) r mu/(r+mu)^2
//	l_eta,a = r mu (y-mu)/(r+mu)^2
func (f *Counts) Derivatives(i int, eta float64, d *Derivatives) {
	t, y := f.of[i], f.Count[i]
	if f.bounded(i) {
		deriveAtLeast(y, eta, t.size, d)
	} else {
		deriveCount(float64(y), eta, t.size, t.slope[y], t.bend[y], d)
	}
	if f.shared() {
		f.chain(d)
	}
}

// chain adds the derivatives by the effect's parameters, from those by the log size.
func (f *Counts) chain(d *Derivatives) {
	by, cross, bend := d.Grad[1], d.Hess[0][1], d.Hess[1][1]
	s := [3]float64{1, f.slope[0], f.slope[1]}
	for i, si := range s {
		d.Grad[1+i] = si * by
		d.Hess[0][1+i] = si * cross
		for j := i; j < len(s); j++ {
			d.Hess[1+i][1+j] = si * s[j] * bend
		}
	}
	d.Hess[3][3] += f.bend * by
}

func deriveCount(y, eta, r, slope, bend float64, d *Derivatives) {
	mu := math.Exp(eta)
	whole := r + mu
	rlog, curve := r*math.Log1p(mu/r), r*mu/(whole*whole)
	d.Grad[0] = r * (y - mu) / whole
	d.Grad[1] = slope - rlog + (y+r)*mu/whole
	d.Hess[0][0] = -curve * (y + r)
	d.Hess[0][1] = curve * (y - mu)
	d.Hess[1][1] = bend - rlog + 2*r*mu/whole - (y+r)*curve
}

// smallAbove is an upper tail of which a difference from 1 would lose digits that count.
const smallAbove = 1e-6

// logAtLeast is log P(Y >= y) = log I_p(y, r), p = mu/(r+mu), I the regularised incomplete beta function
// (Johnson, Kemp and Kotz 2005, Univariate Discrete Distributions, section 5.6).
func logAtLeast(y int, eta, r float64) float64 {
	if y == 0 {
		return 0
	}
	mu := math.Exp(eta)
	p := mu / (r + mu)
	if p <= 0 || math.IsNaN(p) {
		return math.Inf(-1)
	}
	if p > 0.5 { // near 1 it has few digits left, but what is missing to 1 has all
		if above := 1 - mathext.RegIncBeta(r, float64(y), r/(r+mu)); above > smallAbove {
			return math.Log(above)
		}
	}
	return math.Log(mathext.RegIncBeta(float64(y), r, min(p, 1)))
}

// slopeAtLeast uses dS/deta = p^y (1-p)^r / B(y, r) =: D, so that log S has slope D/S, and D'/D is
// y(1-p) - r p.
func slopeAtLeast(y int, eta, r float64) (first, second float64) {
	if y == 0 {
		return 0, 0
	}
	n, mu := float64(y), math.Exp(eta)
	p := mu / (r + mu)
	logD := n*math.Log(p) - r*math.Log1p(mu/r) - mathext.Lbeta(n, r)
	first = math.Exp(logD - logAtLeast(y, eta, r))
	if math.IsNaN(first) || math.IsInf(first, 0) { // far below the count: S is its own first term
		first = n - (n+r)*p
		return max(first, 0), -(n + r) * p * (1 - p)
	}
	return first, first*(n*(1-p)-r*p) - first*first
}

// smallTail ends the sum over an upper tail, as a part of what was summed.
const smallTail = 1e-17

// longestTail is how many terms that may take: of counts that are nearly all 0 and else huge it takes millions,
// and what lies below is then the better known.
const longestTail = 20_000

// deriveAtLeast sums the probabilities below y, or where those are nearly all, from y on.
func deriveAtLeast(y int, eta, r float64, d *Derivatives) {
	*d = Derivatives{}
	if y == 0 {
		return
	}
	// Terms fall by mu/(r+mu) from one to the next.
	terms := -math.Log(smallTail) * (1 + math.Exp(eta)/r)
	if below := 1 - math.Exp(logAtLeast(y, eta, r)); below < 0.9 || terms > longestTail {
		s := pmfSum{eta: eta, r: r, sign: -1, total: 1}
		for k := range y {
			s.add(k)
		}
		s.logDerivatives(d)
		return
	}
	s := pmfSum{eta: eta, r: r, sign: 1}
	for k := range y {
		s.pass(k)
	}
	s.floor = s.logP
	for k := y; s.add(k) > smallTail*s.total || float64(k) < float64(y)+math.Exp(eta); k++ {
	}
	s.logDerivatives(d)
}

// pmfSum adds up probabilities of a negative binomial and the derivatives of their sum, times sign, one
// after another from 0 on; scaled by exp(-floor), so that a far tail does not vanish.
type pmfSum struct {
	eta, r, sign, floor float64
	total               float64
	first               [2]float64
	second              [3]float64 // eta eta, eta a, a a

	begun             bool
	logP, slope, bend float64
}

// pass moves on over k without adding it: afterwards logP is that of k+1.
func (s *pmfSum) pass(k int) {
	s.begin()
	mu, n := math.Exp(s.eta), float64(k)
	s.logP += math.Log((n + s.r) / (n + 1) * (mu / (s.r + mu)))
	share := n / (s.r + n)
	s.slope -= share
	s.bend += share * (1 - share)
}

func (s *pmfSum) begin() {
	if !s.begun {
		s.begun = true
		s.logP = -s.r * math.Log1p(math.Exp(s.eta)/s.r)
	}
}

// add adds P(Y = k) and returns it.
func (s *pmfSum) add(k int) float64 {
	s.begin()
	var d Derivatives
	deriveCount(float64(k), s.eta, s.r, s.slope, s.bend, &d)
	p := math.Exp(s.logP - s.floor)
	s.total += s.sign * p
	s.first[0] += s.sign * p * d.Grad[0]
	s.first[1] += s.sign * p * d.Grad[1]
	s.second[0] += s.sign * p * (d.Grad[0]*d.Grad[0] + d.Hess[0][0])
	s.second[1] += s.sign * p * (d.Grad[0]*d.Grad[1] + d.Hess[0][1])
	s.second[2] += s.sign * p * (d.Grad[1]*d.Grad[1] + d.Hess[1][1])
	s.pass(k)
	return p
}

func (s *pmfSum) logDerivatives(d *Derivatives) {
	a, b := s.first[0]/s.total, s.first[1]/s.total
	d.Grad[0], d.Grad[1] = a, b
	d.Hess[0][0] = s.second[0]/s.total - a*a
	d.Hess[0][1] = s.second[1]/s.total - a*b
	d.Hess[1][1] = s.second[2]/s.total - b*b
}
