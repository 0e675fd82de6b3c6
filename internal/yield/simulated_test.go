package yield

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
)

const seed = 20260411

// withinBinomial holds a count of hits against a probability: outside 3.5 standard errors a right
// program would fall once in 2,000 runs, and the seed is fixed.
func withinBinomial(t *testing.T, what string, hits, of int, lo, hi float64) {
	t.Helper()
	share := float64(hits) / float64(of)
	se := func(p float64) float64 { return math.Sqrt(p * (1 - p) / float64(of)) }
	t.Logf("%s: %d of %d held, %.3f", what, hits, of, share)
	if share < lo-3.5*se(lo) || share > hi+3.5*se(hi) {
		t.Errorf("%s: %.3f held, want %.3f to %.3f give or take 3.5 standard errors of %.4f", what, share, lo, hi, se(lo))
	}
}

func negBinCount(source *rand.Rand, mean, size float64) int {
	rate := distuv.Gamma{Alpha: size, Beta: size / mean, Src: source}.Rand()
	return int(distuv.Poisson{Lambda: rate, Src: source}.Rand())
}

// gradeTruth is a farm's grading with a plant effect: logit P(Y<=j) = threshold - eta - plant.
type gradeTruth struct {
	thresholds [3]float64
	second     float64 // what the second season adds to eta
	fall       float64
	plantSD    float64
}

func (g gradeTruth) probs(eta float64) (p [4]float64) {
	below := 0.0
	for j, cut := range g.thresholds {
		upTo := 1 / (1 + math.Exp(eta-cut))
		p[j], below = upTo-below, upTo
	}
	p[3] = 1 - below
	return p
}

// marginal averages over plants by Gauss-Legendre quadrature out to 8 standard deviations.
func (g gradeTruth) marginal(eta float64) (p [4]float64) {
	for k := range p {
		p[k] = quad.Fixed(func(z float64) float64 {
			return distuv.UnitNormal.Prob(z) * g.probs(eta + g.plantSD*z)[k]
		}, -8, 8, 60, nil, 0)
	}
	return p
}

func (g gradeTruth) eta(age int, flush crop.Flush) float64 {
	eta := g.second * float64(age-1)
	if flush == crop.FlushFall {
		eta += g.fall
	}
	return eta
}

// simulate is a farm of n plants in their first and n in their second season, cut in both flushes.
func (g gradeTruth) simulate(source *rand.Rand, n int) crop.Farm {
	p := newPlot()
	p.set("a", "yarrow", "A", 2024, n)
	p.set("b", "yarrow", "B", 2023, n)
	for _, planting := range []crop.PlantingID{"a", "b"} {
		age := p.Plantings[planting].AgeIn(2024)
		for i := 1; i <= n; i++ {
			plant := g.plantSD * source.NormFloat64()
			for k, flush := range []crop.Flush{crop.FlushSpring, crop.FlushFall} {
				counts := drawGrades(source, g.probs(g.eta(age, flush)+plant), 2+negBinCount(source, 8, 3))
				p.visit(crop.Visit{
					Plant: crop.PlantID(fmt.Sprint(planting, i)), Date: crop.Date("2024-05-20").Add(90 * k),
					Purpose: crop.PurposeCut, Flush: flush, Counts: counts,
				})
			}
		}
	}
	return p.Farm
}

func drawGrades(source *rand.Rand, p [4]float64, n int) []crop.Count {
	counts := make([]crop.Count, 4)
	for k := range counts {
		counts[k].Grade = crop.GradesLowToHigh[k]
	}
	for range n {
		k, u := 0, source.Float64()
		for k < 3 && u >= p[k] {
			u -= p[k]
			k++
		}
		counts[k].Stems++
	}
	return counts
}
