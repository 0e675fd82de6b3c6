package forecast

import (
	"fmt"
	"slices"
	"testing"

	"corymb/internal/crop"
)

// twoSpecies is a farm with a bed of each, cut in one season in May and in July.
func twoSpecies() crop.Farm {
	farm := crop.NewFarm()
	for _, of := range []struct {
		name  string
		first crop.Date
	}{{"early", "2025-05-15"}, {"late", "2025-07-15"}} {
		stock, bed := crop.StockID(of.name), crop.BedID(of.name)
		farm.Stocks[stock], farm.Beds[bed] = crop.Stock{ID: stock, Species: of.name}, crop.Bed{ID: bed}
		planting := crop.Planting{ID: crop.PlantingID(of.name), Stock: stock, Bed: bed, Planted: "2023-09-20", FirstSeason: 2024}
		farm.Plantings[planting.ID] = planting
		for k := range 20 {
			id := crop.PlantID(fmt.Sprint(of.name, k))
			farm.Plants[id] = crop.Plant{ID: id, Planting: planting.ID, Colour: crop.ColourID(of.name)}
		}
		for k, stems := range []int{5, 20, 40, 45, 40, 25, 15, 8, 3} {
			day := of.first.Add(4 * k)
			id := crop.VisitID(fmt.Sprint(of.name, day))
			farm.Visits[id] = crop.Visit{ID: id, Bed: bed, Date: day, Purpose: crop.PurposeBench, Flush: crop.FlushSpring, Counts: []crop.Count{{Stems: stems}}}
		}
	}
	return farm
}

func TestSpeciesBloomEachInItsOwnTime(t *testing.T) {
	f, err := Of(twoSpecies(), "2026-03-15")
	if err != nil {
		t.Fatal(err)
	}
	in := func(colour crop.ColourID, from, to crop.Date) (part float64) {
		all := 0.0
		for _, week := range f.Weeks {
			all += week.Colours[colour].Mean
			if week.First >= from && week.First <= to {
				part += week.Colours[colour].Mean
			}
		}
		return part / all
	}
	if part := in("early", "2026-04-27", "2026-06-29"); part < 0.7 {
		t.Errorf("%.2f of the early ones come from May to June", part)
	}
	if part := in("late", "2026-06-29", "2026-08-31"); part < 0.7 {
		t.Errorf("%.2f of the late ones come from July to August", part)
	}
}

func TestOneSpeciesSaysNothingOfAnother(t *testing.T) {
	farm := twoSpecies()
	r := read(farm, "2026-03-15")
	stands := r.stands()
	if len(stands) != 2 || stands[0].species != "early" || len(stands[0].cohorts)+len(stands[1].cohorts) != len(r.cohorts) {
		t.Fatalf("%d stands of %d cohorts", len(stands), len(r.cohorts))
	}
	for _, s := range stands {
		for k, c := range s.cohorts {
			if farm.Stocks[c.stock].Species != s.species || r.cohorts[s.at[k]].planting != c.planting {
				t.Errorf("a cohort of %s stands with %s", c.stock, s.species)
			}
		}
	}
	asked, err := r.ahead([]crop.Date{"2026-05-18"}, stands, func(i int) bool { return r.cohorts[i].stock == "early" })
	if err != nil || len(asked[0].kinds) != 0 || len(asked[1].kinds) != 1 || !slices.Equal(asked[1].ends, asked[0].ends) {
		t.Errorf("with one left out %v are asked about (%v)", asked, err)
	}
}
