package changelog_test

import (
	"bytes"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

var incarnations = []string{
	"0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c",
	"5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6",
	"c7d8e9fa-0b1c-4d2e-9f30-415263748596",
}

// drawLog makes a log whose identities are unique, as the server guarantees, with few entities and
// few orders, so that changes meet.
func drawLog(t *rapid.T) []ordered {
	ops := []syncproto.Op{syncproto.OpSet, syncproto.OpCount, syncproto.OpCorrect, syncproto.OpAdd, syncproto.OpRemove, "later"}
	seqs := map[string]int64{}
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) ordered {
		inc := rapid.SampledFrom(incarnations).Draw(t, "incarnation")
		seqs[inc]++
		c := syncproto.Change{
			Incarnation: inc, Seq: seqs[inc], Scope: syncproto.ScopeField,
			Op:    rapid.SampledFrom(ops).Draw(t, "op"),
			Type:  rapid.SampledFrom([]string{"visit", "plant"}).Draw(t, "type"),
			ID:    rapid.SampledFrom([]string{"x", "y"}).Draw(t, "id"),
			Field: rapid.SampledFrom([]string{"f", "g", changelog.FieldWithdrawn}).Draw(t, "field"),
			Value: syncproto.Int(rapid.Int64Range(-3, 9).Draw(t, "value")),
			Extra: drawExtra(t, seqs),
		}
		if c.Op == syncproto.OpAdd || c.Op == syncproto.OpRemove {
			c.Value = syncproto.Text(fmt.Sprint("m", c.Value.Int))
		}
		return ordered{c, syncproto.Stamp{L: rapid.Int64Range(0, 5).Draw(t, "l")}}
	}), 0, 40).Draw(t, "log")
}

func drawExtra(t *rapid.T, seqs map[string]int64) map[string]syncproto.Value {
	extra := map[string]syncproto.Value{syncproto.ExtraSaw: syncproto.Int(3)}
	some := func() string {
		inc := rapid.SampledFrom(incarnations).Draw(t, "of")
		return string(syncproto.IdentityOf(inc, rapid.Int64Range(1, seqs[inc]+1).Draw(t, "seq")))
	}
	if rapid.Bool().Draw(t, "after") {
		extra[syncproto.ExtraAfter] = syncproto.List(some(), some())
	}
	if rapid.Bool().Draw(t, "former") {
		extra[syncproto.ExtraFormer] = syncproto.Text(some())
	}
	return extra
}

func TestAnyOrderDuplicationOrSplitGivesTheSameState(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		log := drawLog(t)
		want := merged(log)
		shuffled := rapid.Permutation(log).Draw(t, "arrival")
		if len(shuffled) > 0 {
			again := rapid.SliceOf(rapid.SampledFrom(log)).Draw(t, "again")
			at := rapid.IntRange(0, len(shuffled)).Draw(t, "at")
			shuffled = append(append(append([]ordered{}, shuffled[:at]...), again...), shuffled[at:]...)
		}
		got := merged(shuffled)
		if !bytes.Equal(got.Dump(), want.Dump()) {
			t.Fatalf("dumps differ:\n%s\n\n%s", got.Dump(), want.Dump())
		}
		if fmt.Sprint(got.Looks()) != fmt.Sprint(want.Looks()) {
			t.Fatalf("looks differ: %v and %v", got.Looks(), want.Looks())
		}
		sameReadings(t, got, want)
	})
}

func sameReadings(t *rapid.T, got, want *changelog.State) {
	want.Entities(func(e *changelog.Entity) {
		other := got.Entity(e.Key.Type, e.Key.ID)
		for _, cell := range e.Cells() {
			if fmt.Sprint(e.Count(cell)) != fmt.Sprint(other.Count(cell)) {
				t.Fatalf("cell %s of %v: %v and %v", cell, e.Key, other.Count(cell), e.Count(cell))
			}
		}
	})
}

func TestOrdersOfOneIncarnationGrowWithItsSeqWhateverTheClocksDo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var clock changelog.Clock
		var highest, last syncproto.Stamp
		for range rapid.IntRange(1, 50).Draw(t, "changes") {
			stamp := clock.Tick(rapid.Int64Range(0, 4_000_000).Draw(t, "phone"))
			order := changelog.OrderFor(stamp, rapid.Int64Range(0, 2_000_000).Draw(t, "server"), highest)
			if order.Compare(last) <= 0 {
				t.Fatalf("order %v does not lie above %v", order, last)
			}
			last = order
			highest = order // another phone's order may lie higher; that only lifts the limit
		}
	})
}

