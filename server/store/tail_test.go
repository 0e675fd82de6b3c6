package store

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// readAll reads the log from one arrival number to another, a stretch after the other.
func readAll(t *testing.T, s *Store, at, upTo int64, scopes []syncproto.Scope) (tails []changelog.Tail) {
	t.Helper()
	for at < upTo {
		tail, err := s.ReadAfter(context.Background(), at, upTo, scopes)
		if err != nil || tail.Arrival <= at {
			t.Fatalf("behind arrival %d the log was read to %d (%v)", at, tail.Arrival, err)
		}
		tails, at = append(tails, tail), tail.Arrival
	}
	return tails
}

func TestTheTailIsReadInPiecesAndByScope(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	p.wall -= 86_400_000 // all of it lies in the past, so that orders are stamps
	const operations = 2*syncproto.MaxFrameChanges + 20
	var changes []syncproto.Change
	for i := range operations {
		f := name(fmt.Sprint("b", i), "North")
		if i%2 == 1 {
			f.Scope = syncproto.ScopeMoney
		}
		changes = append(changes, p.says(f)...)
	}
	for part := range slices.Chunk(changes, 1500) {
		settle(t, s, part...)
	}
	for _, scopes := range [][]syncproto.Scope{syncproto.Scopes, syncproto.Scopes[:1], {syncproto.ScopeMoney}, {syncproto.ScopeShed}} {
		want := slices.DeleteFunc(slices.Clone(changes), func(c syncproto.Change) bool { return !slices.Contains(scopes, c.Scope) })
		for _, tail := range readAll(t, s, 0, s.Newest(), scopes) {
			if tail.Last != changes[tail.Arrival-1].Identity() || len(tail.Batch.Changes) > syncproto.MaxFrameChanges {
				t.Errorf("%v: %d changes came, the last passed was %s, arrival %d", scopes, len(tail.Batch.Changes), tail.Last, tail.Arrival)
			}
			for i, c := range tail.Batch.Changes {
				if !bytes.Equal(c.Canonical(), want[0].Canonical()) || tail.Batch.Orders[i] != c.Stamp {
					t.Fatalf("%v: change %s came with order %v, want %s", scopes, c.Identity(), tail.Batch.Orders[i], want[0].Identity())
				}
				want = want[1:]
			}
		}
		if len(want) > 0 {
			t.Errorf("%v: %d changes did not come", scopes, len(want))
		}
	}
}

func TestTheTailEndsWhereItIsAsked(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	changes := slices.Concat(p.says(name("b1", "A"), name("b2", "B"), name("b3", "C")), p.says(name("b4", "D")))
	settle(t, s, changes[:3]...)
	settle(t, s, changes[3:]...)
	tests := []struct {
		after, upTo int64
		n           int
		arrival     int64
		last        syncproto.Identity
	}{
		{0, 4, 4, 4, changes[3].Identity()},
		{1, 2, 1, 2, changes[1].Identity()}, // inside a segment
		{2, 4, 2, 4, changes[3].Identity()},
		{3, 9, 1, 4, changes[3].Identity()}, // beyond the log
		{4, 4, 0, 4, ""},
		{9, 9, 0, 9, ""},
	}
	for _, tt := range tests {
		tail, err := s.ReadAfter(context.Background(), tt.after, tt.upTo, syncproto.Scopes)
		if err != nil || len(tail.Batch.Changes) != tt.n || tail.Arrival != tt.arrival || tail.Last != tt.last {
			t.Errorf("behind %d up to %d: %d changes to %d, %q (%v); want %+v", tt.after, tt.upTo, len(tail.Batch.Changes), tail.Arrival, tail.Last, err, tt)
		}
	}
}

func TestWhatStandsNoLongerIsLeftOut(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	var changes []syncproto.Change
	for i := range 3 * syncproto.MaxFrameChanges {
		changes = append(changes, p.says(name("b1", fmt.Sprint(i)))...)
	}
	for part := range slices.Chunk(changes, syncproto.MaxFrameChanges) {
		settle(t, s, part...)
	}
	if err := s.Level(context.Background()); err != nil {
		t.Fatal(err)
	}
	last := changes[len(changes)-1]
	tails := readAll(t, s, 0, s.Newest(), syncproto.Scopes)
	if len(tails) != 1 || len(tails[0].Batch.Changes) != 1 || tails[0].Batch.Changes[0].Identity() != last.Identity() || tails[0].Last != last.Identity() {
		t.Errorf("%d stretches came, want the last change alone", len(tails))
	}
	// All that a reader up to there could have had is passed, yet it gets there.
	tails = readAll(t, s, 5, 2500, syncproto.Scopes)
	if len(tails) != 1 || len(tails[0].Batch.Changes) != 0 || tails[0].Last != changes[2499].Identity() {
		t.Errorf("up to 2500 %d stretches came: %+v", len(tails), tails)
	}
}

func TestLongChangesComeInFramesThatASlowLinkCarries(t *testing.T) {
	for _, letter := range []string{"x", "\x01"} { // six bytes each in canonical form, the second
		s := open(t, t.TempDir())
		p := newPhone()
		long := strings.Repeat(letter, syncproto.MaxTextBytes)
		for range 3 {
			var changes []syncproto.Change
			for i := range 80 {
				changes = append(changes, p.says(name(fmt.Sprint("b", len(changes), i), long))...)
			}
			settle(t, s, changes...)
		}
		n := 0
		for _, tail := range readAll(t, s, 0, s.Newest(), syncproto.Scopes) {
			size := 0
			for _, c := range tail.Batch.Changes {
				size += len(c.Canonical())
			}
			if n += len(tail.Batch.Changes); size > tailBytes {
				t.Errorf("%d bytes came at once, want at most %d", size, tailBytes)
			}
		}
		if n != 240 {
			t.Errorf("%d changes came, want 240", n)
		}
	}
}
