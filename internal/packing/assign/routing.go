package assign

import (
	"math"
	"math/bits"
)

// routing says how many stems of each class go to each line. What lines hold can always be reached by growing one after
// the other, since the amounts that can be routed together form a polymatroid (Edmonds 1970; the classes are its
// transversal structure): a line never has to give up stems for another to grow where both fit.
type routing struct {
	*network
	left []int64 // stems of a class that are with no line
	free set     // classes with stems left
	flow []int64 // class by line
	uses []set   // lines that hold stems of a class
	got  []int64 // stems that a line holds

	// Of the last search: what was seen, and by what.
	seenClass, seenLine set
	classBy, lineBy     []int
	queue               []int
}

func newRouting(n *network) *routing {
	r := &routing{
		network: n, left: make([]int64, len(n.stems)), free: newSet(len(n.stems)),
		flow: make([]int64, len(n.stems)*len(n.lines)), got: make([]int64, len(n.lines)),
		seenClass: newSet(len(n.stems)), seenLine: newSet(len(n.lines)),
		classBy: make([]int, len(n.stems)), lineBy: make([]int, len(n.lines)),
	}
	for range n.stems {
		r.uses = append(r.uses, newSet(len(n.lines)))
	}
	r.reset()
	return r
}

func (r *routing) reset() {
	copy(r.left, r.stems)
	clear(r.free)
	clear(r.flow)
	clear(r.got)
	for c, stems := range r.stems {
		clear(r.uses[c])
		if stems > 0 {
			r.free.add(c)
		}
	}
}

// take makes r what other is.
func (r *routing) take(other *routing) {
	copy(r.left, other.left)
	copy(r.free, other.free)
	copy(r.flow, other.flow)
	copy(r.got, other.got)
	for c := range r.uses {
		copy(r.uses[c], other.uses[c])
	}
}

func (r *routing) move(class, line int, stems int64) {
	at := class*len(r.lines) + line
	r.flow[at] += stems
	if r.flow[at] > 0 {
		r.uses[class].add(line)
	} else {
		r.uses[class].remove(line)
	}
	r.got[line] += stems
}

func (r *routing) draw(class int, stems int64) {
	r.left[class] -= stems
	if r.left[class] > 0 {
		r.free.add(class)
	} else {
		r.free.remove(class)
	}
}

// grow gives line l up to want stems more without taking any from another line in total, and says how many it gave.
// Where it gives fewer, seenLine holds the lines that then use up all classes they may draw on.
func (r *routing) grow(l int, want int64) int64 {
	given := int64(0)
	for given < want {
		class := r.search(l)
		if class < 0 {
			break
		}
		pushed := min(want-given, r.left[class], r.narrowest(l, class))
		r.draw(class, pushed)
		r.push(l, class, pushed)
		given += pushed
	}
	return given
}

// search looks, the nearest first, for a class with stems left from which line l can grow; -1 if there is none.
func (r *routing) search(l int) int {
	clear(r.seenClass)
	clear(r.seenLine)
	r.seenLine.add(l)
	r.queue = append(r.queue[:0], l)
	for head := 0; head < len(r.queue); head++ {
		line := r.queue[head]
		for i, word := range r.from[line] {
			if there := word & r.free[i]; there != 0 {
				class := i*64 + bits.TrailingZeros64(there)
				r.classBy[class] = line
				return class
			}
		}
		r.spread(line)
	}
	return -1
}

// spread puts in the queue whoever holds stems that line could draw on. All else waits for it, so it walks the bits of
// the sets itself.
func (r *routing) spread(line int) {
	for i, word := range r.from[line] {
		fresh := word &^ r.seenClass[i]
		r.seenClass[i] |= fresh
		for ; fresh != 0; fresh &= fresh - 1 {
			c := i*64 + bits.TrailingZeros64(fresh)
			r.classBy[c] = line
			for j, users := range r.uses[c] {
				unseen := users &^ r.seenLine[j]
				r.seenLine[j] |= unseen
				for ; unseen != 0; unseen &= unseen - 1 {
					user := j*64 + bits.TrailingZeros64(unseen)
					r.lineBy[user] = c
					r.queue = append(r.queue, user)
				}
			}
		}
	}
}

// narrowest is the least that is moved along the way that the last search found from line l to class.
func (r *routing) narrowest(l, class int) int64 {
	least := int64(math.MaxInt64)
	for line := r.classBy[class]; line != l; line = r.classBy[class] {
		class = r.lineBy[line]
		least = min(least, r.flow[class*len(r.lines)+line])
	}
	return least
}

// push moves stems along that way.
func (r *routing) push(l, class int, stems int64) {
	for {
		line := r.classBy[class]
		r.move(class, line, stems)
		if line == l {
			return
		}
		class = r.lineBy[line]
		r.move(class, line, -stems)
	}
}

// shrink takes stems from line l.
func (r *routing) shrink(l int, stems int64) {
	for c := range r.from[l].all {
		if taken := min(stems, r.flow[c*len(r.lines)+l]); taken > 0 {
			r.move(c, l, -taken)
			r.draw(c, -taken)
			stems -= taken
		}
	}
}

// hold routes whole lots from nothing. Where that cannot be it gives the first lines that together ask for more than
// all the classes that they may draw on hold.
func (r *routing) hold(lots []int64) (tooMuch set) {
	r.reset()
	for _, l := range r.order {
		want := lots[l] * r.lines[l].Lot
		if want > 0 && r.grow(l, want) < want {
			return r.seenLine.clone()
		}
	}
	return nil
}
