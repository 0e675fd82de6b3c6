package main

import (
	"testing"

	"corymb/internal/crop"
	"corymb/server/httpapi"
)

func TestWhatAPlantIsWorthIsDrawnAgainOnlyWhereItsStemsMayBeOthers(t *testing.T) {
	farm := crop.NewFarm()
	farm.Stocks["S"], farm.Beds["B"] = crop.Stock{ID: "S", Species: "yarrow"}, crop.Bed{ID: "B"}
	farm.Plantings["P"] = crop.Planting{ID: "P", Stock: "S", Bed: "B", Planted: "2024-09-20", FirstSeason: 2025}
	farm.Plants["1"] = crop.Plant{ID: "1", Planting: "P"}
	farm.Sales.Lines["l"] = crop.Line{ID: "l", Bunches: 2, Stems: 10, Price: 500}
	lot := crop.LotID{Bed: "B", Cut: "2026-05-20", Grade: crop.GradeFirst}
	farm.Sales.Packed["p"] = crop.Packed{ID: "p", Line: "l", Due: "2026-05-21", Date: "2026-05-21", Bunches: 2, Stems: map[crop.LotID]int{lot: 20}}
	first, err := worthOfPlants(farm, 2026, "2026-06-01", 2000, nil)
	if err != nil || len(first.Species) != 1 || len(first.Draws) != 1 {
		t.Fatalf("%+v (%v)", first.Species, err)
	}
	first.Draws[0].Ages = first.Draws[0].Ages[:1] // to be known again
	changed := func(change func(*crop.Farm)) crop.Farm {
		f := whatDrawsRestOn(farm)
		f.Sales, f.Money = farm.Sales, farm.Money
		change(&f)
		return f
	}
	dearer := map[crop.LineID]crop.Line{"l": {ID: "l", Bunches: 2, Stems: 10, Price: 1000}}
	for _, test := range []struct {
		name   string
		farm   crop.Farm
		season crop.Season
		day    crop.Date
		again  bool
		times  float64 // of what it was
	}{
		{"the same", farm, 2026, "2026-06-01", true, 1},
		{"a stem sells at twice as much", changed(func(f *crop.Farm) { f.Sales.Lines = dearer }), 2026, "2026-06-01", true, 2},
		{"another day", farm, 2026, "2026-06-02", false, 1},
		{"a plant came", changed(func(f *crop.Farm) { f.Plants = map[crop.PlantID]crop.Plant{"2": {ID: "2", Planting: "P"}} }), 2026, "2026-06-01", false, 1},
		{"something was counted", changed(func(f *crop.Farm) {
			f.Visits = map[crop.VisitID]crop.Visit{"v": {ID: "v", Bed: "B", Date: "2026-05-20", Purpose: crop.PurposeBench}}
		}), 2026, "2026-06-01", false, 1},
	} {
		got, err := worthOfPlants(test.farm, test.season, test.day, 2000, &httpapi.Worth{Draws: first.Draws, Rests: first.Rests})
		if err != nil || len(got.Species) != 1 || (len(got.Species[0].Ages) == 1) != test.again {
			t.Errorf("%s: %+v (%v), said again: want %v", test.name, got.Species, err, test.again)
			continue
		}
		was, is := first.Species[0].Ages[0].Cents.Median, got.Species[0].Ages[0].Cents.Median
		if ratio := is / was; test.again && (ratio < test.times-0.01 || ratio > test.times+0.01) {
			t.Errorf("%s: %.2f times what it was, want %v", test.name, ratio, test.times)
		}
	}
}
