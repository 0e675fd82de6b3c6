package main

import (
	"testing"

	"corymb/internal/crop"
	"corymb/internal/forecast"
	"corymb/server/httpapi"
)

func TestWhatIsToComeIsSaidAgainAsLongAsItRestsOnTheSame(t *testing.T) {
	farm := crop.NewFarm()
	farm.Stocks["S"], farm.Beds["B"] = crop.Stock{ID: "S"}, crop.Bed{ID: "B"}
	farm.Plantings["P"] = crop.Planting{ID: "P", Stock: "S", Bed: "B", Planted: "2024-09-20", FirstSeason: 2025}
	farm.Plants["1"] = crop.Plant{ID: "1", Planting: "P"}
	first, err := forecastAhead(farm, "2026-05-01", nil)
	if err != nil || len(first.Dated) == 0 || first.Season != 2026 {
		t.Fatalf("%+v (%v)", first, err)
	}
	first.Dated = first.Dated[:1] // to be known again
	changed := func(change func(*crop.Farm)) crop.Farm {
		f := whatForecastsRestOn(farm)
		change(&f)
		return f
	}
	tests := []struct {
		name  string
		farm  crop.Farm
		day   crop.Date
		left  int
		again bool
	}{
		{"the same", farm, "2026-05-01", 0, true},
		{"a buyer came", changed(func(f *crop.Farm) { f.Sales.Buyers = map[crop.BuyerID]crop.Buyer{"b": {ID: "b"}} }), "2026-05-01", 0, true},
		{"another day", farm, "2026-05-02", 0, false},
		{"a plant came", changed(func(f *crop.Farm) { f.Plants["2"] = crop.Plant{ID: "2", Planting: "P"} }), "2026-05-01", 0, false},
		{"a colour was seen", changed(func(f *crop.Farm) { f.Plants["1"] = crop.Plant{ID: "1", Planting: "P", Colour: "c"} }), "2026-05-01", 0, false},
		{"bunches are tied of another length", changed(func(f *crop.Farm) { f.Sales.Bunches = map[crop.BunchID]crop.Bunch{"b": {Length: 500}} }), "2026-05-01", 0, false},
		{"a cold night was told", changed(func(f *crop.Farm) { f.Ahead.Weather = map[crop.Date]crop.Weather{"2026-04-30": {Date: "2026-04-30"}} }), "2026-05-01", 0, false},
		{"weeks are left to be scored", farm, "2026-05-01", 3, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			before := httpapi.Forecast{Answer: first.Answer, Scored: map[string]forecast.Scored{}, Rests: first.Rests}
			before.Scores.Left = test.left
			got, err := forecastAhead(test.farm, test.day, &before)
			if err != nil || (len(got.Dated) == 1) != test.again {
				t.Errorf("%d weeks (%v), said again: want %v", len(got.Dated), err, test.again)
			}
		})
	}
}
