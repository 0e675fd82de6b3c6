package yield

import (
	"math"

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

// Priors of the stems model, all on the log scale.
var (
	// firstSeasonPrior lets a farm be 5 times off the curve one time in ten; ten plants overrule it.
	firstSeasonPrior = stats.Normal{Mean: math.Log(firstSeasonStems), SD: 1}
	// secondStepPrior is centred between the published ratios and spans twice as much on either side.
	secondStepPrior = stats.Normal{Mean: (math.Log(leastRatio) + math.Log(mostRatio)) / 2, SD: 0.5}
	laterStepPrior  = stats.Normal{Mean: 0, SD: 0.35}
	// An origin other than the commonest stands higher or lower, in the first season most of all.
	originPrior      = stats.Normal{Mean: 0, SD: 0.4}
	originFirstPrior = stats.Normal{Mean: 0, SD: 0.3}
	// bothSDPrior is of how much plants of one row vary in a season beyond chance, on the log scale: by a half
	// to a whole as much again nine times in ten; and ratioPrior of how much of it stays with the plant over its
	// seasons, against what is that season's: the plants' sd is from 0.15 to 0.7 nine times in ten, the size
	// from 1.2 to 14. In the first of these every season speaks, in the second only plants seen twice.
	bothSDPrior = stats.Normal{Mean: math.Log(0.6), SD: 0.45}
	ratioPrior  = stats.Normal{Mean: math.Log(0.7), SD: 0.55}
	// sizePrior is of how an age's log size departs from that of all ages.
	sizePrior     = stats.Normal{Mean: 0, SD: 0.4}
	seasonSDPrior = stats.Normal{Mean: math.Log(0.2), SD: 0.5}
	groundSDPrior = stats.Normal{Mean: math.Log(0.15), SD: 0.6} // of plantings, and of beds
	// offsetPrior is of uncounted plants against counted ones: those who choose have an eye for good ones.
	offsetPrior = stats.Normal{Mean: 0, SD: 0.15}
)

// stepPrior is of what an age gives more than the one before.
func stepPrior(age int) stats.Normal {
	if age == 2 {
		return secondStepPrior
	}
	return laterStepPrior
}

// The names of the stems model's parameters and scales.
const (
	parFirst    = "first season"
	parBothSD   = "log sd of plants and seasons"
	parRatio    = "log ratio of sd of plants"
	parOffset   = "uncounted against counted"
	scaleSeason = "season"
	scalePlot   = "planting"
	scaleBed    = "bed"
)

// ground is what decides a plant's log mean, besides itself.
type ground struct {
	planting crop.PlantingID
	bed      crop.BedID
	origin   crop.Origin
	age      int
	season   crop.Season
}

// stemsRow is the linear predictor of a plant's log mean; common is the commonest origin.
func stemsRow(p *parameters, g ground, common crop.Origin) stats.Row {
	row := stats.Row{}
	add := func(i int) { row.Terms = append(row.Terms, stats.Coef{Parameter: i, Value: 1}) }
	add(p.own(parFirst, firstSeasonPrior))
	for age := 2; age <= g.age; age++ {
		add(p.own(name("step", age), stepPrior(age)))
	}
	if g.origin != common {
		add(p.own(name("origin", g.origin), originPrior))
		if g.age == 1 {
			add(p.own(name("first season of", g.origin), originFirstPrior))
		}
	}
	add(p.shared(name("season", g.season), scaleSeason, seasonSDPrior))
	add(p.shared(name("planting", g.planting), scalePlot, groundSDPrior))
	add(p.shared(name("bed", g.bed), scaleBed, groundSDPrior))
	return row
}
