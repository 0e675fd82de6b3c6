package farm

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

func TestEveryPhotoThatAChangeNamesIsNamed(t *testing.T) {
	photo := func(digit string) string { return strings.Repeat(digit, 64) }
	state := changelog.NewState()
	r := changelog.Recorder{Incarnation: "00000000-0000-4000-8000-000000000000"}
	fact := func(op syncproto.Op, entityType, id, field string, v syncproto.Value) changelog.Fact {
		return changelog.Fact{Scope: syncproto.ScopeField, Op: op, Type: entityType, ID: id, Field: field, Value: v}
	}
	for i, f := range []changelog.Fact{
		fact(syncproto.OpAdd, TypePlant, "k1", FieldPhotos, syncproto.Text(photo("a"))),
		fact(syncproto.OpAdd, TypePlant, "k1", FieldPhotos, syncproto.Text(photo("b"))),
		fact(syncproto.OpRemove, TypePlant, "k1", FieldPhotos, syncproto.Text(photo("b"))), // taken away
		fact(syncproto.OpAdd, TypePlant, "k2", FieldPhotos, syncproto.Text(photo("c"))),
		fact(syncproto.OpSet, TypePlant, "k2", changelog.FieldWithdrawn, syncproto.Int(1)),
		fact(syncproto.OpSet, "reading", "r1", "photo", syncproto.Text(photo("d"))), // of a later version
		fact(syncproto.OpSet, TypePlant, "k1", "code", syncproto.Text("K-12")),
	} {
		for _, c := range r.Operation(int64(i+1), f) {
			state.Merge(c, c.Stamp)
		}
	}
	want := []string{photo("a"), photo("b"), photo("c"), photo("d")}
	if got := slices.Sorted(maps.Keys(Photos(state))); !slices.Equal(got, want) {
		t.Errorf("named are %q, want %q", got, want)
	}
}
