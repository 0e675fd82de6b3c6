package stats

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

var (
	wideShare = Normal{Mean: 1, SD: 1.5}
	wideRho   = Normal{Mean: -2, SD: 1}
)

func mustShares(t testing.TB, groups ...[]Share) *BetaBinPosterior {
	t.Helper()
	means := make([]Normal, len(groups))
	for g := range means {
		means[g] = wideShare
	}
	b, err := NewBetaBinPosterior(groups, means, wideRho)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func logit(p float64) float64 { return math.Log(p / (1 - p)) }

func TestWithoutSharesThePosteriorIsThePrior(t *testing.T) {
	b := mustShares(t, nil, nil)
	for _, q := range []float64{0.05, 0.5, 0.95} {
		z := distuv.UnitNormal.Quantile(q)
		near(t, "logit mean", logit(b.Mean(1, q)), 1+1.5*z, 1e-3)
		near(t, "logit rho", logit(b.Rho(q)), -2+z, 1e-3)
	}
}

var shareCases = map[string][]Share{
	"one plant":            {{1, 1}},
	"nobody lost":          {{10, 10}, {7, 7}},
	"everybody lost":       {{0, 10}, {0, 7}},
	"all lost in one":      {{10, 10}, {0, 10}, {10, 10}},
	"much in one row":      {{230, 300}},
	"rows that differ":     {{3, 10}, {9, 10}, {5, 12}, {11, 11}},
	"many rows all alike":  {{8, 10}, {8, 10}, {8, 10}, {8, 10}, {8, 10}, {8, 10}, {8, 10}, {8, 10}},
	"a thousand in a row":  {{998, 1000}, {990, 1000}},
	"rows of nothing only": {{0, 0}},
}

// The posterior summed on a fixed grid from the textbook form with gamma functions, without any of the
// package's own steps. Tolerance: bruteQuantile takes the density as level within its cells of 0.09
// and 0.12.
func TestSharePosteriorAgreesWithAPlainSum(t *testing.T) {
	for name, rows := range shareCases {
		t.Run(name, func(t *testing.T) {
			b, plain := mustShares(t, rows), sumPlainly(rows)
			for _, q := range []float64{0.05, 0.5, 0.95} {
				near(t, "logit mean", logit(b.Mean(0, q)), bruteQuantile(plain.means, q, plainMean(0), plainMean(1)-plainMean(0)), 0.005)
				near(t, "logit rho", logit(b.Rho(q)), bruteQuantile(plain.rhos, q, plainRho(0), plainRho(1)-plainRho(0)), 0.005)
				// A new share may lie closer to 0 or 1 than half a ten-thousandth can tell.
				share := b.NewShare(0, q)
				under, over := plain.chanceBelow(max(0, share-5e-5)), plain.chanceBelow(min(1, share+5e-5))
				if !(under-0.001 <= q && q <= over+0.001) {
					t.Errorf("new share %g of %g: the chance below it is %g to %g", share, q, under, over)
				}
			}
		})
	}
}

type plainSum struct {
	means, rhos []float64
	nodes       []betaTerm
	all         float64
}

// plainMean and plainRho are the nodes of logit means of -12..14 and logit rhos of -9..5.
func plainMean(i int) float64 { return -12 + 26*float64(i)/300 }
func plainRho(j int) float64  { return -9 + 14*float64(j)/120 }

func sumPlainly(rows []Share) plainSum {
	s := plainSum{means: make([]float64, 300), rhos: make([]float64, 120)}
	top := math.Inf(-1)
	for j := range s.rhos {
		f := math.Exp(-plainRho(j))
		for i := range s.means {
			z := plainMean(i)
			alpha, beta := f/(1+math.Exp(-z)), f/(1+math.Exp(z))
			d := wideShare.logDensity(z) + wideRho.logDensity(plainRho(j))
			for _, r := range rows {
				d += logBeta(float64(r.Hits)+alpha, float64(r.Of-r.Hits)+beta) - logBeta(alpha, beta)
			}
			s.nodes = append(s.nodes, betaTerm{d, alpha, beta})
			top = max(top, d)
		}
	}
	for k := range s.nodes {
		w := math.Exp(s.nodes[k].weight - top)
		s.nodes[k].weight = w
		s.means[k%300] += w
		s.rhos[k/300] += w
		s.all += w
	}
	return s
}

func (s plainSum) chanceBelow(share float64) float64 {
	sum := 0.0
	for _, n := range s.nodes {
		if n.weight > 1e-7 {
			sum += n.weight * distuv.Beta{Alpha: n.alpha, Beta: n.beta}.CDF(share)
		}
	}
	return sum / s.all
}

func logBeta(a, b float64) float64 {
	x, _ := math.Lgamma(a)
	y, _ := math.Lgamma(b)
	z, _ := math.Lgamma(a + b)
	return x + y - z
}

// Rho is common: rows of one group that differ widen the answer for the other.
func TestGroupsShareHowAlikeTheirUnitsAre(t *testing.T) {
	quiet := []Share{{8, 10}, {8, 10}, {8, 10}}
	calm := mustShares(t, quiet, []Share{{8, 10}, {8, 10}, {8, 10}, {8, 10}, {8, 10}})
	wild := mustShares(t, quiet, []Share{{10, 10}, {0, 10}, {10, 10}, {1, 10}, {10, 10}})
	if c, w := calm.NewShare(0, 0.05), wild.NewShare(0, 0.05); !(w < c-0.1) {
		t.Errorf("the 5 %% point of a new share is %.3f beside wild rows and %.3f beside calm ones", w, c)
	}
}

func TestMuchDataGivesTheTruth(t *testing.T) {
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 0))
	beta := distuv.Beta{Alpha: 0.85 * 9, Beta: 0.15 * 9, Src: source}
	rows := make([]Share, 400)
	for i := range rows {
		rows[i].Of = 30
		p := beta.Rand()
		for range rows[i].Of {
			if source.Float64() < p {
				rows[i].Hits++
			}
		}
	}
	b := mustShares(t, rows)
	// Three standard errors of a mean of 400 beta shares of sd 0.113 and 30 units each.
	near(t, "mean", b.Mean(0, 0.5), 0.85, 3*math.Sqrt((0.113*0.113+0.12/30)/400))
	for _, q := range []float64{0.05, 0.95} {
		near(t, "new share", b.NewShare(0, q), beta.Quantile(q), 0.03)
	}
}

