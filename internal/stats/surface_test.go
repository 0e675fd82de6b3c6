package stats

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

const seed = 20260407

// surfaces are the densities whose derivatives are written by hand, with priors so that those are
// checked too.
func surfaces(t testing.TB) map[string]surface {
	priors := func(n int) []Normal {
		p := make([]Normal, n)
		for i := range p {
			p[i] = Normal{Mean: 0.3, SD: 1 + float64(i)/4}
		}
		return p
	}
	bb := prats(t)
	bb.Prior = priors(3)
	betaBin, err := bb.surface()
	if err != nil {
		t.Fatal(err)
	}
	return map[string]surface{"beta-binomial": betaBin}
}

// Central differences of step h err by order h^2 times the third derivative: 1e-5 leaves 1e-6 of the
// largest entry.
func TestDerivativesAgreeWithCentralDifferences(t *testing.T) {
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 0))
	for name, s := range surfaces(t) {
		p := len(s.scales())
		for range 20 {
			x := make([]float64, p)
			for j := range x {
				x[j] = source.NormFloat64() * 0.7
			}
			checkDerivatives(t, name, s, x)
		}
	}
}

// checkDerivatives at x, against differences of the value and of the gradient.
func checkDerivatives(t *testing.T, name string, s surface, x []float64) {
	t.Helper()
	const h = 1e-5
	p := len(x)
	grad, hess := make([]float64, p), mat.NewSymDense(p, nil)
	s.at(x, grad, hess)
	size := 1 + mat.Norm(hess, 2)
	up, down, scratch := make([]float64, p), make([]float64, p), mat.NewSymDense(p, nil)
	for j := range x {
		at := x[j]
		x[j] = at + h
		above := s.at(x, up, scratch)
		x[j] = at - h
		below := s.at(x, down, scratch)
		x[j] = at
		near(t, name+" gradient", grad[j], (above-below)/(2*h), 1e-6*size)
		for k := range x {
			near(t, name+" Hessian", hess.At(j, k), (up[k]-down[k])/(2*h), 1e-6*size)
		}
	}
}

func TestLikelihoodLoopsAllocateNothing(t *testing.T) {
	for name, s := range surfaces(t) {
		p := len(s.scales())
		x, grad, hess := make([]float64, p), make([]float64, p), mat.NewSymDense(p, nil)
		if n := testing.AllocsPerRun(20, func() { s.at(x, grad, hess) }); n != 0 {
			t.Errorf("%s: %g allocations a call", name, n)
		}
	}
	var counts Tally
	_ = counts.Add(12)
	g := newGrid(&counts, Normal{2, 1}, Normal{1, 1})
	if n := testing.AllocsPerRun(5, g.fill); n != 0 {
		t.Errorf("posterior grid: %g allocations a filling", n)
	}
}

func BenchmarkNegBinPosteriorOf400Counts(b *testing.B) {
	counts := negBinCounts(rand.New(rand.NewPCG(seed, 0)), 400, 20, 3)
	for b.Loop() {
		p := mustPosterior(b, counts, Normal{2, 1}, Normal{0.7, 1.5})
		p.Mean(0.5)
		p.NewCount(0.95)
	}
}
