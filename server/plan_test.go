package main

import (
	"encoding/json"
	"testing"

	"corymb/internal/counting"
	"corymb/internal/crop"
)

func TestTheAgesCarryThePlansTableOfEverySpecies(t *testing.T) {
	f := crop.NewFarm()
	f.Stocks["y"] = crop.Stock{ID: "y", Species: "yarrow"}
	f.Stocks["p"] = crop.Stock{ID: "p", Species: "phlox"}
	f.Plantings["a"] = crop.Planting{ID: "a", Stock: "y", FirstSeason: 2025}
	f.Plantings["b"] = crop.Planting{ID: "b", Stock: "p", FirstSeason: 2026}
	f.Plants["a1"] = crop.Plant{ID: "a1", Planting: "a"}
	f.Plants["b1"] = crop.Plant{ID: "b1", Planting: "b"}
	fitted, err := fitAges(f, "2026-06-01", nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(fitted) != 2 {
		t.Fatalf("%d species, want 2", len(fitted))
	}
	for i, want := range []int{2, 3} { // phlox: seasons 1 and 2; yarrow: 1, 2 and 3
		var table counting.Table
		if err := json.Unmarshal(fitted[i].Plan, &table); err != nil || len(table.Ages) != want {
			t.Errorf("%s: %d ages in the table, want %d", fitted[i].Species, len(table.Ages), want)
		}
	}
}
