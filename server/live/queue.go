package live

import (
	"context"
	"sync"

	"corymb/internal/changelog"
)

// job is a frame on its way to the disk.
type job struct {
	frame  *changelog.Frame
	from   sender
	weight int // bytes of memory, roughly
}

// sender waits for what became of its frames.
type sender interface {
	// refused tells that nothing more of this sender may be stored.
	refused() bool
	// answer says what became of its next frame. It never waits.
	answer(j job, r changelog.Result)
}

const (
	// changeWeight is about what a change takes in memory beside its texts.
	changeWeight = 256
	extraWeight  = 100
	itemWeight   = 16
	// queueWeight bounds what waits for a commit: 32 frames of 2,000, or many more small ones. Beyond
	// it phones are not read.
	queueWeight = 16 << 20
)

// weightOf counts the bytes that a frame came in, which hold its texts, and its changes with what
// only some of them have.
func weightOf(frame *changelog.Frame, message int) int {
	weight := message + frame.Len()*changeWeight
	for _, c := range frame.Batch().Changes {
		weight += len(c.Extra)*extraWeight + len(c.Value.List)*itemWeight
	}
	return weight
}

// queue holds the frames that wait for a commit, in the order in which they came.
type queue struct {
	filled  chan struct{} // holds a token when there may be something to take
	drained bell          // rung when some were taken

	mu     sync.Mutex
	jobs   []job
	weight int
	closed bool
}

func newQueue() queue { return queue{filled: make(chan struct{}, 1)} }

// put adds a job; false means that no more are taken.
func (q *queue) put(j job) bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.closed {
		return false
	}
	q.jobs = append(q.jobs, j)
	q.weight += j.weight
	poke(q.filled)
	return true
}

// take removes the first jobs: as many as share a commit.
func (q *queue) take() []job {
	q.mu.Lock()
	defer q.mu.Unlock()
	n, changes := 0, 0
	for n < len(q.jobs) && changes < commitChanges {
		changes += q.jobs[n].frame.Len()
		q.weight -= q.jobs[n].weight
		n++
	}
	taken := q.jobs[:n:n]
	q.jobs = q.jobs[n:]
	if len(q.jobs) == 0 {
		q.jobs = nil // lets go of what was taken
	}
	if n > 0 {
		q.drained.ring()
	}
	return taken
}

// close lets nothing more in.
func (q *queue) close() {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.closed = true
	poke(q.filled)
}

func (q *queue) isClosed() bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	return q.closed
}

func (q *queue) isFull() bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	return q.weight >= queueWeight
}

func (q *queue) len() int {
	q.mu.Lock()
	defer q.mu.Unlock()
	return len(q.jobs)
}

// awaitRoom waits until the queue is not full.
func (q *queue) awaitRoom(ctx context.Context) error {
	for {
		drained := q.drained.listen() // before looking, so that nothing is missed between
		if !q.isFull() {
			return nil
		}
		select {
		case <-drained:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// bell wakes whoever listens. The zero bell is ready.
type bell struct {
	mu   sync.Mutex
	next chan struct{}
}

// listen returns a channel that is closed when the bell is rung next.
func (b *bell) listen() <-chan struct{} {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.next == nil {
		b.next = make(chan struct{})
	}
	return b.next
}

func (b *bell) ring() {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.next != nil {
		close(b.next)
		b.next = nil
	}
}

// poke leaves a token in a channel that has room for one.
func poke(c chan struct{}) {
	select {
	case c <- struct{}{}:
	default:
	}
}
