package live

import (
	"bytes"
	"compress/flate"
	"math/rand/v2"
	"strings"
	"testing"

	"corymb/internal/simnet"
	"corymb/syncproto"
)

const walker = "0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c"

// notesAmong turns one in so many counts of a walk into a note of some words.
func notesAmong(counts syncproto.Batch, oneIn, words int) syncproto.Batch {
	rnd := rand.New(rand.NewPCG(3, 4))
	vocabulary := strings.Fields("botrytis on the lower leaves cut back before rain strong stems late colour fading to pink heads small this flush divide in autumn keep as mother")
	notes := syncproto.Batch{Origins: counts.Origins, Changes: append([]syncproto.Change{}, counts.Changes...)}
	for i := 0; i < len(notes.Changes); i += oneIn {
		text := make([]string, words)
		for j := range text {
			text[j] = vocabulary[rnd.IntN(len(vocabulary))]
		}
		c := &notes.Changes[i]
		c.Op, c.Field, c.Value = syncproto.OpSet, "note", syncproto.Text(strings.Join(text, " "))
	}
	return notes
}

func newsOf(batches ...[]byte) Message {
	n := syncproto.News{Arrival: 10_000, Newest: 10_000, Last: string(syncproto.IdentityOf(walker, 2_000)), Batches: batches}
	return Message{Binary: true, Data: n.Append(nil)}
}

// deflated is how long a message is on the wire in parts of its own length.
func deflated(m Message) float64 {
	var wire bytes.Buffer
	w, err := flate.NewWriter(&wire, flate.BestSpeed) // as gorilla does
	if err == nil {
		_, err = w.Write(m.Data)
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		panic(err)
	}
	return float64(wire.Len()) / float64(len(m.Data))
}

func TestOnlyWhatDeflateMakesShorterIsDeflated(t *testing.T) {
	counts := simnet.Counts(rand.New(rand.NewPCG(1, 2)), walker, 8_000)
	linked := syncproto.NewPacker()
	linked.Append(nil, simnet.Part(counts, 0, 2_000))
	linked.Append(nil, simnet.Part(counts, 2_000, 4_000))
	var small [][]byte
	for at := 0; at < 400; at += 20 {
		small = append(small, syncproto.AppendAlone(nil, simnet.Part(counts, at, at+20)))
	}
	first := simnet.Part(counts, 0, 2_000)
	tests := []struct {
		name  string
		m     Message
		worth bool
	}{
		{"an acknowledgement", text(syncproto.Ack{T: syncproto.TypeAck, Seq: 12}), false},
		{"an acknowledgement with orders", text(syncproto.Ack{T: syncproto.TypeAck, Seq: 12, Orders: make([]syncproto.SeqOrder, 100)}), true},
		{"counts", newsOf(syncproto.AppendAlone(nil, first)), false},
		{"counts whose names are known", newsOf(linked.Append(nil, simnet.Part(counts, 4_000, 6_000))), false},
		{"a single count", newsOf(small[0]), false},
		{"small batches that name the same", newsOf(small...), true},
		{"counts with a tenth of short notes", newsOf(syncproto.AppendAlone(nil, notesAmong(first, 10, 3))), true},
		{"notes", newsOf(syncproto.AppendAlone(nil, notesAmong(first, 1, 20))), true},
		{"nothing", Message{Binary: true}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := worthDeflating(tt.m); got != tt.worth {
				t.Errorf("worth deflating: %v, though deflate makes it %.2f of its length", got, deflated(tt.m))
			}
			if len(tt.m.Data) < deflateBinary {
				return
			}
			if length := deflated(tt.m); tt.worth != (length < 0.95) {
				t.Errorf("deflate makes it %.2f of its length", length)
			}
		})
	}
}

func BenchmarkDeflating(b *testing.B) {
	counts := simnet.Part(simnet.Counts(rand.New(rand.NewPCG(1, 2)), walker, 2_000), 0, 2_000)
	for _, sample := range []struct {
		name  string
		batch syncproto.Batch
	}{{"counts", counts}, {"notes", notesAmong(counts, 1, 20)}} {
		m := newsOf(syncproto.AppendAlone(nil, sample.batch))
		b.Run(sample.name+"/always", func(b *testing.B) {
			for b.Loop() {
				deflated(m)
			}
			b.ReportMetric(deflated(m)*float64(len(m.Data))/float64(len(sample.batch.Changes)), "bytes/change")
		})
		b.Run(sample.name+"/asked", func(b *testing.B) {
			length := 1.0
			for b.Loop() {
				if worthDeflating(m) {
					length = deflated(m)
				}
			}
			b.ReportMetric(length*float64(len(m.Data))/float64(len(sample.batch.Changes)), "bytes/change")
		})
	}
}
