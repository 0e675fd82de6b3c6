package assign

// builder makes whole lots that can be routed, and betters them by trading lots.
type builder struct {
	*routing
	lots   []int64
	before *routing // as it was, to go back to
	kept   []int64
}

func newBuilder(n *network) *builder {
	return &builder{
		routing: newRouting(n), lots: make([]int64, len(n.lines)),
		before: newRouting(n), kept: make([]int64, len(n.lines)),
	}
}

// build starts from least, adds of lots what fits, and then what else fits, the dearest stem first. It is false where
// least does not fit.
func (b *builder) build(least, most, lots []int64) bool {
	if b.hold(least) != nil {
		return false
	}
	copy(b.lots, least)
	for _, l := range b.order {
		b.raise(l, min(lots[l], most[l]))
	}
	b.top(most)
	return true
}

// raise gives line l as many whole lots up to most as fit.
func (b *builder) raise(l int, most int64) {
	lot := b.lines[l].Lot
	want := (most - b.lots[l]) * lot
	if want <= 0 {
		return
	}
	given := b.grow(l, want)
	if part := given % lot; part > 0 {
		b.shrink(l, part)
	}
	b.lots[l] += given / lot
}

func (b *builder) top(most []int64) {
	for _, l := range b.order {
		b.raise(l, most[l])
	}
}

// better trades: a lot or two less of a line, and then whatever fits best, that line last. It goes on while that brings
// more, and says what all are worth in the end.
func (b *builder) better(least, most []int64, stop func() bool) int64 {
	best := b.worth(b.lots)
	for again := true; again; {
		again = false
		for _, l := range b.order {
			if stop() {
				return best
			}
			for less := int64(1); less <= 2 && b.lots[l]-less >= least[l]; less++ {
				b.before.take(b.routing)
				copy(b.kept, b.lots)
				b.shrink(l, less*b.lines[l].Lot)
				b.lots[l] -= less
				for _, m := range b.order {
					if m != l {
						b.raise(m, most[m])
					}
				}
				b.raise(l, most[l])
				if now := b.worth(b.lots); now > best {
					best, again = now, true
					break
				}
				b.routing.take(b.before)
				copy(b.lots, b.kept)
			}
		}
	}
	return best
}
