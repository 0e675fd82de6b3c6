package stats

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// multivariateT has proposalDF degrees of freedom.
type multivariateT struct {
	mean    []float64
	root    *mat.TriDense // lower
	logRoot float64       // log of its determinant
	draws   int           // that were taken of it
}

// standardT is the one about 0, of scale 1.
func standardT(dimensions int) multivariateT {
	root := mat.NewTriDense(dimensions, mat.Lower, nil)
	for i := range dimensions {
		root.SetTri(i, i, 1)
	}
	return multivariateT{mean: make([]float64, dimensions), root: root}
}

// wider is how much more spread than the weighted draws a refitted proposal has: too narrow is worse.
const wider = 1.2

// fitT has the mean of weighted points, and wider than their spread.
func fitT(points [][]float64, weights []float64) (multivariateT, error) {
	d := len(points[0])
	t := multivariateT{mean: make([]float64, d), root: mat.NewTriDense(d, mat.Lower, nil)}
	for i, p := range points {
		for k, v := range p {
			t.mean[k] += weights[i] * v
		}
	}
	spread := mat.NewSymDense(d, nil)
	away := mat.NewVecDense(d, nil)
	for i, p := range points {
		for k, v := range p {
			away.SetVec(k, v-t.mean[k])
		}
		spread.SymRankOne(spread, wider*weights[i], away)
	}
	// A tenth of the standard spread beside it keeps few weights from making it flat in any direction.
	for k := range d {
		spread.SetSym(k, k, spread.At(k, k)+0.1)
	}
	var chol mat.Cholesky
	if !chol.Factorize(spread) {
		return t, fmt.Errorf("the spread of weighted draws has no root")
	}
	chol.LTo(t.root)
	t.logRoot = chol.LogDet() / 2
	return t, nil
}

func (t *multivariateT) draw(source *rand.Rand) []float64 {
	d := len(t.mean)
	chi := distuv.ChiSquared{K: proposalDF, Src: source}.Rand()
	z := make([]float64, d)
	for k := range z {
		z[k] = source.NormFloat64() * math.Sqrt(proposalDF/chi)
	}
	w := append([]float64(nil), t.mean...)
	for i := range w {
		for j := 0; j <= i; j++ {
			w[i] += t.root.At(i, j) * z[j]
		}
	}
	return w
}

// logDensity without the constant, which all of one dimension share.
func (t *multivariateT) logDensity(w []float64) float64 {
	square := 0.0
	z := make([]float64, len(w))
	for i := range w {
		v := w[i] - t.mean[i]
		for j := range i {
			v -= t.root.At(i, j) * z[j]
		}
		z[i] = v / t.root.At(i, i)
		square += z[i] * z[i]
	}
	return -(proposalDF+float64(len(w)))/2*math.Log1p(square/proposalDF) - t.logRoot
}

// mixture of proposals, each with the share of the draws that were taken of it.
type mixture []multivariateT

func (m mixture) logDensity(w []float64) float64 {
	sum, all := math.Inf(-1), 0
	for i := range m {
		sum = logAdd(sum, m[i].logDensity(w)+math.Log(float64(m[i].draws)))
		all += m[i].draws
	}
	return sum - math.Log(float64(all))
}
