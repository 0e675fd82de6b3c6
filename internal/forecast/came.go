package forecast

import (
	"slices"

	"corymb/internal/crop"
)

// came is what was told to have been cut, by week. Of a bed and day bench totals say it where there are some, then bed cuts,
// then the counts of plants.
type came struct {
	r        *records
	told     map[bedDay][]*total // of a whole bed, bench totals before bed cuts
	ofSeason map[bedSeason][]*total
	whole    map[bedDay]int // stems of a bed's week, by its Monday
	counted  map[bedDay]int // those that were counted plant by plant
	beds     []crop.BedID
	// first and last are the Mondays of the weeks between which a season's cuts lie.
	first, last map[crop.Season]crop.Date
	since       crop.Date // the first day of which anything is told
}

func (r *records) came() *came {
	c := &came{
		r: r, told: map[bedDay][]*total{}, ofSeason: map[bedSeason][]*total{}, whole: map[bedDay]int{}, counted: map[bedDay]int{},
		first: map[crop.Season]crop.Date{}, last: map[crop.Season]crop.Date{},
	}
	for key := range r.totals {
		c.told[key] = r.wholeTotals(key)
		season := bedSeason{key.bed, r.farm.Calendar.SeasonOf(key.day)}
		c.ofSeason[season] = append(c.ofSeason[season], c.told[key]...)
		for _, t := range c.told[key] {
			c.whole[c.week(key, t.stems)] += t.stems
		}
	}
	for of, one := range r.told {
		plant := r.farm.Plants[of.plant]
		key := bedDay{r.farm.BedOn(plant, of.day), of.day}
		week := c.week(key, one.stems)
		c.counted[week] += one.stems
		if !slices.ContainsFunc(c.told[key], func(t *total) bool { return r.holdsPlant(t, plant, of.day) }) {
			c.whole[week] += one.stems
		}
	}
	c.beds = sortedKeys(r.farm.Beds)
	return c
}

func (r *records) holdsPlant(t *total, plant crop.Plant, day crop.Date) bool {
	planting := r.farm.Plantings[plant.Planting]
	return t.holds(&cohort{planting: planting.ID, age: planting.AgeIn(r.farm.Calendar.SeasonOf(day))})
}

// week is that of a bed's day on which so many stems were cut.
func (c *came) week(key bedDay, stems int) bedDay {
	monday, season := key.day.Monday(), c.r.farm.Calendar.SeasonOf(key.day)
	if c.since == "" || monday < c.since {
		c.since = monday
	}
	if stems > 0 {
		if c.first[season] == "" || monday < c.first[season] {
			c.first[season] = monday
		}
		c.last[season] = max(c.last[season], monday)
	}
	return bedDay{key.bed, monday}
}

// in is a week's stems, of some beds the counted ones alone; not known before anything was told.
func (c *came) in(monday crop.Date, countedOnly map[crop.BedID]bool) (stems int, known bool) {
	for _, bed := range c.beds {
		of := c.whole
		if countedOnly[bed] {
			of = c.counted
		}
		stems += of[bedDay{bed, monday}]
	}
	return stems, c.since != "" && monday >= c.since
}

// flushWeeks are the stems of all weeks before one that lie within their season's cuts.
func (c *came) flushWeeks(before crop.Date, countedOnly map[crop.BedID]bool) []float64 {
	var all []float64
	for _, season := range sortedKeys(c.first) {
		for monday := c.first[season]; monday <= c.last[season] && monday < before; monday = monday.Add(7) {
			stems, _ := c.in(monday, countedOnly)
			all = append(all, float64(stems))
		}
	}
	return all
}

// nearACut tells whether anything was cut within so many weeks of one, in its year or one of the three before or after.
func (c *came) nearACut(monday crop.Date, weeks int) bool {
	for years := -3; years <= 3; years++ {
		for away := -weeks; away <= weeks; away++ {
			if stems, _ := c.in(monday.Add(7*away+364*years), nil); stems > 0 {
				return true
			}
		}
	}
	return false
}

// tells tells whether all that some plants give in a week is told: they are counted, or their bed's totals hold them.
func (c *came) tells(plants *cohort, monday crop.Date) bool {
	spring := c.r.farm.Calendar.Spring(plants.season)
	if !plants.uncounted && spring.DaysTo(monday) <= plants.to {
		return true
	}
	key := bedSeason{c.r.farm.Plantings[plants.planting].Bed, plants.season}
	holds := func(t *total) bool { return t.holds(plants) }
	cut := false
	for _, day := range c.r.cutDays[key] {
		if date := spring.Add(day); date.Monday() == monday {
			cut = true
			if !slices.ContainsFunc(c.told[bedDay{key.bed, date}], holds) {
				return false
			}
		}
	}
	return cut || slices.ContainsFunc(c.ofSeason[key], holds)
}
