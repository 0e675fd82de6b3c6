package store

import (
	"context"
	"sync"
	"sync/atomic"
	"time"
)

// appending counts the appends that wait or are under way: the projector lets them go first.
type appending struct{ n atomic.Int64 }

func (a *appending) begin()     { a.n.Add(1) }
func (a *appending) end()       { a.n.Add(-1) }
func (a *appending) busy() bool { return a.n.Load() > 0 }

// quiet is how long no frame must have come before the projector goes on, unless it is far behind.
const (
	quiet     = 30 * time.Millisecond
	farBehind = 200_000 // changes
)

// projector makes the projection of the log catch up when there is time. It trails the log, so that
// a phone's acknowledgement need not wait for it.
type projector struct {
	woken   chan struct{}
	stopped chan struct{}
	running sync.WaitGroup
	lag     lag
}

func newProjector() *projector {
	return &projector{woken: make(chan struct{}, 1), stopped: make(chan struct{})}
}

// lag is what keeps the projection from catching up.
type lag struct {
	mu   sync.Mutex
	err  error // nil while it goes well
	tell func(error)
}

// OnLag has whatever keeps the merge state from catching up with the log told to a function, once for
// as long as it stays the same, and at once if it is so already. Nobody else hears of it: what was
// appended is safe and can be read without the merge state, only more slowly.
func (s *Store) OnLag(tell func(error)) {
	l := &s.projector.lag
	l.mu.Lock()
	defer l.mu.Unlock()
	l.tell = tell
	if l.err != nil {
		tell(l.err)
	}
}

// note takes how the last attempt went.
func (l *lag) note(err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	isNew := err != nil && (l.err == nil || l.err.Error() != err.Error())
	l.err = err
	if isNew && l.tell != nil {
		l.tell(err)
	}
}

// wake says that the log has grown.
func (p *projector) wake() {
	select {
	case p.woken <- struct{}{}:
	default:
	}
}

// start runs the projector until stop.
func (p *projector) start(s *Store) {
	p.running.Go(func() {
		p.wake() // what an earlier run left
		for {
			select {
			case <-p.woken:
				p.catchUp(s)
			case <-p.stopped:
				return
			}
		}
	})
}

func (p *projector) stop() {
	if p == nil {
		return
	}
	close(p.stopped)
	p.running.Wait()
}

// catchUp projects slice after slice. A failure does no harm: the next wake tries again.
func (p *projector) catchUp(s *Store) {
	for level := false; !level; {
		newest := s.Newest()
		select {
		case <-p.stopped:
			return
		case <-time.After(quiet):
		}
		if (s.appending.busy() || s.Newest() != newest) && s.Newest()-s.projected.Load() < farBehind {
			continue
		}
		var err error
		level, err = s.projectSlice(context.Background())
		if p.lag.note(explain("bringing the merge state up to the log", err)); err != nil {
			return
		}
	}
}

// Level makes the projection catch up with the log.
func (s *Store) Level(ctx context.Context) error {
	for {
		if level, err := s.projectSlice(ctx); err != nil || level {
			return explain("bringing the merge state up to the log", err)
		}
	}
}

// projectSlice projects the next few segments in one transaction; level tells that none was left.
// Appends wait only while it is written.
func (s *Store) projectSlice(ctx context.Context) (level bool, err error) {
	s.projecting.Lock()
	defer s.projecting.Unlock()
	tx, err := s.begin(ctx)
	if err != nil {
		return false, err
	}
	p := s.newProjection(tx)
	err = p.slice()
	_ = tx.Rollback() // it only read
	if err != nil || p.upTo == p.from {
		return err == nil, err
	}
	s.writing.Lock()
	defer s.writing.Unlock()
	if err := s.writeProjection(p); err != nil {
		return false, err
	}
	s.projected.Store(p.upTo)
	return false, nil
}
