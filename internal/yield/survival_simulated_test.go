package yield

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
)

var (
	survivalFarms = flag.Int("survival.farms", 200, "how many farms to simulate for each check of survival's intervals")
	survivalSeed  = flag.Uint64("survival.seed", seed, "the seed of those farms")
)

// lasting is the truth of a farm: the mean chance of lasting at ages 1, 2, 3 and how alike the plants
// of one planting are in one season.
type lasting struct {
	mean [3]float64
	rho  float64
}

func lastingFromThePrior(source *rand.Rand) lasting {
	var truth lasting
	for i := range truth.mean {
		prior := lasts(i + 1)
		truth.mean[i] = 1 / (1 + math.Exp(-prior.Mean-prior.SD*source.NormFloat64()))
	}
	truth.rho = 1 / (1 + math.Exp(-likenessPrior.Mean-likenessPrior.SD*source.NormFloat64()))
	return truth
}

// share draws the chance of lasting of one planting in one season.
func (l lasting) share(source *rand.Rand, age int) float64 {
	f := (1 - l.rho) / l.rho
	return distuv.Beta{Alpha: l.mean[age-1] * f, Beta: (1 - l.mean[age-1]) * f, Src: source}.Rand()
}

// simulate sets plantings of some plants in several years and lets them die until the end of 2025.
func (l lasting) simulate(source *rand.Rand, plantings, plants int) crop.Farm {
	p := newPlot()
	for k := range plantings {
		id, first := crop.PlantingID(fmt.Sprintf("p%d-", k)), crop.Season(2023+k%3)
		p.set(id, "yarrow", crop.BedID(id), first, plants)
		gone := map[int]bool{}
		for s := first; s <= 2025; s++ {
			share := l.share(source, p.Plantings[id].AgeIn(s))
			for i := 1; i <= plants; i++ {
				if !gone[i] && source.Float64() >= share {
					gone[i] = true
					p.remove(crop.PlantID(fmt.Sprint(id, i)), crop.Date(fmt.Sprintf("%d-01-01", s)).Add(source.IntN(365)))
				}
			}
		}
	}
	return p.Farm
}

// holds counts of how many ages' truths, and of how many new plantings' chances, the intervals hold.
type holds struct {
	mean, planting, of int
}

func (h *holds) tally(ages []SurvivalAge, truth lasting, source *rand.Rand) {
	for _, a := range ages {
		h.of++
		if m := truth.mean[a.Age-1]; a.Lo <= m && m <= a.Hi {
			h.mean++
		}
		// NewLo and NewHi are right to half a ten-thousandth, and a truth may lie closer to 0 or 1.
		if s := truth.share(source, a.Age); a.NewLo-5e-5 <= s && s <= a.NewHi+5e-5 {
			h.planting++
		}
	}
}

// Where truths come from the prior, an interval of the posterior holds the truth exactly 9 times in 10
// (Cook, Gelman and Rubin 2006, Journal of Computational and Graphical Statistics 15:675-692). That is
// over all farms: one age of each is asked, so that the farms are independent. Where nearly all plants
// live, a new planting's chance and the end of its range both come to 1, and that counts as held: which
// adds no more than the 1 in 20 beyond that end.
func TestSurvivalIntervalsHoldTruthsFromThePrior(t *testing.T) {
	t.Logf("seed %d, %d farms", *survivalSeed, *survivalFarms)
	source := rand.New(rand.NewPCG(*survivalSeed, 10))
	var h holds
	for i := range *survivalFarms {
		plantings, plants := []int{1, 2, 3, 6, 12}[i%5], []int{1, 3, 10, 40}[i%4]
		truth := lastingFromThePrior(source)
		rows := newRoll(read(truth.simulate(source, plantings, plants), Options{AsOf: "2026-01-01"})).standings()
		ages := survivalAges(rows)
		for len(ages) < len(truth.mean) { // an age that no plant of the farm came to is asked too
			ages = append(ages, SurvivalAge{Age: len(ages) + 1})
		}
		if err := fitLasting(ages, rows); err != nil {
			t.Fatal(err)
		}
		asked := source.IntN(len(truth.mean))
		h.tally(ages[asked:asked+1], truth, source)
	}
	withinBinomial(t, "mean", h.mean, h.of, 0.9, 0.9)
	withinBinomial(t, "one planting ahead", h.planting, h.of, 0.9, 0.95)
}

// Where the truth is one and fixed the prior pulls, and 9 in 10 is only near: 0.84 to 0.99 for truths
// that the prior holds for likely.
func TestSurvivalIntervalsHoldFixedTruths(t *testing.T) {
	t.Logf("seed %d, %d farms each", *survivalSeed, *survivalFarms/2)
	source := rand.New(rand.NewPCG(*survivalSeed, 11))
	for _, c := range []struct {
		plantings, plants int
		truth             lasting
	}{
		{3, 20, lasting{[3]float64{0.5, 0.94, 0.9}, 0.1}},
		{6, 10, lasting{[3]float64{0.9, 0.95, 0.8}, 0.05}},
		{9, 30, lasting{[3]float64{0.58, 0.75, 0.75}, 0.2}},
	} {
		var h holds
		for range *survivalFarms / 2 {
			ages := mustSurvival(t, c.truth.simulate(source, c.plantings, c.plants), Options{AsOf: "2026-01-01"}).Ages
			h.tally(ages[:1], c.truth, source)
		}
		what := fmt.Sprintf("mean %g from %d plantings of %d", c.truth.mean[0], c.plantings, c.plants)
		withinBinomial(t, what, h.mean, h.of, 0.84, 0.99)
		withinBinomial(t, what+", one planting ahead", h.planting, h.of, 0.84, 0.99)
	}
}
