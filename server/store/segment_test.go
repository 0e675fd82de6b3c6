package store

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// segments lists those of the log as first arrival, number of changes, first seq.
func segments(t *testing.T, s *Store) (found [][3]int64) {
	t.Helper()
	var rows []segmentRow
	if err := s.orm.Order("first").Find(&rows).Error; err != nil {
		t.Fatal(err)
	}
	for _, r := range rows {
		found = append(found, [3]int64{r.First, r.N, r.FirstSeq})
	}
	return found
}

func TestASegmentEndsWhereAChangeWasNotKept(t *testing.T) {
	bad := set("bed", "length", syncproto.Int(-1))
	tests := []struct {
		name string
		says []changelog.Fact // each an operation of p
		want [][3]int64
	}{
		{"all kept", []changelog.Fact{name("b1", "A"), name("b2", "B")}, [][3]int64{{1, 2, 1}}},
		{"the first refused", []changelog.Fact{bad, name("b1", "A"), name("b2", "B")}, [][3]int64{{1, 2, 2}}},
		{"one in the middle refused", []changelog.Fact{name("b1", "A"), bad, name("b2", "B")}, [][3]int64{{1, 1, 1}, {2, 1, 3}}},
		{"the last refused", []changelog.Fact{name("b1", "A"), name("b2", "B"), bad}, [][3]int64{{1, 2, 1}}},
		{"all refused", []changelog.Fact{bad, bad}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := open(t, t.TempDir())
			p := newPhone()
			var changes []syncproto.Change
			for _, fact := range tt.says {
				changes = append(changes, p.says(fact)...)
			}
			first := settle(t, s, changes...)
			if got := segments(t, s); !slices.Equal(got, tt.want) {
				t.Errorf("segments %v, want %v", got, tt.want)
			}
			again := settle(t, s, changes...)
			if !slices.Equal(first.Refused, again.Refused) || again.Seq != p.Seq {
				t.Errorf("answered %+v, then %+v", first, again)
			}
			verify(t, s)
		})
	}
}

func TestFramesOfOnePhoneInACommitShareASegment(t *testing.T) {
	s := open(t, t.TempDir())
	p, other := newPhone(), newPhone()
	one := func(p *phone) *changelog.Frame { return frame(t, p.says(name("b1", "North"))...) }
	results := push(t, s, one(p), one(p), one(other), one(p))
	want := [][3]int64{{1, 2, 1}, {3, 1, 1}, {4, 1, 3}}
	if got := segments(t, s); !slices.Equal(got, want) {
		t.Errorf("segments %v, want %v", got, want)
	}
	next := int64(1)
	for i, r := range results {
		for _, w := range r.Written {
			batch, err := syncproto.ReadAlone(w.Batch)
			if err != nil || w.First != next || int64(len(batch.Changes)) != w.Arrival-w.First+1 {
				t.Errorf("frame %d wrote %+v (%v), want it to begin at %d", i, w, err, next)
			}
			if w.Last != batch.Changes[len(batch.Changes)-1].Identity() || !slices.Equal(w.Scopes, syncproto.Scopes[:1]) || w.Incarnation != batch.Changes[0].Incarnation {
				t.Errorf("frame %d wrote %+v", i, w)
			}
			next = w.Arrival + 1
		}
	}
	if next != 5 {
		t.Errorf("what was written ends before arrival %d, want 5", next)
	}
}

// The batch of a segment must stay readable whatever frames share it.
func TestASegmentStaysWithinTheLimitsOfABatch(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	var frames []*changelog.Frame
	for n := range 4 { // each frame names 40,000 ids of its own
		var changes []syncproto.Change
		for i := range 40 {
			ids := make([]string, syncproto.MaxListLen)
			for j := range ids {
				ids[j] = fmt.Sprint(n, i, "-", j)
			}
			changes = append(changes, p.says(changelog.Fact{Scope: syncproto.ScopeField, Op: "later", Type: "t", ID: fmt.Sprint(n, i), Field: "f", Value: syncproto.List(ids...)})...)
		}
		frames = append(frames, frame(t, changes...))
	}
	for i, r := range push(t, s, frames...) {
		if r.Breach != nil {
			t.Errorf("frame %d: %v", i, r.Breach)
		}
	}
	if found := verify(t, s); found.Changes != 160 {
		t.Errorf("the log holds %d changes, want 160", found.Changes)
	}
	for _, tail := range readAll(t, s, 0, s.Newest(), syncproto.Scopes) {
		if _, err := syncproto.ReadAlone(syncproto.AppendAlone(nil, tail.Batch)); err != nil {
			t.Errorf("what came up to arrival %d cannot travel: %v", tail.Arrival, err)
		}
	}
}

// Where ids were derived, the log and the tail keep saying from what.
func TestOriginsAreKept(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	origin := syncproto.Origin{Namespace: p.Incarnation, Person: "ana", Subject: "p1", Recorded: "2026-06-01", Purpose: "cut"}
	id, _ := origin.ID()
	batch := syncproto.Batch{Changes: p.says(stemsAt(id, 4)), Origins: map[string]syncproto.Origin{id: origin}}
	derived, err := changelog.NewFrame(p.Incarnation, changelog.Within(syncproto.Scopes), batch)
	if err != nil {
		t.Fatal(err)
	}
	push(t, s, derived, frame(t, p.says(name("b1", "North"))...))
	tail, err := s.ReadAfter(context.Background(), 0, s.Newest(), syncproto.Scopes)
	if err != nil || tail.Batch.Origins[id] != origin {
		t.Errorf("origins %v (%v), want %v", tail.Batch.Origins, err, origin)
	}
}

func TestWhatIsSettledAndWhatIsNewMayShareAFrameAnywhere(t *testing.T) {
	bad := set("bed", "length", syncproto.Int(-1))
	s := open(t, t.TempDir())
	p := newPhone()
	var changes []syncproto.Change
	for i := range 60 {
		fact := name(fmt.Sprint("b", i), "North")
		if i%7 == 3 {
			fact = bad
		}
		changes = append(changes, p.says(fact)...)
	}
	for _, cut := range [][2]int{{0, 20}, {10, 30}, {0, 25}, {29, 31}, {5, 50}, {49, 60}, {0, 60}} {
		ack := settle(t, s, changes[cut[0]:cut[1]]...)
		refused := 0
		for i := cut[0]; i < cut[1]; i++ {
			if i%7 == 3 {
				refused++
			}
		}
		if len(ack.Refused) != refused || len(ack.Orders) != 0 {
			t.Errorf("changes %v: ack %+v, want %d refused", cut, ack, refused)
		}
	}
	if found := verify(t, s); found.Changes != 60-9 {
		t.Errorf("the log holds %d changes, want 51", found.Changes)
	}
	twisted := slices.Clone(changes[40:60])
	twisted[19].Value = syncproto.Text("Other")
	if r := push(t, s, frame(t, twisted...))[0]; r.Breach == nil || r.Breach.Code != syncproto.CodeReused {
		t.Errorf("other contents got %+v", r)
	}
}
