package assign

import (
	"cmp"
	"math"
	"slices"
)

// state is one way to give whole lots to the lines looked at so far: stems used and what they are worth. Of two, one
// that uses no more and is worth no less makes the other needless.
type state struct {
	used, worth int64
	before      int32 // the state that it goes on from
	lots        int64 // lots of the line that was looked at; of a join, the second state that it goes on from
}

// step is the states after one line was looked at, or after two sets of lines were joined.
type step struct {
	line  int // -1 for a join
	first int // place of the step's first state among all states
}

// nested solves the problem of whole lots under a family of limits exactly, by dynamic programming from the smallest
// limit outwards. What it finds bounds the whole problem, whose limits are more; where it breaks none of the others it is
// the whole problem's best.
type nested struct {
	*network
	states []state
	steps  []step
	lots   []int64 // the best that was found
	a, b   []state // room
	tooBig bool
}

// Beyond so many states the relaxation's own bound has to do.
const (
	mostStates = 400_000
	mostPairs  = 2_000_000
)

// span is a run of states, and the worth that the relaxation gives to their lines beyond the level's price of the stems.
type span struct {
	from, to int
	ideal    float64
}

// solve finds the whole lots worth most under the family's limits, if they lose no more than spare against the relaxed
// routing. Lines in no limit have their most lots.
func (k *nested) solve(r *routing, least, most []int64, f *family, spare float64) (worth int64, found bool) {
	outer := f.arrange()
	k.states, k.steps, k.tooBig = k.states[:0], k.steps[:0], false
	copy(k.lots, most)
	worth = k.worth(most)
	ends := make([]span, len(f.limits))
	tolerance := tolerance(r.value())
	for i := range f.limits {
		at := &f.limits[i]
		now := span{from: len(k.states), to: len(k.states) + 1}
		k.states = append(k.states, state{before: -1})
		k.steps = append(k.steps, step{line: -2, first: now.from})
		for _, child := range at.children {
			inner := ends[child]
			fall := f.limits[child].level - at.level
			inner.ideal += fall * float64(f.limits[child].stems)
			now = k.join(now, inner, at.level, at.stems, spare+tolerance)
		}
		rest := int64(0)
		for _, l := range at.own {
			rest += least[l] * r.lines[l].Lot
		}
		for _, l := range at.own {
			rest -= least[l] * r.lines[l].Lot
			now = k.line(now, r, l, least[l], most[l], at.level, at.stems-rest, spare+tolerance)
		}
		if k.tooBig || now.from == now.to {
			return 0, false
		}
		ends[i] = now
	}
	for _, o := range outer {
		end := ends[o]
		best := end.to - 1 // who uses most is worth most
		loss := end.ideal + f.limits[o].level*float64(f.limits[o].stems) - float64(k.states[best].worth)
		spare -= max(loss, 0)
		if spare < -tolerance {
			return 0, false
		}
		for l := range f.limits[o].lines.all {
			worth -= most[l] * r.lines[l].Worth
		}
		worth += k.states[best].worth
		k.trace(int32(best))
	}
	return worth, true
}

// tolerance is more than sums of float64 about as large as value can be wrong by.
func tolerance(value float64) float64 { return 1e-6 + 1e-11*math.Abs(value) }

// line looks at all numbers of lots of one line that do not lose too much by themselves.
func (k *nested) line(now span, r *routing, l int, least, most int64, level float64, room int64, spare float64) span {
	lot, worth := r.lines[l].Lot, r.lines[l].Worth
	gain := float64(worth) - level*float64(lot) // of a lot, against what its stems are worth elsewhere
	if reach := math.Floor(spare/math.Abs(gain)) + 1; reach < float64(most-least) {
		if gain > 0 {
			least = most - int64(reach)
		} else {
			most = least + int64(reach)
		}
	}
	out := span{ideal: now.ideal + (r.unit[l]-level)*float64(r.got[l])}
	list := k.a[:0]
	for i := now.from; i < now.to; i++ {
		s := k.states[i]
		list = append(list, state{s.used + least*lot, s.worth + least*worth, int32(i), least})
	}
	k.a = list
	for part, rest := int64(1), most-least; rest > 0; part *= 2 {
		part = min(part, rest)
		rest -= part
		k.b = shifted(k.b[:0], k.a, part, lot, worth, room)
		k.a, k.b = k.b, k.a
		if len(k.a) > mostStates {
			k.tooBig = true
			break
		}
	}
	out.from = len(k.states)
	k.keep(k.a, out.ideal, level, room, spare)
	out.to = len(k.states)
	k.steps = append(k.steps, step{line: l, first: out.from})
	return out
}

// shifted merges a list with itself after so many lots more.
func shifted(into, list []state, part, lot, worth, room int64) []state {
	best := int64(-1)
	for i, j := 0, 0; j < len(list); {
		next := list[j]
		next.used += part * lot
		next.worth += part * worth
		next.lots += part
		if i < len(list) && (list[i].used < next.used || list[i].used == next.used && list[i].worth >= next.worth) {
			next = list[i]
			i++
		} else {
			j++
		}
		if next.used > room {
			break
		}
		if next.worth > best {
			best = next.worth
			into = append(into, next)
		}
	}
	return into
}

// keep writes down the states that do not lose too much against the relaxation.
func (k *nested) keep(list []state, ideal, level float64, room int64, spare float64) {
	for _, s := range list {
		if s.used <= room && ideal-float64(s.worth)+level*float64(s.used) <= spare {
			k.states = append(k.states, s)
		}
	}
	if len(k.states) > 8*mostStates {
		k.tooBig = true
	}
}

// join pairs the states of two sets of lines.
func (k *nested) join(now, inner span, level float64, room int64, spare float64) span {
	out := span{ideal: now.ideal + inner.ideal}
	if (now.to-now.from)*(inner.to-inner.from) > mostPairs {
		k.tooBig = true
	}
	list := k.a[:0]
	for i := now.from; i < now.to && !k.tooBig; i++ {
		for j := inner.from; j < inner.to; j++ {
			s := state{k.states[i].used + k.states[j].used, k.states[i].worth + k.states[j].worth, int32(i), int64(j)}
			if s.used <= room && out.ideal-float64(s.worth)+level*float64(s.used) <= spare {
				list = append(list, s)
			}
		}
	}
	k.a = list
	if now.to-now.from > 1 {
		slices.SortStableFunc(list, func(a, b state) int {
			return cmp.Or(cmp.Compare(a.used, b.used), cmp.Compare(b.worth, a.worth))
		})
	}
	out.from = len(k.states)
	best := int64(-1)
	for _, s := range list {
		if s.worth > best {
			best = s.worth
			k.states = append(k.states, s)
		}
	}
	out.to = len(k.states)
	k.steps = append(k.steps, step{line: -1, first: out.from})
	return out
}

// trace reads the lots back from the last state.
func (k *nested) trace(at int32) {
	for at >= 0 {
		place, _ := slices.BinarySearchFunc(k.steps, int(at)+1, func(s step, want int) int { return cmp.Compare(s.first, want) })
		s := k.states[at]
		switch by := k.steps[place-1]; {
		case by.line >= 0:
			k.lots[by.line] = s.lots
		case by.line == -1:
			k.trace(int32(s.lots))
		}
		at = s.before
	}
}
