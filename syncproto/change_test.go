package syncproto_test

import (
	"strings"
	"testing"

	"corymb/syncproto"
)

const inc = "0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c"

func TestOriginalHasTheBytesThatWereSentBefore(t *testing.T) {
	before := syncproto.Change{
		Incarnation: inc, Seq: 4, Scope: syncproto.ScopeField, Op: syncproto.OpSet,
		Type: "bed", ID: "b1", Field: "name", Value: syncproto.Text("North"),
	}
	again := before
	again.Incarnation, again.Seq = "5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6", 1
	again.Extra = map[string]syncproto.Value{syncproto.ExtraFormer: syncproto.Text(string(before.Identity()))}
	original, ok := again.Original()
	if !ok || string(original.Canonical()) != string(before.Canonical()) {
		t.Errorf("original %s, want %s", original.Canonical(), before.Canonical())
	}
	if _, ok := before.Original(); ok {
		t.Error("a change that was never sent before has an original")
	}
}

func TestIdentitySplits(t *testing.T) {
	tests := []struct {
		name string
		id   syncproto.Identity
		ok   bool
	}{
		{"whole", syncproto.IdentityOf(inc, 12), true},
		{"no seq", inc, false},
		{"seq 0", inc + ":0", false},
		{"seq with a sign", inc + ":+12", false},
		{"seq beyond what JavaScript holds", inc + ":9007199254740993", false},
		{"longer than a name", syncproto.Identity(strings.Repeat("x", 200)) + ":1", false},
		{"no incarnation", ":3", false},
		{"empty", "", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			gotInc, seq, err := tt.id.Split()
			if (err == nil) != tt.ok {
				t.Fatalf("err = %v, want ok %v", err, tt.ok)
			}
			if tt.ok && (gotInc != inc || seq != 12) {
				t.Errorf("split into %s and %d", gotInc, seq)
			}
		})
	}
}
