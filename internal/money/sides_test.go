package money

import (
	"testing"

	"corymb/internal/crop"
)

func TestFirstAndSecondSeasonPlantsSideBySide(t *testing.T) {
	f := sellingFarm() // 25 first of the old planting and 6 extra of the young one over the bench
	old := f.Plantings["old"]
	old.FirstSeason = 2025
	f.Plantings["old"] = old
	visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Planting: "young", Counts: emberOf(crop.GradeOut, 2)})
	visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Planting: "young", Counts: emberOf("", 3)})
	f.Money.Work["weed"] = crop.Work{ID: "weed", Date: cutDay, Kind: crop.WorkWeed, Minutes: 60, Bed: "bed"}
	sides := Of(f, 2026, 2000).Sides()
	for i, want := range []struct {
		age                     string
		plants                  int
		cut, saleable, ungraded int64
		stems                   int
		minutes                 int64
		cents                   crop.Cents
	}{
		// Of 7 minutes of cutting a fifth by stems, of 60 of weeding two thirds by plants.
		{"1", 4, 11_000, 6_000, 3_000, 6, 1 + 40, 47 + 1333},
		{"2", 2, 25_000, 25_000, 0, 24, 6 + 20, 186 + 667},
		{"3+", 0, 0, 0, 0, 0, 0, 0},
	} {
		s := sides[i]
		if s.Age != want.age || s.Plants != want.plants || s.Cut != want.cut || s.Saleable != want.saleable || s.Ungraded != want.ungraded || s.Stems != want.stems || s.WorkMinutes != want.minutes || s.WorkCents != want.cents {
			t.Errorf("%+v\nwant %+v", s, want)
		}
	}
	if share, known := sides[0].SaleableShare(); !known || share != 0.75 {
		t.Errorf("of the first season %v can be sold", share)
	}
	if _, known := sides[2].SaleableShare(); known {
		t.Error("a share of no stems is known")
	}
}

func TestStemsOfPlantsOutsideABedsTotalCountToo(t *testing.T) {
	f := bedOfTwo()
	visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Planting: "old", Counts: emberOf(crop.GradeFirst, 10)})
	visit(f, crop.Visit{Plant: "a", Purpose: crop.PurposeCut, Counts: emberOf(crop.GradeFirst, 3)})
	visit(f, crop.Visit{Plant: "e", Purpose: crop.PurposeCut, Counts: emberOf(crop.GradeFirst, 4)})
	sides := Of(f, 2026, 0).Sides()
	if sides[0].Cut != 3_000 || sides[2].Cut != 10_000 {
		t.Errorf("%+v", sides)
	}
}

func TestSidesHaveNoMoreThanTheBooks(t *testing.T) {
	eachFarm(t, func(t *testing.T, m *made, b *Books) {
		all, minutes, cents := b.By(ByDay, Filter{}).All.Sums, int64(0), crop.Cents(0)
		for _, s := range b.Sides() {
			minutes, cents = minutes+s.WorkMinutes, cents+s.WorkCents
		}
		if minutes > int64(all.Minutes) || cents > all.Work {
			t.Errorf("sides have %d minutes and %d cents of %d and %d", minutes, cents, all.Minutes, all.Work)
		}
	})
}
