package division

import (
	"math"

	"corymb/internal/crop"
)

// rhythm is how a season's stems are spread over weeks.
type rhythm struct {
	spring, fall int     // the first day of each flush, counted from the season's spring
	fallPart     float64 // of a season's stems
}

// week is one in which stems come.
type week struct {
	first int // its first day, counted from the season's spring
	share float64
}

// flushWeeks of a flush; its shares are those of the curve 1-(1-x^2.2)^3: the third week has 34 stems of a hundred, and its
// neighbours 26 and 25 (common practice, no source: a flush of four to five weeks, the third the heaviest).
const flushWeeks = 5

func flushShare(x float64) float64 { return 1 - math.Pow(1-math.Pow(x, 2.2), 3) }

// When a flush begins where the farm has not shown it (common practice, no source).
const (
	usualSpring = 80
	usualFall   = 180
)

// nearlyAll of a colour class's plants are of a species by whose days the class is then cut.
const nearlyAll = 0.8

// rhythmsOf are by colour those of the species of which nearly all plants of that colour class are, and of the whole farm where
// several share it, or no cut tells of the species.
func (s *stand) rhythmsOf() []rhythm {
	whole := rhythmOf(s.farm, func(crop.Visit) bool { return true })
	plants := make([]map[string]int, len(s.colours))
	for _, one := range s.plants {
		if one.colour < 0 {
			continue
		}
		if plants[one.colour] == nil {
			plants[one.colour] = map[string]int{}
		}
		plants[one.colour][one.stock.Species]++
	}
	bySpecies := map[string]rhythm{}
	for _, species := range s.species() {
		cut := false
		r := rhythmOf(s.farm, func(v crop.Visit) bool {
			of, known := speciesCut(s.farm, v)
			cut = cut || known && of == species && v.Stems() > 0
			return known && of == species
		})
		if cut {
			bySpecies[species] = r
		}
	}
	list := make([]rhythm, len(s.colours))
	for colour := range list {
		list[colour] = whole
		all := 0
		for _, n := range plants[colour] {
			all += n
		}
		for species, n := range plants[colour] {
			if r, told := bySpecies[species]; told && float64(n) >= nearlyAll*float64(all) {
				list[colour] = r
			}
		}
	}
	return list
}

// speciesCut is of what was cut, where the planting is known.
func speciesCut(farm crop.Farm, v crop.Visit) (species string, known bool) {
	p, known := farm.Plantings[plantingCut(farm, v)]
	return farm.Stocks[p.Stock].Species, known
}

func plantingCut(farm crop.Farm, v crop.Visit) crop.PlantingID {
	if v.Plant != "" {
		return farm.Plants[v.Plant].Planting
	}
	return v.Planting
}

// rhythmOf reads it from the days on which some of the farm's stems were cut: a flush begins by the day on which a twentieth
// of it is cut, over all seasons.
func rhythmOf(farm crop.Farm, some func(crop.Visit) bool) rhythm {
	days := [2]map[int]int{{}, {}}
	sums := [2]int{}
	for _, v := range farm.Visits {
		if !isCut(v) || !some(v) {
			continue
		}
		flush, season := 0, farm.Calendar.SeasonOf(v.Date)
		if v.Flush == crop.FlushFall {
			flush = 1
		}
		days[flush][farm.Calendar.Spring(season).DaysTo(v.Date)] += v.Stems()
		sums[flush] += v.Stems()
	}
	r := rhythm{spring: usualSpring, fall: usualFall}
	if sums[0] > 0 {
		r.spring = begins(days[0], sums[0])
	}
	if sums[1] > 0 {
		r.fall = begins(days[1], sums[1])
		r.fallPart = float64(sums[1]) / float64(sums[0]+sums[1])
	}
	return r
}

func begins(days map[int]int, all int) int {
	sum := 0
	for day := -400; day <= 400; day++ {
		if sum += days[day]; sum*20 >= all {
			return day
		}
	}
	return usualSpring
}

// weeks of a season, in order.
func (r rhythm) weeks() []week {
	var list []week
	add := func(first int, part float64) {
		for w := range flushWeeks {
			share := flushShare(float64(w+1)/flushWeeks) - flushShare(float64(w)/flushWeeks)
			list = append(list, week{first + 7*w, part * share})
		}
	}
	add(r.spring, 1-r.fallPart)
	if r.fallPart > 0 {
		add(r.fall, r.fallPart)
	}
	return list
}

// weekOf is the place among the weeks of one in which a day of any year lies, or is nearest to within a week; -1 for none.
func (r rhythm) weekOf(calendar crop.Calendar, day crop.Date) int {
	at, best, nearest := calendar.Spring(calendar.SeasonOf(day)).DaysTo(day), -1, 14
	for i, w := range r.weeks() {
		away := max(w.first-at, at-(w.first+6), 0)
		if away < nearest {
			best, nearest = i, away
		}
	}
	return best
}
