package store

import (
	"bytes"
	"context"
	"slices"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

func TestAPushSettledBeforeIsSettledAgainWithTheSameAnswer(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	bad := changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: "bed", ID: "b2", Field: "length", Value: syncproto.Int(-1)}
	changes := slices.Concat(p.says(name("b1", "North")), p.says(bad))
	p.wall = noon.UnixMilli() + 86_400_000 // its order is not its stamp then
	changes = slices.Concat(changes, p.says(name("b1", "South")))
	first := settle(t, s, changes...)
	again := settle(t, s, changes...)
	if first.Seq != 3 || len(first.Refused) != 1 || first.Refused[0].Code != syncproto.CodeValue || len(first.Orders) != 1 {
		t.Fatalf("first answer %+v", first)
	}
	if again.Seq != first.Seq || !slices.Equal(again.Orders, first.Orders) || !slices.Equal(again.Refused, first.Refused) {
		t.Errorf("answered %+v, then %+v", first, again)
	}
	told := known(t, s, p.Incarnation, 0)
	if !slices.Equal(told.Orders, first.Orders) || !slices.Equal(told.Refused, first.Refused) {
		t.Errorf("the welcome would name %+v, the answer was %+v", told, first)
	}
	if told := known(t, s, p.Incarnation, 2); !slices.Equal(told.Orders, first.Orders) || len(told.Refused) != 0 {
		t.Errorf("to a phone that knows of seq 2 the welcome would name %+v", told)
	}
	if told := known(t, s, p.Incarnation, 3); len(told.Orders)+len(told.Refused) != 0 {
		t.Errorf("to a phone that knows all the welcome would name %+v", told)
	}
	if found := verify(t, s); found.Changes != 2 {
		t.Errorf("the log holds %d changes, want 2", found.Changes)
	}
}

// A phone whose acknowledgement was lost goes on from what it knows: an old part and a new one.
func TestAFrameMayBeginWithWhatIsSettled(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	old := p.says(name("b1", "North"))
	settle(t, s, old...)
	ack := settle(t, s, slices.Concat(old, p.says(name("b1", "South")))...)
	if ack.Seq != 2 {
		t.Errorf("ack %+v", ack)
	}
	if found := verify(t, s); found.Changes != 2 {
		t.Errorf("the log holds %d changes, want 2", found.Changes)
	}
}

func TestTwoFramesOfOneIncarnationShareACommit(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	first, second := frame(t, p.says(name("b1", "North"))...), frame(t, p.says(name("b1", "South"))...)
	results := push(t, s, first, second, first)
	for i, want := range []int64{1, 2, 1} { // each frame is told of itself alone
		if r := results[i]; r.Breach != nil || r.Ack.Seq != want || s.Newest() != 2 {
			t.Errorf("frame %d: %+v", i, r)
		}
	}
	verify(t, s)
}

func TestAFrameThatBreaksTheProtocolStoresNothingAndHarmsNoOther(t *testing.T) {
	tests := []struct {
		name string
		code syncproto.Code
		make func(p *phone) []syncproto.Change // after seq 1 was settled
	}{
		{"a settled seq with other bytes", syncproto.CodeReused, func(p *phone) []syncproto.Change {
			p.Seq = 0
			return slices.Concat(p.says(name("b1", "Other")), p.says(name("b2", "New")))
		}},
		{"a gap", syncproto.CodeGap, func(p *phone) []syncproto.Change {
			p.Seq++
			return p.says(name("b2", "New"))
		}},
		{"a stamp that does not grow", syncproto.CodeMalformed, func(p *phone) []syncproto.Change {
			p.Clock, p.wall = changelog.Clock{}, p.wall-2000
			return p.says(name("b2", "New"))
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := open(t, t.TempDir())
			p, other := newPhone(), newPhone()
			settle(t, s, p.says(name("b1", "North"))...)
			results := push(t, s, frame(t, other.says(name("b3", "East"))...), frame(t, tt.make(p)...), frame(t, other.says(name("b4", "West"))...))
			if b := results[1].Breach; b == nil || b.Code != tt.code {
				t.Errorf("the frame got %+v, want %s", results[1], tt.code)
			}
			if results[0].Ack.Seq != 1 || results[2].Ack.Seq != 2 {
				t.Errorf("the others got %+v and %+v", results[0], results[2])
			}
			if found := verify(t, s); found.Changes != 3 {
				t.Errorf("the log holds %d changes, want 3", found.Changes)
			}
		})
	}
}

