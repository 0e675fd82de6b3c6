package stats

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
)

// Basis says how draws were made.
type Basis string

const (
	// BasisWeighted draws come from a t about the mode and are weighted to the posterior.
	BasisWeighted Basis = "weighted"
	// BasisSampled draws are a chain's: the weights were not to be trusted.
	BasisSampled Basis = "sampled"
	// BasisLaplace draws come from the normal at the mode, of so many data or parameters that no weighing is
	// afforded.
	BasisLaplace Basis = "laplace"
)

// Draws are points of a posterior: the parameters and then the scales' logarithms.
type Draws struct {
	Points [][]float64
	Weight []float64 // sums to 1
	Basis  Basis
	// KHat is the Pareto shape of the weights; Effective the number of independent draws that all are worth.
	KHat, Effective float64
	// Mode is the parameters' mode at the mode of the scales, and the scales' logarithms there.
	Mode []float64
}

const (
	proposalDF   = 5
	worstKHat    = 0.7
	wantedWorth  = 1000 // at 400 the ends of intervals were seen to lie a little inside
	leastWorth   = 400
	firstDraws   = 1000
	moreDraws    = 1000
	mostRefits   = 8
	laplaceDraws = 1000
	// mostWork is how many cells times nodes times draws are evaluated at most for weights. Above, the data are
	// so many that the posterior is all but normal, or the parameters, for which nothing better is at hand.
	mostWork = 1e8
	// cubeWork is what a factorisation costs by the cube of the dimensions, in evaluations.
	cubeWork = 1.0 / 50
)

// Posterior draws from the posterior of a model: from a t with 5 degrees of freedom at its mode, weighted;
// where the weights' shape is above 0.7 or they are worth fewer than 1000 draws, from more such t with the mean
// and spread that the weights say, and where those are not worth 400 either, by slice sampling. The same
// input and seed give the same draws. An error means that no mode was found.
func (m *Mixed) Posterior(h Hierarchy, extra []Extra, start []float64, seed uint64) (Draws, error) {
	if err := h.check(m.Parameters); err != nil {
		return Draws{}, fmt.Errorf("draw from a posterior: %w", err)
	}
	l, err := NewLikelihood(m, runtime.GOMAXPROCS(0))
	if err != nil {
		return Draws{}, fmt.Errorf("draw from a posterior: %w", err)
	}
	t := &target{likelihood: l, extra: extra, h: h}
	q, err := t.propose(start)
	if err != nil {
		return Draws{}, fmt.Errorf("draw from a posterior: %w", err)
	}
	s := &sampler{t: t, q: q, source: rand.New(rand.NewPCG(seed, 0)), wanted: cmp.Or(m.Worth, wantedWorth), mostWork: cmp.Or(m.Work, mostWork)}
	s.dimensions = m.Parameters + len(h.LogSD)
	mode := append(append([]float64(nil), q.g.x...), q.psi...)
	work := float64(len(m.Cells)*len(l.rule.at)) + cubeWork*float64(s.dimensions*s.dimensions*s.dimensions)
	if work*2*firstDraws > s.mostWork { // no room to refit
		return s.laplace(mode)
	}
	return s.weighted(mode, work)
}

// sampler draws about a proposal.
type sampler struct {
	t          *target
	q          *proposal
	source     *rand.Rand
	dimensions int
	wanted     float64 // worth of the draws
	mostWork   float64
}

// laplace draws from the normal itself. Scales so far out that the parameters have no density there are left
// out, and Effective is then less.
func (s *sampler) laplace(mode []float64) (Draws, error) {
	d := Draws{Basis: BasisLaplace, Mode: mode}
	for range laplaceDraws {
		w := make([]float64, s.dimensions)
		for k := range w {
			w[k] = s.source.NormFloat64()
		}
		point := make([]float64, s.dimensions)
		if math.IsInf(s.q.place(point, w), 1) {
			continue
		}
		d.Points = append(d.Points, point)
	}
	if len(d.Points) == 0 {
		return Draws{}, fmt.Errorf("draw from a posterior: no draw about the mode has a density")
	}
	d.Weight, d.Effective = equalWeights(len(d.Points)), float64(len(d.Points))
	return d, nil
}

func equalWeights(n int) []float64 {
	weights := make([]float64, n)
	for i := range weights {
		weights[i] = 1 / float64(n)
	}
	return weights
}

// weighted refits the proposal until the weights are worth enough. All draws count at every time, as draws of
// the mixture of all proposals so far (the balance heuristic: Veach and Guibas 1995, SIGGRAPH, 419-428).
func (s *sampler) weighted(mode []float64, work float64) (Draws, error) {
	d := Draws{Basis: BasisWeighted, Mode: mode}
	mix := mixture{standardT(s.dimensions)}
	mix[0].draws = s.round(firstDraws)
	var standard [][]float64
	var density []float64
	for {
		newest := &mix[len(mix)-1]
		more := make([][]float64, newest.draws)
		for i := range more {
			more[i] = newest.draw(s.source)
		}
		points, logDensity := s.evaluate(more)
		standard, density, d.Points = append(standard, more...), append(density, logDensity...), append(d.Points, points...)
		ratios := make([]float64, len(standard))
		for i, w := range standard {
			ratios[i] = density[i] - mix.logDensity(w)
		}
		d.Weight, d.KHat = smoothWeights(ratios)
		d.Effective = effective(d.Weight)
		sound := d.KHat <= worstKHat
		spent := work*float64(len(standard)+moreDraws) > s.mostWork
		last := spent || len(mix) > mostRefits
		switch {
		case math.IsNaN(d.Effective):
			return Draws{}, fmt.Errorf("draw from a posterior: no draw about the mode has a density")
		case sound && (d.Effective >= s.wanted || last && d.Effective >= leastWorth):
			return d, nil
		case sound && spent:
			return d, nil // Effective says that they are few
		case last:
			return s.sliced(d, standard, work), nil
		}
		next, err := fitT(standard, d.Weight)
		if err != nil {
			return s.sliced(d, standard, work), nil
		}
		next.draws = s.round(moreDraws)
		mix = append(mix, next)
	}
}

