package packing

import (
	"fmt"
	"math/bits"
	"slices"
	"time"
)

// mostPairs is how many supplies times lines a day may have: what is kept for each pair fits in a small machine.
const mostPairs = 4_000_000

// Check lists what is odd about a day that can be planned, or in Faults all that is wrong with one that cannot.
func (d *Day) Check() ([]Note, error) {
	var r reader
	r.grades(d.Grades)
	r.names("supply", len(d.Supply), func(i int) string { return d.Supply[i].ID })
	r.names("demand", len(d.Demand), func(i int) string { return d.Demand[i].ID })
	for i, s := range d.Supply {
		r.checkSupply(d, entry{"supply", s.ID, i + 1}, s)
	}
	for i, line := range d.Demand {
		r.checkDemand(d, entry{"demand", line.ID, i + 1}, line)
	}
	if len(d.Supply)*len(d.Demand) > mostPairs {
		r.fault(entry{}.note(CodeTooLarge, "", "%d supplies and %d lines are too many: put equal supplies together", len(d.Supply), len(d.Demand)))
	}
	if len(r.faults) > 0 {
		return r.notes, r.faults
	}
	r.sums(d)
	r.floors(d)
	if len(r.faults) > 0 {
		return r.notes, r.faults
	}
	return r.notes, nil
}

func (r *reader) grades(grades []string) {
	if len(grades) == 0 {
		r.fault(entry{}.note(CodeMissing, "grades_low_to_high", "names no grade: list them from the lowest to the highest"))
	}
	for i, g := range grades {
		if g == "" {
			r.fault(entry{}.note(CodeMissing, "grades_low_to_high", "has an empty name in it: leave it out"))
		}
		if slices.Index(grades, g) < i {
			r.fault(entry{}.note(CodeDuplicate, "grades_low_to_high", "names %q twice: keep one", g))
		}
	}
}

func (r *reader) names(where string, count int, id func(int) string) {
	first := map[string]int{}
	for i := range count {
		switch before, seen := first[id(i)]; {
		case id(i) == "":
			r.fault(entry{where, "", i + 1}.note(CodeMissing, "id", "is empty: give it a name of its own"))
		case seen:
			r.fault(entry{where, id(i), i + 1}.note(CodeDuplicate, "id", "is that of number %d and of number %d: give each its own", before, i+1))
		default:
			first[id(i)] = i + 1
		}
	}
}

// amount checks a number, which must be least or more.
func (r *reader) amount(at entry, key string, number, least int64, why string) {
	switch {
	case number < 0:
		r.fault(at.note(CodeNegative, key, "is %d: it cannot be negative", number))
	case number < least:
		r.fault(at.note(CodeZero, key, "is 0: %s", why))
	case number > mostNumber:
		r.fault(at.note(CodeTooLarge, key, "is %d: at most %d can be kept exactly", number, int64(mostNumber)))
	}
}

func (r *reader) length(at entry, key string, mm int64) {
	if mm < 0 {
		r.fault(at.note(CodeNegative, key, "is %s: it cannot be negative", centimetres(mm)))
	}
}

func (r *reader) grade(d *Day, at entry, key, grade string) {
	if !slices.Contains(d.Grades, grade) && len(d.Grades) > 0 {
		r.fault(at.note(CodeGrade, key, "is %q, which is none of the grades %q: use one of them", grade, d.Grades))
	}
}

func (r *reader) checkSupply(d *Day, at entry, s Supply) {
	r.grade(d, at, "grade", s.Grade)
	r.length(at, "length_cm", s.LengthMM)
	r.amount(at, "stems", s.Stems, 0, "")
	r.amount(at, "floor_cents", s.Floor, 0, "")
	if _, err := time.Parse(time.DateOnly, s.Cut); err != nil && s.Cut != "" {
		r.fault(at.note(CodeDate, "cut_date", "is %q, which is no day: write it as 2026-06-30", s.Cut))
	}
}

func (r *reader) checkDemand(d *Day, at entry, line Demand) {
	if line.MinGrade != "" {
		r.grade(d, at, "min_grade", line.MinGrade)
	}
	r.length(at, "min_length_cm", line.MinLengthMM)
	r.amount(at, "bunch", line.Bunch, 1, "say how many stems are in a bunch")
	r.amount(at, "price_cents", line.Price, 1, "say what a bunch brings, or leave the line out")
	r.amount(at, "min_bunches", line.MinBunches, 0, "")
	r.amount(at, "max_bunches", line.MaxBunches, 0, "")
	if line.MinBunches > line.MaxBunches && line.MaxBunches >= 0 {
		r.fault(at.note(CodeLimits, "min_bunches", "is %d, but \"max_bunches\" only %d: lower the one or raise the other", line.MinBunches, line.MaxBunches))
	}
	if line.Pinned != nil {
		r.pinned(at, line, *line.Pinned)
	}
}

func (r *reader) pinned(at entry, line Demand, pinned int64) {
	r.amount(at, "pinned_bunches", pinned, 0, "")
	switch {
	case line.Refused && pinned != 0:
		r.fault(at.note(CodeLimits, "pinned_bunches", "is %d, but the line is refused: take one of them away", pinned))
	case pinned > line.MaxBunches:
		r.fault(at.note(CodeLimits, "pinned_bunches", "is %d, but \"max_bunches\" only %d: lower the one or raise the other", pinned, line.MaxBunches))
	case line.AllOrNothing && pinned != 0 && pinned != line.MaxBunches:
		r.fault(at.note(CodeLimits, "pinned_bunches", "is %d, but the line is all or nothing: pin 0 or %d", pinned, line.MaxBunches))
	}
}

// sums checks that nothing that is added up can become too large.
func (r *reader) sums(d *Day) {
	stems := uint64(0)
	for _, s := range d.Supply {
		if stems += uint64(s.Stems); stems > mostNumber {
			r.fault(entry{}.note(CodeTooLarge, "", "its stems are too many to be counted exactly: at most %d together", int64(mostNumber)))
			return
		}
	}
	revenue := uint64(0)
	for _, line := range d.Demand {
		bunches := min(uint64(line.MaxBunches), stems/uint64(line.Bunch))
		high, part := bits.Mul64(uint64(line.Price), bunches)
		if revenue += part; high != 0 || part > mostNumber || revenue > mostNumber {
			r.fault(entry{}.note(CodeTooLarge, "", "it could bring more than %d cents, more than can be counted exactly: lower prices or bunches", int64(mostNumber)))
			return
		}
	}
}

// floors notes supply that no line pays for, though some would take it.
func (r *reader) floors(d *Day) {
	for i, s := range d.Supply {
		best, wanted := int64(-1), false
		for _, line := range d.Demand {
			if line.MaxBunches > 0 && !line.Refused && d.meets(s, line) {
				wanted = true
				best = max(best, line.Price/line.Bunch)
				if dearEnough(s, line) {
					best = -1
					break
				}
			}
		}
		if wanted && best >= 0 && s.Stems > 0 {
			r.note(entry{"supply", s.ID, i + 1}.note(CodeFloor, "floor_cents",
				"is %d, and no line that would take the stems pays that: the best pays %s a stem, so all %s stay unsold",
				s.Floor, fmt.Sprint(best, " cents"), counted(s.Stems, "stem")))
		}
	}
}

// counted is a number of things in words.
func counted(n int64, thing string) string {
	switch {
	case n == 1:
		return "1 " + thing
	case thing == "bunch":
		return fmt.Sprintf("%d bunches", n)
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
