package simnet

import (
	"context"
	"testing"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/syncproto"
)

// Without any one of its guards the sync fails, and the simulation finds it.
func TestTheSimulationFindsEachGuardThatIsMissing(t *testing.T) {
	const seeds = 1_000
	tests := []struct {
		name    string
		without options
	}{
		{"the shed acknowledges before it has committed", options{wrap: ackingEarly}},
		{"the shed settles again what it has settled", options{wrap: settlingTwice}},
		{"the shed keeps again what it holds under a former identity", options{wrap: passingFormersOver}},
		{"the shed takes every cursor for its own", options{wrap: trustingCursors}},
		{"a phone does not say again what was not settled", options{faults: faults{forgetsUnproven: true}}},
		{"a phone does not name what it says again", options{faults: faults{namesNoFormer: true}}},
		{"a phone lets go of what is not settled", options{faults: faults{prunes: true}}},
		{"a phone takes its stamps for orders", options{faults: faults{ignoresOrders: true}}},
		{"a phone moves its cursor before it stores the news", options{faults: faults{movesCursor: true}}},
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

// earlyLog says that frames are settled, and stores them when it is asked the next thing.
type earlyLog struct {
	live.Log
	waiting []*changelog.Frame
}

func ackingEarly(log live.Log) live.Log { return &earlyLog{Log: log} }

func (l *earlyLog) flush(ctx context.Context) {
	if len(l.waiting) > 0 {
		_, _ = l.Log.Append(ctx, l.waiting) // whatever becomes of it, it was acknowledged
		l.waiting = nil
	}
}

func (l *earlyLog) Append(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
	l.flush(ctx)
	l.waiting = frames
	results := make([]changelog.Result, len(frames))
	for i, f := range frames {
		results[i] = changelog.Result{Ack: syncproto.Ack{T: syncproto.TypeAck, Seq: lastOf(f).Seq}}
	}
	return results, nil
}

func (l *earlyLog) Standing(ctx context.Context, asked changelog.Asked) (changelog.Standing, error) {
	l.flush(ctx)
	return l.Log.Standing(ctx, asked)
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
	again, err := changelog.NewFrame(incarnation, f.Scopes, b)
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
