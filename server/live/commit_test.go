package live

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"slices"
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
		c, _ := f.Change(0)
		results[i].Ack.Seq = c.Seq
	}
	return results, l.err
}

const phoneA, phoneB = "0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c", "5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6"

func frameOf(t *testing.T, incarnation string, seq int64) *changelog.Frame {
	t.Helper()
	f, err := changelog.NewFrame(incarnation, syncproto.Scopes, syncproto.Push{T: syncproto.TypePush, Changes: []syncproto.Change{{
		Incarnation: incarnation, Seq: seq, Scope: syncproto.ScopeField, Op: syncproto.OpSet,
		Type: "bed", ID: "b", Field: "name", Value: syncproto.Text("North"),
	}}})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// answersOf says what a connection was answered, in order.
func answersOf(c *conn) []string {
	var got []string
	for {
		select {
		case r := <-c.results:
			if r.Breach != nil {
				got = append(got, string(r.Breach.Code))
			} else {
				got = append(got, fmt.Sprint("ack ", r.Ack.Seq))
			}
		default:
			return got
		}
	}
}

func TestEachPhoneIsAnsweredForItsOwnFrames(t *testing.T) {
	malformed := syncproto.Breachf(syncproto.CodeMalformed, "of b")
	tests := []struct {
		name         string
		log          scripted
		jobs         func(a, b *conn) []job
		wantA, wantB []string
		taken        int
	}{
		{
			"one phone's refusal takes nothing from another in the same commit",
			scripted{breach: []string{phoneA}},
			func(a, b *conn) []job {
				return []job{
					{from: a, frame: frameOf(t, phoneA, 1)}, {from: a, frame: frameOf(t, phoneA, 2)},
					{from: b, frame: frameOf(t, phoneB, 1)}, {from: b, frame: frameOf(t, phoneB, 2)},
				}
			},
			[]string{"gap"}, []string{"ack 1", "ack 2"}, 4,
		},
		{
			"a malformed message stands between good frames in its order",
			scripted{},
			func(a, b *conn) []job {
				return []job{
					{from: b, frame: frameOf(t, phoneB, 1)}, {from: a, frame: frameOf(t, phoneA, 1)},
					{from: b, breach: malformed}, {from: b, frame: frameOf(t, phoneB, 2)}, {from: a, frame: frameOf(t, phoneA, 2)},
				}
			},
			[]string{"ack 1", "ack 2"}, []string{"ack 1", "malformed"}, 3,
		},
		{
			"nobody is acknowledged when the disk fails",
			scripted{err: errors.New("disk full")},
			func(a, b *conn) []job {
				return []job{{from: a, frame: frameOf(t, phoneA, 1)}, {from: b, frame: frameOf(t, phoneB, 1)}}
			},
			[]string{"busy"}, []string{"busy"}, 2,
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := New(Config{Log: &tt.log, Logger: slog.New(slog.NewTextHandler(io.Discard, nil))})
			a, b := newConn(s, nil), newConn(s, nil)
			s.settle(tt.jobs(a, b))
			if got := answersOf(a); !slices.Equal(got, tt.wantA) {
				t.Errorf("phone A was answered %v, want %v", got, tt.wantA)
			}
			if got := answersOf(b); !slices.Equal(got, tt.wantB) {
				t.Errorf("phone B was answered %v, want %v", got, tt.wantB)
			}
			if tt.log.taken != tt.taken {
				t.Errorf("%d frames came to the disk, want %d", tt.log.taken, tt.taken)
			}
		})
	}
}
