package yield

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"

	"corymb/internal/crop"
)

// StemDraws are equally likely draws of all that decides how many stems the plants of a farm give in seasons to come.
type StemDraws struct {
	Draws []StemDraw
	// Counted is how many plant-seasons they rest on.
	Counted int

	plantings map[crop.PlantingID]int
	plants    map[crop.PlantID]int
}

// StemDraw is one of them. Logarithms are of stems a plant in a season; a plant's count is negative binomial (NB2).
type StemDraw struct {
	Ages  []float64 // log mean of a middle plant by age, from 1, in a middle season and place
	Sizes []float64 // NB2 sizes by age, from 1
	// The standard deviations of plants', seasons', plantings' and beds' effects on the logarithm.
	PlantSD, SeasonSD, PlantingSD, BedSD float64
	Uncounted                            float64 // what plants that nobody counts give more, on the logarithm

	ground  []float64 // by planting: of planting, bed and origin
	first   []float64 // by planting: more of it in the first season
	plants  []float64 // by counted plant
	seasons map[crop.Season]float64
}

// Place is the log effect of a planting with its bed and origin at an age.
func (d *StemDraws) Place(draw int, planting crop.PlantingID, age int) float64 {
	i := d.plantings[planting]
	if age == 1 {
		return d.Draws[draw].ground[i] + d.Draws[draw].first[i]
	}
	return d.Draws[draw].ground[i]
}

// Plant is a counted plant's own log effect; false where it was counted through no season.
func (d *StemDraws) Plant(draw int, plant crop.PlantID) (float64, bool) {
	i, counted := d.plants[plant]
	if !counted {
		return 0, false
	}
	return d.Draws[draw].plants[i], true
}

// Season is a season's log effect; false where nothing was counted in it.
func (d *StemDraws) Season(draw int, season crop.Season) (float64, bool) {
	effect, known := d.Draws[draw].seasons[season]
	return effect, known
}

// quickNodes of the quadrature over a plant's effect are enough where a mean over many plants is asked, of stems or of
// grades, and take half as long.
const quickNodes = 5

// quickWorth is how many independent draws are enough there (lots for 300 were so small that the made-up farm's, its season
// over, ended in slice sampling, which takes seventeen times as long), and quickWork what they may take: some 2,000 plant-seasons, above
// which the posterior is near to normal.
const (
	quickWorth = 500
	quickWork  = 2e7
)

// DrawStems fits the stems alone, which takes a tenth of what Fit takes, and draws at most so many times, for ages up to
// the oldest asked about. What was never seen is drawn from the priors. The same farm and options give the same draws.
func DrawStems(farm crop.Farm, options Options, oldest, most int) (*StemDraws, error) {
	d := layOut(farm, options)
	m := newStemsModel(d.counted, d.living, d.totals, farm)
	m.mixed.Nodes, m.mixed.Worth, m.mixed.Work = quickNodes, quickWorth, quickWork
	if err := m.fit(); err != nil {
		return nil, fmt.Errorf("draw stems by age: %w", err)
	}
	draws := m.draws.Thin(most)
	all := &StemDraws{plantings: map[crop.PlantingID]int{}, plants: map[crop.PlantID]int{}, Counted: len(m.mixed.Cells)}
	for i, id := range m.plants {
		all.plants[id] = i
	}
	var plantings []crop.Planting
	for _, id := range slices.Sorted(maps.Keys(farm.Plantings)) {
		all.plantings[id] = len(plantings)
		plantings = append(plantings, farm.Plantings[id])
	}
	effects := m.mixed.Effects(draws, drawSeed)
	source := rand.New(rand.NewPCG(drawSeed, 8))
	for k, point := range draws.Points {
		all.Draws = append(all.Draws, m.stemDraw(point, effects[k], plantings, farm, oldest, source))
	}
	return all, nil
}

func (m *stemsModel) stemDraw(point, effects []float64, plantings []crop.Planting, farm crop.Farm, oldest int, source *rand.Rand) StemDraw {
	draw := StemDraw{
		PlantSD: m.effect.SD(point), SeasonSD: m.scaleAt(point, scaleSeason, source),
		PlantingSD: m.scaleAt(point, scalePlot, source), BedSD: m.scaleAt(point, scaleBed, source),
		Uncounted: point[m.offset], seasons: map[crop.Season]float64{},
	}
	level := m.valueAt(point, parFirst, firstSeasonPrior.Mean, firstSeasonPrior.SD, source)
	for age := 1; age <= oldest; age++ {
		if age > 1 {
			step := stepPrior(age)
			level += m.valueAt(point, name("step", age), step.Mean, step.SD, source)
		}
		draw.Ages = append(draw.Ages, level)
		draw.Sizes = append(draw.Sizes, m.sizeAt(point, age, source))
	}
	m.drawPlaces(&draw, point, plantings, farm, source)
	for _, s := range m.stands {
		if i, known := m.p.at[name("season", s.season)]; known {
			draw.seasons[s.season] = point[i]
		}
	}
	for _, z := range effects {
		draw.plants = append(draw.plants, draw.PlantSD*z)
	}
	return draw
}

// drawPlaces draws the effects of plantings with their beds and origins. A bed or origin that was never seen is one and the
// same to all of its plantings.
func (m *stemsModel) drawPlaces(draw *StemDraw, point []float64, plantings []crop.Planting, farm crop.Farm, source *rand.Rand) {
	places := map[string]float64{}
	of := func(at string, sd float64) float64 {
		if _, drawn := places[at]; !drawn {
			places[at] = m.valueAt(point, at, 0, sd, source)
		}
		return places[at]
	}
	for _, p := range plantings {
		ground, first := of(name("planting", p.ID), draw.PlantingSD)+of(name("bed", p.Bed), draw.BedSD), 0.0
		if origin := farm.Stocks[p.Stock].Origin; len(m.stands) > 0 && origin != m.common {
			ground += of(name("origin", origin), originPrior.SD)
			first = of(name("first season of", origin), originFirstPrior.SD)
		}
		draw.ground, draw.first = append(draw.ground, ground), append(draw.first, first)
	}
}

// valueAt is a parameter at a point, drawn from its prior where the model has none of that name.
func (m *stemsModel) valueAt(point []float64, at string, mean, sd float64, source *rand.Rand) float64 {
	if i, known := m.p.at[at]; known {
		return point[i]
	}
	return mean + sd*source.NormFloat64()
}

// SurvivalDraw is one draw of how plants last: the mean chance by age, from 1, that a plant which stands in one season
// stands in the next, as a logit, and how alike two plants of one planting fare in one season (the logit of their
// correlation): a planting's chance in a season is beta with those.
type SurvivalDraw struct {
	Lasts []float64
	Alike float64
}

// DrawSurvival draws so many times for ages up to the oldest asked about; what was never seen is drawn from the priors.
func DrawSurvival(farm crop.Farm, options Options, oldest, draws int) ([]SurvivalDraw, error) {
	rows := newRoll(read(farm, options)).standings()
	ages := survivalAges(rows)
	posterior, err := lastingOf(ages, rows)
	if err != nil {
		return nil, fmt.Errorf("draw survival by age: %w", err)
	}
	source := rand.New(rand.NewPCG(drawSeed, 9))
	list := make([]SurvivalDraw, draws)
	for k := range list {
		list[k].Lasts, list[k].Alike = posterior.Draw(source)
		for age := len(ages) + 1; age <= oldest; age++ {
			prior := lasts(age)
			list[k].Lasts = append(list[k].Lasts, prior.Mean+prior.SD*source.NormFloat64())
		}
	}
	return list, nil
}
