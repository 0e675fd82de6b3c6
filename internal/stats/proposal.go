package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// target is the posterior of a hierarchical model: of its parameters and then its scales' logarithms.
type target struct {
	likelihood *Likelihood
	extra      []Extra
	h          Hierarchy
}

func (t *target) parameters() int { return t.likelihood.model.Parameters }

// logDensity at a point, without the constant.
func (t *target) logDensity(l *Likelihood, point []float64) float64 {
	p := t.parameters()
	x, psi := point[:p], point[p:]
	value := t.h.logDensity(x, psi) + l.Fresh(x)
	for _, e := range t.extra {
		value += e.Value(x)
	}
	if math.IsNaN(value) {
		return math.Inf(-1)
	}
	return value
}

// proposal maps standard draws w to points: the scales first, about their mode, and given them the
// parameters, about their mean and with their precision there. A funnel between the two is thus kept.
type proposal struct {
	g       *gaussian
	psi     []float64
	root    *mat.Dense // of the scales' covariance; nil without scales
	logRoot float64    // log of its determinant

	upper mat.TriDense
}

// beside is for another goroutine.
func (q *proposal) beside() *proposal {
	g := *q.g
	p := len(g.x)
	g.precision, g.right, g.move = mat.NewSymDense(p, nil), mat.NewVecDense(p, nil), mat.NewVecDense(p, nil)
	g.chol = mat.Cholesky{}
	return &proposal{g: &g, psi: q.psi, root: q.root, logRoot: q.logRoot}
}

const (
	scaleRounds = 25
	// settledScales ends the search: the proposal need not be exact, its draws are weighted.
	settledScales = 0.03
)

// roughNodes are enough to come near a mode, in roughSteps between centrings: a quadrature of so few nodes soon
// is out of place.
const roughNodes, roughSteps = 3, 2

// propose finds the mode of the scales, the parameters' mode there, and the curvature of either: first by a
// quadrature of few nodes, then from there by the model's own.
func (t *target) propose(start []float64) (*proposal, error) {
	psi := make([]float64, len(t.h.LogSD))
	for k, p := range t.h.LogSD {
		psi[k] = p.Mean
	}
	x := start
	if len(t.likelihood.rule.at) > roughNodes {
		rough := &target{likelihood: t.likelihood.withNodes(roughNodes), extra: t.extra, h: t.h}
		if near, err := rough.search(start, psi, roughSteps); err == nil {
			x, psi = near.g.x, near.psi
		}
	}
	q, err := t.search(x, psi, newtonSteps)
	if err != nil || len(psi) == 0 {
		return q, err
	}
	return q, q.widthOfScales()
}

// search alternates between the parameters' mode given the scales and the scales' mode given the curvature
// there, until the scales settle; with so many steps at most between centrings.
func (t *target) search(start, scales []float64, steps int) (*proposal, error) {
	x, psi := start, scales
	var g *gaussian
	for range scaleRounds {
		s := &mixedSurface{likelihood: t.likelihood, extra: t.extra, prior: t.h.at(psi)}
		at, near := s.climbNear(x, steps)
		if !near {
			return nil, fmt.Errorf("no mode found from %d groups", len(t.likelihood.model.Groups))
		}
		s.withoutPrior(at.x, at.grad, at.hess)
		var err error
		if g, err = newGaussian(t.h, at.x, at.grad, at.hess); err != nil {
			return nil, err
		}
		if len(psi) == 0 {
			break
		}
		next, _ := climbNear(scaleSurface{g}, psi, newtonSteps) // wherever it stops, the draws are weighted
		moved := farthest(psi, next.x)
		psi = next.x
		if moved < settledScales {
			break
		}
		x = at.x
		if _, ok := g.given(psi); ok { // where the mode will be, as far as can be told from here
			x = append([]float64(nil), at.x...)
			floats.Add(x, g.move.RawVector().Data)
		}
	}
	return &proposal{g: g, psi: psi}, nil
}

// widthOfScales takes the scales' covariance from the curvature at their mode. In no direction are they
// taken for wider than the widest of their priors, nor where the data bend up.
func (q *proposal) widthOfScales() error {
	n := len(q.psi)
	grad, hess := make([]float64, n), mat.NewSymDense(n, nil)
	scaleSurface{q.g}.at(q.psi, grad, hess)
	least := math.Inf(1)
	for _, p := range q.g.h.LogSD {
		least = min(least, 1/(p.SD*p.SD))
	}
	var eig mat.EigenSym
	if !eig.Factorize(hess, true) {
		return fmt.Errorf("no axes of the scales' curvature found")
	}
	q.root = mat.NewDense(n, n, nil)
	eig.VectorsTo(q.root)
	for k, bend := range eig.Values(nil) {
		width := 1 / math.Sqrt(max(-bend, least))
		q.logRoot += math.Log(width)
		for i := range n {
			q.root.Set(i, k, q.root.At(i, k)*width)
		}
	}
	return nil
}

// place writes the point of a standard draw, scales first in w and last in the point, and returns the log
// of the factor by which the map stretches volume.
func (q *proposal) place(point, w []float64) float64 {
	p, n := len(q.g.x), len(q.psi)
	psi := point[p : p+n]
	for k := range psi {
		psi[k] = q.psi[k]
		for j := range n {
			psi[k] += q.root.At(k, j) * w[j]
		}
	}
	if _, ok := q.g.given(psi); !ok {
		return math.Inf(1) // so far out that no density is there
	}
	q.g.chol.UTo(&q.upper)
	solveUpper(&q.upper, point[:p], w[n:])
	for j := range p {
		point[j] += q.g.x[j] + q.g.move.AtVec(j)
	}
	return q.logRoot - q.g.chol.LogDet()/2
}

// solveUpper solves U z = w: for the upper factor of a precision U'U, z has its covariance where w is
// standard.
func solveUpper(u *mat.TriDense, z, w []float64) {
	raw := u.RawTriangular()
	for i := raw.N - 1; i >= 0; i-- {
		v := w[i]
		for j := i + 1; j < raw.N; j++ {
			v -= raw.Data[i*raw.Stride+j] * z[j]
		}
		z[i] = v / raw.Data[i*raw.Stride+i]
	}
}