// round is how many draws are taken at once: fewer where they have to be worth less.
func (s *sampler) round(usual int) int {
	return int(min(float64(usual), s.wanted*float64(usual)/wantedWorth))
}

// evaluate places standard draws and finds the log density of the posterior at each, by the standard draw.
func (s *sampler) evaluate(standard [][]float64) (points [][]float64, logDensity []float64) {
	points, logDensity = make([][]float64, len(standard)), make([]float64, len(standard))
	workers := runtime.GOMAXPROCS(0)
	var running sync.WaitGroup
	for w := range workers {
		running.Go(func() {
			e := s.evaluator()
			for i := w; i < len(standard); i += workers {
				points[i], logDensity[i] = e.at(standard[i])
			}
		})
	}
	running.Wait()
	return points, logDensity
}

// evaluator is what one goroutine needs.
type evaluator struct {
	t          *target
	q          *proposal
	likelihood *Likelihood
}

func (s *sampler) evaluator() *evaluator {
	return &evaluator{t: s.t, q: s.q.beside(), likelihood: s.t.likelihood.Beside()}
}

func (e *evaluator) at(w []float64) (point []float64, logDensity float64) {
	point = make([]float64, len(w))
	stretch := e.q.place(point, w)
	if math.IsInf(stretch, 1) {
		return point, math.Inf(-1)
	}
	if density := e.t.logDensity(e.likelihood, point) + stretch; !math.IsNaN(density) {
		return point, density
	}
	return point, math.Inf(-1)
}

// Quantile of a function of the draws, by their weights; values are by draw.
func (d Draws) Quantile(values []float64, p float64) float64 {
	return WeightedQuantile(values, d.Weight, p)
}

// Thin keeps about n points, taken at even steps of the running weight, each of equal weight; all of them
// where there are no more.
func (d Draws) Thin(n int) Draws {
	if len(d.Points) <= n {
		return d
	}
	thin := d
	thin.Points = make([][]float64, 0, n)
	sum, next := 0.0, 0.5/float64(n)
	for i, w := range d.Weight {
		for sum += w; len(thin.Points) < n && next < sum; next += 1 / float64(n) {
			thin.Points = append(thin.Points, d.Points[i])
		}
	}
	thin.Weight = equalWeights(len(thin.Points))
	return thin
}

// Effects draws every group's effect, in its standard deviations, given each of some points of d; of draws by
// Laplace's method by that method again. The same seed gives the same draws.
func (m *Mixed) Effects(d Draws, seed uint64) [][]float64 {
	points := d.Points
	effects := make([][]float64, len(points))
	workers := runtime.GOMAXPROCS(0)
	var running sync.WaitGroup
	for first := range workers {
		running.Go(func() {
			l, err := NewLikelihood(m, 1)
			if err != nil {
				panic(err) // the points were drawn from this very model
			}
			for i := first; i < len(points); i += workers {
				effects[i] = l.effects(points[i][:m.Parameters], d.Basis, rand.New(rand.NewPCG(seed, uint64(i))))
			}
		})
	}
	running.Wait()
	return effects
}

func (l *Likelihood) effects(x []float64, basis Basis, source *rand.Rand) []float64 {
	clear(l.centre) // not from the draw before: which that is hangs on the number of goroutines
	l.Recentre(x)
	list := make([]float64, len(l.model.Groups))
	for g := range list {
		if basis == BasisLaplace {
			list[g] = l.centre[g] + l.spread[g]*source.NormFloat64()
			continue
		}
		list[g] = l.workers[0].effect(g, source.Float64())
	}
	return list
}

// The grid on which an effect's density is laid to draw from: straight lines between points 0.4 of its
// spread apart widen it by a hundredth.
const (
	effectPoints = 25
	effectStep   = 0.4
)

// effect inverts the running integral of a group's density, straight between points.
func (w *worker) effect(g int, p float64) float64 {
	m := w.l.model
	sd := w.sd * m.Groups[g].Scale
	var density [effectPoints]float64
	largest := math.Inf(-1)
	at := func(k int) float64 {
		return w.l.centre[g] + w.l.spread[g]*effectStep*float64(k-effectPoints/2)
	}
	for k := range density {
		z := at(k)
		density[k] = -z * z / 2
	}
	step := sd * w.l.spread[g] * effectStep
	counts, areCounts := w.family.(*Counts)
	for c := m.begin(g); c < m.Groups[g].End; c++ {
		eta := w.eta[m.Cells[c].Row]
		if areCounts {
			counts.addLogDensities(c, eta+sd*at(0), step, density[:])
			continue
		}
		for k := range density {
			density[k] += w.family.LogDensity(c, eta+sd*at(k))
		}
	}
	for _, one := range density {
		largest = max(largest, one)
	}
	all := 0.0
	for k := range density {
		density[k] = math.Exp(density[k] - largest)
		if k > 0 {
			all += (density[k-1] + density[k]) / 2
		}
	}
	left := p * all
	for k := 1; k < effectPoints; k++ {
		piece := (density[k-1] + density[k]) / 2
		if left <= piece {
			return at(k-1) + (at(k)-at(k-1))*partOfTrapezoid(density[k-1], density[k], left)
		}
		left -= piece
	}
	return at(effectPoints - 1)
}
