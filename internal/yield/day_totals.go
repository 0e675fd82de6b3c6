package yield

import "corymb/internal/crop"

// dayTotal is the bench totals and bed cuts of one bed and day that are of the same plants and flush and were
// told in the same detail: they are taken together, since a plant's stems may lie in any of them.
type dayTotal struct {
	of      []*picking
	detail  detail
	stems   map[kind]int // as told
	left    map[kind]int // less what was taken off
	order   []kind
	taken   bool          // single plants' stems were taken off
	coarse  []*crop.Count // of single plants, told more coarsely: in it as it stands
	useless bool          // it cannot be told what is in it besides single plants' stems
}

// detail is what any count of a total tells.
type detail struct {
	grades, lengths bool
}

// kind is a grade and length class, as they were told.
type kind struct {
	grade  crop.Grade
	length crop.LengthClass
}

func detailOf(v *crop.Visit) detail {
	var d detail
	for _, c := range v.Counts {
		d.grades, d.lengths = d.grades || c.Grade.Rank() >= 0, d.lengths || c.Length.Told()
	}
	return d
}

// kindOf is a count's kind as far as the detail goes; false where the count was told more coarsely.
func (d detail) kindOf(c *crop.Count) (kind, bool) {
	var k kind
	if d.grades {
		k.grade = c.Grade
	}
	if d.lengths {
		k.length = c.Length
	}
	return k, !(d.grades && c.Grade.Rank() < 0 || d.lengths && !c.Length.Told())
}

// dayTotals puts the totals of one bed and day together, in their order.
func dayTotals(totals []*picking) []*dayTotal {
	type likeness struct {
		planting crop.PlantingID
		age      int
		flush    crop.Flush
		detail   detail
	}
	found := map[likeness]*dayTotal{}
	var list []*dayTotal
	for _, p := range totals {
		key := likeness{p.planting, p.age, p.flush, detailOf(p.visit)}
		t := found[key]
		if t == nil {
			t = &dayTotal{detail: key.detail, stems: map[kind]int{}, left: map[kind]int{}}
			found[key], list = t, append(list, t)
		}
		t.add(p)
	}
	return list
}

func (t *dayTotal) add(p *picking) {
	t.of = append(t.of, p)
	for _, c := range p.visit.Counts {
		k := kind{c.Grade, c.Length}
		if _, seen := t.stems[k]; !seen {
			t.order = append(t.order, k)
		}
		t.stems[k] += c.Stems
		t.left[k] += c.Stems
	}
}

// takeOff takes single plants' stems of the same bed and day off the totals, each once. A total is useless
// where more was told of single plants than it has, and so are several of which any may hold a plant's stems.
func takeOff(totals []*dayTotal, plants []*picking) {
	for _, p := range plants {
		var over []*dayTotal
		for _, t := range totals {
			if t.of[0].overlap(p) {
				over = append(over, t)
			}
		}
		for i := range p.visit.Counts {
			if c := &p.visit.Counts[i]; c.Stems > 0 {
				place(c, over)
			}
		}
	}
}

// place finds the total that holds a plant's count. What was told more coarsely than all that may hold it is
// taken off none of them, so it does not matter which does.
func place(c *crop.Count, totals []*dayTotal) {
	var fine, coarse []*dayTotal
	for _, t := range totals {
		_, asFine := t.detail.kindOf(c)
		switch {
		case t.mayHold(c) && asFine:
			fine = append(fine, t)
		case t.mayHold(c):
			coarse = append(coarse, t)
		}
	}
	switch {
	case len(fine) == 0 && len(coarse) == 0:
		setUseless(totals)
	case len(fine) == 0:
		for _, t := range coarse {
			t.coarse = append(t.coarse, c)
		}
	case len(fine) == 1 && len(coarse) == 0:
		fine[0].take(c)
	default:
		setUseless(append(fine, coarse...))
	}
}

func setUseless(totals []*dayTotal) {
	for _, t := range totals {
		t.useless = true
	}
}

// mayHold tells whether the stems of a count may be among those of the total.
func (t *dayTotal) mayHold(c *crop.Count) bool {
	k, fine := t.detail.kindOf(c)
	if fine {
		return t.stems[k] >= c.Stems
	}
	for _, own := range t.order {
		grade := k.grade.Rank() < 0 || k.grade == own.grade
		length := !k.length.Told() || k.length == own.length
		if grade && length && t.stems[own] > 0 {
			return true
		}
	}
	return false
}

func (t *dayTotal) take(c *crop.Count) {
	k, _ := t.detail.kindOf(c)
	t.taken = true
	t.left[k] -= c.Stems
	t.useless = t.useless || t.left[k] < 0
}

// grader is who graded all of it, or nobody where several did.
func (t *dayTotal) grader() crop.PersonID {
	who := t.of[0].visit.Person
	for _, p := range t.of {
		if p.visit.Person != who {
			return ""
		}
	}
	return who
}

// rest is what is left of each kind.
func (t *dayTotal) rest() []crop.Count {
	var counts []crop.Count
	for _, k := range t.order {
		counts = append(counts, crop.Count{Grade: k.grade, Length: k.length, Stems: t.left[k]})
	}
	return counts
}
