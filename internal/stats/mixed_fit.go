package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// MixedFit is the mode of a Mixed.
type MixedFit struct {
	X []float64
	// Cov is the inverse of the observed information; +Inf on the diagonal where there is no maximum.
	Cov *mat.SymDense
	// LogLik is the log-likelihood at X, without the prior.
	LogLik    float64
	Converged bool
	// NoMaximum lists the parameters without a finite maximum: their values are where the search stopped.
	NoMaximum []int
}

// Fit finds the mode under independent normal priors, nil for plain maximum likelihood, from a start. It
// needs enough nodes (7 or more): it takes the quadrature for exact.
func (m *Mixed) Fit(prior []Normal, start []float64) (MixedFit, error) {
	prior, err := priorsFor(prior, m.Parameters)
	if err != nil {
		return MixedFit{}, fmt.Errorf("fit a mixed model: %w", err)
	}
	if len(start) != m.Parameters {
		return MixedFit{}, fmt.Errorf("fit a mixed model: %d values to start from for %d parameters", len(start), m.Parameters)
	}
	l, err := NewLikelihood(m, shards)
	if err != nil {
		return MixedFit{}, err
	}
	s := &mixedSurface{likelihood: l, prior: prior}
	top := s.climb(start)
	return MixedFit{
		X: top.x, Cov: top.covariance(), LogLik: top.value - s.priorAt(top.x),
		Converged: top.converged, NoMaximum: top.flat,
	}, nil
}

// mixedSurface is the log-likelihood of a Mixed plus independent normal log priors.
type mixedSurface struct {
	likelihood *Likelihood
	prior      []Normal
	extra      []Extra
}

// Extra is a smooth piece of a log-likelihood that belongs to no group.
type Extra interface {
	Value(x []float64) float64
	// AddDerivatives adds to grad and to the upper triangle of hess, and returns the value.
	AddDerivatives(x, grad []float64, hess *mat.SymDense) float64
}

const (
	centrings = 30
	// settled ends the climbing between centrings: no parameter moves that far any more.
	settled, nearlySettled = 1e-9, 1e-3
)

// climb climbs with the quadrature where it stands, so that derivatives are those of the value to the last
// digit, centres it anew and climbs again, until neither moves the other.
func (s *mixedSurface) climb(start []float64) peak {
	x := start
	for range centrings {
		s.likelihood.Recentre(x)
		next, _ := climbNear(s, x, newtonSteps)
		moved := farthest(x, next.x)
		if x = next.x; moved < nearlySettled {
			break
		}
	}
	var top peak
	for range centrings {
		s.likelihood.Recentre(x)
		top = climb(s, x)
		moved := farthest(x, top.x)
		if x = top.x; moved < settled || len(top.flat) > 0 {
			break
		}
	}
	return top
}

// climbNear is climb for whom a mode is only the middle of what is drawn, with so many steps at most between
// centrings; false where it was not come near.
func (s *mixedSurface) climbNear(start []float64, steps int) (at *climber, near bool) {
	x := start
	for range centrings {
		s.likelihood.Recentre(x)
		at, near = climbNear(s, x, steps)
		moved := farthest(x, at.x)
		if x = at.x; moved < nearlySettled {
			break
		}
	}
	return at, near
}

// withoutPrior takes the prior off derivatives at x.
func (s *mixedSurface) withoutPrior(x, grad []float64, hess *mat.SymDense) {
	for j, p := range s.prior {
		grad[j] -= p.slope(x[j])
		symAdd(hess, j, j, 1/(p.SD*p.SD))
	}
}

func farthest(a, b []float64) float64 {
	most := 0.0
	for i := range a {
		most = max(most, math.Abs(a[i]-b[i]))
	}
	return most
}

func (s *mixedSurface) at(x, grad []float64, hess *mat.SymDense) float64 {
	value := s.likelihood.Derivatives(x, grad, hess)
	for _, e := range s.extra {
		value += e.AddDerivatives(x, grad, hess)
	}
	for j, p := range s.prior {
		value += p.logDensity(x[j])
		grad[j] += p.slope(x[j])
		symAdd(hess, j, j, -1/(p.SD*p.SD))
	}
	if math.IsNaN(value) {
		return math.Inf(-1)
	}
	return value
}

func (s *mixedSurface) priorAt(x []float64) float64 {
	sum := 0.0
	for j, p := range s.prior {
		sum += p.logDensity(x[j])
	}
	return sum
}

func (s *mixedSurface) scales() []float64 {
	m := s.likelihood.model
	scale := make([]float64, m.Parameters)
	for _, row := range m.Rows {
		for _, t := range row.Terms {
			scale[t.Parameter] = max(scale[t.Parameter], math.Abs(t.Value))
		}
	}
	for j, v := range scale {
		if v == 0 {
			scale[j] = 1
		}
	}
	return scale
}
