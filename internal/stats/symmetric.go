package stats

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

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

// Logistic is the inverse of the logit.
func Logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

// logLogistic is log(Logistic(x)) without loss at either end.
func logLogistic(x float64) float64 {
	if x < 0 {
		return x - math.Log1p(math.Exp(x))
	}
	return -math.Log1p(math.Exp(-x))
}