func TestBothFormsOfARiseAgree(t *testing.T) {
	var p pile
	for _, y := range []int{0, 1, 2, 7, 7, 300} {
		p.add(y)
	}
	for _, a := range []float64{1e-9, 0.3, 40, mostForGamma, 1.01 * mostForGamma, 1e12} {
		want := 0.0
		for _, y := range []int{2, 7, 7, 300} {
			for k := 1; k < y; k++ {
				want += math.Log1p(float64(k) / a)
			}
		}
		near(t, "rise", p.logRise(a), want, 1e-7*(1+want))
	}
}

func TestSharePosteriorRefusesBadInput(t *testing.T) {
	cases := map[string]struct {
		rows  []Share
		means []Normal
		rho   Normal
	}{
		"a flat prior":       {nil, []Normal{Flat}, wideRho},
		"a flat prior (rho)": {nil, []Normal{wideShare}, Flat},
		"too few priors":     {nil, nil, wideRho},
		"3 of 2":             {[]Share{{3, 2}}, []Normal{wideShare}, wideRho},
	}
	for name, c := range cases {
		if _, err := NewBetaBinPosterior([][]Share{c.rows}, c.means, c.rho); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestFillingAShareGridAllocatesNothing(t *testing.T) {
	b := mustShares(t, []Share{{8, 10}, {3, 9}})
	if n := testing.AllocsPerRun(5, func() { b.fill(wideRho) }); n != 0 {
		t.Errorf("%g allocations a filling", n)
	}
}

func BenchmarkSharePosteriorOfFourAges(b *testing.B) {
	rows := []Share{{280, 300}, {250, 300}, {30, 40}, {38, 40}}
	for b.Loop() {
		mustShares(b, rows, rows, rows, rows)
	}
}

func BenchmarkNewShare(b *testing.B) {
	p := mustShares(b, []Share{{28, 30}, {25, 30}, {30, 40}})
	for b.Loop() {
		p.NewShare(0, 0.05)
	}
}
