package farm_test

import (
	"slices"
	"testing"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/syncproto"
)

func TestAPlaceIsReadAsItIsWritten(t *testing.T) {
	tests := []struct {
		name, text string
		want       farm.Place
		ok         bool
	}{
		{"a place", "2026-03-14/m1/2/7/b1", farm.Place{Since: "2026-03-14", Move: "m1", Bed: "b1", Line: 2, Number: 7}, true},
		{"a bed whose id holds a slash", "2026-03-14/m1/1/1/a/b", farm.Place{Since: "2026-03-14", Move: "m1", Bed: "a/b", Line: 1, Number: 1}, true},
		{"somewhere in a bed", "2026-03-14/m1/0/0/b1", farm.Place{Since: "2026-03-14", Move: "m1", Bed: "b1"}, true},
		{"no bed", "2026-03-14/m1/2/7/", farm.Place{}, false},
		{"no such day", "2026-02-30/m1/2/7/b1", farm.Place{}, false},
		{"a number written otherwise", "2026-03-14/m1/02/7/b1", farm.Place{}, false},
		{"below the first line", "2026-03-14/m1/-1/7/b1", farm.Place{}, false},
		{"no name of the move", "2026-03-14//2/7/b1", farm.Place{}, false},
		{"too few parts", "2026-03-14/2/7/b1", farm.Place{}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := farm.ParsePlace(tt.text)
			if (err == nil) != tt.ok || got != tt.want {
				t.Fatalf("%+v, %v; want %+v, %v", got, err, tt.want, tt.ok)
			}
			if tt.ok && farm.FormatPlace(got) != tt.text {
				t.Errorf("written again as %q", farm.FormatPlace(got))
			}
		})
	}
}

// move is what a phone says of a move from one place to another.
func move(plant, from, to, stood string) []changelog.Fact {
	fact := func(op syncproto.Op, field, value string) changelog.Fact {
		return changelog.Fact{Scope: syncproto.ScopeField, Op: op, Type: farm.TypePlant, ID: plant, Field: field, Value: syncproto.Text(value)}
	}
	facts := []changelog.Fact{fact(syncproto.OpAdd, farm.FieldPlaces, to), fact(syncproto.OpAdd, farm.FieldStood, stood)}
	if from != "" {
		facts = append(facts, fact(syncproto.OpRemove, farm.FieldPlaces, from))
	}
	return facts
}

func TestAMovedPlantStandsWhereItWasMovedAndStoodWhereItWas(t *testing.T) {
	state := changelog.NewState()
	recorder := changelog.Recorder{Incarnation: inc}
	at := int64(1_000)
	record := func(facts []changelog.Fact) {
		at++
		for _, c := range recorder.Operation(at, facts...) {
			if code, why := farm.Check(c, "2027-01-01"); code != "" {
				t.Fatalf("%s: %s", code, why)
			}
			state.Merge(c, c.Stamp)
		}
	}
	record(factsOf(small()))
	record(move("m", "", "2026-03-14/m1/2/9/b2", "2025-04-02/2026-03-14/m1/1/7/b"))
	record(move("m", "2026-03-14/m1/2/9/b2", "2026-10-01/m2/1/1/b3", "2026-03-14/2026-10-01/m2/2/9/b2"))
	f := farm.Read("farm", state)
	m := f.Plants["m"]
	if m.Line != 1 || m.Number != 1 || f.BedOf(m) != "b3" {
		t.Errorf("it stands in %s, line %d, %d", f.BedOf(m), m.Line, m.Number)
	}
	days := []crop.Date{"2025-06-01", "2026-03-13", "2026-03-14", "2026-09-30", "2026-10-01"}
	var beds []crop.BedID
	for _, day := range days {
		beds = append(beds, f.BedOn(m, day))
	}
	if want := []crop.BedID{"b", "b", "b2", "b2", "b3"}; !slices.Equal(beds, want) {
		t.Errorf("beds on %v: %v, want %v", days, beds, want)
	}
	if k := f.Plants["k"]; f.BedOf(k) != "b" || f.BedOn(k, "2025-06-01") != "b" {
		t.Errorf("a plant that never moved stands in %s", f.BedOf(k))
	}
}
