package stats

import (
	"math"
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
	prob   []float64
	slope  [][1 + maxAux]float64             // by category
	bend   [][1 + maxAux][1 + maxAux]float64 // by category
	single []float64
	byEta  [][3]float64 // by category: its probability and two derivatives
}

func newPool(categories int) pool {
	return pool{
		rule: NormalRule(poolNodes), prob: make([]float64, categories),
		slope: make([][1 + maxAux]float64, categories), bend: make([][1 + maxAux][1 + maxAux]float64, categories),
		single: make([]float64, categories), byEta: make([][3]float64, categories),
	}
}

func (f *Ordered) poolLogDensity(i int, eta float64) float64 {
	p := &f.pool
	clear(p.prob)
	apart := f.apart(i)
	for q, t := range p.rule.At {
		f.Probs(p.single, eta+apart*t)
		for j, v := range p.single {
			p.prob[j] += p.rule.Weight[q] * v
		}
	}
	sum := 0.0
	for j, n := range f.Count[i] {
		if n > 0 {
			sum += n * math.Log(p.prob[j])
		}
	}
	return sum
}

// poolSlope is the first of poolDerivatives alone: every draw's quadrature is centred by it.
func (f *Ordered) poolSlope(i int, eta float64) (first, second float64) {
	p := &f.pool
	clear(p.byEta)
	apart := f.apart(i)
	for q, t := range p.rule.At {
		f.addUnitByEta(eta+apart*t, p.rule.Weight[q])
	}
	for j, n := range f.Count[i] {
		if n > 0 {
			by := p.byEta[j]
			first += n * by[1] / by[0]
			second += n * (by[2]/by[0] - by[1]/by[0]*by[1]/by[0])
		}
	}
	return first, second
}

// addUnitByEta adds each category's probability at eta, times weight, and its derivatives.
func (f *Ordered) addUnitByEta(eta, weight float64) {
	for j := range f.pool.byEta {
		p, slope, bend := weight*f.between[j], 0.0, 0.0
		if j > 0 {
			over := logistic(eta - f.theta[j-1])
			p *= over
			slope += 1 - over
			bend -= over * (1 - over)
		}
		if j < f.cuts {
			upTo := logistic(f.theta[j] - eta)
			p *= upTo
			slope -= 1 - upTo
			bend -= upTo * (1 - upTo)
		}
		by := &f.pool.byEta[j]
		by[0] += p
		by[1] += p * slope
		by[2] += p * (slope*slope + bend)
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
		up := logistic(f.theta[j] - eta)
		f.addCut(j, 1-up, -up*(1-up), d)
	}
	if j > 0 {
		up := logistic(f.theta[j-1] - eta)
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
