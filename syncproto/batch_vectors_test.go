package syncproto_test

import (
	"encoding/hex"
	"testing"

	"corymb/syncproto"
)

// packedVector is a batch with its bytes.
type packedVector struct {
	Hex     string
	Changes []string
	Orders  []*[2]int64
	Origins map[string]syncproto.Origin
}

func (v packedVector) batch(t *testing.T) syncproto.Batch {
	t.Helper()
	b := syncproto.Batch{Changes: make([]syncproto.Change, len(v.Changes)), Origins: v.Origins}
	for i, text := range v.Changes {
		if err := b.Changes[i].UnmarshalJSON([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	for _, o := range v.Orders {
		order := syncproto.NoOrder
		if o != nil {
			order = syncproto.Stamp{L: o[0], C: o[1]}
		}
		b.Orders = append(b.Orders, order)
	}
	return b
}

func TestBatchesArePackedAndReadAsInTheVectors(t *testing.T) {
	var v struct {
		Streams []struct {
			Name    string
			Alone   bool
			Batches []packedVector
		}
	}
	readVectors(t, "batch.json", &v)
	for _, s := range v.Streams {
		t.Run(s.Name, func(t *testing.T) {
			p, u := syncproto.NewPacker(), syncproto.NewUnpacker()
			for _, vector := range s.Batches {
				want := vector.batch(t)
				pack := p.Append
				if s.Alone {
					pack = syncproto.AppendAlone
				}
				data := pack(nil, want)
				if got := hex.EncodeToString(data); got != vector.Hex {
					t.Errorf("packed as\n     %s\nwant %s", got, vector.Hex)
				}
				readVector(t, u, vector, want)
			}
		})
	}
}

func readVector(t *testing.T, u *syncproto.Unpacker, vector packedVector, want syncproto.Batch) {
	t.Helper()
	data, err := hex.DecodeString(vector.Hex)
	if err != nil {
		t.Fatal(err)
	}
	got, err := u.Read(data)
	if err != nil || len(got.Changes) != len(want.Changes) || len(got.Orders) != len(want.Orders) {
		t.Fatalf("read %d changes and %d orders (error %v), want %d and %d",
			len(got.Changes), len(got.Orders), err, len(want.Changes), len(want.Orders))
	}
	for i, c := range got.Changes {
		if text := string(c.Canonical()); text != vector.Changes[i] {
			t.Errorf("change %d is\n     %s\nwant %s", i, text, vector.Changes[i])
		}
	}
	for i, o := range got.Orders {
		if o != want.Orders[i] {
			t.Errorf("order %d is %v, want %v", i, o, want.Orders[i])
		}
	}
	for id, o := range got.Origins {
		if o != want.Origins[id] {
			t.Errorf("%s comes from %v, want %v", id, o, want.Origins[id])
		}
	}
}
