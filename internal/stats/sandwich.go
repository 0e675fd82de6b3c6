package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Scores are the gradients of each row's log-likelihood by the working parameters, at the mode.
func (f CumLogitFit) Scores() [][]float64 {
	s := f.surface
	thresholds(s.theta, f.Working)
	scores := make([][]float64, len(s.model.Category))
	for i := range scores {
		scores[i] = make([]float64, len(f.Working))
		s.addRow(i, f.Working, scores[i], nil)
	}
	return scores
}

// Sandwich is the cluster-robust covariance: bread times the sum over clusters of the outer product
// of their summed scores times bread, with the factor G/(G-1) for G clusters (Liang and Zeger 1986,
// Biometrika 73:13-22; the factor as in Cameron and Miller 2015, Journal of Human Resources
// 50:317-372). cluster names each row's cluster, from 0. One cluster alone tells nothing of the
// spread between clusters and is refused.
func Sandwich(bread *mat.SymDense, scores [][]float64, cluster []int) (*mat.SymDense, error) {
	if len(scores) != len(cluster) {
		return nil, fmt.Errorf("cluster-robust covariance: %d clusters named for %d rows", len(cluster), len(scores))
	}
	p := bread.SymmetricDim()
	sums := map[int]*mat.VecDense{}
	var order []int // sums are added in a fixed order, so that the same input gives the same bits
	for i, g := range cluster {
		if sums[g] == nil {
			sums[g] = mat.NewVecDense(p, nil)
			order = append(order, g)
		}
		sums[g].AddVec(sums[g], mat.NewVecDense(p, scores[i]))
	}
	n := float64(len(order))
	if n < 2 {
		return nil, fmt.Errorf("cluster-robust covariance: %d cluster: it needs two or more", len(order))
	}
	meat := mat.NewSymDense(p, nil)
	for _, g := range order {
		meat.SymRankOne(meat, n/(n-1), sums[g])
	}
	var half, whole mat.Dense
	half.Mul(bread, meat)
	whole.Mul(&half, bread)
	return symmetrised(&whole), nil
}

// WiderCov is a covariance no smaller than either in any direction: both are brought to axes in
// which a is the identity and b diagonal, and the larger variance is taken on each axis. a must be
// positive definite.
func WiderCov(a, b *mat.SymDense) (*mat.SymDense, error) {
	p := a.SymmetricDim()
	var chol mat.Cholesky
	if !chol.Factorize(a) {
		return nil, fmt.Errorf("wider of two covariances: the first is not positive definite")
	}
	var lower mat.TriDense
	chol.LTo(&lower)
	var inverse mat.TriDense
	if err := inverse.InverseTri(&lower); err != nil {
		return nil, fmt.Errorf("wider of two covariances: %w", err)
	}
	var eig mat.EigenSym
	if !eig.Factorize(congruent(mat.DenseCopyOf(&inverse), b), true) {
		return nil, fmt.Errorf("wider of two covariances: no axes found")
	}
	var axes, back mat.Dense
	eig.VectorsTo(&axes)
	back.Mul(&lower, &axes)
	wider := mat.NewDiagDense(p, nil)
	for i, v := range eig.Values(nil) { // b's variance on an axis where a's is 1
		wider.SetDiag(i, math.Max(1, v))
	}
	return congruent(&back, wider), nil
}
