package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// CumLogit is the proportional-odds model of an ordered category,
//
//	logit P(Y <= j) = theta_j - x'b
//
// (McCullagh 1980, Journal of the Royal Statistical Society B 42:109-142; the signs are those of
// Venables and Ripley 2002, Modern Applied Statistics with S, section 7.3). Inside, the thresholds
// are the first one and then the logs of the spacings, so that they can never cross.
type CumLogit struct {
	X          [][]float64 // one row of covariates for each observation, without an intercept
	Category   []int       // from 0, the lowest
	Weight     []float64   // how many times the row was seen; nil is once
	Categories int         // how many there are, seen or not
	// Prior is on the first threshold, the log spacings and the coefficients; nil is flat.
	Prior []Normal
}

// CumLogitFit is the mode of a CumLogit. Its working parameters are the first threshold, the log
// spacings and the coefficients.
type CumLogitFit struct {
	Working    []float64
	Thresholds []float64
	Coef       []float64
	// Cov is the inverse of the observed information of the working parameters.
	Cov *mat.SymDense
	// LogLik is the log-likelihood at the mode, without the prior and without multinomial constants.
	LogLik    float64
	Converged bool
	// NoMaximum lists the working parameters that have no finite maximum: a spacing beside a category
	// that was never seen, the effect of a covariate that separates the categories.
	NoMaximum []int

	surface *cumLogitSurface
}

// Fit finds the mode. An error is about the input; a search that failed says Converged false.
func (m CumLogit) Fit() (CumLogitFit, error) {
	s, err := m.surface()
	if err != nil {
		return CumLogitFit{}, fmt.Errorf("fit cumulative logit: %w", err)
	}
	top := climb(s, s.start())
	cuts := m.Categories - 1
	fit := CumLogitFit{
		Working: top.x, Thresholds: make([]float64, cuts), Coef: top.x[cuts:], Cov: top.covariance(),
		LogLik: top.value - s.priorAt(top.x), Converged: top.converged, NoMaximum: top.flat, surface: s,
	}
	thresholds(fit.Thresholds, top.x)
	return fit, nil
}

func (m CumLogit) surface() (*cumLogitSurface, error) {
	columns, err := checkRows(m.X, len(m.Category))
	if err != nil {
		return nil, err
	}
	if m.Categories < 2 {
		return nil, fmt.Errorf("%d categories: an order needs two or more", m.Categories)
	}
	if m.Weight != nil && len(m.Weight) != len(m.Category) {
		return nil, fmt.Errorf("%d weights for %d rows: give one for each, or none", len(m.Weight), len(m.Category))
	}
	for i, y := range m.Category {
		if y < 0 || y >= m.Categories {
			return nil, fmt.Errorf("row %d is of category %d: categories run from 0 to %d", i, y, m.Categories-1)
		}
		if w := m.weight(i); !(w >= 0) || math.IsInf(w, 1) {
			return nil, fmt.Errorf("row %d has weight %g: weights are finite and not below 0", i, w)
		}
	}
	prior, err := priorsFor(m.Prior, m.Categories-1+columns)
	if err != nil {
		return nil, err
	}
	return newCumLogitSurface(m, columns, prior), nil
}

func (m CumLogit) weight(i int) float64 {
	if m.Weight == nil {
		return 1
	}
	return m.Weight[i]
}

// thresholds turns the first threshold and the log spacings into thresholds.
func thresholds(into, working []float64) {
	into[0] = working[0]
	for j := 1; j < len(into); j++ {
		into[j] = into[j-1] + math.Exp(working[j])
	}
}

// CategoryProbs writes the probability of each category at covariates x under any working
// parameters, exact in both tails by the identity at cumLogitSurface.at. into has one place for each
// category and holds the thresholds on the way.
func CategoryProbs(into, working, x []float64) {
	cuts := len(into) - 1
	thresholds(into[:cuts], working)
	eta := dot(x, working[cuts:])
	into[cuts] = logistic(eta - into[cuts-1])
	for j := cuts - 1; j > 0; j-- {
		into[j] = logistic(into[j]-eta) * logistic(eta-into[j-1]) * -math.Expm1(-math.Exp(working[j]))
	}
	into[0] = logistic(into[0] - eta)
}

// ThresholdCov is the covariance of the thresholds and then the coefficients, by the delta method.
func (f CumLogitFit) ThresholdCov() *mat.SymDense {
	p, cuts := len(f.Working), len(f.Thresholds)
	jacobian := mat.NewDense(p, p, nil)
	for i := range p {
		jacobian.Set(i, i, 1)
	}
	for j := 1; j < cuts; j++ {
		jacobian.Set(j, 0, 1)
		for k := 1; k <= j; k++ {
			jacobian.Set(j, k, math.Exp(f.Working[k]))
		}
	}
	return congruent(jacobian, f.Cov)
}

// congruent is J S J'.
func congruent(j *mat.Dense, s mat.Symmetric) *mat.SymDense {
	var half, whole mat.Dense
	half.Mul(j, s)
	whole.Mul(&half, j.T())
	return symmetrised(&whole)
}

func symmetrised(m *mat.Dense) *mat.SymDense {
	n, _ := m.Dims()
	s := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			s.SetSym(i, j, (m.At(i, j)+m.At(j, i))/2)
		}
	}
	return s
}

func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

// logLogistic is log(logistic(x)) without loss at either end.
func logLogistic(x float64) float64 {
	if x < 0 {
		return x - math.Log1p(math.Exp(x))
	}
	return -math.Log1p(math.Exp(-x))
}
