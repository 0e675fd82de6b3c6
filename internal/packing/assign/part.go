package assign

import (
	"cmp"
	"slices"
)

// side is a node parted at a line: the most that can be worth there, -1 where nothing fits.
type side struct{ below, above int64 }

// part looks for the line to part a node at: that of whose broken lots both sides are worth least. Where a side can hold
// nothing better than is known the node is narrowed to the other, and true says to look at it again.
func (e *examiner) part(at *node, out *examined) (again bool) {
	var broken []int
	for l := range e.lines {
		if e.relaxed.broken(l) {
			broken = append(broken, l)
		}
	}
	slices.SortStableFunc(broken, func(a, b int) int { return cmp.Compare(e.weight(b), e.weight(a)) })
	if len(broken) > triedLines {
		broken = broken[:triedLines]
	}
	best, chosen, sides := int64(-1), 0, side{}
	for _, l := range broken {
		s := e.sides(at, l)
		s.below, s.above = min(s.below, at.bound), min(s.above, at.bound)
		whole := e.relaxed.got[l] / e.lines[l].Lot
		switch {
		case s.below <= out.worth && s.above <= out.worth:
			return false
		case s.below <= out.worth:
			at.least[l] = whole + 1
			return true
		case s.above <= out.worth:
			at.most[l] = whole
			return true
		}
		fall := (at.bound - s.below + 1) * (at.bound - s.above + 1)
		if at.bound-s.below > 1<<30 || at.bound-s.above > 1<<30 {
			fall = max(at.bound-s.below, at.bound-s.above)
		}
		if fall > best {
			best, chosen, sides = fall, l, s
		}
	}
	whole := e.relaxed.got[chosen] / e.lines[chosen].Lot
	below := &node{least: at.least, most: slices.Clone(at.most), bound: sides.below, depth: at.depth + 1, limits: at.limits}
	below.most[chosen] = whole
	above := &node{least: slices.Clone(at.least), most: at.most, bound: sides.above, depth: at.depth + 1, limits: at.limits}
	above.least[chosen] = whole + 1
	out.children = append(out.children, above, below)
	return false
}

// weight says how much a broken line's lot matters.
func (e *examiner) weight(l int) float64 {
	lot := e.lines[l].Lot
	over := e.relaxed.got[l] % lot
	return e.unit[l] * float64(min(over, lot-over))
}

// sides bounds what a node holds with at most, and with more than, the whole lots that line l has now.
func (e *examiner) sides(at *node, l int) side {
	lot := e.lines[l].Lot
	over := e.relaxed.got[l] % lot
	e.child.take(e.relaxed)
	e.child.shrink(l, over)
	e.fillBut(l, at.most)
	s := side{below: e.whole(e.child.value()), above: -1}
	e.child.take(e.relaxed)
	if e.child.seize(l, lot-over, at.least) == lot-over {
		s.above = e.whole(e.child.value())
	}
	return s
}

// fillBut grows all lines but one.
func (e *examiner) fillBut(but int, most []int64) {
	for _, l := range e.order {
		if want := most[l]*e.lines[l].Lot - e.child.got[l]; want > 0 && l != but {
			e.child.grow(l, want)
		}
	}
}
