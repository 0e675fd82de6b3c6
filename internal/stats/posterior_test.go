package stats

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

var wideMean, wideSize = Normal{Mean: 2, SD: 1}, Normal{Mean: 0.7, SD: 1.5}

func mustPosterior(t testing.TB, counts []int, mean, size Normal) NegBinPosterior {
	t.Helper()
	var pile Tally
	for _, y := range counts {
		if err := pile.Add(y); err != nil {
			t.Fatal(err)
		}
	}
	p, err := NewNegBinPosterior(&pile, mean, size)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// negBinCounts draws NB2 counts as Poisson counts of gamma means.
func negBinCounts(source *rand.Rand, n int, mean, size float64) []int {
	gamma := distuv.Gamma{Alpha: size, Beta: size / mean, Src: source}
	counts := make([]int, n)
	for i := range counts {
		counts[i] = int(distuv.Poisson{Lambda: gamma.Rand(), Src: source}.Rand())
	}
	return counts
}

// Tolerance: straight pieces of a sixteenth of a node lose about (h/16)^2/12 of the curvature.
func TestWithoutCountsThePosteriorIsThePrior(t *testing.T) {
	p := mustPosterior(t, nil, wideMean, wideSize)
	for _, q := range []float64{0.05, 0.5, 0.95} {
		z := distuv.UnitNormal.Quantile(q)
		near(t, "log mean", math.Log(p.Mean(q)), 2+z, 2e-4)
		near(t, "log size", math.Log(p.Size(q)), 0.7+1.5*z, 2e-4)
	}
}

// The posterior on a wide grid of 700 by 700, summed without any of the package's own steps.
func TestPosteriorAgreesWithAFinerSum(t *testing.T) {
	cases := map[string][]int{
		"one plant":      {7},
		"three zeros":    {0, 0, 0},
		"ten plants":     {3, 0, 7, 12, 5, 9, 1, 4, 8, 6},
		"400 stems":      {400},
		"all the same":   {5, 5, 5, 5, 5, 5, 5, 5},
		"one among many": {0, 0, 0, 0, 0, 0, 0, 90},
	}
	for name, counts := range cases {
		t.Run(name, func(t *testing.T) {
			p := mustPosterior(t, counts, wideMean, wideSize)
			for _, q := range []float64{0.05, 0.5, 0.95} {
				mean, size := bruteQuantiles(counts, q)
				near(t, "log mean", math.Log(p.Mean(q)), mean, 0.002)
				near(t, "log size", math.Log(p.Size(q)), size, 0.002)
			}
		})
	}
}

// bruteQuantiles sums the joint density on a fixed grid of log mean -8..10, log size -9..11.
func bruteQuantiles(counts []int, q float64) (logMean, logSize float64) {
	const n = 700
	means, sizes := make([]float64, n), make([]float64, n)
	for j := range n {
		r := math.Exp(-9 + 20*float64(j)/n)
		fixed := wideSize.logDensity(math.Log(r))
		total := 0.0
		for _, y := range counts {
			fixed += logGammas(y, r)
			total += float64(y)
		}
		for i := range n {
			m := -8 + 18*float64(i)/n
			mu := math.Exp(m)
			w := math.Exp(fixed + wideMean.logDensity(m) + total*math.Log(mu/(r+mu)) +
				float64(len(counts))*r*math.Log(r/(r+mu)))
			means[i] += w
			sizes[j] += w
		}
	}
	return bruteQuantile(means, q, -8, 18.0/n), bruteQuantile(sizes, q, -9, 20.0/n)
}

func bruteQuantile(weights []float64, q, from, step float64) float64 {
	all, below := 0.0, 0.0
	for _, w := range weights {
		all += w
	}
	for i, w := range weights {
		if below+w >= q*all {
			return from + step*(float64(i)-0.5+(q*all-below)/w)
		}
		below += w
	}
	return math.NaN()
}

// logNegBin is the textbook form with gamma functions (Lawless 1987), not the package's own.
func logNegBin(y int, mu, r float64) float64 {
	return logGammas(y, r) + r*math.Log(r/(r+mu)) + float64(y)*math.Log(mu/(r+mu))
}

func logGammas(y int, r float64) float64 {
	a, _ := math.Lgamma(float64(y) + r)
	b, _ := math.Lgamma(r)
	c, _ := math.Lgamma(float64(y) + 1)
	return a - b - c
}

func TestTallyIsTheTextbookLikelihood(t *testing.T) {
	counts := []int{0, 3, 3, 41, 7}
	var pile Tally
	want := 0.0
	for _, y := range counts {
		if err := pile.Add(y); err != nil {
			t.Fatal(err)
		}
		want += logNegBin(y, 9, 2.5)
	}
	near(t, "log-likelihood", pile.LogLik(math.Log(9), math.Log(2.5)), want, 1e-10)
	if err := pile.Add(-1); err == nil {
		t.Error("a count of -1: no error")
	}
}

// With much data the predictive is the negative binomial of the truth: its 5 and 95 % points by
// direct summation of the textbook probability.
func TestNewCountNearsTheTruthWithMuchData(t *testing.T) {
	t.Logf("seed %d", seed)
	p := mustPosterior(t, negBinCounts(rand.New(rand.NewPCG(seed, 0)), 5000, 20, 3), wideMean, wideSize)
	for _, q := range []float64{0.05, 0.95} {
		k, below := -1, 0.0
		for below < q {
			k++
			below += math.Exp(logNegBin(k, 20, 3))
		}
		near(t, "new count", float64(p.NewCount(q)), float64(k), 1)
	}
}

func TestPosteriorRefusesFlatPriors(t *testing.T) {
	if _, err := NewNegBinPosterior(&Tally{}, Flat, wideSize); err == nil {
		t.Error("no error")
	}
}

// The 95 % point of Student's t with 5 degrees of freedom is 2.015 (any printed table; value from memory).
func TestProposalsDrawStudentsT(t *testing.T) {
	source := rand.New(rand.NewPCG(seed, 9))
	about := standardT(2)
	values := make([]float64, 20000)
	for i := range values {
		values[i] = about.draw(source)[1]
	}
	near(t, "95 % point of t5", Quantile(values, 0.95), 2.015, 0.06)
}

// A refitted proposal has the mean of its points, and 1.2 times their variance and a tenth of 1.
func TestARefittedProposalHasTheSpreadOfItsPoints(t *testing.T) {
	points := [][]float64{{1, 0}, {3, 0}, {1, 4}, {3, 4}}
	fitted, err := fitT(points, equalWeights(4))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", fitted.mean[0], 2, 1e-12)
	near(t, "variance", fitted.root.At(1, 1)*fitted.root.At(1, 1), 1.2*4+0.1, 1e-12)
	near(t, "density at a root's distance", fitted.logDensity([]float64{2, 2})-fitted.logDensity([]float64{2, 2 + fitted.root.At(1, 1)}), 3.5*math.Log1p(0.2), 1e-12)
}

func TestQuantileIsLinearBetweenOrderStatistics(t *testing.T) {
	for p, want := range map[float64]float64{0: 1, 0.25: 1.75, 0.5: 2.5, 1: 4} {
		near(t, "quantile", Quantile([]float64{4, 1, 3, 2}, p), want, 1e-12)
	}
}
