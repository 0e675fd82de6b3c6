package yield

import (
	"cmp"
	"strings"

	"corymb/internal/crop"
)

// whence is all that a stem's grade and length may hang on, besides chance: the plant or, on the bench, the
// pool of plants; when; and who graded.
type whence struct {
	plant    crop.PlantID
	bed      crop.BedID
	season   crop.Season
	planting crop.PlantingID // empty where a pool's plants are of several
	rest     bool            // of a pool: what single plants gave was taken off, so it is of the others
	age      int
	flush    crop.Flush
	week     int // of the flush in its bed, from 1
	grader   crop.PersonID
}

// cluster is what shares one effect: a plant's stems are alike, and so are those from a pool of the same plants,
// whenever they were cut and whoever graded them. Plants that a pool loses from season to season are not told
// from those that stay.
type cluster struct {
	plant    crop.PlantID
	bed      crop.BedID
	begun    crop.Season // the first of the pool's plants
	planting crop.PlantingID
	rest     bool
}

func (w whence) cluster() cluster {
	if w.plant != "" {
		return cluster{plant: w.plant}
	}
	return cluster{bed: w.bed, begun: w.begun(), planting: w.planting, rest: w.rest}
}

// begun is the first season of the plants behind the stems.
func (w whence) begun() crop.Season { return w.season - crop.Season(w.age) + 1 }

// toldStems are stems of one whence, grade and length class, either of which may be untold.
type toldStems struct {
	*whence
	rank  int // of the grade, -1 untold
	class crop.LengthClass
	stems int
}

// lastWeek is the last week of a flush that is told from others; later stems count as of it.
const lastWeek = 6

// flushKey is one flush of one bed.
type flushKey struct {
	bed    crop.BedID
	season crop.Season
	flush  crop.Flush
}

// told lists the stems of which a grade or a length is known, each once: the plants' own, and of the totals of
// a bed and day what is left when the plants' are taken off. Totals from which that cannot be done are left
// out and counted for the notes.
func (r *records) told(all []picking) []toldStems {
	begun := r.begun(all)
	r.toldAlone = r.plantsToldAlone(all)
	plants := map[bedDay][]*picking{}
	for i := range all {
		if p := &all[i]; p.visit.Purpose == crop.PurposeCut {
			plants[p.bedDay()] = append(plants[p.bedDay()], p)
		}
	}
	var list []toldStems
	within := map[*crop.Count]bool{} // told more coarsely than the total that holds them
	for _, day := range byBedDay(bedLevel(all)) {
		totals := dayTotals(day)
		takeOff(totals, plants[day[0].bedDay()])
		for _, t := range totals {
			list = append(list, r.toldOfTotal(t, begun, within)...)
		}
	}
	var own []crop.Count
	for i := range all {
		p := &all[i]
		if p.visit.Purpose != crop.PurposeCut {
			continue
		}
		own = own[:0]
		for k := range p.visit.Counts {
			if c := &p.visit.Counts[k]; !within[c] {
				own = append(own, *c)
			}
		}
		list = toldAs(list, r.whenceOf(p, begun), own)
	}
	return list
}

func (r *records) plantsToldAlone(all []picking) map[plantingSeason]int {
	type plantSeason struct {
		plant  crop.PlantID
		season crop.Season
	}
	seen, n := map[plantSeason]bool{}, map[plantingSeason]int{}
	for _, p := range all {
		key := plantSeason{p.visit.Plant, r.seasonOf(p.visit.Date)}
		if p.visit.Purpose == crop.PurposeCut && !seen[key] && toldCount(p.visit) > 0 {
			seen[key] = true
			n[plantingSeason{p.planting, key.season}]++
		}
	}
	return n
}

// begun is the first day of each flush.
func (r *records) begun(all []picking) map[flushKey]crop.Date {
	begun := map[flushKey]crop.Date{}
	for _, p := range all {
		key := flushKey{p.bed, r.seasonOf(p.visit.Date), p.flush}
		if first, known := begun[key]; !known || p.visit.Date < first {
			begun[key] = p.visit.Date
		}
	}
	return begun
}

func (p *picking) bedDay() bedDay { return bedDay{p.bed, p.visit.Date} }

// byBedDay puts the totals of each bed and day together, in their order.
func byBedDay(totals []*picking) [][]*picking {
	at := map[bedDay]int{}
	var days [][]*picking
	for _, p := range totals {
		i, seen := at[p.bedDay()]
		if !seen {
			i = len(days)
			at[p.bedDay()], days = i, append(days, nil)
		}
		days[i] = append(days[i], p)
	}
	return days
}

