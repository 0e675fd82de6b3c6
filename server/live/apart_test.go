package live

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"slices"
	"testing"
	"time"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// spoilt is a log that fails wherever a frame of certain incarnations takes part.
type spoilt struct {
	scripted
	damaged  []string
	attempts int
	stored   []string // what was stored, in order
}

func (l *spoilt) Append(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
	l.attempts++
	if slices.ContainsFunc(frames, func(f *changelog.Frame) bool { return slices.Contains(l.damaged, f.Incarnation) }) {
		for _, f := range frames {
			f.Conversation.Aside = true // as a transaction may that is rolled back
		}
		return nil, errors.New("a row is damaged")
	}
	for _, f := range frames {
		l.stored = append(l.stored, string(f.Batch().Changes[0].Identity()))
	}
	return l.scripted.Append(ctx, frames)
}

func TestOnlyTheConversationThatFailsIsTurnedAway(t *testing.T) {
	phones := make([]string, 8)
	for i := range phones {
		phones[i] = fmt.Sprintf("%08d-0000-4000-8000-000000000000", i)
	}
	tests := []struct {
		name     string
		damaged  []int
		busy     []int
		attempts int
	}{
		{"none", nil, nil, 1},
		{"one", []int{2}, []int{2}, 1 + 8},
		{"the last", []int{7}, []int{7}, 1 + 8},
		{"two with others between", []int{1, 4}, []int{1, 4}, 1 + 8},
		{"the whole disk", []int{0, 1, 2, 3, 4, 5, 6, 7}, []int{0, 1, 2, 3, 4, 5, 6, 7}, 1 + mostFailures},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			log := &spoilt{}
			for _, i := range tt.damaged {
				log.damaged = append(log.damaged, phones[i])
			}
			s := New(Config{Log: log, Logger: slog.New(slog.NewTextHandler(io.Discard, nil))})
			talks := make([]*Talk, len(phones))
			for i, incarnation := range phones {
				talks[i] = greeted(s, incarnation)
			}
			for seq := int64(1); seq <= 2; seq++ { // the frames of a conversation do not lie together
				for _, talk := range talks {
					hearsFrame(talk, seq)
				}
			}
			s.Commit()
			var stored []string
			for i, talk := range talks {
				want := []string{"ack 1", "ack 2"}
				if slices.Contains(tt.busy, i) {
					want = []string{"busy"}
				} else {
					stored = append(stored, phones[i]+":1", phones[i]+":2")
				}
				if got := saidBy(talk); !slices.Equal(got, want) {
					t.Errorf("phone %d was answered %v, want %v", i, got, want)
				}
				if talk.frames.Aside {
					t.Errorf("phone %d is taken to know what a transaction that failed put aside", i)
				}
			}
			if slices.Sort(log.stored); !slices.Equal(log.stored, stored) || log.attempts != tt.attempts {
				t.Errorf("%d attempts stored %v; want %d attempts and %v", log.attempts, log.stored, tt.attempts, stored)
			}
		})
	}
}

// Order within a conversation is what its acknowledgements rest on.
func TestFramesThatAreAppendedApartKeepTheirOrder(t *testing.T) {
	log := &spoilt{damaged: []string{phoneA}}
	s := New(Config{Log: log, Logger: slog.New(slog.NewTextHandler(io.Discard, nil))})
	a, b := greeted(s, phoneA), greeted(s, phoneB)
	want := []string{}
	for seq := int64(1); seq <= 5; seq++ {
		hearsFrame(b, seq)
		hearsFrame(a, seq)
		want = append(want, string(syncproto.IdentityOf(phoneB, seq)))
	}
	s.Commit()
	if !slices.Equal(log.stored, want) {
		t.Errorf("stored %v, want %v", log.stored, want)
	}
}

// greeting is a log that knows nothing of whoever comes.
type greeting struct {
	scripted
	seen changelog.Sighting
}

func (*greeting) Farm() string  { return "" }
func (*greeting) Epoch() string { return "" }
func (*greeting) Life() string  { return "" }

func (*greeting) Standing(context.Context, changelog.Asked) (changelog.Standing, error) {
	return changelog.Standing{}, nil
}

func (l *greeting) Seen(said changelog.Sighting) { l.seen = said }

// A conversation lasts for days; of its hello little is needed.
func TestAHelloIsLetGoOnceItIsAnswered(t *testing.T) {
	log := &greeting{}
	s := New(Config{Log: log, Logger: slog.New(slog.NewTextHandler(io.Discard, nil)), Now: time.Now})
	talk := s.Begin(everything)
	talk.Hear(Message{Data: fmt.Appendf(nil, `{"t":"hello","versions":[1],"device":%q,"incarnation":%q,"news":true}`, phoneA, phoneB)})
	if _, ok := talk.Say(); !ok || !talk.isWelcome() || talk.hello != nil || !talk.wantsNews || log.seen.Device != phoneA {
		t.Errorf("said %v, welcome %v, of the hello is left %+v, wants news %v, noted %+v", ok, talk.isWelcome(), talk.hello, talk.wantsNews, log.seen)
	}
}
