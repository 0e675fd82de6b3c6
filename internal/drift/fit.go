package drift

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

var errNotPositive = errors.New("the information on the variances of readings is not positive definite")

// fitted are covariances at their most likely point, and how well that is known.
type fitted struct {
	*solution
	precision *mat.SymDense // of the parameters, about the mode
	value     float64       // of the log posterior
}

const (
	mostSteps    = 200 // a dozen as a rule; odd stands have taken more than 60
	mostHalvings = 8
	longestStep  = 1.0  // of a logarithm of a standard deviation at once
	smallStep    = 2e-3 // that is a fifth of a percent of a standard deviation
)

// fit finds the mode of the covariances' posterior by Newton's method with the average information (Gilmour,
// Thompson and Cullis 1995, Biometrics 51:1440-1450; from memory): the mean of observed and expected information, which
// needs no traces. The prior's precision is added to it, and what logarithms bend (bends).
func (l *layout) fit(blocks []*block, prior []normal, start []float64, tolerance float64, w *workspace) (*fitted, error) {
	at, err := l.solve(blocks, spreadsAt(start), w)
	if err != nil {
		return nil, err
	}
	f := &fitted{solution: at, value: at.logLikelihood + logPrior(prior, start)}
	var former []float64
	for range mostSteps {
		slope, information := l.score(blocks, f.solution, w)
		for i, bend := range w.bends(slope) {
			information.SetSym(i, i, information.At(i, i)+bend)
		}
		for i, p := range prior {
			information.SetSym(i, i, information.At(i, i)+p.precision)
			slope[i] += p.precision * (p.mean - f.theta[i])
		}
		f.precision = information
		step, err := newtonStep(slope, information)
		if err != nil {
			return nil, err
		}
		shorten(step, former)
		former = step
		longest, err := f.climb(l, blocks, prior, step, w)
		if err != nil {
			return nil, err
		}
		if longest < tolerance {
			return f, nil
		}
	}
	return nil, fmt.Errorf("the variances of readings did not settle in %d steps", mostSteps)
}

// bends are what the average information lacks of parameters that stand in logarithms, where the readings would have a
// standard deviation smaller: of a variance exp(2ax), 2a times the slope by x, with a of 1, or of a plant's vivid.
func (w *workspace) bends(slope []float64) []float64 {
	list := make([]float64, parameterCount)
	for i := range list {
		if isLogSD(i) {
			list[i] = max(0, -2*slope[i])
		}
	}
	for k, bend := range w.growingBend {
		list[growingAt+k] = max(0, -bend)
	}
	return list
}

func logPrior(prior []normal, theta []float64) float64 {
	sum := 0.0
	for i, p := range prior {
		d := theta[i] - p.mean
		sum -= p.precision * d * d / 2
	}
	return sum
}

func newtonStep(slope []float64, information *mat.SymDense) ([]float64, error) {
	var root mat.Cholesky
	if !root.Factorize(information) {
		return nil, errNotPositive
	}
	step := mat.NewVecDense(len(slope), nil)
	if err := root.SolveVecTo(step, mat.NewVecDense(len(slope), slope)); err != nil {
		return nil, fmt.Errorf("step of the variances of readings: %w", err)
	}
	list := step.RawVector().Data
	longest := 0.0
	for _, d := range list {
		longest = max(longest, math.Abs(d))
	}
	if longest > longestStep {
		for i := range list {
			list[i] *= longestStep / longest
		}
	}
	return list, nil
}

// shorten makes a step shorter where it goes back on the former one: information that is too small by a factor makes
// steps too long by it, and they then swing about the mode, each by a fixed part of the one before.
func shorten(step, former []float64) {
	back, was, is := 0.0, 0.0, 0.0
	for i, v := range former {
		back += v * step[i]
		was += v * v
		is += step[i] * step[i]
	}
	if back >= 0 {
		return
	}
	part := 1 / (1 + math.Sqrt(min(1, is/was)))
	for i := range step {
		step[i] *= part
	}
}

// climb goes along a step as far as the posterior grows, and returns the longest move of a parameter.
func (f *fitted) climb(l *layout, blocks []*block, prior []normal, step []float64, w *workspace) (float64, error) {
	part := 1.0
	for range mostHalvings {
		next, longest := make([]float64, len(step)), 0.0
		for i, d := range step {
			next[i] = f.theta[i] + part*d
			longest = max(longest, math.Abs(part*d))
		}
		sol, err := l.solve(blocks, spreadsAt(next), w)
		if err != nil {
			return 0, err
		}
		if value := sol.logLikelihood + logPrior(prior, next); value >= f.value {
			f.solution, f.value = sol, value
			return longest, nil
		}
		part /= 2
	}
	return 0, nil // nothing along it is better: the mode to the last digits
}

