package stats

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

const (
	// leastInformation is the curvature under which a direction counts as flat: a standard error
	// above 1,000 on a log or logit scale is no finite answer. Where the likelihood only approaches
	// its supremum, the search ends with curvatures near smallDecrement, far below (the behaviour
	// that Albert and Anderson 1984, Biometrika 71:1-10, describe for separated data).
	leastInformation = 1e-6
	// shareOfDirection is how much of a flat direction a parameter must carry to be named. A log
	// spacing that follows a running first threshold carries about 1/25 of it where the search ends.
	shareOfDirection = 0.02
)

// flatDirections names the parameters without a finite maximum, and tells whether the surface bends
// down, or is level, in every direction.
func (c *climber) flatDirections() (flat []int, concave bool) {
	p := len(c.x)
	scale := c.on.scales()
	scaled := mat.NewSymDense(p, nil)
	for i := range p {
		for j := i; j < p; j++ {
			scaled.SetSym(i, j, -c.hess.At(i, j)/(scale[i]*scale[j]))
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(scaled, true) {
		return nil, false
	}
	values := eig.Values(nil)
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	named := make([]bool, p)
	for k, v := range values {
		if v < leastInformation {
			nameParts(named, mat.Col(nil, k, &vectors))
		}
	}
	for i, is := range named {
		if is {
			flat = append(flat, i)
		}
	}
	return flat, values[0] > -leastInformation
}

func nameParts(named []bool, direction []float64) {
	largest := 0.0
	for _, v := range direction {
		largest = max(largest, math.Abs(v))
	}
	for i, v := range direction {
		if math.Abs(v) > shareOfDirection*largest {
			named[i] = true
		}
	}
}

// covariance inverts the curvature. A flat parameter is held where it stands for the sake of the
// others, and its own variance is +Inf.
func (k peak) covariance() *mat.SymDense {
	p := len(k.x)
	var kept []int
	isFlat := make([]bool, p)
	for _, i := range k.flat {
		isFlat[i] = true
	}
	cov := mat.NewSymDense(p, nil)
	for i := range p {
		if isFlat[i] {
			cov.SetSym(i, i, math.Inf(1))
		} else {
			kept = append(kept, i)
		}
	}
	if len(kept) == 0 {
		return cov
	}
	inverse, ok := invert(subset(k.curvature, kept))
	for a, i := range kept {
		for b := a; b < len(kept); b++ {
			v := math.Inf(1)
			if ok {
				v = inverse.At(a, b)
			} else if a != b {
				v = 0
			}
			cov.SetSym(i, kept[b], v)
		}
	}
	return cov
}

func subset(m *mat.SymDense, kept []int) *mat.SymDense {
	s := mat.NewSymDense(len(kept), nil)
	for a, i := range kept {
		for b := a; b < len(kept); b++ {
			s.SetSym(a, b, m.At(i, kept[b]))
		}
	}
	return s
}

// invert is false when m is not positive definite.
func invert(m *mat.SymDense) (*mat.SymDense, bool) {
	var chol mat.Cholesky
	if !chol.Factorize(m) {
		return nil, false
	}
	inverse := mat.NewSymDense(m.SymmetricDim(), nil)
	// A poor condition is told by the size of the variances themselves.
	_ = chol.InverseTo(inverse)
	return inverse, true
}
