package division

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
	"corymb/internal/stats"
	"corymb/internal/yield"
)

// truth is what decides a made-up farm, drawn from the priors that are shipped and from nothing else of this package.
type truth struct {
	src                            *rand.Rand
	ages, sizes, lasts             []float64
	plantSD, seasonSD, plotSD, bed float64
	uncounted, alike, child        float64
	plantings                      map[crop.PlantingID]float64 // with their beds
	plants                         map[crop.PlantID]float64
	seasons                        map[crop.Season]float64
	stood                          map[string]float64
}

const oldestMade = 9

func (t *truth) normal(mean, sd float64) float64 { return mean + sd*t.src.NormFloat64() }

func newTruth(src *rand.Rand) *truth {
	t := &truth{
		src: src, plantings: map[crop.PlantingID]float64{}, plants: map[crop.PlantID]float64{},
		seasons: map[crop.Season]float64{}, stood: map[string]float64{},
	}
	practice, lives := yield.Practice(), yield.Lives()
	both, ratio := t.normal(practice.BothSD.Mean, practice.BothSD.SD), t.normal(practice.Ratio.Mean, practice.Ratio.SD)
	part := stats.Logistic(2 * ratio)
	t.plantSD = math.Exp(both) * math.Sqrt(part)
	level := t.normal(practice.First.Mean, practice.First.SD)
	for age := 1; age <= oldestMade; age++ {
		last := lives.Later
		switch age {
		case 1:
			last = lives.First
		case 2:
			level += t.normal(practice.SecondStep.Mean, practice.SecondStep.SD)
		default:
			level += t.normal(practice.LaterStep.Mean, practice.LaterStep.SD)
		}
		t.ages = append(t.ages, level)
		// The variance of one count beyond Poisson's, 1/size, is what of both is not the plant's.
		t.sizes = append(t.sizes, math.Exp(t.normal(0, practice.Size.SD)-2*both-math.Log1p(-part)))
		t.lasts = append(t.lasts, t.normal(last.Mean, last.SD))
	}
	t.seasonSD = math.Exp(t.normal(practice.SeasonSD.Mean, practice.SeasonSD.SD))
	t.plotSD = math.Exp(t.normal(practice.PlantingSD.Mean, practice.PlantingSD.SD))
	t.bed = math.Exp(t.normal(practice.PlantingSD.Mean, practice.PlantingSD.SD))
	t.uncounted = t.normal(practice.Uncounted.Mean, practice.Uncounted.SD)
	t.alike = t.normal(lives.Alike.Mean, lives.Alike.SD)
	t.child = t.normal(childPrior.Mean, childPrior.SD)
	return t
}

// of is an effect, drawn when it is first asked for.
func of[K comparable](t *truth, known map[K]float64, at K, sd float64) float64 {
	if _, drawn := known[at]; !drawn {
		known[at] = t.normal(0, sd)
	}
	return known[at]
}

func (t *truth) mean(p crop.Plant, planting crop.PlantingID, age int, season crop.Season) float64 {
	log := t.ages[age-1] + of(t, t.plantings, planting, math.Hypot(t.plotSD, t.bed)) +
		of(t, t.plants, p.ID, t.plantSD) + of(t, t.seasons, season, t.seasonSD)
	if len(p.Counted) == 0 {
		log += t.uncounted
	}
	return log
}

func (t *truth) count(logMean, size float64) int {
	rate := math.Exp(min(logMean, 12)) * distuv.Gamma{Alpha: size, Beta: size, Src: t.src}.Rand()
	if rate < 1e-9 {
		return 0
	}
	return int(distuv.Poisson{Lambda: rate, Src: t.src}.Rand())
}

