package assign

import "slices"

// broken is the best amounts under a family of limits when lots may be broken: line after line, the dearest stem first,
// each as much as its limits leave. That is exact, since limits of a family make a polymatroid too.
type broken struct {
	got   []int64 // stems of a line
	value float64
	room  []int64 // of a limit
	home  []int   // the smallest limit around a line, -1 for none
	outer []int   // the smallest limit around a limit
}

// fill fills the limits and sets the limits' levels. It is false where not even least fits.
func (b *broken) fill(n *network, f *family, least, most []int64) bool {
	b.begin(n, f)
	b.value = 0
	for l, line := range n.lines {
		b.got[l] = 0
		if least[l] > 0 && b.grow(l, least[l]*line.Lot) < least[l]*line.Lot {
			return false
		}
	}
	for i := range f.limits {
		f.limits[i].level = 0
	}
	for _, l := range n.order {
		want := most[l]*n.lines[l].Lot - b.got[l]
		if want <= 0 || b.grow(l, want) == want {
			continue
		}
		for i := b.home[l]; i >= 0; i = b.outer[i] { // the first full limit is where it would trade
			if b.room[i] == 0 {
				f.limits[i].level = max(f.limits[i].level, n.unit[l])
				break
			}
		}
	}
	for l := range n.lines {
		b.value += n.unit[l] * float64(b.got[l])
	}
	for i := len(f.limits) - 1; i >= 0; i-- { // what trades further out is open to those further in
		if o := b.outer[i]; o >= 0 {
			f.limits[i].level = max(f.limits[i].level, f.limits[o].level)
		}
	}
	return true
}

func (b *broken) begin(n *network, f *family) {
	b.got = slices.Grow(b.got[:0], len(n.lines))[:len(n.lines)]
	b.home = slices.Grow(b.home[:0], len(n.lines))[:len(n.lines)]
	b.room = slices.Grow(b.room[:0], len(f.limits))[:len(f.limits)]
	b.outer = slices.Grow(b.outer[:0], len(f.limits))[:len(f.limits)]
	for l := range b.home {
		b.home[l] = -1
	}
	for i, at := range f.limits {
		b.room[i], b.outer[i] = at.stems, -1
		for _, l := range at.own {
			b.home[l] = i
		}
		for _, child := range at.children {
			b.outer[child] = i
		}
	}
}

// grow gives a line up to want stems more, as its limits leave, and says how many.
func (b *broken) grow(l int, want int64) int64 {
	for i := b.home[l]; i >= 0; i = b.outer[i] {
		want = min(want, b.room[i])
	}
	want = max(want, 0)
	for i := b.home[l]; i >= 0; i = b.outer[i] {
		b.room[i] -= want
	}
	b.got[l] += want
	return want
}
