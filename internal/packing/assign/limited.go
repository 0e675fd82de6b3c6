package assign

import "math"

// limitRounds is how often in a node limits are looked for that the best whole lots overstep.
const limitRounds = 25

// limited bounds a node by whole lots under limits: those that are tight in the relaxation, and those that the best
// whole lots so far turn out to overstep. It says solved where nothing better than is known is left in the node.
func (e *examiner) limited(at *node, out *examined) (solved bool, bound int64) {
	bound = math.MaxInt64
	f := e.family(e.relaxed, at.limits, at.least, at.most)
	defer func() { at.limits = f.added() }()
	for round := range limitRounds {
		if e.stop() {
			return false, bound
		}
		worth, found := e.nested.solve(&f, at.least, at.most, float64(out.worth+e.gcd))
		if e.nested.tooBig {
			return false, bound
		}
		if !found {
			return true, out.worth
		}
		bound = min(bound, worth)
		if bound <= out.worth {
			return true, bound
		}
		over := e.oversteps(e.nested.lots)
		if len(over) == 0 {
			e.offer(e.nested.lots, out)
			return true, bound
		}
		if round == 0 || round%8 == 7 {
			e.mend(at, out)
		}
		grew := false
		for _, lines := range over {
			if lines, ok := f.uncrossed(e.network, lines, e.nested.lots); ok {
				grew = f.add(e.limit(lines, at.least, at.most)) || grew
			}
		}
		if !grew {
			break
		}
	}
	e.narrow(&f, at, out.worth)
	return false, bound
}

// family is the tight limits of a relaxed routing, and those found before that cross none of them.
func (e *examiner) family(r *routing, found []set, least, most []int64) family {
	e.scarcity.of(r, most)
	f := r.tightFamily(e.scarcity, least, most)
	for _, lines := range found {
		f.add(e.limit(lines, least, most))
	}
	return f
}

// oversteps lists sets of lines that ask for more than they can have.
func (e *examiner) oversteps(lots []int64) (all []set) {
	e.check.reset()
	for _, l := range e.order {
		want := lots[l] * e.lines[l].Lot
		if want > 0 && e.check.grow(l, want) < want {
			all = append(all, e.check.seenLine.clone())
		}
	}
	return all
}

// mend makes of lots that cannot all be routed some that can.
func (e *examiner) mend(at *node, out *examined) {
	if e.builder.build(at.least, at.most, e.nested.lots) {
		e.offer(e.builder.lots, out)
	}
}

// narrow takes from a node the lots with which a line alone would lose too much, by what the last family of limits makes
// stems cost.
func (e *examiner) narrow(f *family, at *node, known int64) {
	b := bounds{at.least, at.most, e.nested.broken.value - float64(known+e.gcd) + tolerance(e.nested.broken.value)}
	for l := range e.lines {
		level := 0.0
		if home := e.nested.broken.home[l]; home >= 0 {
			level = f.limits[home].level
		}
		at.least[l], at.most[l] = e.nested.near(l, b, level)
	}
}