// lastsThrough draws whether a plant that stood in a season of an age stands in the next; those of one group fare alike.
func (t *truth) lastsThrough(group string, age int, season crop.Season) bool {
	key := fmt.Sprint(group, season)
	if _, drawn := t.stood[key]; !drawn {
		mean, f := stats.Logistic(t.lasts[age-1]), math.Exp(-t.alike)
		t.stood[key] = mean
		if a, b := mean*f, (1-mean)*f; a > 1e-6 && b > 1e-6 {
			t.stood[key] = distuv.Beta{Alpha: a, Beta: b, Src: t.src}.Rand()
		}
	}
	return t.src.Float64() < t.stood[key]
}

// madeFarm grows so many plants in so many plantings of a bed each, over so many seasons up to 2026. Every fourth plant is
// not counted.
func madeFarm(t *truth, plants, plantings, seasons int) crop.Farm {
	farm := crop.NewFarm()
	farm.Stocks["strain"] = crop.Stock{ID: "strain"}
	colours := []crop.ColourID{"coral", "shell", "straw"}
	for _, c := range colours {
		farm.Colours[c] = crop.Colour{ID: c}
	}
	const last = crop.Season(2026)
	for n := range plantings {
		first := last - crop.Season(n%seasons)
		id := crop.PlantingID(fmt.Sprint("P", n))
		bed := crop.BedID(fmt.Sprint("B", n))
		farm.Beds[bed] = crop.Bed{ID: bed}
		farm.Plantings[id] = crop.Planting{ID: id, Stock: "strain", Bed: bed, Planted: crop.Date(fmt.Sprintf("%d-10-01", first-1)), FirstSeason: first}
	}
	for n := range plants {
		planting := farm.Plantings[crop.PlantingID(fmt.Sprint("P", n%plantings))]
		p := crop.Plant{ID: crop.PlantID(fmt.Sprintf("%05d", n)), Planting: planting.ID, Colour: colours[n%3], Counted: map[crop.Season]crop.Window{}}
		if n%4 != 3 {
			for s := planting.FirstSeason; s <= last; s++ {
				p.Counted[s] = farm.Calendar.Span(s)
			}
		}
		for s := planting.FirstSeason; s <= last; s++ {
			age := planting.AgeIn(s)
			if age > 1 && !t.lastsThrough(string(planting.ID), age-1, s-1) {
				p.Removed = crop.Date(fmt.Sprintf("%d-11-15", s-1))
				break
			}
			if stems := t.count(t.mean(p, planting.ID, age, s), t.sizes[age-1]); len(p.Counted) > 0 && stems > 0 {
				t.cut(farm, p, s, stems)
			}
		}
		farm.Plants[p.ID] = p
	}
	return farm
}

// cut tells a season's stems in two cuts, half of them first grade.
func (t *truth) cut(farm crop.Farm, p crop.Plant, s crop.Season, stems int) {
	for n, day := range []string{"05-20", "06-03"} {
		part := stems / 2
		if n == 1 {
			part = stems - stems/2
		}
		id := crop.VisitID(fmt.Sprint(p.ID, s, n))
		farm.Visits[id] = crop.Visit{
			ID: id, Plant: p.ID, Date: crop.Date(fmt.Sprintf("%d-%s", s, day)), Purpose: crop.PurposeCut, Flush: crop.FlushSpring,
			Counts: []crop.Count{{Grade: crop.GradeFirst, Stems: part / 2}, {Grade: crop.GradeExtra, Stems: part - part/2}},
		}
	}
}

// madePrices fill up at so many stems a week for each colour class.
func madePrices(aWeek float64) []Price {
	var list []Price
	for _, colour := range []crop.ColourID{"coral", "shell", "straw"} {
		list = append(list,
			Price{Colour: colour, Grade: crop.GradeExtra, Channel: "florist", Cents: 80, AWeek: aWeek},
			Price{Colour: colour, Grade: crop.GradeFirst, Channel: "market", Cents: 45, AWeek: aWeek},
			Price{Colour: colour, Grade: crop.GradeSecond, Channel: "bouquet", Cents: 15, AWeek: 2 * aWeek},
		)
	}
	return list
}
