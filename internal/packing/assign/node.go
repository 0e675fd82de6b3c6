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
}

// examiner looks at nodes, one after the other, with its own room for it.
type examiner struct {
	*network
	relaxed, child, check *routing
	scarcity              *scarcity
	nested                *nested
	builder               *builder
	stop                  func() bool
	side                  side
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

// look bounds a node, looks for whole lots in it worth more than known, and parts it where there may be some.
func (e *examiner) look(at *node, known int64) examined {
	out := examined{worth: known}
	at.least, at.most = append([]int64(nil), at.least...), append([]int64(nil), at.most...)
	for {
		if e.stop() {
			out.broke = true
			return out
		}
		if !e.infer(at.least, at.most) || !e.relaxed.relax(at.least, at.most) {
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
		solved, least := e.limited(at, &out)
		bound = min(bound, least)
		if solved || bound <= out.worth {
			return out
		}
		at.bound = bound
		if !e.part(at, &out) {
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
	if worth := e.worth(lots); worth > out.worth {
		out.worth, out.lots = worth, append([]int64(nil), lots...)
	}
}
