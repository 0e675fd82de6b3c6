package live

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"runtime"
	"slices"
	"sync"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// scripted is a log that answers each frame by its incarnation: refused where that is in breach,
// else acknowledged up to the seq of the frame's first change.
type scripted struct {
	Log
	breach []string
	err    error
	taken  int // frames that came to the disk
}

func (l *scripted) Newest() int64 { return 0 }

func (l *scripted) Append(_ context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
	l.taken += len(frames)
	results := make([]changelog.Result, len(frames))
	for i, f := range frames {
		if slices.Contains(l.breach, f.Incarnation) {
			results[i].Breach = syncproto.Breachf(syncproto.CodeGap, "of %s", f.Incarnation)
			continue
		}
		results[i].Ack.Seq = f.Batch().Changes[0].Seq
	}
	return results, l.err
}

const phoneA, phoneB = "0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c", "5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6"

// everything may be read and written by it.
var everything = Member{Device: phoneA, Scopes: syncproto.Scopes, Rights: changelog.Within(syncproto.Scopes)}

// greeted is a conversation behind its welcome.
func greeted(s *Server, incarnation string) *Talk {
	t := s.Begin(everything)
	t.incarnation, t.wantsNews, t.greeted, t.welcomed = incarnation, true, true, true
	return t
}

func hearsFrame(t *Talk, seq int64) {
	batch := syncproto.Batch{Changes: []syncproto.Change{changeOf(t.incarnation, seq)}}
	t.Hear(Message{Binary: true, Data: syncproto.AppendPush(nil, syncproto.NewPacker(), batch)})
}

func changeOf(incarnation string, seq int64) syncproto.Change {
	return syncproto.Change{
		Incarnation: incarnation, Seq: seq, Scope: syncproto.ScopeField, Op: syncproto.OpSet,
		Type: "bed", ID: "b", Field: "name", Value: syncproto.Text("North"),
	}
}

// saidBy says what a conversation says, in order.
func saidBy(t *Talk) []string {
	var got []string
	for m, ok := t.Say(); ok; m, ok = t.Say() {
		var said struct {
			T    string
			Seq  int64
			Code string
		}
		if err := json.Unmarshal(m.Data, &said); err != nil {
			panic(err)
		}
		if said.T == syncproto.TypeRefuse {
			got = append(got, said.Code)
		} else {
			got = append(got, fmt.Sprint("ack ", said.Seq))
		}
	}
	return got
}

func TestEachPhoneIsAnsweredForItsOwnFrames(t *testing.T) {
	tests := []struct {
		name         string
		log          scripted
		hear         func(a, b *Talk)
		wantA, wantB []string
		taken        int
	}{
		{
			"one phone's refusal takes nothing from another in the same commit",
			scripted{breach: []string{phoneA}},
			func(a, b *Talk) { hearsFrame(a, 1); hearsFrame(a, 2); hearsFrame(b, 1); hearsFrame(b, 2) },
			[]string{"gap"}, []string{"ack 1", "ack 2"}, 4,
		},
		{
			"a malformed message stands between good frames in its order",
			scripted{},
			func(a, b *Talk) {
				hearsFrame(b, 1)
				hearsFrame(a, 1)
				b.Hear(Message{Data: []byte("?")})
				hearsFrame(b, 2)
				hearsFrame(a, 2)
			},
			[]string{"ack 1", "ack 2"}, []string{"ack 1", "malformed"}, 3,
		},
		{
			"nobody is acknowledged when the disk fails",
			scripted{err: errors.New("disk full")},
			func(a, b *Talk) { hearsFrame(a, 1); hearsFrame(b, 1) },
			[]string{"busy"}, []string{"busy"}, 4, // together, then each alone
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := New(Config{Log: &tt.log, Logger: slog.New(slog.NewTextHandler(io.Discard, nil))})
			a, b := greeted(s, phoneA), greeted(s, phoneB)
			tt.hear(a, b)
			if !s.Commit() || s.Commit() {
				t.Error("not everything was settled at once")
			}
			if got := saidBy(a); !slices.Equal(got, tt.wantA) {
				t.Errorf("phone A was answered %v, want %v", got, tt.wantA)
			}
			if got := saidBy(b); !slices.Equal(got, tt.wantB) {
				t.Errorf("phone B was answered %v, want %v", got, tt.wantB)
			}
			if tt.log.taken != tt.taken {
				t.Errorf("%d frames came to the disk, want %d", tt.log.taken, tt.taken)
			}
		})
	}
}

// What was queued when the refusal was still to come is not stored after it.
func TestFramesBehindARefusalDoNotReachTheDisk(t *testing.T) {
	log := scripted{breach: []string{phoneA}}
	s := New(Config{Log: &log, Logger: slog.New(slog.NewTextHandler(io.Discard, nil))})
	a := greeted(s, phoneA)
	hearsFrame(a, 1)
	s.Commit()
	hearsFrame(a, 2) // before the refusal was said
	s.Commit()
	if got := saidBy(a); !slices.Equal(got, []string{"gap"}) || !a.Over() || log.taken != 1 {
		t.Errorf("said %v, over %v, %d frames came to the disk, want one refusal and one frame", got, a.Over(), log.taken)
	}
}

