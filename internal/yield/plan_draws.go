package yield

import (
	"fmt"
	"math"

	"corymb/internal/stats"
)

// PlanDraw is one way in which the season totals of an age's plants may be spread, as far as is known:
// negative binomial (NB2) with Mean and Size, times a lognormal effect of the plant with mean 1 and
// PlantSD on the log scale.
type PlanDraw struct {
	Mean, Size, PlantSD float64
}

const (
	meanDraws, sizeDraws = 12, 8

	// ageStep is how far, on the log scale, a season in the ground may leave the practice curve that
	// its neighbour follows: by a factor of 2 either way nine times in ten.
	ageStep = 0.42
)

// PlanDraws are equally likely draws for an age, and the age whose plants they rest on: the age itself
// where any of its plants was counted through a season, else the nearest that was, along the practice
// curve; 0 where all is practice.
//
// The model of today holds the plant's own effect within the size, so PlantSD is 0. Mean and size are
// drawn apart from each other, as if independent: in NB2 they are orthogonal parameters (Lawless 1987,
// Canadian Journal of Statistics 15:209-225; from memory).
func PlanDraws(report Report, age int) (draws []PlanDraw, from int, err error) {
	from = nearestSeen(report, age)
	source := from
	if from == 0 {
		source = age
	}
	counts, err := closedCounts(report, source)
	if err != nil {
		return nil, 0, fmt.Errorf("drawing for a plan of age %d: %w", age, err)
	}
	posterior, err := stats.NewNegBinPosterior(&counts, practice(source), sizePrior)
	if err != nil {
		return nil, 0, fmt.Errorf("drawing for a plan of age %d: %w", age, err)
	}
	shift := practice(age).Mean - practice(source).Mean
	step := ageStep * math.Sqrt(math.Abs(float64(age-source)))
	return crossed(posterior, shift, step), from, nil
}

// crossed pairs evenly likely means with evenly likely sizes. The step widens the log mean as if both
// were normal: quantiles move away from the median in the ratio of the two spreads.
func crossed(posterior stats.NegBinPosterior, shift, step float64) []PlanDraw {
	median := math.Log(posterior.Mean(0.5))
	const oneSD = 0.8413 // of a normal, at one standard deviation above its mean
	spread := math.Log(posterior.Mean(oneSD)) - median
	wider := math.Hypot(spread, step) / spread
	var means [meanDraws]float64
	for i := range means {
		mean := math.Log(posterior.Mean(midpoint(i, meanDraws)))
		means[i] = math.Exp(median + shift + (mean-median)*wider)
	}
	var draws []PlanDraw
	for j := range sizeDraws {
		size := posterior.Size(midpoint(j, sizeDraws))
		for _, mean := range means {
			draws = append(draws, PlanDraw{Mean: mean, Size: size})
		}
	}
	return draws
}

func midpoint(i, of int) float64 { return (float64(i) + 0.5) / float64(of) }

// nearestSeen is the age nearest to the one asked about of which a plant was counted through a season,
// the older of two as near; 0 where there is none.
func nearestSeen(report Report, age int) int {
	nearest := 0
	for _, a := range report.Ages {
		if a.PlantSeasons == 0 {
			continue
		}
		away, before := abs(a.Age-age), abs(nearest-age)
		if nearest == 0 || away < before || away == before && a.Age > nearest {
			nearest = a.Age
		}
	}
	return nearest
}

func abs(n int) int { return max(n, -n) }

func closedCounts(report Report, age int) (counts stats.Tally, err error) {
	for _, a := range report.Ages {
		for _, s := range a.Plants {
			if a.Age != age || s.Open {
				continue
			}
			if err := counts.Add(s.Stems); err != nil {
				return counts, err
			}
		}
	}
	return counts, nil
}