// score is the slope of the restricted log likelihood, and the average information.
func (l *layout) score(blocks []*block, sol *solution, w *workspace) ([]float64, *mat.SymDense) {
	slope := make([]float64, parameterCount)
	w.growingBend = vector{}
	cross := make([]float64, parameterCount*parameterCount) // q'Wq
	var touched dense                                       // Z'Wq, by columns of the stand
	touched.shape(l.columns, parameterCount)
	for _, b := range blocks {
		if err := w.recall(b, sol); err != nil {
			panic(err) // it was weighed for the solution
		}
		w.unknownEffects(b, sol)
		w.scorePlant(b, sol, slope)
		w.wq.multiply(&w.w, false, &w.q)
		w.qwq.multiply(&w.q, true, &w.wq)
		for i, v := range w.qwq.v {
			cross[i] += v
		}
		w.zwq.multiply(&w.wz, true, &w.q)
		for i, column := range b.columns {
			to := touched.row(column)
			for a, v := range w.zwq.row(i) {
				to[a] += v
			}
		}
	}
	l.scoreSessions(sol, slope)
	var solved, off dense
	solved.multiply(&sol.covariance, false, &touched)
	off.multiply(&touched, true, &solved)
	information := mat.NewSymDense(parameterCount, nil)
	for i := range parameterCount {
		for j := i; j < parameterCount; j++ {
			information.SetSym(i, j, (cross[i*parameterCount+j]-off.row(i)[j])/2)
		}
	}
	return slope, information
}

// scorePlant adds a plant's part of the slope, and sets q, by reading and parameter: the covariance's
// derivative times P y.
func (w *workspace) scorePlant(b *block, sol *solution, slope []float64) {
	n := len(b.readings)
	w.q.shape(3*n, parameterCount)
	w.slopes = w.slopes[:0]
	for a, slope := range sol.slopes {
		w.slopes = append(w.slopes, b.frame.turned(sol.grown(sol.owner[a], slope, b.frame.vivid)))
	}
	var growing [3][componentCount]square
	for k := range growing {
		for _, c := range ofPlants {
			growing[k][c] = b.frame.turned(sol.growingSlope(c, k, b.frame.vivid))
		}
	}
	var traces [componentCount]square
	var byGrowing vector
	for i, o := range b.readings {
		var shared [componentCount]vector // P y summed over the readings that share with this one
		for j, other := range b.readings {
			r, p := vector(w.r[3*j:3*j+3]), w.p.at(i, j)
			for c := range componentCount {
				if share(c, o, other, i == j) {
					shared[c] = shared[c].plus(r)
					traces[c] = traces[c].plus(p)
				}
			}
		}
		for a, owner := range sol.owner {
			if owner == atSession {
				w.setSlope(i, a, sol.sessionSlope(a, o.session))
				continue
			}
			q := w.slopes[a].of(shared[owner])
			w.setSlope(i, a, q)
			slope[a] += q.dot(vector(w.r[3*i:3*i+3])) / 2
		}
		for k := range growing {
			var q vector
			for _, c := range ofPlants {
				q = q.plus(growing[k][c].of(shared[c]))
			}
			w.setSlope(i, growingAt+k, q)
			byGrowing[k] += q.dot(vector(w.r[3*i:3*i+3])) / 2
		}
	}
	for k := range growing {
		for _, c := range ofPlants {
			byGrowing[k] -= traces[c].product(growing[k][c]) / 2
		}
		slope[growingAt+k] += byGrowing[k]
	}
	w.growingBend = w.growingBend.plus(byGrowing.times(2 * b.frame.vivid))
	for a, owner := range sol.owner {
		if owner != atSession {
			slope[a] -= traces[owner].product(w.slopes[a]) / 2
		}
	}
}

// share tells whether two readings of a plant have a component together.
func share(c int, o, other observation, same bool) bool {
	switch {
	case c == atWobble && o.season == other.season,
		c == atPlantDay && o.day == other.day,
		c == atApparatus && o.condition == other.condition,
		c == atHead && same,
		c == atUnfit && same && !o.firm:
		return true
	}
	return false
}

func (w *workspace) setSlope(reading, parameter int, q vector) {
	for axis, v := range q {
		w.q.row(3*reading + axis)[parameter] = v
	}
}

// sessionSlope is the derivative of the readings' covariance by a parameter of sessions, times P y, for the
// readings of a session: with the effect u of it and the sessions' covariance S, dS S^-1 u.
func (s *solution) sessionSlope(parameter, session int) vector {
	if session < 0 {
		return vector{}
	}
	effect := vector(s.effects[session : session+3])
	return s.slopes[parameter].of(s.of[atSession].inverse().of(effect))
}

// scoreSessions adds the slopes by the sessions' parameters.
func (l *layout) scoreSessions(sol *solution, slope []float64) {
	inverse := sol.of[atSession].inverse()
	for _, e := range l.list {
		if e.kind != ofSession || e.sd != nil {
			continue
		}
		u := vector(sol.effects[e.at : e.at+3])
		known := outer(u, u).plus(sol.covariance.part(e.at)).plus(sol.of[atSession].scale(-1))
		for a, owner := range sol.owner {
			if owner == atSession {
				slope[a] += inverse.times(sol.slopes[a]).times(inverse).product(known) / 2
			}
		}
	}
}
