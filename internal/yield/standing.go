package yield

import (
	"maps"
	"slices"

	"corymb/internal/crop"
)

// stand is the living plants of one planting in one season: those in the ground when its cutting began.
type stand struct {
	planting crop.Planting
	season   crop.Season
	age      int
	origin   crop.Origin
	alive    int
	// counted of them are behind the estimate; open ones, and those whose window saw nothing, are not.
	counted int
}

// standing lists them by planting and season, of the seasons that are over or were counted to the end.
func (r *records) standing(counted []PlantSeason) []stand {
	type key struct {
		planting crop.PlantingID
		season   crop.Season
	}
	behind, open := map[key]int{}, map[key]bool{}
	for _, s := range counted {
		k := key{r.farm.Plants[s.Plant].Planting, s.Season}
		if s.Open {
			open[k] = true
			continue
		}
		behind[k]++
	}
	var list []stand
	for _, id := range slices.Sorted(maps.Keys(r.plantsOf)) {
		planting, known := r.farm.Plantings[id]
		if !known || !r.wanted(planting) {
			continue
		}
		for _, season := range r.seasonsCut() {
			k := key{id, season}
			if planting.AgeIn(season) < 1 || behind[k] == 0 && (open[k] || !r.over(season)) {
				continue
			}
			s := stand{
				planting: planting, season: season, age: planting.AgeIn(season),
				origin: r.farm.Stocks[planting.Stock].Origin, counted: behind[k],
			}
			s.alive = r.aliveIn(planting, season)
			if s.alive > 0 {
				list = append(list, s)
			}
		}
	}
	return list
}

// aliveIn is how many listed plants of a planting stood when a season's cutting began.
func (r *records) aliveIn(planting crop.Planting, season crop.Season) int {
	cutting, _ := r.cuttingAround(planting.Bed, season)
	n := 0
	for _, plant := range r.plantsOf[planting.ID] {
		if plant.Removed == "" || plant.Removed >= cutting.From {
			n++
		}
	}
	return n
}

// seasonsCut lists the seasons in which anything of the species asked about was cut.
func (r *records) seasonsCut() []crop.Season {
	var list []crop.Season
	for key := range r.cutting {
		if key.bed == "" {
			list = append(list, key.season)
		}
	}
	slices.Sort(list)
	return list
}

// over tells whether a season has ended on the day of the question.
func (r *records) over(season crop.Season) bool {
	return r.options.AsOf == "" || r.options.AsOf > r.farm.Calendar.Span(season).To
}
