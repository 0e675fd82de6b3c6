package stats

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// mixedModels are small models of every family, with effects, pools, bounds and shared parameters.
func mixedModels() map[string]*Mixed {
	source := rand.New(rand.NewPCG(seed, 3))
	counts := &Counts{}
	ordered := &Ordered{First: 4, EffectSD: 3}
	lengths := &Intervals{LogSD: 3, Ratio: 4}
	counted, graded, measured := skeleton(7), skeleton(8), skeleton(6)
	for c := range counted.Cells {
		counts.Count = append(counts.Count, source.IntN(20))
		counts.AtLeast = append(counts.AtLeast, c%4 == 1)
		counts.LogSize = append(counts.LogSize, 4+c%2)
		ordered.Count = append(ordered.Count, []float64{float64(source.IntN(3)), 2, 0, float64(source.IntN(4))})
		pooled := 0.0
		if c%5 == 2 {
			pooled = 0.8
		}
		ordered.Pooled = append(ordered.Pooled, pooled)
		ordered.Spread = append(ordered.Spread, spreadIf(c%10 == 2, 7))
		lo := float64(source.IntN(3))
		lengths.Lo = append(lengths.Lo, []float64{lo, lo + 1, math.Inf(-1), lo})
		lengths.Hi = append(lengths.Hi, []float64{lo + 1, lo + 2, lo, lo})
		lengths.Count = append(lengths.Count, []float64{1, 2, 1, 0.5})
		lengths.Pooled = append(lengths.Pooled, pooled)
		lengths.Spread = append(lengths.Spread, spreadIf(c%10 == 2, 5))
	}
	counted.Family, graded.Family, measured.Family = counts, ordered, lengths
	measured.Effect = LogSDOfBoth(3, 4)
	both := skeleton(8)
	both.Effect = LogSDOfBoth(3, 7)
	both.Family = &Counts{Count: counts.Count, AtLeast: counts.AtLeast, LogSize: counts.LogSize, Effect: both.Effect}
	return map[string]*Mixed{"counts": counted, "grades": graded, "lengths": measured, "counts and sizes": both}
}

func spreadIf(pool bool, parameter int) int {
	if pool {
		return parameter
	}
	return -1
}

// skeleton has three coefficients, an effect whose log sd is parameter 3, and six groups.
func skeleton(parameters int) *Mixed {
	m := &Mixed{Parameters: parameters, Effect: LogSD(3), Nodes: 15}
	for r := range 4 {
		m.Rows = append(m.Rows, Row{Offset: 0.1 * float64(r), Terms: []Coef{{0, 1}, {1, float64(r % 2)}, {2, 0.3 * float64(r)}}})
	}
	for g := range 6 {
		for c := range 3 {
			m.Cells = append(m.Cells, Cell{Row: (g + c) % 4})
		}
		m.Groups = append(m.Groups, Group{End: len(m.Cells), Scale: 1 / float64(1+g%2)})
	}
	return m
}

// With the quadrature where it stands: the derivatives are those of the value as it is computed.
func TestMixedDerivativesAgreeWithCentralDifferences(t *testing.T) {
	t.Logf("seed %d", seed)
	for name, m := range mixedModels() {
		source := rand.New(rand.NewPCG(seed, 4))
		l, err := NewLikelihood(m, 2)
		if err != nil {
			t.Fatal(err)
		}
		s := &mixedSurface{likelihood: l, prior: make([]Normal, m.Parameters)}
		for j := range s.prior {
			s.prior[j] = Normal{0.2, 1.5}
		}
		p := m.Parameters
		for range 3 {
			x := make([]float64, p)
			for j := range x {
				x[j] = source.NormFloat64() * 0.5
			}
			l.Recentre(x)
			checkDerivatives(t, name, s, x)
		}
	}
}

func TestMixedValueIsTheIntegral(t *testing.T) {
	for name, m := range mixedModels() {
		x := []float64{0.3, -0.2, 0.1, -0.4, 0.2, 0.1, 0.4, -0.3}[:m.Parameters]
		l, err := NewLikelihood(m, 1)
		if err != nil {
			t.Fatal(err)
		}
		l.Recentre(x)
		near(t, name, l.Value(x), integralByTrapezoid(m, x), 1e-7)
	}
}

// integralByTrapezoid sums the definition itself, over 4,001 points from -10 to 10.
func integralByTrapezoid(m *Mixed, x []float64) float64 {
	f := m.Family.Clone()
	f.Set(x)
	sum := 0.0
	for g := range m.Groups {
		integral := 0.0
		for k := range 4001 {
			z := -10 + float64(k)/200
			value := -z*z/2 - math.Log(math.Sqrt(2*math.Pi))
			for c := m.begin(g); c < m.Groups[g].End; c++ {
				row := m.Rows[m.Cells[c].Row]
				eta := row.Offset + m.Effect.SD(x)*m.Groups[g].Scale*z
				for _, term := range row.Terms {
					eta += term.Value * x[term.Parameter]
				}
				value += f.LogDensity(c, eta)
			}
			integral += math.Exp(value) / 200
		}
		sum += math.Log(integral)
	}
	return sum
}

