package stats

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
)

// shards is into how many runs of groups an evaluation is cut; their sums are added in order.
const shards = 8

// rule is the Gauss-Hermite rule, weighted for an integrand that is not divided by its normal.
type rule struct {
	at   []float64 // sqrt(2) times the node
	logW []float64 // log of weight times exp(node^2), less log sqrt(pi)
}

func newRule(effect Effect, nodes int) rule {
	if effect.none() {
		return rule{at: []float64{0}, logW: []float64{0}}
	}
	x, w := make([]float64, nodes), make([]float64, nodes)
	quad.Hermite{}.FixedLocations(x, w, math.Inf(-1), math.Inf(1))
	r := rule{at: make([]float64, nodes), logW: make([]float64, nodes)}
	for k := range x {
		r.at[k] = math.Sqrt2 * x[k]
		r.logW[k] = math.Log(w[k]) - math.Log(math.SqrtPi) + x[k]*x[k]
		if nodes == 1 {
			r.at[k], r.logW[k] = 0, 0
		}
	}
	return r
}

// worker holds the working space of one goroutine.
type worker struct {
	l      *Likelihood
	family Family
	eta    []float64 // by row
	effectAt
	logs  []float64 // by node
	place []int32   // by parameter, its place among those that the group touches
	grads []float64 // by node and touched parameter
	hess  []float64 // by two touched parameters
	mean  []float64
	cell  Derivatives
}

// shard adds up a run of groups.
type shard struct {
	value float64
	grad  []float64
	hess  *mat.SymDense
}

func newWorker(l *Likelihood) *worker {
	most := 0
	for _, t := range l.touched {
		most = max(most, len(t))
	}
	p := l.model.Parameters
	return &worker{
		l: l, family: l.model.Family.Clone(), eta: make([]float64, len(l.model.Rows)),
		logs: make([]float64, len(l.rule.at)), place: make([]int32, p),
		grads: make([]float64, most*len(l.rule.at)), hess: make([]float64, most*most), mean: make([]float64, most),
	}
}

// set brings a worker to the parameters in force.
func (w *worker) set(x []float64) {
	m := w.l.model
	w.family.Set(x)
	for r := range m.Rows {
		eta := m.Rows[r].Offset
		for _, t := range m.Rows[r].Terms {
			eta += t.Value * x[t.Parameter]
		}
		w.eta[r] = eta
	}
	w.effectAt = m.Effect.at(x)
}

const (
	centreSteps = 30
	// longestMove bounds a step of the search for an integrand's top, in units of the effect.
	longestMove = 2.0
	smallMove   = 1e-8
	// roughMove is near enough for a quadrature of several nodes.
	roughMove = 0.05
)

// Recentre moves the quadrature to where each group's integrand lies at x: to its top, with the spread
// that its curvature there says.
func (l *Likelihood) Recentre(x []float64) {
	if l.model.Effect.none() {
		return
	}
	l.inShards(x, (*worker).centreAll)
}

func (w *worker) centreAll(_ *shard, from, to int) {
	for g := from; g < to; g++ {
		w.l.centre[g], w.l.spread[g] = w.top(g, w.l.centre[g], smallMove)
	}
}

// top is Newton's method on log phi(z) plus the group's log-likelihood; where that is not concave the
// normal's own curvature serves.
func (w *worker) top(g int, z, near float64) (centre, spread float64) {
	m := w.l.model
	sd := w.sd * m.Groups[g].Scale
	if !(math.Abs(z) < 50) {
		z = 0
	}
	bend := 1.0
	for range centreSteps {
		slope := -z
		bend = 1
		for c := m.begin(g); c < m.Groups[g].End; c++ {
			first, second := w.family.Slope(c, w.eta[m.Cells[c].Row]+sd*z)
			slope += sd * first
			bend -= sd * sd * second
		}
		bend = max(bend, 1)
		move := slope / bend
		z += max(-longestMove, min(longestMove, move))
		if math.Abs(move) < near/math.Sqrt(bend) {
			break
		}
	}
	return z, 1 / math.Sqrt(bend)
}

// Fresh is the log-likelihood at x, about centres found for it: wherever x is, a group of many observations
// has its integrand in a place of its own, far narrower than draws lie apart.
func (l *Likelihood) Fresh(x []float64) float64 {
	l.inShards(x, (*worker).freshAll)
	return l.sum()
}

func (w *worker) freshAll(s *shard, from, to int) {
	s.value = 0
	for g := from; g < to; g++ {
		if !w.l.model.Effect.none() {
			w.l.centre[g], w.l.spread[g] = w.top(g, w.l.home[g], roughMove)
		}
		s.value += w.group(g)
	}
}

// Value is the log-likelihood at x, about the centres as they stand.
func (l *Likelihood) Value(x []float64) float64 {
	l.inShards(x, (*worker).valueAll)
	return l.sum()
}

func (l *Likelihood) sum() float64 {
	sum := 0.0
	for i := range l.shards {
		sum += l.shards[i].value
	}
	return sum
}

func (w *worker) valueAll(s *shard, from, to int) {
	s.value = 0
	for g := from; g < to; g++ {
		s.value += w.group(g)
	}
}

// group leaves the logs of the weighted nodes and returns the log of their sum.
func (w *worker) group(g int) float64 {
	m, r := w.l.model, &w.l.rule
	sd, centre, spread := w.sd*m.Groups[g].Scale, w.l.centre[g], w.l.spread[g]
	if m.Effect.none() {
		centre = 0
	}
	largest := math.Inf(-1)
	for k, at := range r.at {
		z := centre + spread*at
		sum := r.logW[k] - z*z/2
		for c := m.begin(g); c < m.Groups[g].End; c++ {
			sum += w.family.LogDensity(c, w.eta[m.Cells[c].Row]+sd*z)
		}
		w.logs[k] = sum
		largest = max(largest, sum)
	}
	if len(w.logs) == 1 {
		return largest + math.Log(spread)
	}
	if math.IsInf(largest, -1) || math.IsNaN(largest) {
		return math.Inf(-1)
	}
	sum := 0.0
	for k, v := range w.logs {
		w.logs[k] = math.Exp(v - largest)
		sum += w.logs[k]
	}
	for k := range w.logs {
		w.logs[k] /= sum
	}
	return largest + math.Log(sum) + math.Log(spread)
}

// inShards runs do over the groups of every shard; what each adds up is kept apart, so that the whole
// does not depend on the number of workers.
func (l *Likelihood) inShards(x []float64, do func(w *worker, s *shard, from, to int)) {
	if len(l.workers) == 1 {
		l.workers[0].run(x, 0, 1, do)
		return
	}
	var running sync.WaitGroup
	for i, w := range l.workers {
		running.Go(func() { w.run(x, i, len(l.workers), do) })
	}
	running.Wait()
}

func (w *worker) run(x []float64, first, step int, do func(w *worker, s *shard, from, to int)) {
	w.set(x)
	groups := len(w.l.model.Groups)
	for i := first; i < shards; i += step {
		do(w, &w.l.shards[i], groups*i/shards, groups*(i+1)/shards)
	}
}
