package stats

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// A few counts of one mean and size, whose posterior is known by summing it on a grid.
func TestDrawsAgreeWithThePosteriorOnAGrid(t *testing.T) {
	meanPrior, sizePrior := Normal{2, 1.2}, Normal{0.7, 1}
	for _, n := range []int{0, 1, 3, 10, 60} {
		source := rand.New(rand.NewPCG(seed, uint64(n)))
		counts := negBinCounts(source, n, 9, 2)
		grid := mustPosterior(t, counts, meanPrior, sizePrior)
		m, f := &Mixed{Parameters: 2, Nodes: 1, Rows: []Row{{Terms: []Coef{{0, 1}}}}}, &Counts{}
		for _, y := range counts {
			f.Count, f.LogSize = append(f.Count, y), append(f.LogSize, 1)
			m.Cells = append(m.Cells, Cell{})
			m.Groups = append(m.Groups, Group{End: len(m.Cells), Scale: 1})
		}
		m.Family = f
		h := Hierarchy{Priors: []Normal{meanPrior, sizePrior}}
		d, err := m.Posterior(h, nil, []float64{2, 0.7}, 1)
		if err != nil {
			t.Fatal(err)
		}
		means := make([]float64, len(d.Points))
		for i, p := range d.Points {
			means[i] = p[0]
		}
		t.Log(n, d.Basis, d.KHat, d.Effective, len(d.Points))
		for _, p := range []float64{0.05, 0.5, 0.95} {
			// 3.5 standard errors of a quantile of a normal by so many draws: sqrt(0.05 0.95/worth)/0.103.
			within := 3.5 * 2.1 / math.Sqrt(d.Effective) * grid.logSpread()
			near(t, fmt.Sprintf("%d counts, %g", n, p), d.Quantile(means, p), math.Log(grid.Mean(p)), within)
		}
	}
}

func (n NegBinPosterior) logSpread() float64 {
	return math.Log(n.Mean(0.95)/n.Mean(0.05)) / 3.29
}

// The Pareto's shape is found again from draws with weights of that tail: ratios that are a generalised
// Pareto's draws have its shape by definition.
func TestParetoShapeIsFoundAgain(t *testing.T) {
	source := rand.New(rand.NewPCG(seed, 6))
	for _, shape := range []float64{0.2, 0.5, 0.9} {
		ratios := make([]float64, 20000)
		for i := range ratios {
			ratios[i] = math.Log(1 + paretoQuantile(source.Float64(), shape, 1))
		}
		_, k := smoothWeights(ratios)
		near(t, "shape", k, shape, 0.15)
	}
}

// A chain that remembers the last value by rho is worth n (1-rho)/(1+rho) independent draws (Geyer 1992).
func TestEffectiveDrawsOfAnAutoregression(t *testing.T) {
	source := rand.New(rand.NewPCG(seed, 7))
	for _, rho := range []float64{0, 0.5, 0.9} {
		series := make([][]float64, 4)
		for c := range series {
			v := 0.0
			for range 5000 {
				v = rho*v + math.Sqrt(1-rho*rho)*source.NormFloat64()
				series[c] = append(series[c], v)
			}
		}
		want := 20000 * (1 - rho) / (1 + rho)
		near(t, fmt.Sprint("effective at ", rho), effectiveOf(series)/want, 1, 0.2)
	}
}

// hierarchical makes plants with effects in plantings with effects: parameters are the mean, the log size,
// the log sd of plants, and one effect for each planting, which share scale 0.
func hierarchical(source *rand.Rand, plantings, plants, seasons int) (*Mixed, Hierarchy) {
	m := &Mixed{Parameters: 3 + plantings, Effect: LogSD(2), Nodes: 15}
	h := Hierarchy{
		Priors: []Normal{{2.5, 1}, {1.2, 0.5}, {-1, 0.5}}, Scale: []int{-1, -1, -1},
		LogSD: []Normal{{-1.6, 0.5}},
	}
	f := &Counts{}
	sd := math.Exp(h.LogSD[0].Mean)
	for k := range plantings {
		h.Priors, h.Scale = append(h.Priors, Normal{0, 1}), append(h.Scale, 0)
		m.Rows = append(m.Rows, Row{Terms: []Coef{{0, 1}, {3 + k, 1}}})
		effect := 2.5 + sd*source.NormFloat64()
		for range plants {
			plant := math.Exp(effect + 0.37*source.NormFloat64())
			for range seasons {
				rate := distuv.Gamma{Alpha: 3.3, Beta: 3.3 / plant, Src: source}.Rand()
				f.Count = append(f.Count, int(distuv.Poisson{Lambda: rate, Src: source}.Rand()))
				f.LogSize = append(f.LogSize, 1)
				m.Cells = append(m.Cells, Cell{Row: k})
			}
			m.Groups = append(m.Groups, Group{End: len(m.Cells), Scale: 1})
		}
	}
	m.Family = f
	return m, h
}

// The two ways of drawing share nothing but the density and the proposal's shape.
func TestSlicesAgreeWithWeights(t *testing.T) {
	t.Logf("seed %d", seed)
	m, h := hierarchical(rand.New(rand.NewPCG(seed, 8)), 4, 4, 2)
	start := make([]float64, m.Parameters)
	weighted, err := m.Posterior(h, nil, start, 1)
	if err != nil {
		t.Fatal(err)
	}
	if weighted.Basis != BasisWeighted {
		t.Fatalf("drawn by %s, shape %g, worth %g", weighted.Basis, weighted.KHat, weighted.Effective)
	}
	l, err := NewLikelihood(m, 2)
	if err != nil {
		t.Fatal(err)
	}
	tt := &target{likelihood: l, h: h}
	q, err := tt.propose(start)
	if err != nil {
		t.Fatal(err)
	}
	s := &sampler{t: tt, q: q, source: rand.New(rand.NewPCG(2, 0)), dimensions: m.Parameters + 1}
	about := standardT(m.Parameters + 1)
	var standard [][]float64
	for range len(weighted.Points) {
		standard = append(standard, about.draw(s.source))
	}
	sliced := s.sliced(Draws{Weight: equalWeights(len(standard))}, standard, 1)
	t.Logf("weights: shape %.2f, worth %.0f of %d; slices worth %.0f of %d", weighted.KHat, weighted.Effective, len(weighted.Points), sliced.Effective, len(sliced.Points))
	for k := range weighted.Points[0] {
		a, b := coordinate(weighted, k), coordinate(sliced, k)
		spread := (weighted.Quantile(a, 0.95) - weighted.Quantile(a, 0.05)) / 3.29
		for _, p := range []float64{0.05, 0.5, 0.95} {
			near(t, fmt.Sprintf("coordinate %d at %g", k, p), weighted.Quantile(a, p), sliced.Quantile(b, p), 0.35*spread)
		}
	}
}

func coordinate(d Draws, k int) []float64 {
	values := make([]float64, len(d.Points))
	for i, p := range d.Points {
		values[i] = p[k]
	}
	return values
}

func BenchmarkPosteriorOfASmallFarm(b *testing.B) {
	m, h := hierarchical(rand.New(rand.NewPCG(seed, 8)), 4, 6, 3)
	start := make([]float64, m.Parameters)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.Posterior(h, nil, start, 1); err != nil {
			b.Fatal(err)
		}
	}
}
