package forecast

import (
	"reflect"
	"testing"

	"corymb/internal/crop"
)

func TestAHalfEnteredSeasonIsDoubted(t *testing.T) {
	tests := []struct {
		name    string
		entered crop.Date // up to which
		asOf    crop.Date
		want    *Stretch
	}{
		{"all of it entered", "2025-07-01", "2025-07-01", nil},
		{"nothing in the flush", "2025-05-22", "2025-07-01", &Stretch{"2025-05-21", "2025-07-01"}},
		{"asked before long", "2025-05-22", "2025-05-30", nil},
		{"in winter nobody cuts", "2025-12-31", "2025-12-31", nil},
		{"nothing of the season at all", "2024-12-31", "2025-07-01", &Stretch{"2025-03-01", "2025-07-01"}},
		{"before it begins", "2024-12-31", "2025-04-20", nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var got *Stretch
			if silent := DoubtsOf(sample(t, test.entered), test.asOf).Silent; silent != nil {
				got = &silent.Stretch
			}
			if !reflect.DeepEqual(got, test.want) {
				t.Errorf("doubted is %v, want %v", got, test.want)
			}
		})
	}
}

func TestStocksOfWhichNoCutTellsAreUnseen(t *testing.T) {
	farm := sample(t, "2025-07-01")
	if got := DoubtsOf(farm, "2025-07-01").Unseen; len(got) > 0 {
		t.Fatalf("unseen are %v", got)
	}
	farm.Plantings["new"] = crop.Planting{ID: "new", Stock: "new", Bed: "new", Planted: "2024-10-01", FirstSeason: 2025}
	farm.Plants["new"] = crop.Plant{ID: "new", Planting: "new"}
	farm.Plantings["gone"] = crop.Planting{ID: "gone", Stock: "gone", Bed: "new", Planted: "2024-10-01", FirstSeason: 2025}
	farm.Plants["gone"] = crop.Plant{ID: "gone", Planting: "gone", Removed: "2025-01-01"}
	if got := DoubtsOf(farm, "2025-07-01").Unseen; !reflect.DeepEqual(got, []crop.StockID{"new"}) {
		t.Errorf("unseen are %v", got)
	}
}