func TestAConversationThatWasRefusedStoresNothingMore(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	settle(t, s, p.says(name("b1", "North"))...)
	good := frame(t, p.says(name("b1", "South"))...)
	p.Seq = 0
	clone := frame(t, p.says(name("b9", "Other"))...)
	both := &changelog.Conversation{}
	clone.Conversation, good.Conversation = both, both
	results := push(t, s, clone, good)
	if results[0].Breach == nil || results[1].Breach == nil {
		t.Errorf("results %+v", results)
	}
	good.Conversation = &changelog.Conversation{}
	if r := push(t, s, clone, good)[1]; r.Breach != nil {
		t.Errorf("another conversation was refused too: %v", r.Breach)
	}
}

// set is a fact of any kind in the field scope.
func set(entityType, field string, v syncproto.Value) changelog.Fact {
	return changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: entityType, ID: "x", Field: field, Value: v}
}

func TestAnOperationIsRefusedTogether(t *testing.T) {
	stems := func(n int64) changelog.Fact {
		return changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpCount, Type: "visit", ID: "v", Field: "extra|500|600", Value: syncproto.Int(n)}
	}
	invoice := set("invoice", "total", syncproto.Int(1))
	invoice.Scope = syncproto.ScopeMoney
	tests := []struct {
		name  string
		facts []changelog.Fact
		codes []syncproto.Code
	}{
		{"a count above what a plant can bear", []changelog.Fact{stems(1000), name("b1", "North")}, []syncproto.Code{syncproto.CodeCount, syncproto.CodeTogether}},
		{"a negative count", []changelog.Fact{name("b1", "North"), stems(-1)}, []syncproto.Code{syncproto.CodeTogether, syncproto.CodeCount}},
		{"a date in the future", []changelog.Fact{set("visit", "date", syncproto.Text("2026-06-03"))}, []syncproto.Code{syncproto.CodeDate}},
		{"a wrong kind of value", []changelog.Fact{set("bed", "name", syncproto.Int(1))}, []syncproto.Code{syncproto.CodeValue}},
		{"a scope that the person has not", []changelog.Fact{invoice}, []syncproto.Code{syncproto.CodeScope}},
		{"tomorrow, in a time zone ahead", []changelog.Fact{set("visit", "date", syncproto.Text("2026-06-02"))}, nil},
		{"what a later version knows", []changelog.Fact{{Scope: syncproto.ScopeField, Op: "merge", Type: "graft", ID: "g", Field: "f", Value: syncproto.List("a")}}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := open(t, t.TempDir())
			p := newPhone()
			f, err := changelog.NewFrame(p.Incarnation, changelog.Within{syncproto.ScopeField, syncproto.ScopeShed},
				syncproto.Batch{Changes: slices.Concat(p.says(tt.facts...), p.says(name("b7", "Kept")))})
			if err != nil {
				t.Fatal(err)
			}
			ack := push(t, s, f)[0].Ack
			var codes []syncproto.Code
			for _, r := range ack.Refused {
				codes = append(codes, r.Code)
			}
			if !slices.Equal(codes, tt.codes) || ack.Seq != p.Seq || s.Newest() != int64(f.Len()-len(tt.codes)) {
				t.Errorf("ack %+v, want refusals %v", ack, tt.codes)
			}
			if standing := known(t, s, p.Incarnation, 0); !slices.Equal(standing.Refused, ack.Refused) {
				t.Errorf("the welcome would name %+v", standing.Refused)
			}
			verify(t, s)
		})
	}
}

func TestAPhoneThatKnowsOfVeryLittleIsToldAStretchAtATime(t *testing.T) {
	const frames, refused = 6, syncproto.MaxFrameChanges
	s := open(t, t.TempDir())
	p := newPhone()
	for range frames {
		facts := slices.Repeat([]changelog.Fact{set("bed", "name", syncproto.Int(1))}, refused)
		if ack := settle(t, s, p.says(facts...)...); len(ack.Refused) != refused {
			t.Fatalf("%d were refused, want %d", len(ack.Refused), refused)
		}
	}
	for _, tt := range []struct{ settled, told int64 }{{0, 5 * refused}, {1, 5*refused + 1}, {refused, frames * refused}, {frames * refused, frames * refused}} {
		if got := known(t, s, p.Incarnation, tt.settled); got.Told != tt.told || int64(len(got.Refused)) != tt.told-tt.settled || got.Seq != frames*refused {
			t.Errorf("knowing of %d, it was told up to %d of %d, %d refused", tt.settled, got.Told, got.Seq, len(got.Refused))
		}
	}
}

func TestTheChainCoversEveryChangeRefusedOnesIncluded(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	changes := slices.Concat(p.says(name("b1", "North")), p.says(set("bed", "name", syncproto.Int(1))), p.says(name("b1", "South")))
	settle(t, s, changes[:2]...)
	settle(t, s, changes[2:]...)
	want := syncproto.ChainStart(s.Farm(), p.Incarnation)
	for _, c := range changes {
		want = want.Then(c.Canonical())
	}
	if standing := known(t, s, p.Incarnation, 0); standing.Seq != 3 || standing.Hash != want {
		t.Errorf("standing %+v, want seq 3 and chain value %s", standing, want)
	}
}

