package stats

import (
	"math"
	"slices"
)

// poolNodes average a pool's probabilities over its units, to a ten-thousandth for effects of two logits'
// spread.
const poolNodes = 9

// pool is the working space of observations whose units each have an effect of their own,
//
//	P_j = sum over q of weight_q p_j(eta + part sd t_q)
//
// by Gauss-Hermite quadrature over the standard normal.
type pool struct {
	rule   NormalPoints
	widest float64 // of the rule's points
	prob   []float64
	slope  [][1 + maxAux]float64             // by category
	bend   [][1 + maxAux][1 + maxAux]float64 // by category
	single []float64
	byEta  [][3]float64 // by category: its probability and two derivatives

	at    []int32 // by observation, its place in units
	units []units
	turn  int // counts the times that parameters were told
}

// units of a pool are reckoned once for the parameters in force.
type units struct {
	turn  int
	apart float64            // the standard deviation of their effects
	times [poolNodes]float64 // by node, what its effect multiplies odds by
	near  bool               // none of them is far out
}

func newPool(categories int, pooled []float64) pool {
	p := pool{
		rule: NormalRule(poolNodes), prob: make([]float64, categories),
		slope: make([][1 + maxAux]float64, categories), bend: make([][1 + maxAux][1 + maxAux]float64, categories),
		single: make([]float64, categories), byEta: make([][3]float64, categories), at: make([]int32, len(pooled)),
	}
	n := int32(0)
	for i, part := range pooled {
		p.at[i] = n
		if part > 0 {
			n++
		}
	}
	p.units, p.widest = make([]units, n), slices.Max(p.rule.At)
	return p
}

// unitsOf observation i, for the parameters in force.
func (f *Ordered) unitsOf(i int) *units {
	u := &f.pool.units[f.pool.at[i]]
	if u.turn == f.pool.turn {
		return u
	}
	u.turn, u.apart = f.pool.turn, f.apart(i)
	u.near = f.near && u.apart*f.pool.widest < farOut/2
	if u.near {
		for q, t := range f.pool.rule.At {
			u.times[q] = math.Exp(u.apart * t)
		}
	}
	return u
}

// eachUnit leaves the odds of one unit after another of observation i about eta, and does the like with each.
func (f *Ordered) eachUnit(i int, eta float64, do func(f *Ordered, weight float64)) {
	u, weights := f.unitsOf(i), f.pool.rule.Weight
	if !u.near || !(math.Abs(eta) < farOut/2) {
		for q, t := range f.pool.rule.At {
			f.setOdds(eta + u.apart*t)
			do(f, weights[q])
		}
		return
	}
	middle := math.Exp(eta)
	for q, times := range u.times {
		f.scaleOdds(middle * times)
		do(f, weights[q])
	}
}

func (f *Ordered) poolLogDensity(i int, eta float64) float64 {
	p := &f.pool
	clear(p.prob)
	f.eachUnit(i, eta, (*Ordered).addProbs)
	sum := 0.0
	for j, n := range f.Count[i] {
		if n > 0 {
			sum += n * math.Log(p.prob[j])
		}
	}
	return sum
}

// addProbs adds each category's probability at the odds, times weight.
func (f *Ordered) addProbs(weight float64) {
	above := weight // of lying above the cut before
	for j, odds := range f.odds {
		upTo := 1 / (1 + odds)
		f.pool.prob[j] += above * upTo * f.between[j]
		above = weight * odds * upTo
	}
	f.pool.prob[f.cuts] += above
}

// poolSlope is the first of poolDerivatives alone: every draw's quadrature is centred by it.
func (f *Ordered) poolSlope(i int, eta float64) (first, second float64) {
	p := &f.pool
	clear(p.byEta)
	f.eachUnit(i, eta, (*Ordered).addByEta)
	for j, n := range f.Count[i] {
		if n > 0 {
			by := p.byEta[j]
			first += n * by[1] / by[0]
			second += n * (by[2]/by[0] - by[1]/by[0]*by[1]/by[0])
		}
	}
	return first, second
}

