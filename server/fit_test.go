package main

import (
	"context"
	"encoding/json"
	"reflect"
	"testing"
	"time"

	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/server/httpapi"
	"corymb/server/store"
)

func fitFolder(t *testing.T, data string) ([]httpapi.SpeciesAges, error) {
	t.Helper()
	s, err := store.Open(data, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	state, _, err := s.State(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return fitAges(farm.Read(crop.FarmID(s.Farm()), state), "", nil)
}

// restingFarm has one of everything that ages could rest on.
func restingFarm() crop.Farm {
	f := crop.NewFarm()
	f.ID, f.Name = "f1", "Larkfield"
	f.Beds["b"] = crop.Bed{ID: "b", Name: "Gate"}
	f.Stocks["s"] = crop.Stock{ID: "s", Species: "yarrow"}
	f.Plantings["p"] = crop.Planting{ID: "p", Stock: "s", Bed: "b", FirstSeason: 2025}
	window := map[crop.Season]crop.Window{2026: {From: "2026-04-01", To: "2026-10-01"}}
	f.Plants["x"] = crop.Plant{ID: "x", Code: "G1", Planting: "p", Counted: window}
	f.Visits["v"] = crop.Visit{ID: "v", Plant: "x", Date: "2026-05-01", Purpose: crop.PurposeCut, Counts: []crop.Count{{Stems: 4}}}
	return f
}

func TestAgesAreFittedAnewWhereWhatTheyRestOnChanged(t *testing.T) {
	put := func(change func(*crop.Plant)) func(*crop.Farm) {
		return func(f *crop.Farm) {
			p := f.Plants["x"]
			change(&p)
			f.Plants["x"] = p
		}
	}
	tests := []struct {
		name   string
		change func(*crop.Farm)
		asOf   crop.Date
		anew   bool
	}{
		{"nothing", func(*crop.Farm) {}, "2026-06-01", false},
		{"another day", func(*crop.Farm) {}, "2026-06-02", true},
		{"the farm's name, and who works there", func(f *crop.Farm) { f.Name, f.People["a"] = "Sparrow End", crop.Person{ID: "a"} }, "2026-06-01", false},
		{"a reading of a photo", func(f *crop.Farm) { f.Readings["r"] = crop.Reading{ID: "r", Plant: "x"} }, "2026-06-01", false},
		{"a plant's colour class", put(func(p *crop.Plant) { p.Colour = "red" }), "2026-06-01", false},
		{"a plant that died", put(func(p *crop.Plant) { p.Removed = "2026-05-20" }), "2026-06-01", true},
		{"a plant that is not counted any more", put(func(p *crop.Plant) { p.Counted = nil }), "2026-06-01", true},
		{"a stem more", func(f *crop.Farm) {
			f.Visits["v"] = crop.Visit{ID: "v", Plant: "x", Date: "2026-05-01", Purpose: crop.PurposeCut, Counts: []crop.Count{{Stems: 5}}}
		}, "2026-06-01", true},
		{"a visit that was withdrawn", func(f *crop.Farm) { delete(f.Visits, "v") }, "2026-06-01", true},
		{"a planting's first season", func(f *crop.Farm) { f.Plantings["p"] = crop.Planting{ID: "p", Stock: "s", Bed: "b", FirstSeason: 2024} }, "2026-06-01", true},
		{"a season's start", func(f *crop.Farm) { f.Calendar.Start = "03-01" }, "2026-06-01", true},
		{"a bed's name, which the report says", func(f *crop.Farm) { f.Beds["b"] = crop.Bed{ID: "b", Name: "Elder"} }, "2026-06-01", true},
	}
	before, err := fitAges(restingFarm(), "2026-06-01", nil)
	if err != nil || len(before) != 1 {
		t.Fatalf("%v (%v)", before, err)
	}
	before[0].Plan = json.RawMessage(`"of before"`)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := restingFarm()
			tt.change(&f)
			got, err := fitAges(f, tt.asOf, before)
			if err != nil || len(got) != 1 {
				t.Fatalf("%v (%v)", got, err)
			}
			if anew := string(got[0].Plan) != `"of before"`; anew != tt.anew || anew == (got[0].Rests == before[0].Rests) {
				t.Errorf("fitted anew: %v, want %v; it rests on %q, before on %q", anew, tt.anew, got[0].Rests, before[0].Rests)
			}
		})
	}
}

// A digest of JSON would not show a field that JSON leaves out.
func TestNothingThatAgesRestOnIsHiddenFromItsDigest(t *testing.T) {
	var look func(reflect.Type)
	seen := map[reflect.Type]bool{}
	look = func(of reflect.Type) {
		if seen[of] {
			return
		}
		seen[of] = true
		switch of.Kind() {
		case reflect.Struct:
			for i := range of.NumField() {
				field := of.Field(i)
				if !field.IsExported() || field.Tag.Get("json") != "" {
					t.Errorf("%s of %s does not show as it is", field.Name, of)
				}
				look(field.Type)
			}
		case reflect.Map, reflect.Slice, reflect.Pointer:
			look(of.Elem())
		case reflect.Interface, reflect.Func, reflect.Chan:
			t.Errorf("%s does not show as it is", of)
		}
	}
	look(reflect.TypeFor[crop.Farm]())
}

func TestWhatAFarmRestsOnIsTheSameHoweverItIsRead(t *testing.T) {
	data := t.TempDir()
	var first []httpapi.SpeciesAges
	for range 3 {
		s, err := store.Open(data, time.Now)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := fillWithDemo(context.Background(), s, data); err != nil {
			t.Fatal(err)
		}
		state, _, err := s.State(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		f := farm.Read(crop.FarmID(s.Farm()), state)
		digest, err := digestOf(whatAgesRestOn(f))
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			for _, species := range plantedSpecies(f) {
				first = append(first, httpapi.SpeciesAges{Species: species, Rests: digest + " as of 2026-06-01"})
			}
		}
		if again, err := fitAges(f, "2026-06-01", first); err != nil || !reflect.DeepEqual(again, first) {
			t.Errorf("it was fitted anew (%v)", err)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
}
