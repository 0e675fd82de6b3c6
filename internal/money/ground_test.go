package money

import (
	"math"
	"testing"

	"corymb/internal/crop"
)

// TestABedOfBunchesAndBouquets is the second worked example of the trade: a bed of 2 by 160 feet that gave 199 bunches of
// five at 4.00 and about 660 stems in bouquets (a trade magazine of 2009; by arithmetic 796.00, 4.975 a foot of the bed,
// 2.4875 a square foot, 1,655 stems, 5.17 a square foot). Two feet are 609.6 mm, of which a bed holds whole ones: 610.
func TestABedOfBunchesAndBouquets(t *testing.T) {
	f := bedOfTwo()
	f.Unit = crop.Inches
	visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Counts: emberOf(crop.GradeFirst, 1655)})
	f.Sales.Orders["o"] = crop.Order{ID: "o", Due: "2026-06-05"}
	for id, sold := range map[crop.LineID]struct {
		bunches, stems int
		price          crop.Cents
	}{"bunches": {199, 5, 400}, "bouquets": {1, 660, 0}} {
		f.Sales.Lines[id] = crop.Line{ID: id, Order: "o", Bunches: sold.bunches, Stems: sold.stems, Price: sold.price}
		f.Sales.Packed[crop.PackedID(id)] = crop.Packed{ID: crop.PackedID(id), Line: id, Due: "2026-06-05", Date: "2026-06-05", Bunches: sold.bunches, Stems: map[crop.LotID]int{emberLot: sold.bunches * sold.stems}}
	}
	b := Of(f, 2026, 0)
	row := b.By(ByBed, Filter{}).Rows[0]
	if row.Gross != 79_600 || row.Stems != 1655 || b.Unpriced != 1 {
		t.Errorf("%d cents, %d stems, %d bunches without a price", row.Gross, row.Stems, b.Unpriced)
	}
	feet, square := row.Ground.LengthIn(f.Unit), row.Ground.AreaIn(f.Unit)
	for what, c := range map[string]struct{ got, want float64 }{
		"cents a foot":        {float64(row.Gross) / feet, 497.5},
		"cents a square foot": {float64(row.Gross) / square, 248.75},
		"stems a square foot": {float64(row.Stems) / square, 5.17},
		"feet":                {feet, 160},
		"metres":              {row.Ground.LengthIn(crop.Centimetres), 48.768},
	} {
		if math.Abs(c.got-c.want) > 0.5 && what != "stems a square foot" || math.Abs(c.got-c.want) > 0.005*c.want {
			t.Errorf("%s: %v, want %v", what, c.got, c.want)
		}
	}
}

func TestAPlantStandsUntilTheCuttingBegins(t *testing.T) {
	f := sellingFarm()
	for id, removed := range map[crop.PlantID]crop.Date{"c": cutDay.Add(-1), "d": cutDay, "e": cutDay.Add(9)} {
		p := f.Plants[id]
		p.Removed = removed
		f.Plants[id] = p
	}
	v := Of(f, 2026, 0).By(ByAge, Filter{})
	if v.All.Ground.Plants != 5 || v.All.Ground.Length != 48_768 {
		t.Errorf("%+v", v.All.Ground)
	}
	for _, row := range v.Rows {
		if want := map[string]int{"1": 3, "3": 2}[row.Key]; want != 0 && (row.Ground == nil || row.Ground.Plants != want || row.Ground.Length != 0) {
			t.Errorf("age %s: %+v, want %d plants", row.Key, row.Ground, want)
		}
	}
	if g := Of(f, 2026, 0).By(ByAge, Filter{Is: map[Dim]string{ByChannel: "co_op"}}).All.Ground; g != nil {
		t.Errorf("of a channel no plants can be told, got %+v", g)
	}
	if g := Of(f, 2026, 0).By(ByBed, Filter{Is: map[Dim]string{ByStock: "s2"}}).All.Ground; g == nil || g.Plants != 2 || g.Length != 0 {
		t.Errorf("of a stock: %+v", g)
	}
}

func TestABedThatBroughtNothingHasItsRow(t *testing.T) {
	f := sellingFarm()
	f.Beds["idle"] = crop.Bed{ID: "idle", Length: 5000, Width: 1000}
	f.Plantings["idle"] = crop.Planting{ID: "idle", Stock: "s1", Bed: "idle", Planted: "2024-04-01", FirstSeason: 2025}
	f.Plants["idle"] = crop.Plant{ID: "idle", Planting: "idle"}
	for _, row := range Of(f, 2026, 0).By(ByBed, Filter{}).Rows {
		if row.Key == "idle" && row.Sums == (Sums{}) && row.Ground.Plants == 1 && row.Ground.Length == 5000 {
			return
		}
	}
	t.Error("the bed that brought nothing is not there")
}
