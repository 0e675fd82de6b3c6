package stats

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestDrawsOfSharesHaveTheQuantilesOfTheirPosterior(t *testing.T) {
	const seed, n = 3, 20_000
	groups := [][]Share{{{Hits: 8, Of: 10}, {Hits: 3, Of: 9}}, {{Hits: 40, Of: 41}}, nil}
	priors := []Normal{{Mean: 0.8, SD: 1.5}, {Mean: 2.2, SD: 1.5}, {Mean: 2.2, SD: 1.5}}
	posterior, err := NewBetaBinPosterior(groups, priors, Normal{Mean: -2.2, SD: 1})
	if err != nil {
		t.Fatal(err)
	}
	source := rand.New(rand.NewPCG(seed, 1))
	shares := []float64{0.1, 0.5, 0.9}
	limits := make([][3]float64, len(groups)+1)
	for k, p := range shares {
		for g := range groups {
			limits[g][k] = posterior.Mean(g, p)
		}
		limits[len(groups)][k] = posterior.Rho(p)
	}
	below := make([][3]int, len(limits))
	for range n {
		means, rho := posterior.Draw(source)
		for g, drawn := range append(means, rho) {
			for k, limit := range limits[g] {
				if Logistic(drawn) < limit {
					below[g][k]++
				}
			}
		}
	}
	for g, counts := range below {
		for k, p := range shares {
			// Four standard errors of the draws and what the steps of the grid are coarse.
			if got := float64(counts[k]) / n; math.Abs(got-p) > 4*math.Sqrt(p*(1-p)/n)+0.005 {
				t.Errorf("seed %d, group %d: %.4f lie below the quantile of %.1f", seed, g, got, p)
			}
		}
	}
}
