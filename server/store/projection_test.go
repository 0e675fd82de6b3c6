package store

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// However far the projection is, and however many slots want the same place: what a reader is given
// comes to the state of all changes, and in the end slots and passed are what the log comes to.
func TestTheProjectionNeverHidesWhatStands(t *testing.T) {
	places := map[string]func(slotName) int64{
		"as they are":           placeOf,
		"four places":           func(name slotName) int64 { return placeOf(name) & 3 },
		"at the end of a range": func(slotName) int64 { return 0xffffffff },
	}
	for name, place := range places {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(rt *rapid.T) {
				dir, err := os.MkdirTemp(t.TempDir(), "farm")
				if err != nil {
					rt.Fatal(err)
				}
				s, err := OpenStill(dir, fixed)
				if err != nil {
					rt.Fatal(err)
				}
				defer func() { _ = s.Close() }() // the test is over
				s.placeOf, s.slice = place, rapid.Int64Range(1, 5).Draw(rt, "slice")
				phones := make([][][]syncproto.Change, rapid.IntRange(1, 4).Draw(rt, "phones"))
				for i := range phones {
					phones[i] = drawOperations(rt, i)
				}
				rnd := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "slices"), 0))
				orders := pushAll(rt, s, phones, func(orders map[syncproto.Identity]syncproto.Stamp) {
					for range rnd.IntN(3) {
						if _, err := s.projectSlice(context.Background()); err != nil {
							rt.Fatal(err)
						}
						wantReadersToSee(rt, s, merged(phones, orders))
					}
				})
				compare(rt, s, phones, orders)
				wantReadersToSee(rt, s, merged(phones, orders))
			})
		})
	}
}

// wantReadersToSee compares what a fresh phone reads with a state.
func wantReadersToSee(rt *rapid.T, s *Store, want *changelog.State) {
	read := changelog.NewState()
	for at := int64(0); at < s.Newest(); {
		tail, err := s.ReadAfter(context.Background(), at, s.Newest(), syncproto.Scopes)
		if err != nil {
			rt.Fatal(err)
		}
		for i, c := range tail.Batch.Changes {
			read.Merge(c, tail.Batch.Orders[i])
		}
		at = tail.Arrival
	}
	if !bytes.Equal(read.Dump(), want.Dump()) {
		rt.Errorf("behind arrival %d of %d projected, a phone reads\n%s\nwant\n%s", s.projected.Load(), s.Newest(), read.Dump(), want.Dump())
	}
}

func TestAnEntityIsReadAsFarAsTheLogIs(t *testing.T) {
	s, err := OpenStill(t.TempDir(), fixed)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { closeStore(t, s) })
	p := newPhone()
	for _, want := range []string{"North", "South", "East"} {
		settle(t, s, slices.Concat(p.says(name("b1", want)), p.says(name("b2", "Other")))...)
		entity, err := s.Entity(context.Background(), "bed", "b1")
		if err != nil || entity.Len() != 1 || entity.Entity("bed", "b1").Text("name") != want {
			t.Errorf("%d entities (%v), want b1 to be %s", entity.Len(), err, want)
		}
		if want == "South" {
			continue // the next is read beyond the projection
		}
		if err := s.Level(context.Background()); err != nil {
			t.Fatal(err)
		}
	}
	if entity, err := s.Entity(context.Background(), "bed", "b9"); err != nil || entity.Len() != 0 {
		t.Errorf("what was never said has %d entities (%v)", entity.Len(), err)
	}
}

func TestTheProjectionGoesOnWhereItWasAfterARestart(t *testing.T) {
	dir := t.TempDir()
	p := newPhone()
	for i := range 4 {
		s, err := OpenStill(dir, fixed)
		if err != nil {
			t.Fatal(err)
		}
		s.slice = 1
		settle(t, s, slices.Concat(p.says(name("b1", fmt.Sprint(i))), p.says(name(fmt.Sprint("b", i), "New")))...)
		if _, err := s.projectSlice(context.Background()); err != nil {
			t.Fatal(err)
		}
		closeStore(t, s)
	}
	s := open(t, dir)
	if found := verify(t, s); found.Changes != 8 || found.Entities != 4 {
		t.Errorf("verified %+v", found)
	}
}

// The projector has the time that Close gives it, and no more.
func TestClosingStopsTheProjector(t *testing.T) {
	dir := t.TempDir()
	p := newPhone()
	for i := range 20 {
		s := open(t, dir)
		settle(t, s, p.says(name("b1", fmt.Sprint(i)))...)
		closeStore(t, s)
	}
	s := open(t, dir)
	verify(t, s)
}

func TestSaidIsWhatOneIncarnationSaid(t *testing.T) {
	s := open(t, t.TempDir())
	p, other := newPhone(), newPhone()
	settle(t, s, p.says(name("b1", "Mine"))...)
	settle(t, s, other.says(name("b1", "Theirs"), name("b2", "Theirs"))...)
	verify(t, s) // what p said stands no longer, and was said nevertheless
	said, err := s.Said(context.Background(), p.Incarnation)
	if err != nil || said.Len() != 1 || said.Entity("bed", "b1").Text("name") != "Mine" {
		t.Errorf("said of %d entities (%v)", said.Len(), err)
	}
	if said, err = s.Said(context.Background(), "nobody"); err != nil || said.Len() != 0 {
		t.Errorf("nobody said %d (%v)", said.Len(), err)
	}
}
