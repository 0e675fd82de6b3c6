package syncproto_test

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"os"
	"testing"

	"corymb/syncproto"
)

// Whatever comes is read or refused; what was read is packed and read again as the same.
func FuzzReadingABatch(f *testing.F) {
	var v struct {
		Streams []struct{ Batches []struct{ Hex string } }
	}
	data, err := os.ReadFile("../testdata/vectors/batch.json")
	if err == nil {
		err = json.Unmarshal(data, &v)
	}
	if err != nil {
		f.Fatal(err)
	}
	for _, s := range v.Streams {
		for _, b := range s.Batches {
			seed, err := hex.DecodeString(b.Hex)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(seed)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		batch, err := syncproto.NewUnpacker().Read(data)
		if err != nil {
			return
		}
		again, err := syncproto.ReadAlone(syncproto.AppendAlone(nil, batch))
		if err != nil {
			t.Fatalf("what was read cannot be packed: %v", err)
		}
		for i, c := range batch.Changes {
			if got := again.Changes[i]; !bytes.Equal(got.Canonical(), c.Canonical()) {
				t.Fatalf("change %d came back as %s, was %s", i, got.Canonical(), c.Canonical())
			}
			if batch.Orders != nil && again.Orders[i] != batch.Orders[i] {
				t.Fatalf("order %d came back as %v, was %v", i, again.Orders[i], batch.Orders[i])
			}
		}
	})
}
