package store

import (
	"context"
	"slices"
	"testing"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// again is a change as a new incarnation of its phone sends it.
func again(c syncproto.Change, incarnation string, seq int64, former syncproto.Identity) syncproto.Change {
	c.Incarnation, c.Seq = incarnation, seq
	extra := map[string]syncproto.Value{syncproto.ExtraFormer: syncproto.Text(string(former))}
	for k, v := range c.Extra {
		if k != syncproto.ExtraFormer {
			extra[k] = v
		}
	}
	c.Extra = extra
	return c
}

func stemsAt(visit string, n int64) changelog.Fact {
	return changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpCount, Type: "visit", ID: visit, Field: "extra|500|600", Value: syncproto.Int(n)}
}

// total reads what a plant's count cell comes to.
func total(t *testing.T, s *Store) int64 {
	t.Helper()
	state, _, err := s.State(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return state.Entity("visit", "v").Count("extra|500|600").Total
}

// A device's past may fail to be proven more than once before anything is acknowledged. However its
// changes are named, they are kept once.
func TestWhatIsHeldUnderAFormerIdentityIsSettledWithoutDoubling(t *testing.T) {
	second, third := uuid.NewString(), uuid.NewString()
	tests := []struct {
		name string
		sent func(c syncproto.Change) []syncproto.Change // one after another
	}{
		{"the first identity is held", func(c syncproto.Change) []syncproto.Change {
			return []syncproto.Change{c, again(c, second, 1, c.Identity())}
		}},
		{"named by its last identity, which was settled under the first", func(c syncproto.Change) []syncproto.Change {
			return []syncproto.Change{c, again(c, second, 1, c.Identity()), again(c, third, 1, syncproto.IdentityOf(second, 1))}
		}},
		{"named by its last identity, the first never came", func(c syncproto.Change) []syncproto.Change {
			return []syncproto.Change{again(c, second, 1, c.Identity()), again(c, third, 1, syncproto.IdentityOf(second, 1))}
		}},
		{"named by its first identity, which never came", func(c syncproto.Change) []syncproto.Change {
			return []syncproto.Change{again(c, second, 1, c.Identity()), again(c, third, 1, c.Identity())}
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := open(t, t.TempDir())
			sent := tt.sent(newPhone().says(stemsAt("v", 4))[0])
			settle(t, s, sent[0])
			for _, c := range sent[1:] {
				for range 2 { // an acknowledgement may be lost here too
					ack := settle(t, s, c)
					if ack.Seq != 1 || !slices.Equal(ack.Held, []int64{1}) || len(ack.Orders)+len(ack.Refused) != 0 {
						t.Errorf("ack %+v, want it held", ack)
					}
					if told := known(t, s, c.Incarnation, 0); !slices.Equal(told.Held, ack.Held) {
						t.Errorf("the welcome would name %+v", told)
					}
				}
			}
			if found := verify(t, s); found.Changes != 1 {
				t.Errorf("the log holds %d changes, want 1", found.Changes)
			}
			if n := total(t, s); n != 4 {
				t.Errorf("%d stems, want 4", n)
			}
		})
	}
}

func TestOtherFactsUnderAFormerIdentityAreKept(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	c := p.says(stemsAt("v", 4))[0]
	settle(t, s, c)
	other := again(c, uuid.NewString(), 1, c.Identity())
	other.Value = syncproto.Int(6)
	other.Stamp = c.Stamp.Next()
	if ack := settle(t, s, other); ack.Seq != 1 || len(ack.Held) != 0 {
		t.Errorf("ack %+v", ack)
	}
	if found := verify(t, s); found.Changes != 2 {
		t.Errorf("the log holds %d changes, want 2", found.Changes)
	}
	state, _, err := s.State(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if count := state.Entity("visit", "v").Count("extra|500|600"); count.Total != 6 || !count.Twice {
		t.Errorf("count %+v, want 6 and a look", count)
	}
}

// Each later count of a cell names the identity under which it was counted before a phone took a new
// one. Looking for what was sent again must not read them all, nor cut the log into segments of one.
func TestManyChangesThatNameOneFormerIdentityShareASegment(t *testing.T) {
	elsewhere := syncproto.IdentityOf(uuid.NewString(), 1)
	tests := []struct {
		name   string
		former func(first syncproto.Identity) syncproto.Identity
	}{
		{"one of which nothing is known", func(syncproto.Identity) syncproto.Identity { return elsewhere }},
		{"one of the same frame", func(first syncproto.Identity) syncproto.Identity { return first }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, p, copied := open(t, t.TempDir()), newPhone(), uuid.NewString()
			changes := p.says(stemsAt("v", 0))
			for n := int64(1); n < 500; n++ {
				said := stemsAt("v", n)
				said.Extra = map[string]syncproto.Value{syncproto.ExtraFormer: syncproto.Text(string(tt.former(changes[0].Identity())))}
				changes = append(changes, p.says(said)...)
			}
			settle(t, s, changes...)
			if n := len(segments(t, s)); n != 1 {
				t.Errorf("they lie in %d segments", n)
			}
			var sent []syncproto.Change
			for i, c := range changes[1:] {
				former, _ := c.Former()
				sent = append(sent, again(c, copied, int64(i+1), former))
			}
			if ack := settle(t, s, sent...); len(ack.Held) != len(sent) {
				t.Errorf("%d of %d that a copy sent again are held", len(ack.Held), len(sent))
			}
		})
	}
}
