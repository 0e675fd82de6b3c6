package forecast

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
)

// shareTotals gives what a bed's totals hold beside its counted plants to those that nobody counted: to several plantings
// by their plants, since a total does not tell more.
func (r *records) shareTotals(keys []whose, groups map[whose][]crop.PlantID) {
	byDay := map[bedDay][]int{}
	for i, c := range r.cohorts {
		if !c.uncounted {
			continue
		}
		bed := r.farm.Plantings[c.planting].Bed
		spring := r.farm.Calendar.Spring(c.season)
		for _, l := range c.looks {
			key := bedDay{bed, spring.Add(l.day)}
			byDay[key] = append(byDay[key], i)
		}
	}
	for _, key := range slices.SortedFunc(maps.Keys(byDay), func(a, b bedDay) int {
		return cmp.Or(cmp.Compare(a.bed, b.bed), cmp.Compare(a.day, b.day))
	}) {
		for _, t := range r.wholeTotals(key) {
			r.shareTotal(key, t, byDay[key], keys, groups)
		}
	}
}

// wholeTotals are a day's bench totals of a bed, or where there is none what was counted of it in the row.
func (r *records) wholeTotals(key bedDay) []*total {
	all := r.totals[key]
	bench := slices.DeleteFunc(slices.Clone(all), func(t *total) bool { return !t.bench })
	if len(bench) > 0 {
		return bench
	}
	return all
}

func (r *records) shareTotal(key bedDay, t *total, among []int, keys []whose, groups map[whose][]crop.PlantID) {
	holds := func(c *cohort) bool {
		return (t.planting == "" || t.planting == c.planting) && (t.age == 0 || t.age == c.age)
	}
	rest, plants := t.stems, 0
	for i := range r.cohorts {
		c := &r.cohorts[i]
		if c.uncounted || !holds(c) || r.farm.Plantings[c.planting].Bed != key.bed || c.season != r.farm.Calendar.SeasonOf(key.day) {
			continue
		}
		for _, id := range groups[keys[i]] {
			if one := r.told[plantDay{id, key.day}]; one != nil {
				rest -= one.stems
			}
		}
	}
	for _, i := range among {
		if holds(&r.cohorts[i]) {
			plants += r.cohorts[i].plants
		}
	}
	rest = max(rest, 0) // a total that holds less than was told of its plants says nothing of the others
	flush := flushPlace(t.fall)
	for _, i := range among {
		c := &r.cohorts[i]
		if !holds(c) {
			continue
		}
		share := rest * c.plants / plants
		rest, plants = rest-share, plants-c.plants
		for k := range c.looks {
			if r.farm.Calendar.Spring(c.season).Add(c.looks[k].day) == key.day {
				c.looks[k].stems[flush] += share
				c.looks[k].blind = false
			}
		}
	}
}
