package stats

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// cumLogitSurface is the log-likelihood of a CumLogit plus its log prior, in working parameters.
type cumLogitSurface struct {
	model         CumLogit
	columns, cuts int
	priors        []Normal
	theta         []float64
	upper, lower  []float64 // derivatives of theta_y - eta and theta_(y-1) - eta: working space
}

func newCumLogitSurface(m CumLogit, columns int, prior []Normal) *cumLogitSurface {
	cuts := m.Categories - 1
	return &cumLogitSurface{
		model: m, columns: columns, cuts: cuts, priors: prior, theta: make([]float64, cuts),
		upper: make([]float64, cuts+columns), lower: make([]float64, cuts+columns),
	}
}

// at uses, for u = theta_y - eta above l = theta_(y-1) - eta, F the logistic function, s = u - l,
//
//	F(u) - F(l) = F(u) F(-l) (1 - exp(-s))
//
// which follows from F(t) = e^t/(1+e^t) and loses no digit in either tail, nor for a spacing near 0.
func (c *cumLogitSurface) at(x, grad []float64, hess *mat.SymDense) float64 {
	hess.Zero()
	value := 0.0
	for j, p := range c.priors {
		value += p.logDensity(x[j])
		grad[j] = p.slope(x[j])
		hess.SetSym(j, j, -1/(p.SD*p.SD))
	}
	thresholds(c.theta, x)
	for i := range c.model.Category {
		value += c.addRow(i, x, grad, hess)
	}
	return value
}

// addRow adds row i to the gradient and, unless it is nil, to the Hessian, and returns its
// log-likelihood. The caller has set c.theta to x's thresholds.
func (c *cumLogitSurface) addRow(i int, x, grad []float64, hess *mat.SymDense) float64 {
	y, w, row := c.model.Category[i], c.model.weight(i), c.model.X[i]
	eta := dot(row, x[c.cuts:])
	value := 0.0
	if y < c.cuts {
		u := c.theta[y] - eta
		value += logLogistic(u)
		c.addEdge(c.upper, y, row, x, w*logistic(-u), -w*logistic(u)*logistic(-u), grad, hess)
	}
	if y > 0 {
		l := c.theta[y-1] - eta
		value += logLogistic(-l)
		c.addEdge(c.lower, y-1, row, x, -w*logistic(l), -w*logistic(l)*logistic(-l), grad, hess)
	}
	if 0 < y && y < c.cuts {
		value += addSpacing(y, math.Exp(x[y]), w, grad, hess)
	}
	return w * value
}

// addEdge chains the derivatives by one bound t = theta_j - eta to the working parameters, in which
// t has derivative 1 by the first threshold, exp(d_k) by each log spacing below it (its second
// derivative too) and -x by the coefficients.
func (c *cumLogitSurface) addEdge(d []float64, j int, row, x []float64, slope, bend float64, grad []float64, hess *mat.SymDense) {
	d[0] = 1
	for k := 1; k < c.cuts; k++ {
		d[k] = 0
		if k <= j {
			d[k] = math.Exp(x[k])
		}
	}
	for k, v := range row {
		d[c.cuts+k] = -v
	}
	for a, da := range d {
		grad[a] += slope * da
	}
	if hess == nil {
		return
	}
	for a, da := range d {
		for b := a; b < len(d); b++ {
			hess.SetSym(a, b, hess.At(a, b)+bend*da*d[b])
		}
	}
	for k := 1; k <= j; k++ {
		hess.SetSym(k, k, hess.At(k, k)+slope*d[k])
	}
}

// addSpacing adds w log(1 - exp(-s)), s = exp(d), by d: first derivative s/(e^s - 1), and that
// times 1 - s/(1 - e^-s) is the second.
func addSpacing(k int, s, w float64, grad []float64, hess *mat.SymDense) float64 {
	slope := 1.0
	if s > 0 {
		slope = s / math.Expm1(s)
	}
	grad[k] += w * slope
	if hess != nil && s > 0 {
		hess.SetSym(k, k, hess.At(k, k)+w*slope*(1+s/math.Expm1(-s)))
	}
	return math.Log(-math.Expm1(-s))
}

func (c *cumLogitSurface) priorAt(x []float64) float64 {
	sum := 0.0
	for j, p := range c.priors {
		sum += p.logDensity(x[j])
	}
	return sum
}

func (c *cumLogitSurface) scales() []float64 {
	scale := make([]float64, c.cuts)
	for j := range scale {
		scale[j] = 1
	}
	return append(scale, columnScales(c.model.X, c.columns)...)
}

// start takes the thresholds from the shares of the categories, half a row added to each.
func (c *cumLogitSurface) start() []float64 {
	seen := make([]float64, c.model.Categories)
	all := 0.0
	for i, y := range c.model.Category {
		seen[y] += c.model.weight(i)
		all += c.model.weight(i)
	}
	all += 0.5 * float64(len(seen))
	x := make([]float64, c.cuts+c.columns)
	below, last := 0.0, 0.0
	for j := range c.cuts {
		below += seen[j] + 0.5
		at := math.Log(below / (all - below))
		if x[j] = at; j > 0 {
			x[j] = math.Log(at - last)
		}
		last = at
	}
	return x
}
