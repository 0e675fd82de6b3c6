package money

import (
	"fmt"
	"maps"
	"testing"

	"corymb/internal/crop"
)

const cutDay crop.Date = "2026-06-03"

// bedOfTwo has four plants of stock s1 in their first season, of which a and b are counted, and two of s2 in their third.
func bedOfTwo() crop.Farm {
	f := crop.NewFarm()
	f.Beds["bed"] = crop.Bed{ID: "bed", Length: 48_768, Width: 610}
	f.Plantings["young"] = crop.Planting{ID: "young", Stock: "s1", Bed: "bed", Planted: "2025-10-01", FirstSeason: 2026}
	f.Plantings["old"] = crop.Planting{ID: "old", Stock: "s2", Bed: "bed", Planted: "2023-10-01", FirstSeason: 2024}
	all := map[crop.Season]crop.Window{2026: {From: "2026-05-01", To: "2026-07-31"}}
	for _, p := range []crop.Plant{
		{ID: "a", Planting: "young", Colour: "ember", Counted: all}, {ID: "b", Planting: "young", Colour: "ember", Counted: all},
		{ID: "c", Planting: "young", Colour: "ember"}, {ID: "d", Planting: "young", Colour: "dusk"},
		{ID: "e", Planting: "old", Colour: "ember"}, {ID: "f", Planting: "old"},
	} {
		f.Plants[p.ID] = p
	}
	return f
}

func visit(f crop.Farm, v crop.Visit) {
	v.ID, v.Date = crop.VisitID(fmt.Sprint(len(f.Visits))), cutDay
	f.Visits[v.ID] = v
}

func emberOf(grade crop.Grade, stems int) []crop.Count {
	return []crop.Count{{Colour: "ember", Grade: grade, Length: crop.TenCentimetres(40), Stems: stems}}
}

var emberLot = crop.LotID{Bed: "bed", Cut: cutDay, Colour: "ember", Grade: crop.GradeFirst, Length: crop.TenCentimetres(40)}

func TestALotsStemsAreOfThePlantsThatGaveThem(t *testing.T) {
	young, old := source{"s1", 1, ""}, source{"s2", 3, ""}
	a, b := source{"s1", 1, "a"}, source{"s1", 1, "b"}
	for _, c := range []struct {
		name string
		put  func(f crop.Farm)
		want map[source]int // of 24 stems
	}{
		{"counted plants what they gave, others by number", func(f crop.Farm) {
			visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Counts: emberOf(crop.GradeFirst, 24)})
			visit(f, crop.Visit{Plant: "a", Purpose: crop.PurposeCut, Counts: emberOf(crop.GradeFirst, 5)})
			visit(f, crop.Visit{Plant: "b", Purpose: crop.PurposeCut, Counts: emberOf(crop.GradeFirst, 1)})
		}, map[source]int{a: 5, b: 1, young: 6, old: 12}},
		{"a counted plant's silence is a zero", func(f crop.Farm) {
			visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Counts: emberOf(crop.GradeFirst, 24)})
		}, map[source]int{young: 8, old: 16}},
		{"a total of one planting", func(f crop.Farm) {
			visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Planting: "old", Counts: emberOf(crop.GradeFirst, 24)})
		}, map[source]int{old: 24}},
		{"two totals of ages", func(f crop.Farm) {
			visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Age: 1, Counts: emberOf(crop.GradeFirst, 6)})
			visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Age: 3, Counts: emberOf(crop.GradeFirst, 18)})
			visit(f, crop.Visit{Plant: "a", Purpose: crop.PurposeCut, Counts: emberOf(crop.GradeFirst, 4)})
		}, map[source]int{a: 4, young: 2, old: 18}},
		{"stems whose grade nobody told are shared among the lots that they may lie in", func(f crop.Farm) {
			visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Counts: append(emberOf(crop.GradeFirst, 24), emberOf(crop.GradeExtra, 8)...)})
			visit(f, crop.Visit{Plant: "a", Purpose: crop.PurposeCut, Counts: []crop.Count{{Stems: 8}}})
		}, map[source]int{a: 6, young: 6, old: 12}},
		{"other lots' stems are not of this one", func(f crop.Farm) {
			visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Counts: emberOf(crop.GradeFirst, 24)})
			visit(f, crop.Visit{Plant: "a", Purpose: crop.PurposeCut, Counts: emberOf(crop.GradeExtra, 9)})
		}, map[source]int{young: 8, old: 16}},
		{"where all were counted, what is beyond their stems is shared as these", func(f crop.Farm) {
			visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Planting: "young", Counts: emberOf(crop.GradeFirst, 24)})
			visit(f, crop.Visit{Plant: "a", Purpose: crop.PurposeCut, Counts: emberOf(crop.GradeFirst, 3)})
			visit(f, crop.Visit{Plant: "b", Purpose: crop.PurposeCut, Counts: emberOf(crop.GradeFirst, 1)})
			delete(f.Plants, "c")
			delete(f.Plants, "d")
		}, map[source]int{a: 18, b: 6}},
		{"a plant that was moved is where it stood", func(f crop.Farm) {
			visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Counts: emberOf(crop.GradeFirst, 24)})
			for _, id := range []crop.PlantID{"e", "f"} {
				p := f.Plants[id]
				p.Bed, p.Stood = "other", []crop.Stay{{Bed: "bed", Until: cutDay}}
				f.Plants[id] = p
			}
		}, map[source]int{young: 24}},
		{"of a planting whose plants nobody listed ten are taken", func(f crop.Farm) {
			visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Counts: emberOf(crop.GradeFirst, 24)})
			delete(f.Plants, "e")
			delete(f.Plants, "f")
			delete(f.Plants, "d")
			f.Plantings["more"] = crop.Planting{ID: "more", Stock: "s3", Bed: "bed", Planted: "2025-04-01", FirstSeason: 2025}
			f.Plants["g"] = crop.Plant{ID: "g", Planting: "young", Colour: "ember"}
		}, map[source]int{young: 2, old: 11, {"s3", 2, ""}: 11}},
		{"without any total, those that nobody counted gave as many each", func(f crop.Farm) {
			visit(f, crop.Visit{Plant: "a", Purpose: crop.PurposeCut, Counts: emberOf(crop.GradeFirst, 2)})
		}, map[source]int{a: 10, young: 5, old: 9}},
		{"a bed in which nothing stands", func(f crop.Farm) { clear(f.Plants); clear(f.Plantings) }, map[source]int{{}: 24}},
	} {
		f := bedOfTwo()
		c.put(f)
		got := newSources(f).take(emberLot, 24)
		if !maps.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestManySmallBunchesHaveOfEachPlantWhatItGave(t *testing.T) {
	f := bedOfTwo()
	visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Counts: emberOf(crop.GradeFirst, 24)})
	visit(f, crop.Visit{Plant: "a", Purpose: crop.PurposeCut, Counts: emberOf(crop.GradeFirst, 1)})
	s, got := newSources(f), map[source]int{}
	for range 12 {
		for of, n := range s.take(emberLot, 2) {
			got[of] += n
		}
	}
	if got[source{"s1", 1, "a"}] != 1 || got[source{"s2", 3, ""}] != 15 || got[source{"s1", 1, ""}] != 8 {
		t.Errorf("twelve bunches of two: %v", got)
	}
}
