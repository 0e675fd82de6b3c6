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

// shareTotal gives out what a total holds beside counted plants: of each colour class to the plants of that class, or else to
// those of an unknown one, or else to all.
func (r *records) shareTotal(key bedDay, t *total, among []int, keys []whose, groups map[whose][]crop.PlantID) {
	var holding []int
	for _, i := range among {
		if t.holds(&r.cohorts[i]) {
			holding = append(holding, i)
		}
	}
	for _, i := range holding {
		if l := r.lookOn(&r.cohorts[i], key.day); l != nil {
			l.blind = false
		}
	}
	rest := t.beside(r.countedIn(key, t, keys, groups))
	for _, colour := range sortedKeys(rest) {
		to := r.ofColour(holding, colour)
		if len(to) == 0 && colour != "" {
			to = r.ofColour(holding, "")
			r.noteColours(to, key.day, flushPlace(t.fall), colour, rest[colour])
		}
		if len(to) == 0 || colour == "" {
			to = holding
		}
		r.deal(rest[colour], to, key.day, flushPlace(t.fall))
	}
}

func (t *total) holds(c *cohort) bool {
	return (t.planting == "" || t.planting == c.planting) && (t.age == 0 || t.age == c.age)
}

// countedIn are the stems of a total that were told of single plants too, by these plants' colour.
func (r *records) countedIn(key bedDay, t *total, keys []whose, groups map[whose][]crop.PlantID) map[crop.ColourID]int {
	counted := map[crop.ColourID]int{}
	for i := range r.cohorts {
		c := &r.cohorts[i]
		if c.uncounted || !t.holds(c) || r.farm.Plantings[c.planting].Bed != key.bed || c.season != r.farm.Calendar.SeasonOf(key.day) {
			continue
		}
		for _, id := range groups[keys[i]] {
			if one := r.told[plantDay{id, key.day}]; one != nil {
				counted[r.classes.ofPlant[id]] += one.stems
			}
		}
	}
	return counted
}

// beside is what a total holds beside counted stems, by colour: never more than all its stems less all of these.
func (t *total) beside(counted map[crop.ColourID]int) map[crop.ColourID]int {
	left := t.stems
	for _, stems := range counted {
		left -= stems
	}
	left = max(left, 0) // a total that holds less than was told of its plants says nothing of the others
	rest, told := map[crop.ColourID]int{}, 0
	for colour, stems := range t.colours {
		rest[colour] = max(stems-counted[colour], 0)
		told += rest[colour]
	}
	if told <= left {
		rest[""] += left - told
		return rest
	}
	for _, colour := range sortedKeys(rest) { // stems were counted under another colour than they were told of on the bench
		part := rest[colour] * left / told
		told, left = told-rest[colour], left-part
		rest[colour] = part
	}
	return rest
}

// ofColour are those of some cohorts that are of a colour class.
func (r *records) ofColour(cohorts []int, colour crop.ColourID) []int {
	var of []int
	for _, i := range cohorts {
		if r.cohorts[i].colour == colour {
			of = append(of, i)
		}
	}
	return of
}

// deal gives stems to cohorts by their plants.
func (r *records) deal(stems int, to []int, day crop.Date, flush int) {
	plants := 0
	for _, i := range to {
		plants += r.cohorts[i].plants
	}
	for _, i := range to {
		c := &r.cohorts[i]
		share := stems * c.plants / plants
		stems, plants = stems-share, plants-c.plants
		if l := r.lookOn(c, day); l != nil {
			l.stems[flush] += share
		}
	}
}

// noteColours notes what plants of unknown colour bore.
func (r *records) noteColours(cohorts []int, day crop.Date, flush int, colour crop.ColourID, stems int) {
	plants := 0
	for _, i := range cohorts {
		plants += r.cohorts[i].plants
	}
	for _, i := range cohorts {
		c := &r.cohorts[i]
		r.classes.noteColour(c.stock, flush, r.farm.Calendar.SeasonOf(day), colour, float64(stems*c.plants)/float64(plants))
	}
}

func (r *records) lookOn(c *cohort, day crop.Date) *look {
	on := r.farm.Calendar.Spring(c.season).DaysTo(day)
	k, found := slices.BinarySearchFunc(c.looks, on, func(l look, on int) int { return l.day - on })
	if !found {
		return nil
	}
	return &c.looks[k]
}
