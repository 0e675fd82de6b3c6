package live

import "sync"

// newest is the arrival number that conversations may tell of, and wakes those that wait for more.
// It moves only after every acknowledgement of a commit was handed over, which is why news cannot
// pass a phone's own change.
type newest struct {
	mu      sync.Mutex
	arrival int64
	moved   chan struct{}
}

func newNewest(arrival int64) *newest {
	return &newest{arrival: arrival, moved: make(chan struct{})}
}

// now is the number, and a channel that is closed when it moves.
func (n *newest) now() (int64, <-chan struct{}) {
	n.mu.Lock()
	defer n.mu.Unlock()
	return n.arrival, n.moved
}

func (n *newest) move(to int64) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if to <= n.arrival {
		return
	}
	n.arrival = to
	close(n.moved)
	n.moved = make(chan struct{})
}