// addByEta adds each category's probability at the odds, times weight, and its derivatives by eta.
func (f *Ordered) addByEta(weight float64) {
	over, underBefore := 1.0, 0.0 // the chances of lying above and below the cut before
	for j := range f.pool.byEta {
		upTo, overNext := 1.0, 0.0
		if j < f.cuts {
			upTo = 1 / (1 + f.odds[j])
			overNext = f.odds[j] * upTo
		}
		p := weight * f.between[j] * over * upTo
		slope := underBefore - overNext
		bend := -over*underBefore - upTo*overNext
		by := &f.pool.byEta[j]
		by[0] += p
		by[1] += p * slope
		by[2] += p * (slope*slope + bend)
		over, underBefore = overNext, upTo
	}
}

// poolDerivatives add up those of the probabilities, from those of one unit's log probabilities:
// p' = p l' and p” = p (l' l' + l”). The log of how far units are apart, which moves eta by apart t, is the
// effect's log standard deviation plus half the pool's log spread.
func (f *Ordered) poolDerivatives(i int, eta float64, d *Derivatives) {
	p := &f.pool
	clear(p.prob)
	clear(p.slope)
	clear(p.bend)
	apart := f.apart(i)
	for q, t := range p.rule.At {
		f.addUnit(eta, apart*t, p.rule.Weight[q])
	}
	*d = Derivatives{}
	last := 1 + f.cuts
	for j, n := range f.Count[i] {
		if n == 0 {
			continue
		}
		for a := 0; a <= last; a++ {
			da := p.slope[j][a] / p.prob[j]
			d.Grad[a] += n * da
			for b := a; b <= last; b++ {
				d.Hess[a][b] += n * (p.bend[j][a][b]/p.prob[j] - da*p.slope[j][b]/p.prob[j])
			}
		}
	}
	if spreadOf(f.Spread, i) >= 0 {
		halve(d, last)
	}
}

// halve adds the derivatives by what counts half of a place, behind it.
func halve(d *Derivatives, place int) {
	d.Grad[place+1] = d.Grad[place] / 2
	for a := 0; a <= place; a++ {
		d.Hess[a][place+1] = d.Hess[a][place] / 2
	}
	d.Hess[place+1][place+1] = d.Hess[place][place] / 4
}

func (f *Ordered) addUnit(eta, part, weight float64) {
	p := &f.pool
	f.Probs(p.single, eta+part)
	last := 1 + f.cuts
	for j, prob := range p.single {
		var l Derivatives
		f.category(j, eta+part, &l)
		l.Grad[last] = l.Grad[0] * part
		for a := 0; a < last; a++ {
			l.Hess[a][last] = l.Hess[0][a] * part
		}
		l.Hess[last][last] = l.Hess[0][0]*part*part + l.Grad[0]*part
		p.prob[j] += weight * prob
		for a := 0; a <= last; a++ {
			p.slope[j][a] += weight * prob * l.Grad[a]
			for b := a; b <= last; b++ {
				p.bend[j][a][b] += weight * prob * (l.Grad[a]*l.Grad[b] + l.Hess[a][b])
			}
		}
	}
}

// category is the derivatives of one category's log probability.
func (f *Ordered) category(j int, eta float64, d *Derivatives) {
	if j < f.cuts {
		up := Logistic(f.theta[j] - eta)
		f.addCut(j, 1-up, -up*(1-up), d)
	}
	if j > 0 {
		up := Logistic(f.theta[j-1] - eta)
		f.addCut(j-1, -up, -up*(1-up), d)
	}
	if 0 < j && j < f.cuts {
		first, second := withinSlopes(f.spacing[j])
		d.Grad[1+j] += first
		d.Hess[1+j][1+j] += second
	}
}

// addCut chains the derivatives by u_j.
func (f *Ordered) addCut(j int, slope, bend float64, d *Derivatives) {
	var by [1 + maxAux]float64
	by[0], by[1] = -1, 1
	for k := 1; k <= j; k++ {
		by[1+k] = f.spacing[k]
		d.Hess[1+k][1+k] += slope * by[1+k]
	}
	for a := 0; a <= 1+j; a++ {
		d.Grad[a] += slope * by[a]
		for b := a; b <= 1+j; b++ {
			d.Hess[a][b] += bend * by[a] * by[b]
		}
	}
}
