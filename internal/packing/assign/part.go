package assign

import (
	"cmp"
	"slices"
)

// triedLines is how many lines are tried for parting a node.
const triedLines = 12

// parting is a node parted at a line: what whole lots with at most so many of it, and with more, can be worth.
type parting struct {
	line         int
	whole        int64
	below, above int64 // -1 where nothing fits
}

// part parts a node at the line of broken lots where both sides can be worth least. Where a side can hold nothing better
// than is known the node is narrowed to the other, and true says to look at it again.
func (e *examiner) part(at *node, out *examined) (again bool) {
	best, fall := parting{}, -1.0
	for _, l := range e.brokenLines() {
		if e.stop() {
			out.broke = true
			return false
		}
		p := e.try(at, l, out.worth)
		switch {
		case p.below <= out.worth && p.above <= out.worth:
			return false
		case p.below <= out.worth:
			at.least[l] = p.whole + 1
			return true
		case p.above <= out.worth:
			at.most[l] = p.whole
			return true
		}
		if both := float64(at.bound-p.below+1) * float64(at.bound-p.above+1); both > fall {
			best, fall = p, both
		}
	}
	below := &node{least: at.least, most: slices.Clone(at.most), bound: best.below, depth: at.depth + 1, limits: at.limits}
	below.most[best.line] = best.whole
	above := &node{least: slices.Clone(at.least), most: at.most, bound: best.above, depth: at.depth + 1, limits: at.limits}
	above.least[best.line] = best.whole + 1
	out.children = append(out.children, above, below)
	return false
}

// brokenLines lists the lines of whose lots the relaxed routing broke one, those where it matters most first.
func (e *examiner) brokenLines() []int {
	var all []int
	for l := range e.lines {
		if e.relaxed.broken(l) {
			all = append(all, l)
		}
	}
	weight := func(l int) float64 {
		over := e.relaxed.got[l] % e.lines[l].Lot
		return e.unit[l] * float64(min(over, e.lines[l].Lot-over))
	}
	slices.SortStableFunc(all, func(a, b int) int { return cmp.Compare(weight(b), weight(a)) })
	return all[:min(len(all), triedLines)]
}

// try bounds both sides of a node parted at line l.
func (e *examiner) try(at *node, l int, known int64) parting {
	p := parting{line: l, whole: e.relaxed.got[l] / e.lines[l].Lot}
	e.side.set(at)
	e.side.most[l] = p.whole
	p.below = min(at.bound, e.sideBound(at, known))
	e.side.set(at)
	e.side.least[l] = p.whole + 1
	p.above = min(at.bound, e.sideBound(at, known))
	return p
}

// side is the bounds of a side that is tried.
type side struct{ least, most []int64 }

func (s *side) set(at *node) {
	s.least, s.most = append(s.least[:0], at.least...), append(s.most[:0], at.most...)
}

// sideBound bounds the side whose bounds were set: -1 where nothing fits, and known where nothing better does.
func (e *examiner) sideBound(at *node, known int64) int64 {
	if !e.infer(e.side.least, e.side.most) || !e.child.relax(e.side.least, e.side.most) {
		return -1
	}
	bound := e.whole(e.child.value())
	if bound <= known {
		return bound
	}
	f := e.family(e.child, at.limits, e.side.least, e.side.most)
	worth, found := e.nested.solve(&f, e.side.least, e.side.most, float64(known+e.gcd))
	switch {
	case e.nested.tooBig:
		return bound
	case !found:
		return known
	}
	return min(bound, worth)
}
