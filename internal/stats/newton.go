package stats

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

const (
	newtonSteps   = 300
	newtonHalving = 60
	// longestStep bounds how far one step may move a parameter: all are on a log or logit scale.
	longestStep = 3.0
	// smallDecrement ends the search: the gain still promised, g'(-H)^-1 g / 2, in log-likelihood
	// (Boyd and Vandenberghe 2004, Convex Optimization, section 9.5.1).
	smallDecrement = 1e-10
	// nearDecrement is enough where a mode is only the middle of what is drawn. Where a quadrature is a little
	// off, its derivatives are not quite those of its value, and a search may stop at stuckDecrement.
	nearDecrement, stuckDecrement = 1e-4, 0.05
	// polishSteps full steps follow where the curvature is sound; convergence being quadratic, they
	// leave only rounding.
	polishSteps = 2
)

// surface is a log density that is twice differentiable.
type surface interface {
	// at returns the value at x and overwrites grad and the upper triangle of hess.
	at(x, grad []float64, hess *mat.SymDense) float64
	// scales are the sizes in which a unit change of each parameter is felt.
	scales() []float64
}

// peak is where the search ended.
type peak struct {
	x         []float64
	value     float64
	curvature *mat.SymDense // minus the Hessian
	converged bool
	// flat lists the parameters along which the surface has no finite maximum of its own.
	flat []int
}

// climber holds the working space of one search.
type climber struct {
	on             surface
	x, grad, trial []float64
	step           *mat.VecDense
	hess, damped   *mat.SymDense
	chol           mat.Cholesky
	value, ridge   float64
	decrement      float64
}

// climb finds a local maximum by Newton's method, damped where the surface is not concave
// (Nocedal and Wright 2006, Numerical Optimization, section 3.4: add a multiple of the identity).
func climb(on surface, start []float64) peak {
	c := newClimber(on, start)
	converged := c.climb(smallDecrement, newtonSteps)
	flat, concave := c.flatDirections()
	if converged && len(flat) == 0 {
		c.polish()
	}
	return peak{x: c.x, value: c.value, curvature: c.negated(), converged: converged && concave, flat: flat}
}

// climbNear goes no further than to where a step promises little, no gain beyond that being lost, and takes so
// many steps at most; false where it stopped before.
func climbNear(on surface, start []float64, steps int) (at *climber, near bool) {
	c := newClimber(on, start)
	return c, c.climb(nearDecrement, steps) || c.decrement < stuckDecrement
}

func newClimber(on surface, start []float64) *climber {
	p := len(start)
	return &climber{
		on: on, x: append([]float64(nil), start...), grad: make([]float64, p), trial: make([]float64, p),
		step: mat.NewVecDense(p, nil), hess: mat.NewSymDense(p, nil), damped: mat.NewSymDense(p, nil),
	}
}

// climb goes on until a step promises less than small, for so many steps at most.
func (c *climber) climb(small float64, steps int) bool {
	c.value = c.on.at(c.x, c.grad, c.hess)
	for range steps {
		if c.decrement = c.newtonStep(); c.decrement < small {
			return true
		}
		if !c.advance(c.decrement) {
			c.value = c.on.at(c.x, c.grad, c.hess) // what was tried last stands in the derivatives
			return false
		}
	}
	return false
}

// newtonStep solves (-H + ridge I) step = gradient with the least ridge that makes it definite, and
// returns the decrement.
func (c *climber) newtonStep() float64 {
	p := len(c.x)
	largest := 1e-300
	for i := range p {
		largest = max(largest, math.Abs(c.hess.At(i, i)))
	}
	if math.IsNaN(largest) || math.IsInf(largest, 1) {
		c.step.Zero()
		return math.Inf(1) // no step leads on from here
	}
	for c.ridge = 0; ; c.ridge = max(10*c.ridge, 1e-12*largest) {
		c.damped.ScaleSym(-1, c.hess)
		for i := range p {
			c.damped.SetSym(i, i, c.damped.At(i, i)+c.ridge)
		}
		if c.chol.Factorize(c.damped) {
			break
		}
	}
	// A poor condition is no error here: the line search judges the step.
	_ = c.chol.SolveVecTo(c.step, mat.NewVecDense(p, c.grad))
	return floats.Dot(c.grad, c.step.RawVector().Data)
}

// advance moves along the step as far as the value rises (Armijo's rule), and tells whether it moved.
func (c *climber) advance(decrement float64) bool {
	step := c.step.RawVector().Data
	t := min(1, longestStep/floats.Norm(step, math.Inf(1)))
	rounding := 1e-14 * (1 + math.Abs(c.value))
	for range newtonHalving {
		for i := range c.trial {
			c.trial[i] = c.x[i] + t*step[i]
		}
		if v := c.on.at(c.trial, c.grad, c.hess); v >= c.value+1e-4*t*decrement-rounding {
			copy(c.x, c.trial)
			c.value = v
			return true
		}
		t /= 2
	}
	return false
}

// polish needs no line search: the promised gain is already below what it could see.
func (c *climber) polish() {
	for range polishSteps {
		c.newtonStep()
		floats.Add(c.x, c.step.RawVector().Data)
		c.value = c.on.at(c.x, c.grad, c.hess)
	}
}

func (c *climber) negated() *mat.SymDense {
	n := mat.NewSymDense(len(c.x), nil)
	n.ScaleSym(-1, c.hess)
	return n
}

// differences overwrites grad and hess with central differences of steps h, and returns the value at x.
func differences(value func(x []float64) float64, x, grad []float64, hess *mat.SymDense, h float64) float64 {
	at := append([]float64(nil), x...)
	around := func(i, j int, a, b float64) float64 {
		at[i] += a
		at[j] += b
		v := value(at)
		copy(at, x)
		return v
	}
	middle := value(at)
	for i := range x {
		up, down := around(i, i, h, 0), around(i, i, -h, 0)
		grad[i] = (up - down) / (2 * h)
		hess.SetSym(i, i, (up-2*middle+down)/(h*h))
		for j := i + 1; j < len(x); j++ {
			hess.SetSym(i, j, (around(i, j, h, h)-around(i, j, h, -h)-around(i, j, -h, h)+around(i, j, -h, -h))/(4*h*h))
		}
	}
	return middle
}
