package forecast

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"corymb/internal/crop"
)

var scoredFarms = flag.Int("forecast.scored", 1, "how many made-up farms' past weeks are scored; from 11 on each its own seed")

// scored is a made-up farm in its third season.
func scored(t *testing.T, seed uint64) (crop.Farm, crop.Date) {
	t.Helper()
	made := newMaker(rand.New(rand.NewPCG(seed, 1))).farmOf()
	return made.farm, made.asOf
}

func TestWeeksGoneByAreScoredBetterThanByPlainForecasts(t *testing.T) {
	crps, again, pooled, inside, n := 0.0, 0.0, 0.0, 0.0, 0
	for seed := uint64(11); seed < 11+uint64(*scoredFarms); seed++ {
		farm, asOf := scored(t, seed)
		scores, _, err := Score(farm, asOf, nil)
		if err != nil {
			t.Fatal(err)
		}
		if scores.N < 8 || scores.Left != 0 {
			t.Fatalf("seed %d: %d weeks are scored and %d left", seed, scores.N, scores.Left)
		}
		weeks := float64(scores.N)
		crps, again, pooled, inside, n = crps+scores.CRPS*weeks, again+*scores.Again*weeks, pooled+*scores.Pooled*weeks, inside+float64(scores.Inside), n+scores.N
	}
	t.Logf("%d weeks: %.1f against %.1f of last week again and %.1f pooled; %.2f inside", n, crps/float64(n), again/float64(n), pooled/float64(n), inside/float64(n))
	if crps > 0.8*again || crps > 0.8*pooled {
		t.Errorf("the score is %.0f against %.0f and %.0f", crps, again, pooled)
	}
	if inside < 0.75*float64(n) {
		t.Errorf("ranges hold %.0f of %d weeks", inside, n)
	}
}

func TestAWeekIsForecastOnceForWhatItRestsOn(t *testing.T) {
	farm, asOf := scored(t, 6)
	asOf = asOf.Add(-364) // so that few weeks have to be scored
	first, kept, err := Score(farm, asOf, nil)
	if err != nil {
		t.Fatal(err)
	}
	lastWeek := first.Weeks[len(first.Weeks)-1].First
	scoredAnew := func(farm crop.Farm) int {
		marked := map[string]Scored{}
		for name, one := range kept {
			one.Unknown = -1
			marked[name] = one
		}
		again, _, err := Score(farm, asOf, marked)
		if err != nil {
			t.Fatal(err)
		}
		anew := 0
		for _, one := range again.Weeks {
			if one.Unknown != -1 && one.First <= lastWeek {
				anew++
			}
		}
		return anew
	}
	change := func(change func(*crop.Farm)) crop.Farm {
		farm := colourless(farm) // whose maps may be written to
		change(&farm)
		return farm
	}
	tests := []struct {
		name string
		farm crop.Farm
		want int
	}{
		{"the same farm", farm, 0},
		{"a plant's colour was noted", change(func(f *crop.Farm) {
			plant := f.Plants["B0-1"]
			plant.Colour = "c1"
			f.Plants[plant.ID] = plant
		}), 0},
		{"a plant was taken out today", change(func(f *crop.Farm) {
			plant := f.Plants["B0-1"]
			plant.Removed = asOf
			f.Plants[plant.ID] = plant
		}), 0},
		{"a stem of its last week came to light", change(func(f *crop.Farm) {
			f.Visits["late"] = crop.Visit{ID: "late", Plant: "B0-1", Date: lastWeek.Add(1), Purpose: crop.PurposeCut, Counts: []crop.Count{{Stems: 1}}}
		}), 1},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := scoredAnew(test.farm); got != test.want {
				t.Errorf("%d weeks were scored anew, want %d", got, test.want)
			}
		})
	}
	twice, _, err := Score(farm, asOf, kept)
	if err != nil || !reflect.DeepEqual(first, twice) {
		t.Errorf("what was kept says otherwise: %v", err)
	}
}

func TestWhatCameIsToldByBenchThenBedThenPlant(t *testing.T) {
	visit := func(purpose crop.Purpose, plant crop.PlantID, planting crop.PlantingID, stems int) crop.Visit {
		return crop.Visit{
			ID: crop.VisitID(fmt.Sprint(purpose, plant, planting)), Purpose: purpose, Plant: plant, Bed: "B", Planting: planting,
			Date: "2025-05-21", Counts: []crop.Count{{Stems: stems}},
		}
	}
	plant1, plant2 := visit(crop.PurposeCut, "1", "", 3), visit(crop.PurposeCut, "2", "", 4)
	tests := []struct {
		name   string
		visits []crop.Visit
		want   int
	}{
		{"plants alone", []crop.Visit{plant1, plant2}, 7},
		{"a bed cut holds them", []crop.Visit{plant1, plant2, visit(crop.PurposeBedCut, "", "", 20)}, 20},
		{"a bench total holds both", []crop.Visit{plant1, plant2, visit(crop.PurposeBedCut, "", "", 20), visit(crop.PurposeBench, "", "", 18)}, 18},
		{"a bench total of one planting leaves the other", []crop.Visit{plant1, plant2, visit(crop.PurposeBench, "", "P1", 5)}, 9},
		{"a bench total of nothing", []crop.Visit{visit(crop.PurposeBench, "", "", 0)}, 0},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			farm := crop.NewFarm()
			farm.Stocks["S"], farm.Beds["B"] = crop.Stock{ID: "S"}, crop.Bed{ID: "B"}
			for k, id := range []crop.PlantID{"1", "2"} {
				planting := crop.Planting{ID: crop.PlantingID("P" + id), Stock: "S", Bed: "B", Planted: "2023-09-20", FirstSeason: crop.Season(2024 + k)}
				farm.Plantings[planting.ID], farm.Plants[id] = planting, crop.Plant{ID: id, Planting: planting.ID}
			}
			for _, v := range test.visits {
				farm.Visits[v.ID] = v
			}
			came, known := read(farm, "2025-06-01").came().in("2025-05-19", nil)
			if !known || came != test.want {
				t.Errorf("%v came (%v), want %d", came, known, test.want)
			}
		})
	}
}

func TestPlantsOfWhichNothingIsToldAreLeftOutAndCounted(t *testing.T) {
	farm, asOf := scored(t, 6)
	asOf = asOf.Add(-364) // so that few weeks have to be scored
	for id, v := range farm.Visits {
		if v.Purpose == crop.PurposeBench && v.Bed == "B0" {
			delete(farm.Visits, id)
		}
	}
	scores, _, err := Score(farm, asOf, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(scores.Weeks) == 0 {
		t.Fatal("no week is scored")
	}
	stand := 0
	for _, plant := range farm.Plants {
		if farm.BedOf(plant) == "B0" && len(plant.Counted) == 0 && (plant.Removed == "" || plant.Removed > asOf) {
			stand++
		}
	}
	for _, week := range scores.Weeks {
		if week.Unknown < stand || stand == 0 {
			t.Errorf("%s leaves %d plants out, but nobody tells of the %d uncounted ones in one bed", week.Week, week.Unknown, stand)
		}
	}
}
