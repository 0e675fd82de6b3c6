package syncproto_test

import (
	"encoding/json"
	"os"
	"testing"

	"corymb/syncproto"
)

func readVectors(t *testing.T, name string, into any) {
	t.Helper()
	data, err := os.ReadFile("../testdata/vectors/" + name)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// fields is a change with its parts named, as the vectors write it.
type fields struct {
	Incarnation string
	Seq, L, C   int64
	Rest        int
	Person      string
	Scope       syncproto.Scope
	Op          syncproto.Op
	Type        string
	ID          string
	Field       string
	Value       syncproto.Value
	Extra       map[string]syncproto.Value
}

func (f fields) change() syncproto.Change {
	return syncproto.Change{
		Incarnation: f.Incarnation, Seq: f.Seq, Stamp: syncproto.Stamp{L: f.L, C: f.C}, Rest: f.Rest,
		Person: f.Person, Scope: f.Scope, Op: f.Op, Type: f.Type, ID: f.ID, Field: f.Field,
		Value: f.Value, Extra: f.Extra,
	}
}

func TestCanonicalBytesAndChainAreThoseOfTheVectors(t *testing.T) {
	var v struct {
		Cases []struct {
			Name, Farm, Bytes, Chain string
			Change                   fields
		}
	}
	readVectors(t, "canonical.json", &v)
	for _, c := range v.Cases {
		t.Run(c.Name, func(t *testing.T) {
			change := c.Change.change()
			if got := string(change.Canonical()); got != c.Bytes {
				t.Errorf("canonical bytes\n got %s\nwant %s", got, c.Bytes)
			}
			if err := change.Check(); err != nil {
				t.Errorf("check: %v", err)
			}
			chain := syncproto.ChainStart(c.Farm, change.Incarnation).Then([]byte(c.Bytes))
			if chain.String() != c.Chain {
				t.Errorf("chain %s, want %s", chain, c.Chain)
			}
			var read syncproto.Change
			if err := json.Unmarshal([]byte(c.Bytes), &read); err != nil {
				t.Fatal(err)
			}
			if got := string(read.Canonical()); got != c.Bytes {
				t.Errorf("read and written again: %s", got)
			}
		})
	}
}

func TestInvalidChangesAreRefused(t *testing.T) {
	var v struct {
		Cases []struct{ Name, Text string }
	}
	readVectors(t, "invalid.json", &v)
	for _, c := range v.Cases {
		t.Run(c.Name, func(t *testing.T) {
			var change syncproto.Change
			err := json.Unmarshal([]byte(c.Text), &change)
			if err == nil {
				err = change.Check()
			}
			if err == nil {
				t.Errorf("%s was taken", c.Text)
			}
		})
	}
}

func FuzzReadingAChange(f *testing.F) {
	f.Add(`["0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c",1,1780000000000,0,0,"p1","field","set","bed","b1","name","x",{},0]`)
	f.Add(`[]`)
	f.Fuzz(func(t *testing.T, text string) {
		var c syncproto.Change
		if json.Unmarshal([]byte(text), &c) != nil || c.Check() != nil {
			return
		}
		var again syncproto.Change
		if err := json.Unmarshal(c.Canonical(), &again); err != nil {
			t.Fatalf("what was read and checked cannot be read again: %v", err)
		}
		if string(again.Canonical()) != string(c.Canonical()) {
			t.Fatalf("canonical bytes changed:\n%s\n%s", c.Canonical(), again.Canonical())
		}
	})
}
