package yield

import (
	"maps"
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// The practice curve: about 8 stems a plant in its first season and 1.7 to 3.2 times as many after
// (published trials: yarrow, first season about 8, 2019; rudbeckia 12 then 20, 2011; eupatorium 5
// then 16, 2011). Later seasons stay level: the crown fills out and then opens (common practice, no
// source).
const (
	firstSeasonStems = 8.0
	leastRatio       = 1.7
	mostRatio        = 3.2
)

var (
	// practiceSpread, on the log scale, lets a farm be 7 times off the curve one time in ten; ten
	// plants overrule it, even ten that gave nothing.
	practiceSpread = 1.2
	// sizePrior holds sizes from 0.4 to 10 nine times in ten: from plants that differ wildly to
	// hardly more than chance. Were it much wider, plants without a stem would be explained by a size
	// near 0, whatever the mean, and would say nothing of it.
	sizePrior = stats.Normal{Mean: math.Log(2), SD: 1}
)

// practice is the prior of the log mean at an age.
func practice(age int) stats.Normal {
	centre := math.Log(firstSeasonStems)
	if age > 1 {
		centre += (math.Log(leastRatio) + math.Log(mostRatio)) / 2
	}
	return stats.Normal{Mean: centre, SD: practiceSpread}
}

// fitAge gives the stems of one age with the plants behind it. Without a plant it gives what common
// practice says, as wide as that is.
func fitAge(age int, seasons []PlantSeason) (Age, error) {
	a := Age{Age: age, Plants: []PlantSeason{}}
	var counts stats.Tally
	for _, s := range seasons {
		if s.age != age {
			continue
		}
		a.Plants = append(a.Plants, s)
		if s.Open {
			continue
		}
		a.PlantSeasons++
		if s.Stems == 0 {
			a.Zero++
		}
		if err := counts.Add(s.Stems); err != nil {
			return Age{}, err
		}
	}
	posterior, err := stats.NewNegBinPosterior(&counts, practice(age), sizePrior)
	if err != nil {
		return Age{}, err
	}
	const tail = (1 - Level) / 2
	a.Stems = Stems{
		Mean: posterior.Mean(0.5), Lo: posterior.Mean(tail), Hi: posterior.Mean(1 - tail),
		Size:  posterior.Size(0.5),
		NewLo: posterior.NewCount(tail), NewHi: posterior.NewCount(1 - tail),
	}
	return a, nil
}

// agesOf lists every age that anything is known of, from the youngest.
func agesOf(seasons []PlantSeason, totals map[int]int, told []toldCounts) []int {
	ages := map[int]bool{}
	for _, s := range seasons {
		ages[s.age] = true
	}
	for age := range totals {
		ages[age] = true
	}
	for _, t := range told {
		ages[t.age] = true
	}
	return slices.Sorted(maps.Keys(ages))
}

// seasonsOf lists the seasons of the plant-seasons, from the earliest.
func seasonsOf(list []PlantSeason) []crop.Season {
	seen := map[crop.Season]bool{}
	for _, s := range list {
		seen[s.Season] = true
	}
	return slices.Sorted(maps.Keys(seen))
}
