package assign

import (
	"cmp"
	"math"
	"slices"
)

// nested finds the best whole lots under a family of limits exactly, by dynamic programming from the smallest limit
// outwards. What it finds bounds the whole problem, whose limits are more; where it oversteps none of the others it is
// the whole problem's best.
type nested struct {
	*network
	lots   []int64 // the best that was found
	broken broken
	ends   []span
	states []state
	steps  []step
	a, b   []state // room
	tooBig bool
}

// state is one way to give whole lots to the lines looked at so far: stems used and what they are worth. Of two, one
// that uses no more and is worth no less makes the other needless.
type state struct {
	used, worth int64
	before      int32 // the state that it goes on from
	lots        int64 // lots of the line that was looked at; of a join, the second state that it goes on from
}

// step is the states after one line was looked at, or after two sets of lines were joined.
type step struct {
	line  int // or one of the two below
	first int // place of the step's first state among all states
}

const (
	beginning = -1
	joining   = -2
)

// Beyond so many states another bound has to do.
const (
	mostStates = 400_000
	mostPairs  = 2_000_000
)

// span is a run of states, and what their lines are worth in broken lots beyond the level's price of their stems.
type span struct {
	from, to int
	ideal    float64
}

// bounds is what nested looks for: whole lots between two bounds, that lose no more than spare against broken ones.
type bounds struct {
	least, most []int64
	spare       float64
}

// solve finds the whole lots that bring most under the family's limits. It is false where that is less than need, or
// nothing, or there is too much to look at.
func (k *nested) solve(f *family, least, most []int64, need float64) (worth int64, found bool) {
	outer := f.arrange()
	k.states, k.steps, k.ends, k.tooBig = k.states[:0], k.steps[:0], k.ends[:0], false
	if !k.broken.fill(k.network, f, least, most) {
		return 0, false
	}
	b := bounds{least, most, k.broken.value - need + tolerance(k.broken.value)}
	if b.spare < 0 {
		return 0, false
	}
	for i := range f.limits {
		k.ends = append(k.ends, k.within(f, i, b))
		if k.tooBig || k.ends[i].from == k.ends[i].to {
			return 0, false
		}
	}
	copy(k.lots, most) // of lines in no limit
	for _, o := range outer {
		best := k.ends[o].to - 1 // who uses most is worth most
		b.spare -= max(0, k.ends[o].ideal+f.limits[o].level*float64(f.limits[o].stems)-float64(k.states[best].worth))
		k.trace(int32(best))
	}
	return k.network.worth(k.lots), b.spare >= 0
}

// tolerance is more than sums of float64 about as large as value can be wrong by.
func tolerance(value float64) float64 { return 1e-6 + 1e-11*math.Abs(value) }

// within looks at all lines of a limit.
func (k *nested) within(f *family, i int, b bounds) span {
	at := &f.limits[i]
	now := span{from: len(k.states), to: len(k.states) + 1}
	k.states = append(k.states, state{before: -1})
	k.steps = append(k.steps, step{line: beginning, first: now.from})
	for _, child := range at.children {
		inner := k.ends[child]
		inner.ideal += (f.limits[child].level - at.level) * float64(f.limits[child].stems)
		now = k.join(now, inner, at.level, at.stems, b.spare)
	}
	rest := int64(0)
	for _, l := range at.own {
		rest += b.least[l] * k.lines[l].Lot
	}
	for _, l := range at.own {
		rest -= b.least[l] * k.lines[l].Lot
		now = k.line(now, l, b, at.level, at.stems-rest)
	}
	return now
}

// near are the lots of a line that do not lose too much by themselves, where a stem costs level.
func (k *nested) near(l int, b bounds, level float64) (least, most int64) {
	least, most = b.least[l], b.most[l]
	gain := float64(k.lines[l].Worth) - level*float64(k.lines[l].Lot) // of a lot, against what its stems are worth elsewhere
	if reach := math.Floor(b.spare / math.Abs(gain)); reach < float64(most-least) {
		if gain > 0 {
			least = most - int64(reach)
		} else {
			most = least + int64(reach)
		}
	}
	return least, most
}

// line looks at all numbers of lots of one line that do not lose too much by themselves.
func (k *nested) line(now span, l int, b bounds, level float64, room int64) span {
	lot, worth := k.lines[l].Lot, k.lines[l].Worth
	least, most := k.near(l, b, level)
	out := span{ideal: now.ideal + (k.unit[l]-level)*float64(k.broken.got[l])}
	list := k.a[:0]
	for i := now.from; i < now.to; i++ {
		s := k.states[i]
		list = append(list, state{s.used + least*lot, s.worth + least*worth, int32(i), least})
	}
	k.a = list
	for part, rest := int64(1), most-least; rest > 0 && !k.tooBig; part *= 2 {
		part = min(part, rest)
		rest -= part
		k.b = shifted(k.b[:0], k.a, part, lot, worth, room)
		k.a, k.b = k.b, k.a
		k.tooBig = len(k.a) > mostStates
	}
	out.from = len(k.states)
	for _, s := range k.a {
		if s.used <= room && out.ideal-float64(s.worth)+level*float64(s.used) <= b.spare {
			k.states = append(k.states, s)
		}
	}
	k.tooBig = k.tooBig || len(k.states) > 8*mostStates
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

// join pairs the states of two sets of lines.
func (k *nested) join(now, inner span, level float64, room int64, spare float64) span {
	out := span{ideal: now.ideal + inner.ideal, from: len(k.states)}
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
		list = k.sorted(list)
	}
	best := int64(-1)
	for _, s := range list {
		if s.worth > best {
			best = s.worth
			k.states = append(k.states, s)
		}
	}
	out.to = len(k.states)
	k.steps = append(k.steps, step{line: joining, first: out.from})
	return out
}

// sorted sorts states by the stems that they use. Where there are few numbers of stems it keeps the best of each only.
func (k *nested) sorted(list []state) []state {
	if len(list) == 0 {
		return list
	}
	low, high := list[0].used, list[0].used
	for _, s := range list {
		low, high = min(low, s.used), max(high, s.used)
	}
	if high-low > 4*int64(len(list)) {
		slices.SortFunc(list, func(a, b state) int {
			return cmp.Or(cmp.Compare(a.used, b.used), cmp.Compare(b.worth, a.worth), cmp.Compare(a.before, b.before), cmp.Compare(a.lots, b.lots))
		})
		return list
	}
	best := slices.Grow(k.b[:0], int(high-low+1))[:high-low+1]
	k.b = best
	for i := range best {
		best[i].worth = -1
	}
	for _, s := range list {
		if at := &best[s.used-low]; s.worth > at.worth {
			*at = s
		}
	}
	return slices.DeleteFunc(best, func(s state) bool { return s.worth < 0 })
}

// trace reads the lots back from the last state.
func (k *nested) trace(at int32) {
	for at >= 0 {
		place, _ := slices.BinarySearchFunc(k.steps, int(at)+1, func(s step, want int) int { return cmp.Compare(s.first, want) })
		s := k.states[at]
		switch by := k.steps[place-1]; {
		case by.line >= 0:
			k.lots[by.line] = s.lots
		case by.line == joining:
			k.trace(int32(s.lots))
		}
		at = s.before
	}
}