func TestAnIdentityIsKeptOnceWhateverTheProgramBelieves(t *testing.T) {
	// Held are seqs 1 to 3 under arrivals 1 to 3, and 4 to 6 under 4 to 6.
	tests := []struct {
		name                string
		firstSeq, first, n  int64
		anotherIncarnations bool
		taken               bool
	}{
		{"the same seqs", 1, 7, 3, false, false},
		{"seqs of which the first is held", 6, 7, 3, false, false},
		{"a seq within a segment", 2, 7, 1, false, false},
		{"seqs that end in a segment", -1, 7, 3, false, false},
		{"seqs that span a segment", 0, 7, 9, false, false},
		{"arrivals of which the first is held", 7, 6, 3, false, false},
		{"an arrival within a segment", 7, 2, 1, false, false},
		{"arrivals that span a segment", 7, 0, 9, false, false},
		{"what follows", 7, 7, 3, false, true},
		{"the same seqs of another", 1, 7, 3, true, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := open(t, t.TempDir())
			p := newPhone()
			for range 2 {
				settle(t, s, p.says(name("b1", "North"), name("b2", "North"), name("b3", "North"))...)
			}
			var row segmentRow
			if err := s.orm.First(&row).Error; err != nil {
				t.Fatal(err)
			}
			row.FirstSeq, row.First, row.N = tt.firstSeq, tt.first, tt.n
			if tt.anotherIncarnations {
				row.Incarnation = 2
			}
			if err := s.orm.Omit("Farm").Create(&row).Error; (err == nil) != tt.taken {
				t.Errorf("writing it gave %v", err)
			}
		})
	}
}

func TestTheServerOrdersByItsOwnClock(t *testing.T) {
	s := open(t, t.TempDir())
	now := noon.UnixMilli()
	ahead := newPhone()
	ahead.wall = now + 86_400_000
	ack := settle(t, s, slices.Concat(ahead.says(name("b1", "North")), ahead.says(name("b1", "South")))...)
	limit := syncproto.Stamp{L: now + 60_000}
	if ack.Orders[0].Order != limit || ack.Orders[1].Order != limit.Next() {
		t.Errorf("orders %+v, want %v and one tick more", ack.Orders, limit)
	}
	right := newPhone()
	if got := settle(t, s, right.says(name("b1", "East"))...); len(got.Orders) != 0 {
		t.Errorf("a stamp in the past got orders %v, want its own", got.Orders)
	}
	if got, err := s.Entity(context.Background(), "bed", "b1"); err != nil || got.Entity("bed", "b1").Text("name") != "South" {
		t.Errorf("the highest order does not stand (%v)", err)
	}
}

func TestEqualOrdersAreDecidedByIncarnationAsBytes(t *testing.T) {
	s := open(t, t.TempDir())
	low, high := newPhone(), newPhone()
	low.Incarnation, high.Incarnation = "0fffffff-0000-4000-8000-000000000000", "a0000000-0000-4000-8000-000000000000"
	settle(t, s, high.says(name("b1", "High"))...)
	settle(t, s, low.says(name("b1", "Low"))...)
	if low.Clock.Last != high.Clock.Last {
		t.Fatal("the orders are not equal")
	}
	state, _, err := s.State(context.Background())
	if err != nil || state.Entity("bed", "b1").Text("name") != "High" {
		t.Errorf("the lower incarnation stands (%v)", err)
	}
	verify(t, s)
}

func TestRebuildMakesTheMergeStateAnew(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	settle(t, s, slices.Concat(p.says(name("b1", "North")), p.says(name("b1", "South")))...)
	before, _, err := s.State(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	verify(t, s) // and level
	for _, spoil := range []string{"UPDATE slots SET arrival = 1", "UPDATE passed SET bits = x'02'", "DELETE FROM slots"} {
		if err := s.orm.Exec(spoil).Error; err != nil {
			t.Fatal(err)
		}
		if found, err := s.Verify(context.Background()); err != nil || len(found.Faults) == 0 {
			t.Errorf("after %s Verify found %+v (%v), want a fault", spoil, found, err)
		}
	}
	if err := s.Rebuild(context.Background()); err != nil {
		t.Fatal(err)
	}
	after, _, err := s.State(context.Background())
	if err != nil || !bytes.Equal(before.Dump(), after.Dump()) {
		t.Errorf("rebuilt to another state (%v)", err)
	}
	verify(t, s)
}
