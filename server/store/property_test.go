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

// Whatever is pushed, in which pieces, in which order, how often, and with how many frames to a
// commit: the store ends with the state that the pure merge of all changes comes to.
func TestAnyWayOfPushingComesToTheSameState(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		dir, err := os.MkdirTemp(t.TempDir(), "farm")
		if err != nil {
			rt.Fatal(err)
		}
		s, err := Open(dir, fixed)
		if err != nil {
			rt.Fatal(err)
		}
		defer func() { _ = s.Close() }() // closed and opened again below
		phones := make([][][]syncproto.Change, rapid.IntRange(1, 4).Draw(rt, "phones"))
		for i := range phones {
			phones[i] = drawOperations(rt, i)
		}
		orders := pushAll(rt, s, phones, func(map[syncproto.Identity]syncproto.Stamp) {})
		if err := s.Close(); err != nil {
			rt.Fatal(err)
		}
		if s, err = Open(dir, fixed); err != nil {
			rt.Fatal(err)
		}
		compare(rt, s, phones, orders)
	})
}

// drawOperations makes what one phone records, on few entities so that much collides.
func drawOperations(rt *rapid.T, phone int) [][]syncproto.Change {
	r := changelog.Recorder{Incarnation: fmt.Sprintf("%08x-0000-4000-8000-00000000000%d", phone*0x55555555, phone)}
	wall := noon.UnixMilli() + rapid.Int64Range(-100_000, 200_000).Draw(rt, "clock")
	var operations [][]syncproto.Change
	for range rapid.IntRange(1, 8).Draw(rt, "operations") {
		facts := rapid.SliceOfN(rapid.Custom(drawFact), 1, 4).Draw(rt, "facts")
		wall += rapid.Int64Range(-50, 50).Draw(rt, "pause")
		operations = append(operations, r.Operation(wall, facts...))
	}
	return operations
}

func drawFact(rt *rapid.T) changelog.Fact {
	f := changelog.Fact{Scope: rapid.SampledFrom(syncproto.Scopes).Draw(rt, "scope"), Type: "visit", ID: rapid.SampledFrom([]string{"v", "w"}).Draw(rt, "id")}
	number := syncproto.Int(rapid.Int64Range(0, 9).Draw(rt, "number"))
	switch rapid.IntRange(0, 4).Draw(rt, "kind") {
	case 0:
		f.Op, f.Field, f.Value = syncproto.OpSet, "note", syncproto.Text(rapid.SampledFrom([]string{"", "a<b\n", "ñ\"\\"}).Draw(rt, "text"))
	case 1:
		f.Op, f.Field, f.Value = syncproto.OpCount, "extra|500|600", number
	case 2:
		f.Op, f.Field, f.Value = syncproto.OpCorrect, "extra|500|600", number
		f.Extra = map[string]syncproto.Value{syncproto.ExtraSaw: number}
	case 3:
		f.Op, f.Field = rapid.SampledFrom([]syncproto.Op{syncproto.OpAdd, syncproto.OpRemove}).Draw(rt, "op"), "flags"
		f.Value = syncproto.Text(rapid.SampledFrom([]string{"mother", "look"}).Draw(rt, "element"))
	default:
		f.Op, f.Field, f.Value = "later", "f", syncproto.List("a", "b")
		f.Extra = map[string]syncproto.Value{"more": syncproto.List()}
	}
	return f
}

// pushAll sends every phone's operations in frames, again and again from some point at or before
// what was acknowledged, several frames to a commit, until all is settled. committed is called after
// each commit with the orders so far.
func pushAll(rt *rapid.T, s *Store, phones [][][]syncproto.Change, committed func(map[syncproto.Identity]syncproto.Stamp)) map[syncproto.Identity]syncproto.Stamp {
	orders := map[syncproto.Identity]syncproto.Stamp{}
	rnd := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "pieces"), 0))
	settled := make([]int, len(phones)) // operations, by phone
	for {
		var frames []*changelog.Frame
		var ends [][2]int // phone, operations settled after the frame
		for range 1 + rnd.IntN(4) {
			i := rnd.IntN(len(phones))
			from := rnd.IntN(settled[i] + 1)
			to := min(from+1+rnd.IntN(4), len(phones[i]))
			if from >= to {
				continue
			}
			frames = append(frames, frameOf(rt, phones[i][from:to]))
			ends = append(ends, [2]int{i, to})
		}
		results, err := s.Append(context.Background(), frames)
		if err != nil {
			rt.Fatal(err)
		}
		for j, r := range results {
			if r.Breach != nil {
				rt.Fatal(r.Breach)
			}
			noteOrders(rt, orders, frames[j], r.Ack)
			settled[ends[j][0]] = max(settled[ends[j][0]], ends[j][1])
		}
		committed(orders)
		if allSettled(settled, phones) {
			return orders
		}
	}
}

// noteOrders takes down the orders that an acknowledgement tells, which never change.
func noteOrders(rt *rapid.T, orders map[syncproto.Identity]syncproto.Stamp, f *changelog.Frame, ack syncproto.Ack) {
	told := map[int64]syncproto.Stamp{}
	for _, o := range ack.Orders {
		told[o.Seq] = o.Order
	}
	for _, c := range f.Batch().Changes {
		order, ok := told[c.Seq]
		if !ok {
			order = c.Stamp
		}
		if was, known := orders[c.Identity()]; known && was != order {
			rt.Fatalf("%s was told order %v, then %v", c.Identity(), was, order)
		}
		orders[c.Identity()] = order
	}
}

func allSettled(settled []int, phones [][][]syncproto.Change) bool {
	for i, n := range settled {
		if n < len(phones[i]) {
			return false
		}
	}
	return true
}

func frameOf(rt *rapid.T, operations [][]syncproto.Change) *changelog.Frame {
	var changes []syncproto.Change
	for _, o := range operations {
		changes = append(changes, o...)
	}
	f, err := changelog.NewFrame(changes[0].Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: changes})
	if err != nil {
		rt.Fatal(err)
	}
	return f
}

// merged is what all changes that were given an order come to.
func merged(phones [][][]syncproto.Change, orders map[syncproto.Identity]syncproto.Stamp) *changelog.State {
	pure := changelog.NewState()
	for _, operations := range phones {
		for _, c := range slices.Concat(operations...) {
			if order, ok := orders[c.Identity()]; ok {
				pure.Merge(c, order)
			}
		}
	}
	return pure
}

func compare(rt *rapid.T, s *Store, phones [][][]syncproto.Change, orders map[syncproto.Identity]syncproto.Stamp) {
	pure := merged(phones, orders)
	n := len(orders)
	state, newest, err := s.State(context.Background())
	if err != nil {
		rt.Fatal(err)
	}
	if newest != int64(n) {
		rt.Errorf("%d changes are kept and %d acknowledged", newest, n)
	}
	if got, want := state.Dump(), pure.Dump(); !bytes.Equal(got, want) {
		rt.Errorf("the store holds\n%s\nwant\n%s", got, want)
	}
	found, err := s.Verify(context.Background())
	if err != nil || len(found.Faults) > 0 {
		rt.Errorf("verified %+v (%v)", found, err)
	}
}