// toldOfTotal adds to within the plants' counts that are in the total as it stands. Where stems were taken
// off several people's, nobody can tell whose are left.
func (r *records) toldOfTotal(t *dayTotal, begun map[flushKey]crop.Date, within map[*crop.Count]bool) []toldStems {
	if t.useless {
		for _, p := range t.of {
			r.overdrawn.add(p.visit)
		}
		return nil
	}
	for _, c := range t.coarse {
		within[c] = true
	}
	if t.taken {
		w := r.whenceOf(t.of[0], begun)
		w.grader, w.rest = t.grader(), true
		return toldAs(nil, w, t.rest())
	}
	var list []toldStems
	for _, p := range t.of {
		list = toldAs(list, r.whenceOf(p, begun), p.visit.Counts)
	}
	return list
}

// bedLevel keeps the bench totals, and the bed cuts of what had no bench total that tells as much.
func bedLevel(all []picking) []*picking {
	var beds []picking
	for _, p := range all {
		if p.visit.Purpose != crop.PurposeCut {
			beds = append(beds, p)
		}
	}
	return once(beds, toldCount)
}

// toldCount is the number of stems of a visit whose grade or length was told.
func toldCount(v *crop.Visit) int {
	n := 0
	for _, c := range v.Counts {
		if c.Grade.Rank() >= 0 || c.Length.Told() {
			n += c.Stems
		}
	}
	return n
}

func (r *records) whenceOf(p *picking, begun map[flushKey]crop.Date) *whence {
	season := r.seasonOf(p.visit.Date)
	return &whence{
		plant: p.visit.Plant, bed: p.bed, season: season, planting: p.planting, age: p.age, flush: p.flush,
		week:   min(lastWeek, 1+begun[flushKey{p.bed, season, p.flush}].DaysTo(p.visit.Date)/7),
		grader: p.visit.Person,
	}
}

// toldAs appends the counts that tell a grade or a length.
func toldAs(list []toldStems, w *whence, counts []crop.Count) []toldStems {
	for _, c := range counts {
		if c.Stems > 0 && (c.Grade.Rank() >= 0 || c.Length.Told()) {
			list = append(list, toldStems{whence: w, rank: c.Grade.Rank(), class: c.Length, stems: c.Stems})
		}
	}
	return list
}

// compareTold is an order that hangs on nothing but what is compared: whence by whence, and those cluster by
// cluster.
func compareTold(a, b toldStems) int {
	if c := strings.Compare(string(a.plant), string(b.plant)); c != 0 {
		return c // which mostly decides
	}
	return cmp.Or(
		cmp.Compare(a.bed, b.bed), cmp.Compare(a.begun(), b.begun()), cmp.Compare(a.planting, b.planting),
		compareBool(a.rest, b.rest), cmp.Compare(a.season, b.season), cmp.Compare(a.age, b.age), cmp.Compare(a.flush, b.flush), cmp.Compare(a.week, b.week),
		cmp.Compare(a.grader, b.grader), cmp.Compare(a.rank, b.rank),
		cmp.Compare(a.class.Lo, b.class.Lo), cmp.Compare(a.class.Hi, b.class.Hi),
	)
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// graded is the stems of one whence by rank of grade.
type graded struct {
	*whence
	stems []float64
}

// gradedBy gathers what is in the order of compareTold.
func gradedBy(told []toldStems) []graded {
	var list []graded
	grades := len(crop.GradesLowToHigh)
	for _, s := range told {
		if s.rank < 0 {
			continue
		}
		last := len(list) - 1
		if last < 0 || *list[last].whence != *s.whence {
			list, last = append(list, graded{whence: s.whence, stems: make([]float64, grades)}), last+1
		}
		list[last].stems[s.rank] += float64(s.stems)
	}
	return list
}

// measured is the stems of one whence and grade by length class.
type measured struct {
	*whence
	rank    int
	classes []crop.LengthClass
	stems   []float64
}

// measuredBy gathers what is in the order of compareTold.
func measuredBy(told []toldStems) []measured {
	var list []measured
	for _, s := range told {
		if !s.class.Told() {
			continue
		}
		last := len(list) - 1
		if last < 0 || *list[last].whence != *s.whence || list[last].rank != s.rank {
			list, last = append(list, measured{whence: s.whence, rank: s.rank}), last+1
		}
		m := &list[last]
		if end := len(m.classes) - 1; end >= 0 && m.classes[end] == s.class {
			m.stems[end] += float64(s.stems)
			continue
		}
		m.classes, m.stems = append(m.classes, s.class), append(m.stems, float64(s.stems))
	}
	return list
}
