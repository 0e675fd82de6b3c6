package simnet

import (
	"context"
	"os"
	"testing"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/server/store"
	"corymb/syncproto"
)

// Without any one of its guards the sync fails, and the simulation finds it.
func TestTheSimulationFindsEachGuardThatIsMissing(t *testing.T) {
	const seeds = 1_000
	tests := []struct {
		name    string
		without options
	}{
		{"the shed acknowledges before it has committed", options{wrap: ackingEarly(t)}},
		{"the shed settles again what it has settled", options{wrap: settlingTwice}},
		{"the shed keeps again what it holds under a former identity", options{wrap: passingFormersOver}},
		{"the shed takes every cursor for its own", options{wrap: trustingCursors}},
		{"a phone does not say again what was not settled", options{faults: faults{forgetsUnproven: true}}},
		{"a phone does not name what it says again", options{faults: faults{namesNoFormer: true}}},
		{"a phone lets go of what is not settled", options{faults: faults{prunes: true}}},
		{"a phone takes its stamps for orders", options{faults: faults{ignoresOrders: true}}},
		{"a phone moves its cursor before it stores the news", options{faults: faults{movesCursor: true}}},
		{"a phone counts on as another", options{faults: faults{countsAsAnother: true}}},
		{"a phone does not feed its clock", options{faults: faults{hearsNoClock: true}}},
	}
	f := newFarms(t)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			sum, failed := f.runMany(t, *firstOne, seeds, tt.without)
			if failed == 0 {
				t.Fatalf("%d seeds, and nothing was found", seeds)
			}
			t.Logf("seed %d: %.200s", failed, sum.fault)
		})
	}
}

// earlyLog acknowledges what it has only put into a copy of the log, and stores it when it is asked the
// next thing.
type earlyLog struct {
	live.Log
	copied  *store.Store
	waiting []*changelog.Frame
	atOnce  bool // or rather at once, so that nothing is early
}

func ackingEarly(t testing.TB) func(live.Log) live.Log { return ackingFromACopy(t, false) }

func ackingFromACopy(t testing.TB, atOnce bool) func(live.Log) live.Log {
	return func(log live.Log) live.Log {
		of := log.(*shedLog)
		l := &earlyLog{Log: log, atOnce: atOnce}
		dir, err := os.MkdirTemp(of.shed.dir, "copy")
		if err == nil {
			err = copyFolder(dir, of.shed.dir)
		}
		if err == nil {
			l.copied, err = store.OpenStill(dir, of.shed.now)
		}
		if err != nil {
			t.Error(err)
		}
		return l
	}
}

// Close is called when the shed stops: what waits is lost.
func (l *earlyLog) Close() error { return l.copied.Close() }

func (l *earlyLog) flush(ctx context.Context) error {
	if len(l.waiting) == 0 {
		return nil
	}
	_, err := l.Log.Append(ctx, l.waiting)
	l.waiting = nil
	return err
}

func (l *earlyLog) Append(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
	if err := l.flush(ctx); err != nil {
		return nil, err
	}
	l.waiting = frames
	if l.atOnce {
		if err := l.flush(ctx); err != nil {
			return nil, err
		}
	}
	return l.copied.Append(ctx, frames)
}

func (l *earlyLog) Newest() int64 { return l.copied.Newest() }

func (l *earlyLog) Standing(ctx context.Context, asked changelog.Asked) (changelog.Standing, error) {
	if err := l.flush(ctx); err != nil {
		return changelog.Standing{}, err
	}
	return l.Log.Standing(ctx, asked)
}

func (l *earlyLog) ReadAfter(ctx context.Context, after, upTo int64, scopes []syncproto.Scope) (changelog.Tail, error) {
	if err := l.flush(ctx); err != nil {
		return changelog.Tail{}, err
	}
	return l.Log.ReadAfter(ctx, after, upTo, scopes)
}

// The copy alone does no harm.
func TestALogThatAcknowledgesFromACopyButInTimeIsSound(t *testing.T) {
	sum, failed := newFarms(t).runMany(t, *firstOne, 100, options{wrap: ackingFromACopy(t, true)})
	if failed != 0 {
		t.Errorf("seed %d: %.300s", failed, sum.fault)
	}
}

func lastOf(f *changelog.Frame) syncproto.Change {
	changes := f.Batch().Changes
	return changes[len(changes)-1]
}

// twiceLog stores some frames a second time, as another's.
type twiceLog struct {
	live.Log
	settled map[string]int64
	again   func(l *twiceLog, f *changelog.Frame) bool
}

func settlingTwice(log live.Log) live.Log {
	return &twiceLog{Log: log, settled: map[string]int64{}, again: func(l *twiceLog, f *changelog.Frame) bool {
		return lastOf(f).Seq <= l.settled[f.Incarnation]
	}}
}

func passingFormersOver(log live.Log) live.Log {
	return &twiceLog{Log: log, settled: map[string]int64{}, again: func(_ *twiceLog, f *changelog.Frame) bool {
		_, ok := lastOf(f).Former()
		return ok
	}}
}

func (l *twiceLog) Append(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
	all := append([]*changelog.Frame{}, frames...)
	for _, f := range frames {
		if l.again(l, f) && !f.Part() {
			all = append(all, anew(f))
		}
	}
	results, err := l.Log.Append(ctx, all)
	if err != nil {
		return nil, err
	}
	for i, f := range frames {
		l.settled[f.Incarnation] = max(l.settled[f.Incarnation], results[i].Ack.Seq)
	}
	last := &results[len(frames)-1]
	for _, extra := range results[len(frames):] {
		last.Written = append(last.Written, extra.Written...)
	}
	return results[:len(frames)], nil
}

// anew is a frame as if another had said it.
func anew(f *changelog.Frame) *changelog.Frame {
	incarnation := uuid.NewSHA1(uuid.Nil, lastOf(f).Canonical()).String()
	var b syncproto.Batch
	for i, c := range f.Batch().Changes {
		if original, ok := c.Original(); ok {
			c = original
		}
		c.Incarnation, c.Seq = incarnation, int64(i)+1
		b.Changes = append(b.Changes, c)
	}
	again, err := changelog.NewFrame(incarnation, f.Rights, b)
	if err != nil {
		panic(err) // it was a frame before
	}
	return again
}

// trustingLog takes every cursor for one that holds.
type trustingLog struct{ live.Log }

func trustingCursors(log live.Log) live.Log { return &trustingLog{log} }

func (l *trustingLog) Standing(ctx context.Context, asked changelog.Asked) (changelog.Standing, error) {
	standing, err := l.Log.Standing(ctx, asked)
	standing.Holds = asked.Cursor != nil && asked.Cursor.Arrival <= standing.Newest
	return standing, err
}
