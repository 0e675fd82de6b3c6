package yield

import (
	"slices"

	"corymb/internal/crop"
)

// picking is a visit that took stems, its age, flush and planting settled.
type picking struct {
	visit    *crop.Visit
	bed      crop.BedID
	planting crop.PlantingID // empty for all plantings of the bed that are of this age, where that is several
	age      int
	flush    crop.Flush
}

// pickings settles every visit that it can and counts those that it cannot.
func (r *records) pickings() []picking {
	all := make([]picking, 0, len(r.visits))
	for i := range r.visits {
		if p, ours := r.settle(&r.visits[i]); ours {
			all = append(all, p)
		}
	}
	return all
}

// settle is false for another species' visits, which are no concern of this report, and for those
// that nobody can place, which it counts.
func (r *records) settle(v *crop.Visit) (picking, bool) {
	season := r.seasonOf(v.Date)
	if v.Purpose == crop.PurposeCut {
		return r.settlePlant(v, season)
	}
	p := picking{visit: v, bed: v.Bed, planting: v.Planting}
	candidates := r.candidates(v, season)
	if len(candidates) == 0 {
		if r.mayHold(v.Bed) {
			r.bare.add(v)
		}
		return picking{}, false
	}
	ours, mixed := r.oneSpecies(candidates)
	if !ours {
		return picking{}, false
	}
	if len(candidates) == 1 { // told or not, it is the same plants
		p.planting = candidates[0].ID
	}
	p.age = oneAge(v, candidates, season)
	if mixed || p.age < 1 {
		r.ageless.add(v)
		return picking{}, false
	}
	p.flush = r.flushOf(v, p.bed, season)
	return p, true
}

// settlePlant takes age and bed from the plant's planting. Whether the plant was counted does not
// matter here: any graded stem tells of grades.
func (r *records) settlePlant(v *crop.Visit, season crop.Season) (picking, bool) {
	planting, known := r.farm.Plantings[r.farm.Plants[v.Plant].Planting]
	if known && !r.wanted(planting) {
		return picking{}, false
	}
	age := planting.AgeIn(season)
	if !known || age < 1 || season == 0 {
		r.unplaced.add(v)
		return picking{}, false
	}
	return picking{
		visit: v, bed: planting.Bed, planting: planting.ID, age: age,
		flush: r.flushOf(v, planting.Bed, season),
	}, true
}

// candidates are the plantings that a bed's total may come from: those of the bed that still stood
// that day and were in their first season or later, narrowed by what the visit tells.
func (r *records) candidates(v *crop.Visit, season crop.Season) []crop.Planting {
	var found []crop.Planting
	for _, p := range r.plantingsIn[v.Bed] {
		if v.Planting != "" && v.Planting != p.ID || v.Age > 0 && v.Age != p.AgeIn(season) {
			continue
		}
		if p.AgeIn(season) >= 1 && r.stands(p, v.Date) {
			found = append(found, p)
		}
	}
	return found
}

// stands tells whether any plant of the planting was left that day; on the day of its removal a plant
// still was. A planting whose plants were never listed one by one is taken to stand.
func (r *records) stands(p crop.Planting, day crop.Date) bool {
	last, listed := r.lastDay[p.ID]
	return !listed || last >= day
}

// mayHold is false for a bed in which only other species were ever set.
func (r *records) mayHold(bed crop.BedID) bool {
	set := r.plantingsIn[bed]
	return len(set) == 0 || slices.ContainsFunc(set, r.wanted)
}

// oneSpecies tells whether the candidates are of the species asked about, and whether some are and
// some are not.
func (r *records) oneSpecies(candidates []crop.Planting) (ours, mixed bool) {
	if r.options.Species == "" {
		return true, false
	}
	wanted := 0
	for _, p := range candidates {
		if r.wanted(p) {
			wanted++
		}
	}
	return wanted > 0, wanted > 0 && wanted < len(candidates)
}

// oneAge is the age of a bed's total, or 0 where nobody told it and the bed holds several.
func oneAge(v *crop.Visit, candidates []crop.Planting, season crop.Season) int {
	if v.Age > 0 {
		return v.Age
	}
	age := 0
	for _, p := range candidates {
		if age != 0 && age != p.AgeIn(season) {
			return 0
		}
		age = p.AgeIn(season)
	}
	return age
}

// flushOf is the flush as told, else by the day on which the bed was cut back.
func (r *records) flushOf(v *crop.Visit, bed crop.BedID, season crop.Season) crop.Flush {
	if v.Flush != "" {
		return v.Flush
	}
	if back := r.farm.Beds[bed].CutBack[season]; back != "" && v.Date >= back {
		return crop.FlushFall
	}
	return crop.FlushSpring
}

// overlap tells whether two pickings of one bed and day may hold the same stems. A whole bed
// overlaps all in it; with a planting or an age told, only what shares it.
func (p *picking) overlap(q *picking) bool {
	if p.planting != "" && q.planting != "" {
		return p.planting == q.planting
	}
	return p.age == q.age
}
