package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Hierarchy holds independent normal priors of a model's parameters, of which some share a standard
// deviation that is unknown itself (a scale), with a normal prior on its logarithm.
type Hierarchy struct {
	// Priors are by parameter; SD is not used where Scale says one.
	Priors []Normal
	// Scale is by parameter: which scale is its standard deviation, negative for none. nil is none.
	Scale []int
	// LogSD are the priors of the scales' logarithms.
	LogSD []Normal
}

func (h Hierarchy) check(parameters int) error {
	if len(h.Priors) != parameters || h.Scale != nil && len(h.Scale) != parameters {
		return fmt.Errorf("%d priors and %d scales for %d parameters: give one for each", len(h.Priors), len(h.Scale), parameters)
	}
	for j, p := range h.Priors {
		k := h.scaleOf(j)
		if k >= len(h.LogSD) {
			return fmt.Errorf("prior %d has scale %d of %d", j, k, len(h.LogSD))
		}
		if math.IsNaN(p.Mean) || math.IsInf(p.Mean, 0) || k < 0 && !(p.SD > 0 && !math.IsInf(p.SD, 1)) {
			return fmt.Errorf("prior %d is normal(%g, %g): a proper one is needed", j, p.Mean, p.SD)
		}
	}
	for k, p := range h.LogSD {
		if !(p.SD > 0) || math.IsInf(p.SD, 1) || math.IsNaN(p.Mean) {
			return fmt.Errorf("prior of scale %d is normal(%g, %g) on its logarithm: a proper one is needed", k, p.Mean, p.SD)
		}
	}
	return nil
}

func (h Hierarchy) scaleOf(j int) int {
	if h.Scale == nil {
		return -1
	}
	return h.Scale[j]
}

// sd of parameter j where the scales' logarithms are psi.
func (h Hierarchy) sd(j int, psi []float64) float64 {
	if k := h.scaleOf(j); k >= 0 {
		return math.Exp(psi[k])
	}
	return h.Priors[j].SD
}

// at is the priors of the parameters where the scales' logarithms are psi.
func (h Hierarchy) at(psi []float64) []Normal {
	list := make([]Normal, len(h.Priors))
	for j, p := range h.Priors {
		list[j] = Normal{Mean: p.Mean, SD: h.sd(j, psi)}
	}
	return list
}

// logDensity is the joint prior of parameters and scales, without constants.
func (h Hierarchy) logDensity(x, psi []float64) float64 {
	sum := 0.0
	for k, p := range h.LogSD {
		sum += p.logDensity(psi[k])
	}
	for j, p := range h.Priors {
		if k := h.scaleOf(j); k >= 0 {
			sum -= psi[k]
		}
		sum += Normal{Mean: p.Mean, SD: h.sd(j, psi)}.logDensity(x[j])
	}
	return sum
}

// gaussian is a log-likelihood taken for quadratic about x: with it the posterior of the parameters
// given the scales is normal, and that of the scales is known but for a constant (Tierney and Kadane 1986,
// Journal of the American Statistical Association 81:82-86).
type gaussian struct {
	h        Hierarchy
	x, slope []float64
	bend     *mat.SymDense // minus the Hessian, brought to no less than 0 in every direction

	precision *mat.SymDense
	chol      mat.Cholesky
	right     *mat.VecDense
	move      *mat.VecDense
}

func newGaussian(h Hierarchy, x, slope []float64, hess *mat.SymDense) (*gaussian, error) {
	bend, err := positivePart(hess)
	if err != nil {
		return nil, err
	}
	p := len(x)
	return &gaussian{
		h: h, x: x, slope: slope, bend: bend,
		precision: mat.NewSymDense(p, nil), right: mat.NewVecDense(p, nil), move: mat.NewVecDense(p, nil),
	}, nil
}

// positivePart of minus a symmetric matrix: eigenvalues below 0 are taken as 0.
func positivePart(hess *mat.SymDense) (*mat.SymDense, error) {
	p := hess.SymmetricDim()
	minus := mat.NewSymDense(p, nil)
	minus.ScaleSym(-1, hess)
	var eig mat.EigenSym
	if !eig.Factorize(minus, true) {
		return nil, fmt.Errorf("no axes of the log-likelihood's curvature found")
	}
	values := eig.Values(nil)
	if values[0] >= 0 {
		return minus, nil
	}
	for i, v := range values {
		values[i] = max(v, 0)
	}
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	return congruent(&vectors, mat.NewDiagDense(p, values)), nil
}

// given finds the normal of the parameters at psi: afterwards move leads from x to its mean and chol is
// the factor of its precision. It returns the log posterior of psi; false where it has none.
func (g *gaussian) given(psi []float64) (float64, bool) {
	g.precision.CopySym(g.bend)
	value := 0.0
	for k, p := range g.h.LogSD {
		value += p.logDensity(psi[k])
	}
	for j, p := range g.h.Priors {
		sd := g.h.sd(j, psi)
		q := 1 / (sd * sd)
		away := g.x[j] - p.Mean
		g.precision.SetSym(j, j, g.precision.At(j, j)+q)
		g.right.SetVec(j, g.slope[j]-q*away)
		value += -math.Log(sd) - q*away*away/2
	}
	if !g.chol.Factorize(g.precision) {
		return math.Inf(-1), false
	}
	// A poor condition is no error here: the draws' weights judge the whole.
	_ = g.chol.SolveVecTo(g.move, g.right)
	return value + mat.Dot(g.right, g.move)/2 - g.chol.LogDet()/2, true
}

// scaleSurface is the log posterior of the scales' logarithms, differenced: it costs a factorisation.
type scaleSurface struct{ g *gaussian }

const scaleStep = 1e-3

func (s scaleSurface) at(psi, grad []float64, hess *mat.SymDense) float64 {
	return differences(func(psi []float64) float64 {
		v, _ := s.g.given(psi)
		return v
	}, psi, grad, hess, scaleStep)
}

func (s scaleSurface) scales() []float64 {
	list := make([]float64, len(s.g.h.LogSD))
	for k := range list {
		list[k] = 1
	}
	return list
}
