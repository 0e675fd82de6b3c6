package store

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// walk makes frames of stem counts, each an operation: of a random plant of 2,000, on a random day of
// two months, in a random grade and length class, 1 to 9 stems, in visits whose ids are derived.
func walk(b *testing.B, rnd *rand.Rand, p *phone, changes, each int) []*changelog.Frame {
	b.Helper()
	grades := []string{"extra", "first", "second", "out"}
	var frames []*changelog.Frame
	for range changes / each {
		batch := syncproto.Batch{Origins: map[string]syncproto.Origin{}}
		for range each {
			o := syncproto.Origin{
				Namespace: p.Incarnation, Person: p.Person, Purpose: "cut",
				Subject:  uuid.NewSHA1(uuid.Nil, fmt.Append(nil, rnd.IntN(2_000))).String(),
				Recorded: fmt.Sprintf("2026-%02d-%02d", 5+rnd.IntN(2), 1+rnd.IntN(30)),
			}
			id, _ := o.ID()
			batch.Origins[id] = o
			fact := stemsAt(id, 1+rnd.Int64N(9))
			length := 200 + 100*rnd.IntN(7)
			fact.Field = fmt.Sprintf("%s|%d|%d", grades[rnd.IntN(4)], length, length+100)
			p.wall += 200 + rnd.Int64N(2_800)
			batch.Changes = append(batch.Changes, p.Operation(p.wall, fact)...)
		}
		f, err := changelog.NewFrame(p.Incarnation, changelog.Within(syncproto.Scopes), batch)
		if err != nil {
			b.Fatal(err)
		}
		frames = append(frames, f)
	}
	return frames
}

// benchChanges is the size of the workload.
const benchChanges = 100_000

// measured is a farm whose projector waits to be told.
type measured struct {
	*Store
	dir string
}

func openToMeasure(b *testing.B) measured {
	b.Helper()
	dir := b.TempDir()
	s, err := OpenStill(dir, fixed)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = s.Close() }) // the figures are taken
	return measured{s, dir}
}

func (m measured) appendAll(b *testing.B, frames []*changelog.Frame, together int) {
	b.Helper()
	for part := range slices.Chunk(frames, together) {
		if _, err := m.Append(context.Background(), part); err != nil {
			b.Fatal(err)
		}
	}
}

// bytesEach is how much of the disk a change takes.
func (m measured) bytesEach(b *testing.B) float64 {
	b.Helper()
	if _, err := m.writer.Exec("PRAGMA wal_checkpoint(TRUNCATE)"); err != nil {
		b.Fatal(err)
	}
	info, err := os.Stat(filepath.Join(m.dir, FileName))
	if err != nil {
		b.Fatal(err)
	}
	return float64(info.Size()) / float64(m.Newest())
}

// workload is a way in which 100,000 changes come.
type workload struct{ each, together, phones int }

// Frames of one phone that share a commit share segments; those of many phones in turn do not.
var workloads = []workload{{20, 1, 1}, {20, 100, 1}, {20, 100, 50}, {syncproto.MaxFrameChanges, 1, 1}}

func (w workload) String() string {
	return fmt.Sprintf("frames of %d, %d a commit, %d phones", w.each, w.together, w.phones)
}

func (w workload) frames(b *testing.B) []*changelog.Frame {
	b.Helper()
	rnd := rand.New(rand.NewPCG(1, 2))
	of := make([][]*changelog.Frame, w.phones)
	for i := range of {
		p := newPhone()
		p.wall -= 1_000 * 1_000 * 1_000 // all lies in the past, so that orders are stamps
		of[i] = walk(b, rnd, p, benchChanges/w.phones, w.each)
	}
	var frames []*changelog.Frame
	for i := range of[0] {
		for _, own := range of {
			frames = append(frames, own[i])
		}
	}
	return frames
}

func BenchmarkAppend(b *testing.B) {
	for _, w := range workloads {
		b.Run(w.String(), func(b *testing.B) {
			frames := w.frames(b)
			var m measured
			for b.Loop() {
				b.StopTimer()
				m = openToMeasure(b)
				b.StartTimer()
				m.appendAll(b, frames, w.together)
			}
			perSecond(b)
			b.ReportMetric(m.bytesEach(b), "disk-B/change")
		})
	}
}

func BenchmarkProjectorCatchesUp(b *testing.B) {
	for _, w := range workloads {
		b.Run(w.String(), func(b *testing.B) {
			frames := w.frames(b)
			var m measured
			for b.Loop() {
				b.StopTimer()
				m = openToMeasure(b)
				m.appendAll(b, frames, 100)
				b.StartTimer()
				if err := m.Level(context.Background()); err != nil {
					b.Fatal(err)
				}
			}
			perSecond(b)
			b.ReportMetric(m.bytesEach(b), "disk-B/change")
		})
	}
}

func BenchmarkReadAfter(b *testing.B) {
	for _, w := range workloads {
		b.Run(w.String(), func(b *testing.B) {
			m := openToMeasure(b)
			m.appendAll(b, w.frames(b), w.together)
			if err := m.Level(context.Background()); err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				for at := int64(0); at < m.Newest(); {
					tail, err := m.ReadAfter(context.Background(), at, m.Newest(), syncproto.Scopes)
					if err != nil {
						b.Fatal(err)
					}
					at = tail.Arrival
				}
			}
			perSecond(b)
		})
	}
}

func perSecond(b *testing.B) {
	b.Helper()
	b.ReportMetric(float64(benchChanges*b.N)/b.Elapsed().Seconds(), "changes/s")
}
