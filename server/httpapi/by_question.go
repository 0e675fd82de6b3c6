package httpapi

import (
	"slices"
	"sync"
)

// byQuestion keeps the answers to the questions asked last, each worked out as workedOut does, and one at a time: each
// takes all of the processor.
type byQuestion[A any] struct {
	most int
	turn sync.Mutex
	mu   sync.Mutex
	kept []*questioned[A] // the last asked for at the end
}

type questioned[A any] struct {
	asked string
	workedOut[A]
}

// of finds what was asked before, or makes a place for it: run works the answer out.
func (b *byQuestion[A]) of(asked string, run func() (A, error)) *questioned[A] {
	b.mu.Lock()
	defer b.mu.Unlock()
	at := slices.IndexFunc(b.kept, func(q *questioned[A]) bool { return q.asked == asked })
	if at >= 0 {
		q := b.kept[at]
		b.kept = append(slices.Delete(b.kept, at, at+1), q)
		return q
	}
	q := &questioned[A]{asked: asked}
	q.before = func() *A { return nil }
	q.run = func(*A) (A, error) {
		b.turn.Lock()
		defer b.turn.Unlock()
		return run()
	}
	b.kept = append(b.kept, q)
	if len(b.kept) > b.most {
		b.kept = slices.Delete(b.kept, 0, 1)
	}
	return q
}
