package assign

// relax routes, of all amounts between least and most lots, those worth most when lots may be broken: whatever must be
// there first, then line after line, the dearest stem first, which is exact on a polymatroid (Edmonds 1970). It is false
// where least cannot be routed.
func (r *routing) relax(least, most []int64) bool {
	r.reset()
	for l := range r.lines {
		if want := least[l] * r.lines[l].Lot; want > 0 && r.grow(l, want) < want {
			return false
		}
	}
	r.fill(most)
	return true
}

func (r *routing) fill(most []int64) {
	for _, l := range r.order {
		if want := most[l]*r.lines[l].Lot - r.got[l]; want > 0 {
			r.grow(l, want)
		}
	}
}

// value is what is routed is worth, broken lots by their part.
func (r *routing) value() float64 {
	whole, part := int64(0), 0.0
	for l, line := range r.lines {
		whole += line.Worth * (r.got[l] / line.Lot)
		part += float64(r.got[l]%line.Lot) * r.unit[l]
	}
	return float64(whole) + part
}

func (r *routing) broken(l int) bool { return r.got[l]%r.lines[l].Lot != 0 }

// scarcity tells what a stem is worth to each line of a relaxed routing.
type scarcity struct {
	// tight holds, of a line for which no stems are left, the lines among which it can trade stems: together they use up
	// every class that they may draw on.
	tight []set
	level []float64 // what a stem less among these would cost: 0 where nobody asks for more
	loose []bool    // stems are left
}

func newScarcity(n *network) *scarcity {
	s := &scarcity{level: make([]float64, len(n.lines)), loose: make([]bool, len(n.lines))}
	for range n.lines {
		s.tight = append(s.tight, newSet(len(n.lines)))
	}
	return s
}

func (s *scarcity) of(r *routing, most []int64) {
	for l := range r.lines {
		clear(s.tight[l])
		s.tight[l].add(l)
		s.loose[l] = r.from[l].meets(r.free)
		for c := range r.from[l].all {
			s.tight[l].union(r.uses[c])
		}
	}
	for via := range r.lines { // the closure, by Warshall's way
		for l := range r.lines {
			if s.tight[l].has(via) {
				s.tight[l].union(s.tight[via])
				s.loose[l] = s.loose[l] || s.loose[via]
			}
		}
	}
	clear(s.level)
	for l := range r.lines {
		if s.loose[l] || r.got[l] >= most[l]*r.lines[l].Lot {
			continue
		}
		for m := range s.tight[l].all {
			s.level[m] = max(s.level[m], r.unit[l])
		}
	}
}
