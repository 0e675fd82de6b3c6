package assign

import (
	"cmp"
	"slices"
)

// limit is a set of lines with all the stems that they may draw on: what they hold together is no more (Hall's
// condition).
type limit struct {
	lines set
	stems int64   // as many of them as whole lots can use
	level float64 // what a stem less for these lines would cost if lots could be broken
	added bool    // it was found to be in the way of whole lots

	own      []int // lines in no smaller limit
	children []int // the next smaller ones, by place in the family
}

// family is limits of which any two are apart or one within the other, the smaller first.
type family struct{ limits []limit }

// limit makes a limit of lines. Where all their lots are multiples of something, so is what they can hold.
func (n *network) limit(lines set, least, most []int64) limit {
	settled, common := int64(0), int64(0)
	for l := range lines.all {
		if least[l] == most[l] {
			settled += least[l] * n.lines[l].Lot
		} else {
			common = gcd(common, n.lines[l].Lot)
		}
	}
	at := limit{lines: lines, stems: n.reach(lines)}
	if common > 0 && at.stems >= settled {
		at.stems = settled + (at.stems-settled)/common*common
	}
	return at
}

// tightFamily takes of the tight sets of a relaxed routing as many as are apart or within each other: the scarcest
// first, each with all those before that it meets. They are enough to make the relaxation's value.
func (r *routing) tightFamily(s *scarcity, least, most []int64) family {
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
		covered.union(union)
		outer = append(apart, len(f.limits))
		f.limits = append(f.limits, r.limit(union, least, most))
	}
	return f
}

// add puts a limit in the family. It is false where it crosses another, or is there.
func (f *family) add(at limit) bool {
	for _, have := range f.limits {
		if have.lines.meets(at.lines) && !have.lines.within(at.lines) && !at.lines.within(have.lines) || have.lines.equal(at.lines) {
			return false
		}
	}
	at.added = true
	f.limits = append(f.limits, at)
	return true
}

// uncrossed makes of lines that ask for too much a set that does too and crosses no limit of the family, if it can: what
// it and a limit that it crosses share, or what they are together, asks for too much as a rule.
func (f *family) uncrossed(n *network, lines set, lots []int64) (set, bool) {
	lines = lines.clone()
	for range f.limits {
		crossed := slices.IndexFunc(f.limits, func(have limit) bool {
			return have.lines.meets(lines) && !have.lines.within(lines) && !lines.within(have.lines)
		})
		if crossed < 0 {
			return lines, true
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
		default:
			return nil, false
		}
	}
	return lines, true
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
	return n.asked(lines, lots) - n.reach(lines)
}

func (n *network) asked(lines set, lots []int64) int64 {
	asked := int64(0)
	for l := range lines.all {
		asked += lots[l] * n.lines[l].Lot
	}
	return asked
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
	return outer
}

// added lists the limits that were found to be in the way.
func (f *family) added() (all []set) {
	for _, have := range f.limits {
		if have.added {
			all = append(all, have.lines)
		}
	}
	return all
}
