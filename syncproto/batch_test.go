package syncproto_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"corymb/internal/simnet"
	"corymb/syncproto"
)

// The wire's targets: at most 6 bytes a change in frames of 2,000 and 10 in frames of 20, of 100,000
// changes. Eight bytes of websocket header (RFC 6455, section 5.2) stand for each frame's.
func TestACountTakesFewBytesOnTheWire(t *testing.T) {
	all := simnet.Counts(rand.New(rand.NewPCG(1, 2)), inc, 100_000)
	for _, tt := range []struct{ frame, most int }{{2_000, 6}, {20, 10}} {
		p, u := syncproto.NewPacker(), syncproto.NewUnpacker()
		bytes := 0
		for from := 0; from < len(all.Changes); from += tt.frame {
			push := syncproto.AppendPush(nil, p, simnet.Part(all, from, from+tt.frame))
			bytes += len(push) + 8
			got, err := syncproto.ReadPush(push, u)
			if err != nil || !reflect.DeepEqual(got.Changes, all.Changes[from:from+tt.frame]) {
				t.Fatalf("changes %d.. came back otherwise (error %v)", from, err)
			}
		}
		each := float64(bytes) / float64(len(all.Changes))
		t.Logf("frames of %d: %.2f bytes a change", tt.frame, each)
		if each > float64(tt.most) {
			t.Errorf("frames of %d: %.2f bytes a change, want at most %d", tt.frame, each, tt.most)
		}
	}
}

func TestWhatIsPackedIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, u := syncproto.NewPacker(), syncproto.NewUnpacker()
		for range rapid.IntRange(1, 4).Draw(t, "batches") {
			want := batches().Draw(t, "batch")
			for name, got := range map[string]func() (syncproto.Batch, error){
				"linked": func() (syncproto.Batch, error) { return u.Read(p.Append(nil, want)) },
				"alone":  func() (syncproto.Batch, error) { return syncproto.ReadAlone(syncproto.AppendAlone(nil, want)) },
			} {
				b, err := got()
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				sameBatch(t, name, b, want)
			}
		}
	})
}

func sameBatch(t *rapid.T, name string, got, want syncproto.Batch) {
	for i := range want.Changes {
		if g, w := got.Changes[i].Canonical(), want.Changes[i].Canonical(); string(g) != string(w) {
			t.Fatalf("%s: change %d is %s, want %s", name, i, g, w)
		}
		order := syncproto.NoOrder
		if got.Orders != nil {
			order = got.Orders[i]
		}
		if want.Orders != nil && order != want.Orders[i] || want.Orders == nil && order != syncproto.NoOrder {
			t.Fatalf("%s: order %d is %v", name, i, order)
		}
	}
	for id, o := range got.Origins {
		if derived, ok := o.ID(); !ok || derived != id {
			t.Fatalf("%s: origin %v does not give %s", name, o, id)
		}
	}
}

// batches draws changes whose parts repeat and differ, with values at every bound.
func batches() *rapid.Generator[syncproto.Batch] {
	numbers := rapid.OneOf(
		rapid.Int64Range(-3, 300), rapid.SampledFrom([]int64{syncproto.MaxInt, -syncproto.MaxInt, 0, 1 << 48, -(1 << 47)}),
	)
	texts := rapid.SampledFrom([]string{"", "a", "bett", "2026-06-03", inc, "A0000000-0000-4000-8000-000000000000", "übergrün", strings.Repeat("x", 300)})
	values := rapid.Custom(func(t *rapid.T) syncproto.Value {
		switch rapid.IntRange(0, 2).Draw(t, "kind") {
		case 0:
			return syncproto.Int(numbers.Draw(t, "n"))
		case 1:
			return syncproto.Text(texts.Draw(t, "text"))
		default:
			return syncproto.List(rapid.SliceOfN(texts, 0, 3).Draw(t, "list")...)
		}
	})
	return rapid.Custom(func(t *rapid.T) syncproto.Batch {
		var b syncproto.Batch
		ordered := rapid.Bool().Draw(t, "ordered")
		b.Origins = map[string]syncproto.Origin{}
		for range rapid.IntRange(0, 8).Draw(t, "n") {
			c := syncproto.Change{
				Incarnation: inc, Seq: rapid.Int64Range(1, syncproto.MaxInt).Draw(t, "seq"),
				Stamp:  syncproto.Stamp{L: rapid.Int64Range(0, syncproto.MaxL).Draw(t, "l"), C: rapid.Int64Range(0, syncproto.MaxC).Draw(t, "c")},
				Person: texts.Draw(t, "person"), Scope: rapid.SampledFrom(syncproto.Scopes).Draw(t, "scope"),
				Op: syncproto.Op(texts.Draw(t, "op")), Type: texts.Draw(t, "type"), ID: texts.Draw(t, "id"),
				Field: texts.Draw(t, "field"), Value: values.Draw(t, "value"),
			}
			if rapid.Bool().Draw(t, "derived") {
				o := syncproto.Origin{Namespace: inc, Person: c.Person, Subject: texts.Draw(t, "subject"), Recorded: "2026-06-03", Purpose: "cut"}
				if before := len(b.Changes); before > 0 && rapid.Bool().Draw(t, "of another") {
					o.Subject = b.Changes[before-1].ID
				}
				c.ID, _ = o.ID()
				b.Origins[c.ID] = o
			}
			if n := rapid.IntRange(0, 2).Draw(t, "extras"); n > 0 {
				c.Extra = map[string]syncproto.Value{}
				for range n {
					c.Extra[rapid.SampledFrom([]string{"saw", "after", "former", "z"}).Draw(t, "extra")] = values.Draw(t, "extra value")
				}
			}
			order := syncproto.NoOrder
			if rapid.Bool().Draw(t, "told") {
				order = syncproto.Stamp{L: rapid.Int64Range(0, syncproto.MaxL).Draw(t, "order"), C: 7}
			}
			b.Changes = append(b.Changes, c)
			if ordered {
				b.Orders = append(b.Orders, order)
			}
		}
		return b
	})
}

