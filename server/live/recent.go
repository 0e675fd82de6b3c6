package live

import (
	"slices"
	"sync"

	"corymb/internal/changelog"
)

const (
	recentBytes    = 1 << 20
	recentSegments = 4096
)

// recent holds what was written last, as the log packed it. Phones that are nearly up to date are
// told from here; the log is neither read nor packed again for each.
type recent struct {
	moved bell // rung when newest grows, or there is something else that all are to be told

	mu       sync.Mutex
	newest   int64 // how far phones may be told
	segments []changelog.Segment
	bytes    int // of their batches
}

// extend adds what a commit wrote and moves newest. Written is in order of arrival without gaps.
func (r *recent) extend(written []changelog.Segment, newest int64) {
	if !r.add(written, newest) {
		return
	}
	r.moved.ring()
}

func (r *recent) add(written []changelog.Segment, newest int64) (moved bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, s := range written {
		if n := len(r.segments); n > 0 && r.segments[n-1].Arrival+1 != s.First {
			r.drop(n) // somebody else wrote between: those are in the log alone
		}
		r.segments = append(r.segments, s)
		r.bytes += len(s.Batch)
	}
	excess := 0
	for bytes := r.bytes; bytes > recentBytes || len(r.segments)-excess > recentSegments; excess++ {
		bytes -= len(r.segments[excess].Batch)
	}
	r.drop(excess)
	moved = newest > r.newest
	r.newest = max(r.newest, newest)
	return moved
}

// drop forgets the oldest n segments.
func (r *recent) drop(n int) {
	for _, s := range r.segments[:n] {
		r.bytes -= len(s.Batch)
	}
	clear(r.segments[:n])
	r.segments = r.segments[n:]
}

func (r *recent) upTo() int64 {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.newest
}

// following is the segment right after an arrival number, if it is held.
func (r *recent) following(arrival int64) (changelog.Segment, bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	i, ok := slices.BinarySearchFunc(r.segments, arrival+1, func(s changelog.Segment, first int64) int {
		return int(s.First - first)
	})
	if !ok {
		return changelog.Segment{}, false
	}
	return r.segments[i], true
}