func segmentOf(first, last int64, bytes int) changelog.Segment {
	return changelog.Segment{Incarnation: phoneA, First: first, Arrival: last, Batch: make([]byte, bytes)}
}

func TestWhatIsRecentIsBoundedAndWithoutGaps(t *testing.T) {
	const big = recentBytes / 4
	tests := []struct {
		name    string
		commits [][]changelog.Segment
		held    []int64 // first arrivals of what is still held
		newest  int64
	}{
		{"nothing", nil, nil, 0},
		{"several of a commit", [][]changelog.Segment{{segmentOf(1, 3, 10), segmentOf(4, 4, 10)}}, []int64{1, 4}, 4},
		{"the oldest go first", [][]changelog.Segment{
			{segmentOf(1, 1, big)}, {segmentOf(2, 2, big), segmentOf(3, 3, big)}, {segmentOf(4, 4, big)}, {segmentOf(5, 5, 1)},
		}, []int64{2, 3, 4, 5}, 5},
		{"one that is larger than all may be", [][]changelog.Segment{{segmentOf(1, 1, 10)}, {segmentOf(2, 9, recentBytes+1)}}, nil, 9},
		{"behind a gap", [][]changelog.Segment{{segmentOf(1, 2, 10)}, {segmentOf(5, 6, 10)}}, []int64{5}, 6},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var r recent
			for _, written := range tt.commits {
				moved := r.moved.listen()
				r.extend(written, written[len(written)-1].Arrival)
				select {
				case <-moved:
				default:
					t.Error("nobody was woken")
				}
			}
			var held []int64
			bytes := 0
			for arrival := range int64(10) {
				if s, ok := r.following(arrival); ok {
					held = append(held, s.First)
					bytes += len(s.Batch)
				}
			}
			if !slices.Equal(held, tt.held) || bytes != r.bytes || r.upTo() != tt.newest {
				t.Errorf("it holds %v, %d bytes counted as %d, up to %d; want %v up to %d", held, bytes, r.bytes, r.upTo(), tt.held, tt.newest)
			}
		})
	}
}

// watching notes how far phones could be told of the log when its frame was answered.
type watching struct {
	server *Server
	upTo   []int64
}

func (w *watching) refused() bool                { return false }
func (w *watching) answer(job, changelog.Result) { w.upTo = append(w.upTo, w.server.recent.upTo()) }
func (l *writing) Newest() int64                 { return int64(l.taken) }

// writing is a log that keeps every frame as a change.
type writing struct{ scripted }

// News cannot pass a phone's own change: it goes no further before every answer was handed over.
func TestNewsMovesOnlyAfterAllAnswersOfACommit(t *testing.T) {
	log := &writing{}
	s := New(Config{Log: log, Logger: slog.New(slog.NewTextHandler(io.Discard, nil))})
	w := &watching{server: s}
	a := greeted(s, phoneA)
	hearsFrame(a, 1)
	frame := s.queue.jobs[0].frame
	s.queue.put(job{frame: frame, from: w})
	s.queue.put(job{frame: frame, from: w})
	s.Commit()
	if !slices.Equal(w.upTo, []int64{0, 0}) || s.recent.upTo() != 3 {
		t.Errorf("phones could be told up to %v at the answers and %d after the commit, want 0 and 3", w.upTo, s.recent.upTo())
	}
}

func TestWhoeverWaitsForRoomGoesOnWhenFramesAreTaken(t *testing.T) {
	q := newQueue()
	f, err := changelog.NewFrame(phoneA, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: []syncproto.Change{changeOf(phoneA, 1)}})
	if err != nil {
		t.Fatal(err)
	}
	q.put(job{frame: f, weight: queueWeight})
	var waiting sync.WaitGroup
	waiting.Go(func() {
		if err := q.awaitRoom(t.Context()); err != nil {
			t.Error(err)
		}
	})
	for listened := false; !listened; runtime.Gosched() {
		q.drained.mu.Lock()
		listened = q.drained.next != nil
		q.drained.mu.Unlock()
	}
	if got := q.take(); len(got) != 1 || q.weight != 0 {
		t.Errorf("took %d jobs, %d bytes are left", len(got), q.weight)
	}
	waiting.Wait()
	ended, end := context.WithCancel(t.Context())
	end()
	q.put(job{frame: f, weight: queueWeight})
	if err := q.awaitRoom(ended); err == nil {
		t.Error("there was room in a full queue")
	}
}

// A phone may stay for days after it has read a large farm.
func TestNamesAreLetGoOnceAPhoneIsUpToDate(t *testing.T) {
	s := New(Config{Log: &scripted{}, Logger: slog.New(slog.NewTextHandler(io.Discard, nil))})
	a := greeted(s, phoneA)
	batch := syncproto.Batch{Changes: []syncproto.Change{changeOf(phoneB, 1)}, Orders: []syncproto.Stamp{{}}}
	for _, at := range []int64{1, 2} {
		a.at = at
		if a.pack(batch, 2); (a.packer == nil) != (at == 2) {
			t.Errorf("at %d of 2 the names are held: %v", at, a.packer != nil)
		}
	}
}