func TestATornOrTwistedBatchIsRefused(t *testing.T) {
	whole := syncproto.AppendAlone(nil, simnet.Counts(rand.New(rand.NewPCG(3, 4)), inc, 30))
	for cut := range whole {
		refusedBatch(t, fmt.Sprintf("cut after %d bytes", cut), whole[:cut])
	}
	refusedBatch(t, "a byte too many", append(append([]byte{}, whole...), 0))
	refusedBatch(t, "an unknown mode", append([]byte{9}, whole[1:]...))
	refusedBatch(t, "2,001 changes", []byte{2, 0xd1, 0x0f, 0, 0, 0})
	refusedBatch(t, "a text that is not UTF-8", []byte{2, 0, 1, 1, 0xff, 0, 0})
	refusedBatch(t, "a name that was not given", []byte{2, 1, 0, 0, 0, 0x00, 0x02})
	refusedBatch(t, "a column of an unknown form", []byte{2, 1, 0, 0, 0, 0xc0, 0x00})
	refusedBatch(t, "packed numbers of 49 bits", []byte{2, 1, 0, 0, 0, 49, 0, 0, 0, 0, 0, 0, 0, 0})
}

func refusedBatch(t *testing.T, name string, data []byte) {
	t.Helper()
	_, err := syncproto.ReadAlone(data)
	var breach *syncproto.Breach
	if !errors.As(err, &breach) || breach.Code != syncproto.CodeMalformed {
		t.Errorf("%s: error %v, want it to be malformed", name, err)
	}
}

// A few bytes must not grow into more than a phone may send.
func TestABatchThatGrowsTooLargeIsRefused(t *testing.T) {
	changes := make([]syncproto.Change, 70)
	for i := range changes {
		changes[i] = syncproto.Change{Incarnation: inc, Seq: int64(i + 1), Scope: syncproto.ScopeField, Op: "set", Type: "a", ID: "b", Field: "c"}
		changes[i].Value.Kind, changes[i].Value.List = syncproto.KindList, make([]string, syncproto.MaxListLen)
	}
	_, err := syncproto.ReadAlone(syncproto.AppendAlone(nil, syncproto.Batch{Changes: changes}))
	var breach *syncproto.Breach
	if !errors.As(err, &breach) || breach.Code != syncproto.CodeTooLarge {
		t.Errorf("70,000 elements of lists: error %v, want it to be too large", err)
	}
}

func TestAPackerBeginsAnewBeforeItsNamesGrowTooMany(t *testing.T) {
	p, u := syncproto.NewPacker(), syncproto.NewUnpacker()
	anew := 0
	for frame := range 300 {
		b := syncproto.Batch{Changes: make([]syncproto.Change, 2_000)}
		for i := range b.Changes {
			b.Changes[i] = syncproto.Change{Incarnation: inc, Seq: int64(i + 1), Op: "set", Type: "t", ID: fmt.Sprint("id ", frame, " ", i), Field: "f"}
		}
		data := p.Append(nil, b)
		if data[0] == 1 {
			anew++
		}
		if got, err := u.Read(data); err != nil || got.Changes[1_999].ID != b.Changes[1_999].ID {
			t.Fatalf("frame %d: %v", frame, err)
		}
	}
	if anew != 3 { // 600,000 names, 262,144 at most at a time
		t.Errorf("it began anew %d times, want 3", anew)
	}
}

func TestNewsIsReadBack(t *testing.T) {
	want := syncproto.News{Arrival: 7, Newest: 9, Last: inc + ":3", Batches: [][]byte{{1, 2}, {}, {3}}}
	data := want.Append(nil)
	if got, err := syncproto.ReadNews(data); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v (error %v), want %+v", got, err, want)
	}
	for cut := range data {
		if _, err := syncproto.ReadNews(data[:cut]); err == nil {
			t.Errorf("cut after %d bytes it was read", cut)
		}
	}
}

// BenchmarkPack and BenchmarkRead go through a conversation's frames of 2,000 counts.
func BenchmarkPack(b *testing.B) {
	frames := frames()
	b.ReportAllocs()
	for b.Loop() {
		p := syncproto.NewPacker()
		for _, frame := range frames {
			p.Append(nil, frame)
		}
	}
	perChange(b, frames)
}

func BenchmarkPackAlone(b *testing.B) {
	frames := frames()
	b.ReportAllocs()
	for b.Loop() {
		for _, frame := range frames {
			syncproto.AppendAlone(nil, frame)
		}
	}
	perChange(b, frames)
}

func BenchmarkRead(b *testing.B) {
	frames := frames()
	var packed [][]byte
	p := syncproto.NewPacker()
	for _, frame := range frames {
		packed = append(packed, p.Append(nil, frame))
	}
	b.ReportAllocs()
	for b.Loop() {
		u := syncproto.NewUnpacker()
		for _, data := range packed {
			if _, err := u.Read(data); err != nil {
				b.Fatal(err)
			}
		}
	}
	perChange(b, frames)
}

func frames() []syncproto.Batch {
	all := simnet.Counts(rand.New(rand.NewPCG(1, 2)), inc, 20_000)
	var frames []syncproto.Batch
	for from := 0; from < len(all.Changes); from += 2_000 {
		frames = append(frames, simnet.Part(all, from, from+2_000))
	}
	return frames
}

func perChange(b *testing.B, frames []syncproto.Batch) {
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(frames)*2_000), "ns/change")
}
