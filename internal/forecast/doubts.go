package forecast

import (
	"maps"
	"slices"

	"corymb/internal/crop"
)

// Doubts are what a forecast rests on that may be wrong without being an error.
type Doubts struct {
	Silent *Silence       // nil where there is none
	Unseen []crop.StockID // that stand, and of which no cut tells: practice and the other stocks speak for them
}

// Silence is a stretch up to the day of the question without a cut, in which a Part of the stems of seasons before came: the
// season may be half entered, and the forecast takes it that nothing opened.
type Silence struct {
	Stretch
	Part float64 `json:"part"`
}

// What makes a silence doubtful (common practice, no source): it is longer than a season is late, and others were in flush.
const (
	doubtfulDays = 14
	doubtfulPart = 0.4
)

// DoubtsOf looks at a farm on the evening of a day.
func DoubtsOf(farm crop.Farm, asOf crop.Date) Doubts {
	farm = known(farm, asOf)
	d := Doubts{Unseen: unseen(farm)}
	season := farm.Calendar.SeasonOf(asOf)
	last := farm.Calendar.Spring(season).Add(-1)
	for _, v := range farm.Visits {
		if v.Stems() > 0 && farm.Calendar.SeasonOf(v.Date) == season {
			last = max(last, v.Date)
		}
	}
	part := partBetween(farm, season, last.Add(1), asOf)
	if last.DaysTo(asOf) > doubtfulDays && part >= doubtfulPart {
		d.Silent = &Silence{Stretch{last.Add(1), asOf}, part}
	}
	return d
}

// partBetween is the part of the stems of seasons before one that came on such days of the year.
func partBetween(farm crop.Farm, season crop.Season, from, to crop.Date) float64 {
	spring := farm.Calendar.Spring(season)
	all, between := 0, 0
	for _, v := range farm.Visits {
		of := farm.Calendar.SeasonOf(v.Date)
		if of >= season {
			continue
		}
		all += v.Stems()
		if day := farm.Calendar.Spring(of).DaysTo(v.Date); day >= spring.DaysTo(from) && day <= spring.DaysTo(to) {
			between += v.Stems()
		}
	}
	return float64(between) / float64(max(all, 1))
}

// unseen are the stocks of plants that stand of whose plants, plantings and beds no cut tells.
func unseen(farm crop.Farm) []crop.StockID {
	beds, plantings := map[crop.BedID]bool{}, map[crop.PlantingID]bool{}
	for _, v := range farm.Visits {
		switch {
		case v.Stems() == 0:
		case v.Plant != "":
			plantings[farm.Plants[v.Plant].Planting] = true
		case v.Planting != "":
			plantings[v.Planting] = true
		default:
			beds[v.Bed] = true
		}
	}
	standing, seen := map[crop.StockID]bool{}, map[crop.StockID]bool{}
	for _, p := range farm.Plants {
		planting := farm.Plantings[p.Planting]
		standing[planting.Stock] = standing[planting.Stock] || p.Removed == ""
		seen[planting.Stock] = seen[planting.Stock] || plantings[planting.ID] || beds[planting.Bed]
	}
	maps.DeleteFunc(standing, func(stock crop.StockID, stands bool) bool { return !stands || seen[stock] })
	return slices.Sorted(maps.Keys(standing))
}
