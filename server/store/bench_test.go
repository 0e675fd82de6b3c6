package store

import (
	"context"
	"fmt"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// counts makes frames of count changes like a day's cutting, each change an operation.
func counts(b *testing.B, p *phone, frames, each int) []*changelog.Frame {
	b.Helper()
	made := make([]*changelog.Frame, frames)
	for i := range made {
		var changes []syncproto.Change
		for j := range each {
			n := i*each + j
			fact := stemsAt(fmt.Sprintf("00000000-0000-4000-8000-%012d", n%2000), int64(1+n%9))
			fact.Field = fmt.Sprintf("extra|%d|%d", n%7*100, n%7*100+100)
			changes = append(changes, p.says(fact)...)
		}
		f, err := changelog.NewFrame(p.Incarnation, syncproto.Scopes, syncproto.Push{Changes: changes})
		if err != nil {
			b.Fatal(err)
		}
		made[i] = f
	}
	return made
}

// Frames of 20 share a commit a hundred at a time; frames of 2,000 have one each.
func BenchmarkAppend(b *testing.B) {
	for _, each := range []int{20, syncproto.MaxFrameChanges} {
		b.Run(fmt.Sprintf("frames of %d", each), func(b *testing.B) {
			s, err := Open(b.TempDir(), fixed)
			if err != nil {
				b.Fatal(err)
			}
			defer func() { _ = s.Close() }() // the figures are taken
			p := newPhone()
			for b.Loop() {
				b.StopTimer()
				frames := counts(b, p, syncproto.MaxFrameChanges/each, each)
				b.StartTimer()
				if _, err := s.Append(context.Background(), frames); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(s.Newest())/b.Elapsed().Seconds(), "changes/s")
		})
	}
}

func BenchmarkReadAfter(b *testing.B) {
	s, err := Open(b.TempDir(), fixed)
	if err != nil {
		b.Fatal(err)
	}
	defer func() { _ = s.Close() }() // as above
	if _, err := s.Append(context.Background(), counts(b, newPhone(), 5, syncproto.MaxFrameChanges)); err != nil {
		b.Fatal(err)
	}
	read := 0
	for b.Loop() {
		for at := int64(0); at < s.Newest(); {
			tail, err := s.ReadAfter(context.Background(), at, s.Newest(), syncproto.Scopes)
			if err != nil {
				b.Fatal(err)
			}
			at, read = tail.Arrival, read+len(tail.Changes)
		}
	}
	b.ReportMetric(float64(read)/b.Elapsed().Seconds(), "changes/s")
}
