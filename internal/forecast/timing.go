package forecast

import (
	"math"

	"corymb/internal/crop"
	"corymb/internal/degreedays"
	"corymb/internal/stats"
)

// timing is what is known of when flushes come beside what was cut: by the warmth of seasons, and by cutting back.
type timing struct {
	warmths *warmths                   // nil where no season can be told from the usual one
	clocks  map[crop.Season]clock      // of seasons with weather, the present one's up to the day of the question
	present []float64                  // the present season's warmth up to that day; nil for none
	cutBack map[crop.Season]cutBackDay // of seasons in which some bed was cut back
	// usualCutBack is on which day this season's beds will be cut back, as past ones' were; its SD is 0 where none were, or this
	// season's already are.
	usualCutBack stats.Normal
	filled       []crop.Date // days of seasons with weather on which the usual warmth stands in, where it is ever told so late
}

// cutBackDay is on which day of the usual year a stock's beds were cut back in a season, their mean by plants.
type cutBackDay struct {
	all     float64 // of the whole farm
	byStock map[crop.StockID]float64
}

// of is that of a stock, of which perhaps no bed was cut back itself.
func (d cutBackDay) of(stock crop.StockID) float64 {
	if day, there := d.byStock[stock]; there {
		return day
	}
	return d.all
}

// cutBackOf is the day of the usual year on which what a flush hangs on was cut back; not a number where it hangs on
// nothing: as the spring's does, and the fall's before any bed was cut back.
func (t *timing) cutBackOf(stock crop.StockID, season crop.Season, flush int) float64 {
	day, there := t.cutBack[season]
	if flush == 0 || !there {
		return math.NaN()
	}
	return day.of(stock)
}

// kind is what a flush's onset goes by in a season.
func (t *timing) kind(season crop.Season, flush int) seasonKind {
	kind := seasonKind{}
	if t.clocks[season] != nil {
		kind.byWarmth = 1
	}
	_, kind.cutBack = t.cutBack[season]
	kind.cutBack = kind.cutBack && flush == 1
	return kind
}

func (r *records) readTiming() {
	r.timing = timing{clocks: map[crop.Season]clock{}, cutBack: map[crop.Season]cutBackDay{}}
	r.readWarmth()
	r.readCutBacks()
}

func (r *records) readWarmth() {
	t := &r.timing
	warmth := degreeDays(r.farm, r.asOf)
	t.warmths = warmthsOf(warmth, r.farm.Calendar, r.season)
	if t.warmths == nil {
		return
	}
	first := r.season
	for day := range warmth {
		first = min(first, r.farm.Calendar.SeasonOf(day))
	}
	last := 0 // day of a season of which weather is ever told: a farm that stops in the fall lacks no winter
	for day := range warmth {
		last = max(last, r.farm.Calendar.Spring(r.farm.Calendar.SeasonOf(day)).DaysTo(day))
	}
	for season := first; season <= r.season; season++ {
		spring, days := r.farm.Calendar.Spring(season), len(t.warmths.usual)
		if season == r.season {
			days = r.day(r.asOf) + 1
		}
		year := t.warmths.year(warmth, spring, days)
		if year == nil {
			continue
		}
		for day := range year {
			if _, there := warmth[spring.Add(day)]; !there && day <= last {
				t.filled = append(t.filled, spring.Add(day))
			}
		}
		t.clocks[season] = t.warmths.clock(year)
		if season == r.season {
			t.present = year
		}
	}
}

// degreeDays are those of the days up to one, by the farm's thresholds; none where these leave nothing between them.
func degreeDays(farm crop.Farm, asOf crop.Date) map[crop.Date]float64 {
	between, err := degreedays.NewThresholds(farm.Ahead.Warmth.Lower, farm.Ahead.Warmth.Upper)
	if err != nil {
		return nil
	}
	warmth := map[crop.Date]float64{}
	for date, day := range farm.Ahead.Weather {
		if date <= asOf {
			warmth[date] = between.Of(day, degreedays.Method(farm.Ahead.Warmth.Method))
		}
	}
	return warmth
}

func (r *records) readCutBacks() {
	type sum struct{ days, plants float64 }
	all, byStock := map[crop.Season]sum{}, map[crop.Season]map[crop.StockID]sum{}
	for _, id := range sortedKeys(r.farm.Plants) {
		plant := r.farm.Plants[id]
		planting := r.farm.Plantings[plant.Planting]
		for season := planting.FirstSeason; season <= r.season; season++ {
			date := r.cutBackOf(plant, season)
			if date == "" {
				continue
			}
			day := r.timing.clocks[season].of(r.day(date))
			if byStock[season] == nil {
				byStock[season] = map[crop.StockID]sum{}
			}
			a, b := all[season], byStock[season][planting.Stock]
			all[season], byStock[season][planting.Stock] = sum{a.days + day, a.plants + 1}, sum{b.days + day, b.plants + 1}
		}
	}
	for season, a := range all {
		days := cutBackDay{all: a.days / a.plants, byStock: map[crop.StockID]float64{}}
		for stock, b := range byStock[season] {
			days.byStock[stock] = b.days / b.plants
		}
		r.timing.cutBack[season] = days
	}
	if _, already := r.timing.cutBack[r.season]; !already {
		r.timing.usualCutBack = usualCutBack(r.timing.cutBack)
	}
}

// usualCutBack is what past seasons say of the next, and before they say how far apart these days lie, practice.
func usualCutBack(days map[crop.Season]cutBackDay) stats.Normal {
	if len(days) == 0 {
		return stats.Normal{}
	}
	n, sum, squares := float64(len(days)), 0.0, 0.0
	for _, season := range sortedKeys(days) {
		sum += days[season].all
	}
	for _, day := range days {
		squares += (day.all - sum/n) * (day.all - sum/n)
	}
	variance := (2*cutBackSD*cutBackSD + squares) / (1 + n)
	return stats.Normal{Mean: sum / n, SD: math.Sqrt(variance * (1 + 1/n))}
}

// cutBackOf is the day on which a plant was cut back with its bed in a season; empty where it was not, so far.
func (r *records) cutBackOf(plant crop.Plant, season crop.Season) crop.Date {
	date := r.farm.Beds[r.farm.BedOf(plant)].CutBack[season]
	if date > r.asOf || plant.Removed != "" && plant.Removed <= date {
		return ""
	}
	return date
}

// clock draws the whole clock of the present season: its warmth to come is not known.
func (t *timing) clock(s *sampler) clock {
	if t.present == nil {
		return nil
	}
	return t.warmths.clock(t.warmths.toCome(s.src, t.present))
}
