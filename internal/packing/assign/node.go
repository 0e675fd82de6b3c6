package assign

import "math"

// node is a part of the search: all whole lots between two bounds.
type node struct {
	least, most []int64
	bound       int64 // nothing in it is worth more
	depth       int
	number      int64
	limits      []set // found to be in the way of whole lots further up
}

// examined is what a look at a node gave.
type examined struct {
	lots     []int64 // the best whole lots that were found, if they beat what was known
	worth    int64
	children []*node
	broke    bool // there was no time left
	bound    int64
}

// examiner looks at nodes, one after the other, with its own room for it.
type examiner struct {
	*network
	relaxed, child, check *routing
	scarcity              *scarcity
	nested                *nested
	builder               *builder
	stop                  func() bool
}

func newExaminer(n *network, stop func() bool) *examiner {
	return &examiner{
		network: n, relaxed: newRouting(n), child: newRouting(n), check: newRouting(n),
		scarcity: newScarcity(n), nested: &nested{network: n, lots: make([]int64, len(n.lines))},
		builder: newBuilder(n), stop: stop,
	}
}

// whole is the most that whole lots can be worth where broken ones are worth value.
func (n *network) whole(value float64) int64 {
	return int64(math.Floor(value+tolerance(value))) / n.gcd * n.gcd
}

// Rounds of limits that are looked for in a node, and lines on which it may be parted that are tried.
const (
	limitRounds = 25
	triedLines  = 10
)

// look bounds a node, looks for whole lots in it worth more than known, and parts it where there may be some.
func (e *examiner) look(at *node, known int64) examined {
	out := examined{worth: known, bound: at.bound}
	at.least, at.most = append([]int64(nil), at.least...), append([]int64(nil), at.most...)
	for {
		if e.stop() {
			out.broke = true
			return out
		}
		if !e.relaxed.relax(at.least, at.most) {
			return out
		}
		value := e.relaxed.value()
		bound := min(at.bound, e.whole(value))
		if bound <= out.worth {
			return out
		}
		if e.unbroken(&out) {
			return out
		}
		e.scarcity.of(e.relaxed, at.most)
		solved, least := e.limited(at, value, &out)
		bound = min(bound, least)
		if solved || bound <= out.worth {
			return out
		}
		if Debug && at.number == 0 {
			println("root: relaxed", int64(value), "limited", bound, "known", out.worth)
		}
		at.bound = bound
		again := e.part(at, &out)
		if !again {
			return out
		}
	}
}

// unbroken takes a relaxed routing for an answer where it broke no lots.
func (e *examiner) unbroken(out *examined) bool {
	for l := range e.lines {
		if e.relaxed.broken(l) {
			return false
		}
	}
	lots := make([]int64, len(e.lines))
	for l, line := range e.lines {
		lots[l] = e.relaxed.got[l] / line.Lot
	}
	e.offer(lots, out)
	return true
}

func (e *examiner) offer(lots []int64, out *examined) {
	if worth := e.worth(lots); worth > out.worth || out.lots == nil && worth > out.worth {
		out.worth, out.lots = worth, append([]int64(nil), lots...)
	}
}

// limited bounds a node by whole lots under a growing family of limits.
func (e *examiner) limited(at *node, value float64, out *examined) (solved bool, bound int64) {
	bound = math.MaxInt64
	f := e.relaxed.tightFamily(e.scarcity)
	for _, lines := range at.limits {
		f.inherit(e.network, lines)
	}
	defer func() { at.limits = f.added() }()
	for round := 0; round < limitRounds && !e.stop(); round++ {
		worth, found := e.nested.solve(e.relaxed, at.least, at.most, &f, value-float64(out.worth+e.gcd))
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
		broken := e.breaks(e.nested.lots)
		if len(broken) == 0 {
			e.offer(e.nested.lots, out)
			return true, bound
		}
		if round == 0 || round%8 == 7 {
			e.mend(at, out)
		}
		grew := false
		for _, lines := range broken {
			grew = f.add(e.network, lines, e.nested.lots) || grew
		}
		if !grew {
			break
		}
	}
	return false, bound
}

// breaks lists sets of lines that ask for more than they can have.
func (e *examiner) breaks(lots []int64) (all []set) {
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