func TestMixedIsTheSameOnAnyNumberOfWorkers(t *testing.T) {
	for name, m := range mixedModels() {
		x := []float64{0.3, -0.2, 0.1, -0.4, 0.2, 0.1, 0.4, -0.3}[:m.Parameters]
		var first []float64
		for _, workers := range []int{1, 2, 5} {
			l, err := NewLikelihood(m, workers)
			if err != nil {
				t.Fatal(err)
			}
			l.Recentre(x)
			grad, hess := make([]float64, m.Parameters), mat.NewSymDense(m.Parameters, nil)
			got := append(grad, l.Derivatives(x, grad, hess))
			got = append(got, hess.RawSymmetric().Data...)
			if first == nil {
				first = got
			}
			for i, v := range got {
				if v != first[i] {
					t.Fatalf("%s: %d workers give %v, one %v", name, workers, v, first[i])
				}
			}
		}
	}
}

func TestMixedLoopsAllocateNothing(t *testing.T) {
	for name, m := range mixedModels() {
		l, err := NewLikelihood(m, 1)
		if err != nil {
			t.Fatal(err)
		}
		x, grad, hess := make([]float64, m.Parameters), make([]float64, m.Parameters), mat.NewSymDense(m.Parameters, nil)
		if n := testing.AllocsPerRun(20, func() {
			l.Recentre(x)
			l.Value(x)
			l.Derivatives(x, grad, hess)
		}); n != 0 {
			t.Errorf("%s: %g allocations a call", name, n)
		}
	}
}

// A count known from below only has the probabilities of all counts from it on.
func TestALowerBoundHasTheProbabilityOfAllAbove(t *testing.T) {
	const all = 5000
	x := []float64{math.Log(2.5)}
	for _, y := range []int{0, 1, 7, 60} {
		for _, eta := range []float64{-8, 0, 2, 6} {
			exact := &Counts{LogSize: make([]int, all)}
			for k := range all {
				exact.Count = append(exact.Count, k)
			}
			exact.Set(x)
			sum := 0.0
			for k := y; k < all; k++ {
				sum += math.Exp(exact.LogDensity(k, eta))
			}
			bound := &Counts{Count: []int{y}, AtLeast: []bool{true}, LogSize: []int{0}}
			bound.Set(x)
			near(t, "log P(Y >= y)", bound.LogDensity(0, eta), math.Log(sum), 1e-6*(1+math.Abs(math.Log(sum))))
		}
	}
}

func TestTheSlopeOfAPoolIsTheFirstOfItsDerivatives(t *testing.T) {
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 9))
	f := mixedModels()["grades"].Family
	for range 50 {
		x := make([]float64, 8)
		for j := range x {
			x[j] = source.NormFloat64()
		}
		f.Set(x)
		for i := range 18 {
			eta := 3 * source.NormFloat64()
			var d Derivatives
			f.Derivatives(i, eta, &d)
			first, second := f.Slope(i, eta)
			if math.Abs(first-d.Grad[0]) > 1e-10 || math.Abs(second-d.Hess[0][0]) > 1e-10 {
				t.Errorf("observation %d at %g: slopes %g and %g, want %g and %g", i, eta, first, second, d.Grad[0], d.Hess[0][0])
			}
		}
	}
}

// Counts that are nearly all 0 and else huge have tails of millions of terms, which no draw far from the mode
// may be made to sum.
func TestALowerBoundHasItsDerivativesHoweverLongTheTail(t *testing.T) {
	for _, c := range []struct {
		y            int
		eta, logSize float64
	}{{10, 13.08, math.Log(0.0015)}, {100, math.Log(5), math.Log(4)}, {80, math.Log(5), math.Log(4)}, {1, 30, -14}, {40, 6, -3}, {7, 1, 2}, {30, -1, 1}} {
		bound := &Counts{Count: []int{c.y}, AtLeast: []bool{true}, LogSize: []int{0}}
		value := func(x []float64) float64 {
			bound.Set(x[1:])
			return bound.LogDensity(0, x[0])
		}
		x, grad, hess := []float64{c.eta, c.logSize}, make([]float64, 2), mat.NewSymDense(2, nil)
		differences(value, x, grad, hess, 3e-3)
		var d Derivatives
		bound.Set(x[1:])
		bound.Derivatives(0, c.eta, &d)
		for i := range 2 {
			near(t, "slope", d.Grad[i], grad[i], 1e-5*(1+math.Abs(grad[i])))
			for j := i; j < 2; j++ {
				near(t, "bend", d.Hess[i][j], hess.At(i, j), 1e-4*(1+math.Abs(hess.At(i, j))))
			}
		}
	}
}
