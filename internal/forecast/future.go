package forecast

import (
	"math/rand/v2"
	"slices"

	"corymb/internal/crop"
)

// layout says where in a draw's stems what lies.
type layout struct {
	weeks   int
	colours []crop.ColourID
	lengths []crop.Millimetres
}

// at is where the stems of the shortest lengths lie; those of others come behind.
func (l layout) at(week, colour, grade int) int {
	return ((week*len(l.colours)+colour)*grades + grade) * len(l.lengths)
}

// of is where at lies.
func (l layout) of(at int) (week, colour, grade, length int) {
	at, length = at/len(l.lengths), at%len(l.lengths)
	at, grade = at/grades, at%grades
	return at / len(l.colours), at % len(l.colours), grade, length
}

func (l layout) size() int { return l.at(l.weeks, 0, 0) }

// kindShares are what is known of the shares of what is asked about, the same for all draws.
type kindShares struct {
	layout
	ages    []int     // of the kinds, each of one species (classes.gradeKind)
	age     []int     // by kind, among ages
	colour  []int     // by kind, among colours; that of untold ones is the last
	grade   []shares  // by flush and age
	length  []shares  // by flush and grade
	colours []*shares // by flush and kind, of kinds of unknown colour of whose stock something is known
}

func (r *records) kindShares(asked []ahead) *kindShares {
	c := r.classes
	k := &kindShares{layout: layout{len(asked[0].ends), c.colours, c.lengths}}
	var kinds []kind
	for _, a := range asked {
		kinds = append(kinds, a.kinds...)
	}
	gradeKind := func(of kind) int { return c.gradeKind(r.farm.Stocks[of.stock].Species, of.age) }
	for _, kind := range kinds {
		k.ages = append(k.ages, gradeKind(kind))
	}
	slices.Sort(k.ages)
	k.ages = slices.Compact(k.ages)
	for _, kind := range kinds {
		k.age = append(k.age, slices.Index(k.ages, gradeKind(kind)))
		k.colour = append(k.colour, slices.Index(c.colours, kind.colour))
	}
	untold := false
	for flush := range flushes {
		for _, age := range k.ages {
			k.grade = append(k.grade, c.byGrade.shares(age, flush, r.season))
		}
		for grade := range grades {
			k.length = append(k.length, c.byLen.shares(grade, flush, r.season))
		}
		for _, kind := range kinds {
			of, known := c.coloursOf(kind.stock, flush, r.season)
			dealt := known && kind.colour == ""
			k.colours = append(k.colours, nil)
			if dealt {
				k.colours[len(k.colours)-1] = &of
			}
			untold = untold || kind.colour == "" && !dealt
		}
	}
	if n := len(c.colours) - 1; !untold && n > 0 {
		k.layout.colours = c.colours[:n]
	}
	return k
}

// future is one draw of what is still to come: the same future in all weeks, colours, grades and lengths.
type future struct {
	*kindShares
	src    *rand.Rand
	kinds  []int    // stems by flush, kind and week
	aged   []int    // by flush, age, colour and week
	graded []int    // by flush, week, colour and grade
	stems  []uint32 // as the layout has them
	days   [][7]int // by week, Monday to Sunday
}

func newFuture(k *kindShares, src *rand.Rand) *future {
	n := len(flushes) * k.weeks
	return &future{
		kindShares: k, src: src, kinds: make([]int, n*len(k.age)), aged: make([]int, n*len(k.ages)*len(k.layout.colours)),
		graded: make([]int, n*len(k.layout.colours)*grades), stems: make([]uint32, k.size()), days: make([][7]int, k.weeks),
	}
}

func (f *future) clear() {
	clear(f.kinds)
	clear(f.aged)
	clear(f.graded)
	clear(f.stems)
	clear(f.days)
}

// add adds stems of a kind.
func (f *future) add(flush, kind, week, stems int) {
	f.kinds[(flush*len(f.age)+kind)*f.weeks+week] += stems
}

// tellApart gives all stems their colour, grade and length.
func (f *future) tellApart() {
	for flush := range flushes {
		for kind := range f.age {
			f.byColour(flush, kind)
		}
		for age := range f.ages {
			f.byGrade(flush, age)
		}
		for grade := range grades {
			f.byLength(flush, grade)
		}
	}
}

func (f *future) byColour(flush, kind int) {
	at := flush*len(f.age) + kind
	weeks := f.kinds[at*f.weeks:][:f.weeks]
	var season []float64
	for week, stems := range weeks {
		if stems == 0 {
			continue
		}
		if f.colours[at] == nil {
			*f.agedAt(flush, f.age[kind], f.colour[kind], week) += stems
			continue
		}
		if season == nil {
			season = f.colours[at].draw(f.src)
		}
		placed(f.src, stems, season, func(colour, stems int) { *f.agedAt(flush, f.age[kind], colour, week) += stems })
	}
}

func (f *future) agedAt(flush, age, colour, week int) *int {
	return &f.aged[((flush*len(f.ages)+age)*len(f.layout.colours)+colour)*f.weeks+week]
}

func (f *future) gradedAt(flush, week, colour, grade int) *int {
	return &f.graded[((flush*f.weeks+week)*len(f.layout.colours)+colour)*grades+grade]
}

// byGrade deals out an age's stems.
func (f *future) byGrade(flush, age int) {
	f.dealOut(f.grade[flush*len(f.ages)+age].draw,
		func(week, colour int) int { return *f.agedAt(flush, age, colour, week) },
		func(week, colour, grade, stems int) { *f.gradedAt(flush, week, colour, grade) += stems })
}

// byLength deals out a grade's stems. Unsaleable ones stay with the shortest: nobody asks how long they are.
func (f *future) byLength(flush, grade int) {
	if grade == crop.GradeOut.Rank() {
		for week := range f.weeks {
			for colour := range f.layout.colours {
				f.stems[f.at(week, colour, grade)] += uint32(*f.gradedAt(flush, week, colour, grade))
			}
		}
		return
	}
	f.dealOut(f.length[flush*grades+grade].draw,
		func(week, colour int) int { return *f.gradedAt(flush, week, colour, grade) },
		func(week, colour, length, stems int) { f.stems[f.at(week, colour, grade)+length] += uint32(stems) })
}

// dealOut deals stems of each week and colour out to classes, whose shares of the season are drawn where there are any: a
// week is good or bad for all colours.
func (f *future) dealOut(shares func(*rand.Rand) []float64, stems func(week, colour int) int, to func(week, colour, class, stems int)) {
	var season []float64
	for week := range f.weeks {
		var ofWeek []float64
		for colour := range f.layout.colours {
			n := stems(week, colour)
			if n == 0 {
				continue
			}
			if season == nil {
				season = shares(f.src)
			}
			if ofWeek == nil {
				ofWeek = inAWeek(f.src, season)
			}
			placed(f.src, n, ofWeek, func(class, stems int) { to(week, colour, class, stems) })
		}
	}
}
