package backup

import (
	"context"
	"errors"
	"log/slog"
	"os"
	"path/filepath"
	"sync"
	"time"

	"corymb/server/store"
)

// Config is what a Nightly needs to know.
type Config struct {
	Farm    *store.Store
	Version string
	Hour    int // local, at which backups are made
	Now     func() time.Time
	// Tell is told up to which arrival number a good backup holds the log, 0 for none, when it may have
	// changed.
	Tell   func(arrival int64)
	Logger *slog.Logger
}

// Nightly makes the backups of a farm while it is served: one every night, and when somebody asks. It is
// safe for concurrent use.
type Nightly struct {
	Config
	asked  chan struct{} // holds a token when somebody wants one now
	folder catalogue

	// Run's alone.
	ticked time.Time // when the shed was last seen to be awake
	looked time.Time // when it was last looked whether the last good backup is where it was put

	mu      sync.Mutex
	kept    settings
	awake   time.Time // since when the shed is awake
	wanted  bool      // somebody asked for one that has not begun
	running bool
	there   bool // the last good backup, at the last look
}

// Open reads what was chosen, and looks whether the last good backup is still there. Nothing is made
// before Run.
func Open(ctx context.Context, config Config) (*Nightly, error) {
	kept, err := readSettings(config.Farm.Dir())
	if err != nil {
		return nil, err
	}
	n := &Nightly{Config: config, asked: make(chan struct{}, 1), kept: kept}
	n.look(ctx)
	return n, nil
}

// tick is how often it is looked whether something is due. It is a time by the wall that counts, which
// goes on while a laptop sleeps, so it cannot be waited for.
const tick = time.Minute

// Run makes backups until the context ends; one that is under way then is broken off, and leaves nothing.
func (n *Nightly) Run(ctx context.Context) {
	ticker := time.NewTicker(tick)
	defer ticker.Stop()
	for n.pass(ctx); ; {
		select {
		case <-ticker.C:
			n.pass(ctx)
		case <-n.asked:
			n.make(ctx)
		case <-ctx.Done():
			return
		}
	}
}

const lookEvery = time.Hour

// pass does what is due.
func (n *Nightly) pass(ctx context.Context) {
	now := n.Now()
	if gap := now.Sub(n.ticked); gap < 0 || gap > 3*tick { // it slept, or its clock was set
		n.wake(now)
	}
	n.ticked = now
	if since := now.Sub(n.looked); since < 0 || since >= lookEvery {
		n.look(ctx)
	}
	if next := n.next(now); !next.IsZero() && !now.Before(next) {
		n.makeUnasked(ctx)
	}
}

func (n *Nightly) wake(now time.Time) {
	n.mu.Lock()
	defer n.mu.Unlock()
	n.awake = now
}

// next is when the next backup is to be made by itself, zero for never. What is said to have been in the
// future was under a wrong clock.
func (n *Nightly) next(now time.Time) time.Time {
	n.mu.Lock()
	defer n.mu.Unlock()
	if !n.kept.On || n.kept.Folder == "" {
		return time.Time{}
	}
	var made, retry time.Time
	if g := n.kept.Good; g != nil && !g.Made.After(now.Add(ahead)) {
		made = g.Made.In(now.Location())
	}
	if f := n.kept.Failure; f != nil && !f.When.After(now) {
		retry = f.retry()
	}
	return due(n.Hour, made, n.awake, retry)
}

// makeUnasked makes a backup unless the folder looks like that of a disk which is not plugged in.
func (n *Nightly) makeUnasked(ctx context.Context) {
	if problem := n.emptied(); problem != nil {
		n.failed(ctx, problem)
		return
	}
	n.make(ctx)
}

// emptied tells that the folder is there but none of the farm's backups are, though there were some: what
// is there may be the bare place where a disk belongs.
func (n *Nightly) emptied() *Problem {
	n.mu.Lock()
	folder, good := n.kept.Folder, n.kept.Good
	n.mu.Unlock()
	if good == nil || filepath.Dir(good.Path) != folder {
		return nil
	}
	if _, err := os.Stat(good.Path); !errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if found, err := List(folder, n.Farm.Farm()); err != nil || len(found) > 0 {
		return nil
	}
	return &Problem{Code: CodeEmptied, Text: "The folder for backups, " + folder + ", is there, but the backups that were in it are not. If they are on a disk, plug it in. If they were deleted, make a backup now: then it goes on by itself."}
}

// make makes a backup and notes how it went.
func (n *Nightly) make(ctx context.Context) {
	folder, ok := n.begin()
	if !ok {
		return
	}
	made, err := Make(ctx, Making{Farm: n.Farm, Folder: folder, Version: n.Version, Now: n.Now})
	n.ticked = n.Now() // it was awake
	if ctx.Err() != nil {
		return // it is stopping
	}
	if err != nil {
		n.failed(ctx, err)
		return
	}
	if made.NotGone != nil {
		n.Logger.Warn("an old backup stays", "error", made.NotGone)
	}
	m := made.Manifest
	if len(m.Damaged) > 0 {
		n.Logger.Warn("photos in the data folder are damaged; older backups may have them whole", "photos", m.Damaged)
	}
	n.end(func(s *settings) {
		s.Failure = nil
		s.Good = &Good{
			Path: made.Path, Size: made.Size, Made: m.Made, Epoch: m.Epoch, Life: m.Life, Arrival: m.Arrival,
			Damaged: len(m.Damaged), LeftOut: m.LeftOut,
		}
	})
	n.look(ctx)
}

func (n *Nightly) begin() (folder string, ok bool) {
	n.mu.Lock()
	defer n.mu.Unlock()
	n.running, n.wanted = n.kept.Folder != "", false
	return n.kept.Folder, n.running
}

func (n *Nightly) failed(ctx context.Context, err error) {
	n.Logger.Error("no backup was made", "error", err)
	failure := &Failure{When: n.Now(), Code: CodeFailed, Text: err.Error()}
	var problem *Problem
	if errors.As(err, &problem) {
		failure.Code, failure.Text = problem.Code, problem.Text
	}
	n.end(func(s *settings) { s.Failure = failure })
	n.look(ctx) // the last good one may have gone with the folder
}

// end notes on the disk how it went. What could not be noted stands until the next start.
func (n *Nightly) end(note func(*settings)) {
	n.mu.Lock()
	defer n.mu.Unlock()
	n.running = false
	note(&n.kept)
	if err := n.kept.write(n.Farm.Dir()); err != nil {
		n.Logger.Error("how the backup went could not be noted", "error", err)
	}
}

// look finds out whether the last good backup is where it was put, by its size, and whether it is of this
// log: of its epoch, and of a life of which this log is the continuation.
func (n *Nightly) look(ctx context.Context) {
	n.looked = n.Now()
	n.mu.Lock()
	good := n.kept.Good
	n.mu.Unlock()
	there, covered := false, int64(0)
	if good != nil {
		info, err := os.Stat(good.Path)
		there = err == nil && info.Size() == good.Size
	}
	if there && good.Epoch == n.Farm.Epoch() {
		continues, err := n.Farm.Continues(ctx, good.Life, good.Arrival)
		if err != nil && ctx.Err() == nil {
			n.Logger.Error("phones are not told what is backed up", "error", err)
		}
		if continues {
			covered = good.Arrival
		}
	}
	n.mu.Lock()
	n.there = there
	n.mu.Unlock()
	n.Tell(covered)
}
