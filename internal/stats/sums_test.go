package stats

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// someSums depend on five coefficients and sizes, the effect's log sd (5) and two pools' means (6, 7).
func someSums() Sums {
	return Sums{Effect: LogSD(5), List: []Sum{
		{Total: 130, Of: []Pool{{Units: 20, Row: Row{Terms: []Coef{{0, 1}, {2, 1}}}, LogSize: 3, Mean: 6}}},
		{Total: 7, Of: []Pool{{Units: 1, Row: Row{Offset: -0.3, Terms: []Coef{{0, 1}, {1, 1}}}, LogSize: 3, Mean: 7}}},
		{Total: 300, Of: []Pool{
			{Units: 12, Row: Row{Terms: []Coef{{0, 1}, {1, 1}}}, LogSize: 4, Mean: 6},
			{Units: 30, Row: Row{Terms: []Coef{{0, 1}}}, LogSize: 3, Mean: 7},
		}},
		{Total: 0, Of: []Pool{{Units: 3, Row: Row{Terms: []Coef{{1, 1}}}, LogSize: 4, Mean: 7}}},
	}}
}

func TestSumsDerivativesAgreeWithCentralDifferences(t *testing.T) {
	source := rand.New(rand.NewPCG(seed, 11))
	const p, h = 9, 1e-5
	both := someSums()
	both.Effect = LogSDOfBoth(5, 8)
	for k := range 20 {
		s := someSums()
		if k%2 == 1 {
			s = both
		}
		x := make([]float64, p)
		for j := range x {
			x[j] = 0.7 * source.NormFloat64()
		}
		x[0] += 2
		grad, hess := make([]float64, p), mat.NewSymDense(p, nil)
		near(t, "value", s.AddDerivatives(x, grad, hess), s.Value(x), 1e-9)
		size := 1 + mat.Norm(hess, 2)
		for j := range x {
			up, down, scratch := make([]float64, p), make([]float64, p), mat.NewSymDense(p, nil)
			at := x[j]
			x[j] = at + h
			above := s.AddDerivatives(x, up, scratch)
			x[j] = at - h
			below := s.AddDerivatives(x, down, scratch)
			x[j] = at
			near(t, "gradient", grad[j], (above-below)/(2*h), 1e-6*size)
			for k := range x {
				near(t, "Hessian", hess.At(j, k), (up[k]-down[k])/(2*h), 1e-6*size)
			}
		}
	}
}

// Where the units differ by their counts' own spread alone, the sum is exactly NB2, of n times the mean and
// the size (Johnson, Kemp and Kotz 2005, section 5.12); a single unit is itself.
func TestASumIsExactWithoutEffects(t *testing.T) {
	f := &Counts{Count: []int{40}, LogSize: []int{1}}
	s := Sums{Effect: LogSD(2), List: []Sum{{Total: 40, Of: []Pool{{Units: 5, Row: Row{Terms: []Coef{{0, 1}}}, LogSize: 1, Mean: 3}}}}}
	f.Set([]float64{0, math.Log(5 * 2.5)})
	near(t, "log P", s.Value([]float64{2, math.Log(2.5), -20, 0}), f.LogDensity(0, 2+math.Log(5)), 1e-6)
}

// The sum's distribution against sums of simulated units: its cumulative probabilities at the simulated
// quantiles. The lognormal mean of few units is the roughest part.
func TestSumsAreDistributedAsSumsOfUnits(t *testing.T) {
	t.Logf("seed %d", seed)
	const farms = 20000
	for _, c := range []struct {
		units     int
		sd        float64
		tolerance float64
	}{{1, 0.5, 0.01}, {4, 0.4, 0.01}, {25, 0.4, 0.01}, {25, 0.8, 0.02}, {200, 0.5, 0.01}} {
		source := rand.New(rand.NewPCG(seed, uint64(c.units)))
		sums := make([]float64, farms)
		for i := range sums {
			for range c.units {
				mean := math.Exp(2 + c.sd*source.NormFloat64())
				rate := distuv.Gamma{Alpha: 3, Beta: 3 / mean, Src: source}.Rand()
				sums[i] += distuv.Poisson{Lambda: rate, Src: source}.Rand()
			}
		}
		for _, q := range []float64{0.05, 0.25, 0.5, 0.75, 0.95} {
			at := int(Quantile(sums, q))
			near(t, fmt.Sprintf("%d units, sd %g, P(sum <= %d)", c.units, c.sd, at), sumCDF(c.units, c.sd, at), shareUpTo(sums, at), c.tolerance)
		}
	}
}

func shareUpTo(sorted []float64, at int) float64 {
	n := 0
	for _, v := range sorted {
		if v <= float64(at) {
			n++
		}
	}
	return float64(n) / float64(len(sorted))
}

// sumCDF adds up the density over the totals and over w.
func sumCDF(units int, sd float64, at int) float64 {
	s := Sums{Effect: LogSD(2), List: []Sum{{Of: []Pool{{Units: units, Row: Row{Terms: []Coef{{0, 1}}}, LogSize: 1, Mean: 3}}}}}
	whole := 0.0
	for k := range 61 {
		w := -6 + 0.2*float64(k)
		x := []float64{2, math.Log(3), math.Log(sd), w}
		sum := 0.0
		for y := 0; y <= at; y++ {
			s.List[0].Total = y
			sum += math.Exp(s.Value(x))
		}
		whole += 0.2 * math.Exp(-w*w/2) / math.Sqrt(2*math.Pi) * sum
	}
	return whole
}
