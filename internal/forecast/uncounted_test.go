package forecast

import (
	"testing"

	"corymb/internal/crop"
)

// nothingTold is a farm of some plants, of which nobody ever cut or counted one.
func nothingTold() crop.Farm {
	f := crop.NewFarm()
	f.Stocks["s"] = crop.Stock{ID: "s"}
	f.Beds["b"] = crop.Bed{ID: "b"}
	f.Plantings["p"] = crop.Planting{ID: "p", Stock: "s", Bed: "b", FirstSeason: 2025, Planted: "2024-09-20"}
	for _, id := range []crop.PlantID{"1", "2", "3"} {
		f.Plants[id] = crop.Plant{ID: id, Planting: "p"}
	}
	return f
}

func TestWhereNobodyTellsOfCutsNotAllThatEverOpenedIsStillToCome(t *testing.T) {
	tests := []struct {
		name        string
		asOf        crop.Date
		least, most float64 // stems to come in the mean
		spring      bool    // its first cut is still to come
	}{
		{"before the flush", "2025-04-15", 30, 90, true},
		{"weeks behind the spring flush", "2025-08-01", 1, 20, false},
		{"in winter", "2025-11-25", 0, 1, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			f, err := Of(nothingTold(), test.asOf)
			if err != nil {
				t.Fatal(err)
			}
			stems, spring := 0.0, false
			for _, week := range f.Weeks {
				stems += week.Total.Mean
			}
			for _, cut := range f.FirstCuts {
				spring = spring || cut.Flush == crop.FlushSpring
			}
			if stems < test.least || stems > test.most || spring != test.spring {
				t.Errorf("%.1f stems, want %v to %v; first cuts %+v", stems, test.least, test.most, f.FirstCuts)
			}
		})
	}
}
