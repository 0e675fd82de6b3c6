package drift

import (
	"fmt"
	"math"
)

// solution is what the readings say of the effects at one point of the covariances.
type solution struct {
	*spreads
	effects    []float64
	covariance dense // of the effects, given the readings
	// logLikelihood is restricted: the plants' levels are integrated out with a flat prior, the effects with
	// theirs. Its constant is left out.
	logLikelihood float64
	// kept is what plants say at this point, while there is room for it.
	kept map[*block]*weighed
}

// mostKept is how many numbers are kept of what plants say: 32 MB of them.
const mostKept = 4_000_000

// solve finds the effects from the plants given.
func (l *layout) solve(blocks []*block, s *spreads, w *workspace) (*solution, error) {
	sol := &solution{spreads: s, effects: make([]float64, l.columns)}
	normal := &sol.covariance
	normal.shape(l.columns, l.columns)
	if sizeOf(blocks) <= mostKept {
		sol.kept = make(map[*block]*weighed, len(blocks))
	}
	value := 0.0
	for _, b := range blocks {
		into := &w.room
		if sol.kept != nil {
			into = &weighed{}
			sol.kept[b] = into
		}
		if err := w.weigh(b, s, into); err != nil {
			return nil, err
		}
		w.normalEquations(b)
		value += w.logDet + w.quadratic
		for i, column := range b.columns {
			sol.effects[column] += w.part[i]
			to, from := normal.row(column), w.s.row(i)
			for j, other := range b.columns {
				to[other] += from[j]
			}
		}
	}
	value += l.addPriors(normal, s)
	logDet, err := normal.invert()
	if err != nil {
		return nil, fmt.Errorf("effects of sessions, cameras and seasons: %w", err)
	}
	value += logDet
	right := append([]float64(nil), sol.effects...)
	for i := range sol.effects {
		sol.effects[i] = 0
		for j, v := range sol.covariance.row(i) {
			sol.effects[i] += v * right[j]
		}
		value -= sol.effects[i] * right[i]
	}
	sol.logLikelihood = -value / 2
	if math.IsNaN(sol.logLikelihood) {
		return nil, fmt.Errorf("the likelihood is not a number")
	}
	return sol, nil
}

// sizeOf is how many numbers it takes to keep what plants say.
func sizeOf(blocks []*block) int {
	n := 0
	for _, b := range blocks {
		rows := 3 * len(b.readings)
		n += rows * (rows + len(b.columns) + 5)
	}
	return n
}

// addPriors adds the effects' prior precisions, and returns the logarithm of their prior variances.
func (l *layout) addPriors(normal *dense, s *spreads) (logDet float64) {
	for _, e := range l.list {
		for k := range e.along {
			variance := 0.0
			if e.sd == nil {
				variance = s.of[atSession][k][k]
			} else {
				variance = e.sd[k] * e.sd[k]
			}
			normal.row(e.at + k)[e.at+k] += 1 / variance
			logDet += math.Log(variance)
		}
	}
	return logDet
}
