package assign

import (
	"cmp"
	"slices"
)

// limit is a set of lines with all the stems that they may draw on: what they hold together is no more (Hall's
// condition).
type limit struct {
	lines set
	stems int64
	level float64 // what a stem less for these lines would cost in the relaxation
	added bool    // not tight in the relaxation, but found to be in the way of whole lots

	own      []int // lines in no smaller limit
	children []int // the next smaller ones, by place in the family
}

// family is limits of which any two are apart or one within the other, the smaller first.
type family struct{ limits []limit }

// tightFamily takes of the tight sets of a relaxed routing as many as are apart or within each other: the scarcest
// first, each with all those before that it meets. They are enough to make the relaxation's value.
func (r *routing) tightFamily(s *scarcity) family {
	var by []int
	for l := range r.lines {
		if s.level[l] > 0 {
			by = append(by, l)
		}
	}
	slices.SortStableFunc(by, func(a, b int) int {
		return cmp.Or(cmp.Compare(s.level[b], s.level[a]), cmp.Compare(s.tight[a].size(), s.tight[b].size()))
	})
	var f family
	var outer []int
	covered := newSet(len(r.lines))
	for _, l := range by {
		if covered.has(l) {
			continue
		}
		union := s.tight[l].clone()
		apart := outer[:0:0]
		for _, o := range outer {
			if f.limits[o].lines.meets(union) {
				union.union(f.limits[o].lines)
			} else {
				apart = append(apart, o)
			}
		}
		stems := int64(0)
		for m := range union.all {
			stems += r.got[m]
		}
		covered.union(union)
		outer = append(apart, len(f.limits))
		f.limits = append(f.limits, limit{lines: union, stems: stems, level: s.level[l]})
	}
	return f
}

// add puts a set of lines that ask for too much in the family, or what it and the sets that it crosses have too much
// of. It is false where that cannot be.
func (f *family) add(n *network, lines set, lots []int64) bool {
	lines = lines.clone()
	for tries := 0; tries <= len(f.limits); tries++ {
		crossed := -1
		for i, have := range f.limits {
			if have.lines.equal(lines) {
				return false
			}
			if have.lines.meets(lines) && !have.lines.within(lines) && !lines.within(have.lines) {
				crossed = i
				break
			}
		}
		if crossed < 0 {
			f.limits = append(f.limits, limit{lines: lines, stems: n.reach(lines), added: true})
			return true
		}
		both, either := lines.clone(), lines.clone()
		other := f.limits[crossed].lines
		either.union(other)
		for i := range both {
			both[i] &= other[i]
		}
		switch {
		case n.excess(both, lots) > 0:
			lines = both
		case n.excess(either, lots) > 0:
			lines = either
		case f.limits[crossed].added:
			f.limits = slices.Delete(f.limits, crossed, crossed+1)
		default:
			return false
		}
	}
	return false
}

// reach is the stems of all classes that some of the lines may draw on.
func (n *network) reach(lines set) int64 {
	classes := newSet(len(n.stems))
	for l := range lines.all {
		classes.union(n.from[l])
	}
	stems := int64(0)
	for c := range classes.all {
		stems += n.stems[c]
	}
	return stems
}

func (n *network) excess(lines set, lots []int64) int64 {
	asked := int64(0)
	for l := range lines.all {
		asked += lots[l] * n.lines[l].Lot
	}
	return asked - n.reach(lines)
}

// arrange orders the family, gives each line to the smallest limit that holds it, and says which limits are in no other.
func (f *family) arrange() (outer []int) {
	slices.SortStableFunc(f.limits, func(a, b limit) int { return cmp.Compare(a.lines.size(), b.lines.size()) })
	for i := range f.limits {
		at := &f.limits[i]
		at.own, at.children = at.own[:0:0], nil
		rest := at.lines.clone()
		still := outer[:0:0]
		for _, o := range outer {
			inner := f.limits[o].lines
			if !inner.within(at.lines) {
				still = append(still, o)
				continue
			}
			at.children = append(at.children, o)
			for k := range rest {
				rest[k] &^= inner[k]
			}
		}
		for l := range rest.all {
			at.own = append(at.own, l)
		}
		outer = append(still, i)
	}
	for i := range f.limits { // an added limit's level is that of the tight one around it
		if at := &f.limits[i]; at.added {
			at.level = 0
			for j := i + 1; j < len(f.limits); j++ {
				if !f.limits[j].added && at.lines.within(f.limits[j].lines) {
					at.level = f.limits[j].level
					break
				}
			}
		}
	}
	return outer
}

// inherit adds a limit that was found further up the search, unless it crosses another.
func (f *family) inherit(n *network, lines set) {
	for _, have := range f.limits {
		if have.lines.equal(lines) || have.lines.meets(lines) && !have.lines.within(lines) && !lines.within(have.lines) {
			return
		}
	}
	f.limits = append(f.limits, limit{lines: lines, stems: n.reach(lines), added: true})
}

// added lists the limits that are not tight in the relaxation.
func (f *family) added() (all []set) {
	for _, have := range f.limits {
		if have.added {
			all = append(all, have.lines)
		}
	}
	return all
}
