package stats

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// betaBinSurface is the log-likelihood of a BetaBin plus its log prior. Its parameters are the
// coefficients and then the logit of rho.
type betaBinSurface struct {
	model   BetaBin
	columns int
	priors  []Normal
	choices float64 // the sum over rows of log (n choose y)
}

// at sums over rows, with t = rho/(1-rho) = exp(logit rho),
//
//	l = log (n choose y) + sum over k<y of log(mu + k t) + sum over k<n-y of log(1-mu + k t)
//	    - sum over k<n of log(1 + k t)
//
// which is the likelihood of Prentice (1986) and stays exact as t goes to 0 (binomial).
func (s *betaBinSurface) at(x, grad []float64, hess *mat.SymDense) float64 {
	hess.Zero()
	for j, p := range s.priors {
		grad[j] = p.slope(x[j])
		hess.SetSym(j, j, -1/(p.SD*p.SD))
	}
	value := s.priorAt(x) + s.choices
	t := math.Exp(x[s.columns])
	for i := range s.model.Hits {
		value += s.addRow(i, t, x, grad, hess)
	}
	return value
}

// addRow chains the derivatives by eta and by logit rho to the parameters.
func (s *betaBinSurface) addRow(i int, t float64, x, grad []float64, hess *mat.SymDense) float64 {
	row, w := s.model.X[i], s.columns
	eta := dot(row, x)
	var d betaBinDerivatives
	d.rise(s.model.Hits[i], eta, 1, t)
	d.rise(s.model.Of[i]-s.model.Hits[i], -eta, -1, t)
	d.fall(s.model.Of[i], t)
	for j, v := range row {
		grad[j] += d.eta * v
		for k := j; k < len(row); k++ {
			hess.SetSym(j, k, hess.At(j, k)+d.etaEta*v*row[k])
		}
		hess.SetSym(j, w, hess.At(j, w)+d.etaW*v)
	}
	grad[w] += d.w
	hess.SetSym(w, w, hess.At(w, w)+d.wW)
	return d.value
}

// betaBinDerivatives gathers one row's log-likelihood and its derivatives by eta and w = logit rho.
type betaBinDerivatives struct {
	value, eta, w, etaEta, etaW, wW float64
}

// rise adds the sum over k<n of log(p + k t) with p = Logistic(z), z = eta or -eta by sign. With
// a = p/(p + k t) and b = k t/(p + k t) = 1 - a, and p' = p (1-p), each term has the derivatives
//
//	l_z = a (1-p)    l_w = b    l_zw = -a b (1-p)    l_ww = a b
//	l_zz = a (1-p) (1-2p) - (a (1-p))^2
//
// written without a division by p, so that the term of k = 0 (a = 1) is exact in both tails.
func (d *betaBinDerivatives) rise(n int, z, sign, t float64) {
	p, q := Logistic(z), Logistic(-z)
	for k := range n {
		a, b := 1.0, 0.0
		if k == 0 {
			d.value += logLogistic(z)
		} else {
			whole := p + float64(k)*t
			a, b = p/whole, float64(k)*t/whole
			d.value += math.Log(whole)
		}
		d.eta += sign * a * q
		d.w += b
		d.etaEta += a * q * (q - p - a*q)
		d.etaW -= sign * a * b * q
		d.wW += a * b
	}
}

// fall takes away the sum over k<n of log(1 + k t).
func (d *betaBinDerivatives) fall(n int, t float64) {
	for k := 1; k < n; k++ {
		b := float64(k) * t / (1 + float64(k)*t)
		d.value -= math.Log1p(float64(k) * t)
		d.w -= b
		d.wW -= b * (1 - b)
	}
}

func (s *betaBinSurface) priorAt(x []float64) float64 {
	sum := 0.0
	for j, p := range s.priors {
		sum += p.logDensity(x[j])
	}
	return sum
}

func (s *betaBinSurface) scales() []float64 {
	return append(columnScales(s.model.X, s.columns), 1)
}

// start is an even share everywhere and a rho of a tenth: the surface is well behaved from there.
func (s *betaBinSurface) start() []float64 {
	x := make([]float64, s.columns+1)
	x[s.columns] = math.Log(1.0 / 9)
	return x
}
