package yield

import (
	"cmp"
	"slices"

	"corymb/internal/crop"
)

// whence is all that a stem's grade and length may hang on, besides chance: the plant or, on the bench, the
// pool of plants; when; and who graded.
type whence struct {
	plant    crop.PlantID
	bed      crop.BedID
	season   crop.Season
	planting crop.PlantingID // empty where a pool's plants are of several
	age      int
	flush    crop.Flush
	week     int // of the flush in its bed, from 1
	grader   crop.PersonID
}

// cluster is what shares one effect: a plant's stems are alike, and so are those of one season from a pool of
// the same plants, whenever they were cut and whoever graded them.
type cluster struct {
	plant    crop.PlantID
	bed      crop.BedID
	season   crop.Season
	age      int
	planting crop.PlantingID
}

func (w whence) cluster() cluster {
	if w.plant != "" {
		return cluster{plant: w.plant}
	}
	return cluster{bed: w.bed, season: w.season, age: w.age, planting: w.planting}
}

// toldStems are stems of one whence, grade and length class, either of which may be untold.
type toldStems struct {
	whence
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

// told lists the stems of which a grade or a length is known, each once: the plants' own, and of a bench
// total or bed cut what is left when the plants' are taken off. Where that leaves less than nothing of a
// grade or length class, the total is left out and counted for the notes.
func (r *records) told(all []picking) []toldStems {
	begun := map[flushKey]crop.Date{}
	for _, p := range all {
		key := flushKey{p.bed, r.seasonOf(p.visit.Date), p.flush}
		if first, known := begun[key]; !known || p.visit.Date < first {
			begun[key] = p.visit.Date
		}
	}
	plants := map[bedDay][]*picking{}
	for i := range all {
		if p := &all[i]; p.visit.Purpose == crop.PurposeCut {
			plants[bedDay{p.bed, p.visit.Date}] = append(plants[bedDay{p.bed, p.visit.Date}], p)
		}
	}
	var list []toldStems
	within := map[*crop.Count]bool{} // told more coarsely than the total that holds them
	for _, p := range bedLevel(all) {
		counts, coarse, ok := without(p, plants[bedDay{p.bed, p.visit.Date}])
		if !ok {
			r.overdrawn.add(p.visit)
			continue
		}
		for _, c := range coarse {
			within[c] = true
		}
		list = append(list, r.toldOf(p, begun, counts)...)
	}
	for i := range all {
		p := &all[i]
		if p.visit.Purpose != crop.PurposeCut {
			continue
		}
		var own []crop.Count
		for k := range p.visit.Counts {
			if c := &p.visit.Counts[k]; !within[c] {
				own = append(own, *c)
			}
		}
		list = append(list, r.toldOf(p, begun, own)...)
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

func (r *records) toldOf(p *picking, begun map[flushKey]crop.Date, counts []crop.Count) []toldStems {
	season := r.seasonOf(p.visit.Date)
	w := whence{
		plant: p.visit.Plant, bed: p.bed, season: season, planting: p.planting, age: p.age, flush: p.flush,
		week:   min(lastWeek, 1+begun[flushKey{p.bed, season, p.flush}].DaysTo(p.visit.Date)/7),
		grader: p.visit.Person,
	}
	var list []toldStems
	for _, c := range counts {
		if c.Stems > 0 && (c.Grade.Rank() >= 0 || c.Length.Told()) {
			list = append(list, toldStems{whence: w, rank: c.Grade.Rank(), class: c.Length, stems: c.Stems})
		}
	}
	return list
}

// kind is a grade and length class, as they were told.
type kind struct {
	grade  crop.Grade
	length crop.LengthClass
}

// without takes the plants' stems off a total of the same day, as far as those may be part of it, in the
// detail in which the total was told; false where more were taken from plants than the total has. Counts of
// plants that were told more coarsely stay in the total, and are returned.
func without(total *picking, plants []*picking) (counts []crop.Count, coarse []*crop.Count, ok bool) {
	left := map[kind]int{}
	var order []kind
	var grades, lengths bool
	for _, c := range total.visit.Counts {
		k := kind{c.Grade, c.Length}
		if _, seen := left[k]; !seen {
			order = append(order, k)
		}
		left[k] += c.Stems
		grades, lengths = grades || c.Grade.Rank() >= 0, lengths || c.Length.Told()
	}
	for _, p := range plants {
		if !p.overlap(total) {
			continue
		}
		for i := range p.visit.Counts {
			c := &p.visit.Counts[i]
			if grades && c.Grade.Rank() < 0 || lengths && !c.Length.Told() {
				coarse = append(coarse, c)
				continue
			}
			var k kind
			if grades {
				k.grade = c.Grade
			}
			if lengths {
				k.length = c.Length
			}
			if left[k] -= c.Stems; left[k] < 0 {
				return nil, nil, false
			}
		}
	}
	for _, k := range order {
		counts = append(counts, crop.Count{Grade: k.grade, Length: k.length, Stems: left[k]})
	}
	return counts, coarse, true
}

// compareWhence is an order that hangs on nothing but what is compared, cluster by cluster.
func compareWhence(a, b whence) int {
	return cmp.Or(
		cmp.Compare(a.plant, b.plant), cmp.Compare(a.bed, b.bed), cmp.Compare(a.season, b.season),
		cmp.Compare(a.age, b.age), cmp.Compare(a.planting, b.planting), cmp.Compare(a.flush, b.flush),
		cmp.Compare(a.week, b.week), cmp.Compare(a.grader, b.grader),
	)
}

// graded is the stems of one whence by rank of grade.
type graded struct {
	whence
	stems []float64
}

func gradedBy(told []toldStems) []graded {
	at := map[whence]int{}
	var list []graded
	for _, s := range told {
		if s.rank < 0 {
			continue
		}
		i, seen := at[s.whence]
		if !seen {
			i = len(list)
			at[s.whence] = i
			list = append(list, graded{whence: s.whence, stems: make([]float64, len(crop.GradesLowToHigh))})
		}
		list[i].stems[s.rank] += float64(s.stems)
	}
	slices.SortStableFunc(list, func(a, b graded) int { return compareWhence(a.whence, b.whence) })
	return list
}

// measured is the stems of one whence and grade by length class.
type measured struct {
	whence
	rank    int
	classes []crop.LengthClass
	stems   []float64
}

func measuredBy(told []toldStems) []measured {
	type key struct {
		whence
		rank int
	}
	at := map[key]int{}
	var list []measured
	for _, s := range told {
		if !s.class.Told() {
			continue
		}
		k := key{s.whence, s.rank}
		i, seen := at[k]
		if !seen {
			i = len(list)
			at[k] = i
			list = append(list, measured{whence: s.whence, rank: s.rank})
		}
		m := &list[i]
		if c := slices.Index(m.classes, s.class); c >= 0 {
			m.stems[c] += float64(s.stems)
			continue
		}
		m.classes, m.stems = append(m.classes, s.class), append(m.stems, float64(s.stems))
	}
	slices.SortStableFunc(list, func(a, b measured) int {
		return cmp.Or(compareWhence(a.whence, b.whence), cmp.Compare(a.rank, b.rank))
	})
	return list
}
