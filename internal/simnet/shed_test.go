package simnet

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"time"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/server/store"
	"corymb/syncproto"
)

// shed is the real server on a real data folder.
type shed struct {
	sim      *sim
	dir      string
	store    *store.Store
	log      live.Log        // the store, perhaps without a guard
	live     *live.Server    // nil while it is down
	lives    int             // how often it was started
	full     bool            // its disk takes nothing
	sick     bool            // its disk reads nothing either
	skew     int64           // of its clock, ms
	wasWrong bool            // its clock was, at some time
	highest  syncproto.Stamp // order in the log
	tells    int64           // of how many changes a welcome tells, 0 for as many as it likes
	// Scopes of each person.
	scopes map[string][]syncproto.Scope
}

var silent = slog.New(slog.NewTextHandler(io.Discard, nil))

var errDisk = errors.New("the disk is full")

func (s *shed) now() time.Time { return time.UnixMilli(s.sim.now + s.skew) }

func (s *shed) start() {
	opened, err := store.OpenStill(s.dir, s.now)
	if err != nil {
		s.sim.fail("opening the store: %v", err)
		return
	}
	s.store = opened
	s.highestOrder()
	s.lives++
	s.log = &shedLog{Store: opened, shed: s}
	if s.sim.wrap != nil {
		s.log = s.sim.wrap(s.log)
	}
	s.live = live.New(live.Config{
		Log: s.log, Now: s.now, Logger: silent,
	})
	s.sim.trace("shed starts: epoch %s, newest %d", opened.Epoch(), opened.Newest())
}

// memberOf is a device that may read and write some scopes.
func memberOf(device string, scopes []syncproto.Scope) live.Member {
	return live.Member{Device: device, Scopes: scopes, Rights: changelog.Within(scopes)}
}

// project lets the merge state catch up, as it does when there is time.
func (s *shed) project() {
	if s.live == nil {
		return
	}
	if err := s.store.Level(context.Background()); err != nil {
		s.sim.fail("projecting: %v", err)
	}
}

// stop ends the process, whatever was under way. A commit is there whole or not at all.
func (s *shed) stop() {
	if s.live == nil {
		return
	}
	s.live = nil
	var failed error
	if wrapped, ok := s.log.(io.Closer); ok {
		failed = wrapped.Close()
	}
	if err := errors.Join(failed, s.store.Close()); err != nil {
		s.sim.fail("closing the store: %v", err)
	}
	s.sim.trace("shed stops")
}

// shedCopy is a copy of a data folder, and of how much was acknowledged until then.
type shedCopy struct {
	files map[string][]byte
	acked int
}

const markName = "corymb.mark"

// backup copies the folder of a shed that is down.
func (s *shed) backup() *shedCopy {
	b := &shedCopy{files: map[string][]byte{}, acked: len(s.sim.ledger.acked)}
	for _, name := range []string{store.FileName, markName} {
		data, err := os.ReadFile(filepath.Join(s.dir, name))
		if err != nil {
			s.sim.fail("copying the data folder: %v", err)
		}
		b.files[name] = data
	}
	return b
}

// backupServed copies the database of a shed that runs. It comes without a mark.
func (s *shed) backupServed() *shedCopy {
	b := &shedCopy{acked: len(s.sim.ledger.acked)}
	path := filepath.Join(s.dir, "copy.db")
	copied, err := s.store.CopyTo(context.Background(), path)
	if err == nil && copied.Arrival != s.store.Newest() { // nobody appends meanwhile here
		err = fmt.Errorf("%d changes of %d are in it", copied.Arrival, s.store.Newest())
	}
	data, unread := os.ReadFile(path)
	if err := errors.Join(err, unread, os.Remove(path)); err != nil {
		s.sim.fail("copying the database: %v", err)
	}
	b.files = map[string][]byte{store.FileName: data}
	return b
}

// restore puts an older copy in the place of the database. The mark stays as it is, is lost, or is
// the older one too.
func (s *shed) restore(b *shedCopy, mark string) {
	put := map[string][]byte{store.FileName: b.files[store.FileName]}
	switch mark {
	case "lost":
		if err := os.Remove(filepath.Join(s.dir, markName)); err != nil {
			s.sim.fail("losing the mark: %v", err)
		}
	case "older":
		put[markName] = b.files[markName]
	}
	for name, data := range put {
		if err := os.WriteFile(filepath.Join(s.dir, name), data, 0o600); err != nil {
			s.sim.fail("restoring: %v", err)
		}
	}
	s.sim.ledger.acked = s.sim.ledger.acked[:b.acked]
	s.sim.restores++
}

// shedLog is the store on a disk that may fail.
type shedLog struct {
	*store.Store
	shed *shed
}

func (l *shedLog) Append(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
	if l.shed.full || l.shed.sick {
		return nil, errDisk
	}
	results, err := l.Store.Append(ctx, frames)
	l.checkOrders(results)
	return results, err
}

func (l *shedLog) Standing(ctx context.Context, asked changelog.Asked) (changelog.Standing, error) {
	if l.shed.sick {
		return changelog.Standing{}, errDisk
	}
	standing, err := l.Store.Standing(ctx, asked)
	if upTo := asked.Settled + l.shed.tells; l.shed.tells > 0 && standing.Told > upTo {
		standing = tellingUpTo(upTo, standing)
	}
	return standing, err
}

// tellingUpTo tells less, as the shed does where very much is to be told.
func tellingUpTo(seq int64, s changelog.Standing) changelog.Standing {
	s.Told = seq
	s.Orders = slices.DeleteFunc(s.Orders, func(o syncproto.SeqOrder) bool { return o.Seq > seq })
	s.Held = slices.DeleteFunc(s.Held, func(held int64) bool { return held > seq })
	s.Refused = slices.DeleteFunc(s.Refused, func(r syncproto.Refusal) bool { return r.Seq > seq })
	return s
}

func (l *shedLog) ReadAfter(ctx context.Context, after, upTo int64, scopes []syncproto.Scope) (changelog.Tail, error) {
	if l.shed.sick {
		return changelog.Tail{}, errDisk
	}
	return l.Store.ReadAfter(ctx, after, upTo, scopes)
}
