package yield

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
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

// simulateStems is a farm of n counted plants in their first season, each cut over a few days, and
// one uncounted plant whose many stems must not matter.
func simulateStems(source *rand.Rand, n int, mean, size float64) crop.Farm {
	p := newPlot()
	p.set("a", "yarrow", "A", 2024, n+1)
	for i := 1; i <= n; i++ {
		id := crop.PlantID(fmt.Sprint("a", i))
		p.count(id, 2024)
		for left, day := negBinCount(source, mean, size), 0; left > 0; day++ {
			taken := min(left, 1+left/3)
			p.cut(id, crop.Date("2024-05-01").Add(2*day), stems("", taken))
			left -= taken
		}
	}
	p.cut(crop.PlantID(fmt.Sprint("a", n+1)), "2024-05-20", stems("", 300))
	return p.Farm
}

// Where truths come from the prior, an interval of the posterior holds the truth exactly 9 times in
// 10 (Cook, Gelman and Rubin 2006, Journal of Computational and Graphical Statistics 15:675-692). A
// new plant's range is discrete, so it holds at least that often.
func TestIntervalsHoldTruthsFromThePrior(t *testing.T) {
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 0))
	const farms = 400
	mean, plant := 0, 0
	for i := range farms {
		n := []int{1, 3, 5, 10, 30}[i%5]
		truth := math.Exp(math.Log(firstSeasonStems) + practiceSpread*source.NormFloat64())
		size := math.Exp(sizePrior.Mean + sizePrior.SD*source.NormFloat64())
		s := ageOf(t, mustReport(t, simulateStems(source, n, truth, size), Options{}), 1).Stems
		if s.Lo <= truth && truth <= s.Hi {
			mean++
		}
		if y := negBinCount(source, truth, size); s.NewLo <= y && y <= s.NewHi {
			plant++
		}
	}
	withinBinomial(t, "mean", mean, farms, 0.9, 0.9)
	withinBinomial(t, "new plant", plant, farms, 0.9, 0.98)
}

// Where the truth is one and fixed the prior pulls, and 9 in 10 is only near: within 0.86 to 0.98 for
// truths up to one prior standard deviation off the practice curve. (A Wald interval from 3 plants
// holds 73 in 100, from 10 plants 85: the design's own simulations.)
func TestIntervalsHoldFixedTruths(t *testing.T) {
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 1))
	const farms = 400
	for _, c := range []struct {
		plants     int
		mean, size float64
	}{{3, 8, 2}, {10, 4, 1}, {40, 20, 0.8}} {
		hits := 0
		for range farms {
			s := ageOf(t, mustReport(t, simulateStems(source, c.plants, c.mean, c.size), Options{}), 1).Stems
			if s.Lo <= c.mean && c.mean <= s.Hi {
				hits++
			}
		}
		withinBinomial(t, fmt.Sprintf("mean %g from %d plants", c.mean, c.plants), hits, farms, 0.86, 0.98)
	}
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

// The plants' stems are alike (sd 0.8 on the logit scale) and the model does not know it: the
// clusters must. Intervals from 5 plants of an age rest on a t with 4 degrees of freedom and hold
// more than 9 in 10.
func TestGradeIntervalsHoldTheTruthAlthoughAPlantsStemsAreAlike(t *testing.T) {
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 2))
	truth := gradeTruth{thresholds: [3]float64{-2, -0.5, 1.2}, second: 0.8, fall: -0.7, plantSD: 0.8}
	for _, c := range []struct {
		plants, farms int
		most          float64
	}{{5, 150, 0.97}, {12, 400, 0.95}, {30, 100, 0.93}} {
		hits, of := map[string]int{}, map[string]int{}
		for range c.farms {
			r := mustReport(t, truth.simulate(source, c.plants), Options{})
			for _, a := range r.Ages {
				for _, g := range a.Grades {
					tallyCell(hits, of, a.Age, g, truth.marginal(truth.eta(a.Age, g.Flush)))
				}
			}
		}
		for _, what := range slices.Sorted(maps.Keys(hits)) {
			withinBinomial(t, fmt.Sprintf("%s from %d plants", what, c.plants), hits[what], of[what], 0.87, c.most)
		}
	}
}

func tallyCell(hits, of map[string]int, age int, c GradeCell, truth [4]float64) {
	lo, hi := fourOf(c.Lo), fourOf(c.Hi)
	for k, grade := range crop.GradesLowToHigh {
		what := fmt.Sprintf("age %d %s %s", age, c.Flush, grade)
		of[what]++
		if lo[k] <= truth[k] && truth[k] <= hi[k] {
			hits[what]++
		}
	}
}