func TestAWriterSaysOnlyWhatIsNew(t *testing.T) {
	set := func(value string) changelog.Fact {
		return changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: "bed", ID: "b", Field: "name", Value: syncproto.Text(value)}
	}
	count := func(n int64) changelog.Fact {
		return changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpCount, Type: "visit", ID: "v", Field: "|0|0", Value: syncproto.Int(n)}
	}
	writer, other := incarnations[0], incarnations[1]
	said, state := changelog.NewState(), changelog.NewState()
	own := changelog.Recorder{Incarnation: writer}
	for _, c := range own.Operation(1000, set("North"), count(3)) {
		said.Merge(c, c.Stamp)
		state.Merge(c, c.Stamp)
	}
	theirs := changelog.Recorder{Incarnation: other}
	for _, c := range theirs.Operation(2000, set("Top")) {
		state.Merge(c, c.Stamp)
	}
	tests := []struct {
		name    string
		fact    changelog.Fact
		fresh   bool
		differs int
	}{
		{"what somebody has changed since is not said again", set("North"), false, 1},
		{"what stands anyhow is not said", set("Top"), false, 0},
		{"what is new is said", set("South"), true, 0},
		{"the same count is not said again", count(3), false, 0},
		{"another count is said", count(4), true, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			fresh, differs := state.Unsaid([]changelog.Fact{tt.fact}, said, writer)
			if (len(fresh) == 1) != tt.fresh || differs != tt.differs {
				t.Errorf("said %d, differs %d; want %v, %d", len(fresh), differs, tt.fresh, tt.differs)
			}
		})
	}
}

func TestWhatIsNoLongerSaidIsTakenBack(t *testing.T) {
	fact := func(op syncproto.Op, field string, v syncproto.Value) changelog.Fact {
		return changelog.Fact{Scope: syncproto.ScopeField, Op: op, Type: "plant", ID: "k", Field: field, Value: v}
	}
	name := fact(syncproto.OpSet, "code", syncproto.Text("A1"))
	said := changelog.NewState()
	recorder := changelog.Recorder{Incarnation: incarnations[0]}
	for _, c := range recorder.Operation(1000, name,
		fact(syncproto.OpSet, "removed", syncproto.Text("2026-05-01")), fact(syncproto.OpSet, "line", syncproto.Int(3)),
		fact(syncproto.OpAdd, "parents", syncproto.Text("m")), fact(syncproto.OpCount, "|0|0", syncproto.Int(7)),
		fact(syncproto.OpSet, "colour", syncproto.Text(""))) {
		said.Merge(c, c.Stamp)
	}
	want := []changelog.Fact{
		fact(syncproto.OpSet, "line", syncproto.Int(0)),
		fact(syncproto.OpRemove, "parents", syncproto.Text("m")),
		fact(syncproto.OpSet, "removed", syncproto.Text("")),
		fact(syncproto.OpCount, "|0|0", syncproto.Int(0)),
	}
	got := changelog.TakenBack([]changelog.Fact{name}, said, incarnations[0])
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("taken back\n%v\nwant\n%v", got, want)
	}
	for _, f := range got {
		for _, c := range recorder.Operation(2000, f) {
			said.Merge(c, c.Stamp)
		}
	}
	if again := changelog.TakenBack([]changelog.Fact{name}, said, incarnations[0]); len(again) > 0 {
		t.Errorf("taken back a second time: %v", again)
	}
}

func TestAnOperationSharesItsStampAndCountsDown(t *testing.T) {
	r := changelog.Recorder{Incarnation: incarnations[0], Person: "p"}
	fact := changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: "bed", ID: "b", Field: "name", Value: syncproto.Text("x")}
	first := r.Operation(5, fact, fact, fact)
	second := r.Operation(5, fact)
	for i, c := range first {
		if c.Stamp != first[0].Stamp || c.Rest != 2-i || c.Seq != int64(i+1) {
			t.Errorf("change %d: stamp %v, rest %d, seq %d", i, c.Stamp, c.Rest, c.Seq)
		}
	}
	if second[0].Seq != 4 || second[0].Stamp.Compare(first[0].Stamp) <= 0 {
		t.Errorf("the next operation has seq %d and stamp %v", second[0].Seq, second[0].Stamp)
	}
}
