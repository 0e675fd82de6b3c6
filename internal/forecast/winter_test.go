package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// wintered is a farm of two plantings in their second season, each of so many plants, of two stocks.
func wintered(plants int) crop.Farm {
	farm := crop.NewFarm()
	for b := range 2 {
		planting := crop.Planting{
			ID: crop.PlantingID(fmt.Sprint("P", b)), Stock: stockID(b), Bed: crop.BedID(fmt.Sprint("B", b)), Planted: "2023-09-20", FirstSeason: 2024,
		}
		farm.Stocks[planting.Stock], farm.Beds[planting.Bed], farm.Plantings[planting.ID] = crop.Stock{ID: planting.Stock}, crop.Bed{ID: planting.Bed}, planting
		for k := range plants {
			id := crop.PlantID(fmt.Sprint(planting.Bed, "-", k))
			farm.Plants[id] = crop.Plant{ID: id, Planting: planting.ID, Counted: map[crop.Season]crop.Window{}}
		}
	}
	return farm
}

func benchTotal(farm crop.Farm, date crop.Date, stems int) {
	id := crop.VisitID(fmt.Sprint("bench ", date))
	farm.Visits[id] = crop.Visit{ID: id, Bed: "B0", Date: date, Purpose: crop.PurposeBench, Counts: []crop.Count{{Stems: stems}}}
}

func TestStemsShowWhichPlantsStandAndNothingFoundDoesNot(t *testing.T) {
	for _, test := range []struct {
		name  string
		stems int
		shown bool
	}{{"nothing was found", 0, false}, {"stems were", 12, true}} {
		t.Run(test.name, func(t *testing.T) {
			farm := wintered(10)
			benchTotal(farm, "2024-06-03", 100)
			benchTotal(farm, "2025-04-20", test.stems)
			lasts, err := read(farm, "2025-04-25").lasts("")
			if err != nil || (len(lasts) == 0) != test.shown {
				t.Errorf("%d draws of which plants stand (%v), shown: %v", len(lasts), err, test.shown)
			}
		})
	}
}

// A winter of which nobody has told anything yet says nothing of how plants last.
func TestAWinterOfWhichNobodyToldIsNotTakenToHaveKilledNone(t *testing.T) {
	farm := wintered(100)
	benchTotal(farm, "2024-06-03", 100)
	lasts, err := read(farm, "2025-03-15").lasts("")
	if err != nil {
		t.Fatal(err)
	}
	lost := 0
	for _, of := range lasts {
		if stats.Logistic(of.Lasts[0]) < 0.8 {
			lost++
		}
	}
	if share := float64(lost) / float64(len(lasts)); share < 0.4 { // 0.65 by the prior
		t.Errorf("in %.2f of draws a fifth of plants die in their first winter", share)
	}
}

func TestHowPlantsLastIsTheSameForAllPlantingsOfADraw(t *testing.T) {
	farm := wintered(200)
	benchTotal(farm, "2024-06-03", 100)
	r := read(farm, "2025-03-15")
	asked, err := r.ahead(weeksLeft(farm.Calendar, r.asOf), r.stands(), func(int) bool { return false })
	if err != nil {
		t.Fatal(err)
	}
	s := newSampler(r.stands()[0].cohorts, r.timing, rand.NewPCG(8, 1))
	const draws = 4000
	var one, other, both, ones, others float64
	for range draws {
		var stand []float64
		for i, share := range s.alive(asked[0]) {
			if s.cohorts[i].season == 2025 {
				stand = append(stand, share)
			}
		}
		if len(stand) != 2 {
			t.Fatalf("%d cohorts stand in 2025, want 2", len(stand))
		}
		one, other, both = one+stand[0], other+stand[1], both+stand[0]*stand[1]
		ones, others = ones+stand[0]*stand[0], others+stand[1]*stand[1]
	}
	one, other = one/draws, other/draws
	alike := (both/draws - one*other) / math.Sqrt((ones/draws-one*one)*(others/draws-other*other))
	if alike < 0.4 {
		t.Errorf("two plantings fare alike by a correlation of %.2f", alike)
	}
}

// Of two stocks the one's flush comes before the other's, also where neither was ever seen.
func TestStocksOfWhichNoFallWasSeenBloomApart(t *testing.T) {
	farm := wintered(10)
	benchTotal(farm, "2024-06-03", 100)
	r := read(farm, "2025-03-15")
	s := newSampler(r.stands()[0].cohorts, r.timing, rand.NewPCG(9, 1))
	apart := 0.0
	const draws = 2000
	for range draws {
		curves := s.curvesAhead(ahead{season: 2025}, 1, shift{}, math.NaN())
		by := curves["S0"].onset - curves["S1"].onset
		apart += by * by / draws
	}
	if sd := math.Sqrt(apart); math.Abs(sd-math.Sqrt2*stockOnsetPrior.SD) > 0.5 {
		t.Errorf("they lie %.2f days apart, want %.2f", sd, math.Sqrt2*stockOnsetPrior.SD)
	}
}
