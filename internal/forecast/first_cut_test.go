package forecast

import (
	"fmt"
	"reflect"
	"testing"

	"corymb/internal/crop"
)

func forecastOf(t *testing.T, farm crop.Farm, asOf crop.Date) Forecast {
	t.Helper()
	f, err := Of(farm, asOf)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// first is the middle of the odds of a stock's first cut; empty where there are none.
func first(f Forecast, stock crop.StockID, flush crop.Flush) crop.Date {
	for _, cut := range f.FirstCuts {
		if cut.Stock == stock && cut.Flush == flush {
			return cut.Q50
		}
	}
	return ""
}

const keepers = crop.StockID("Lantern keepers")

func TestFirstCutsAreOfFlushesThatHaveNotBegun(t *testing.T) {
	tests := []struct {
		asOf         crop.Date
		spring, fall bool
	}{
		{"2025-04-20", true, true}, {"2025-06-05", false, true}, {"2025-12-20", false, false},
	}
	for _, test := range tests {
		t.Run(string(test.asOf), func(t *testing.T) {
			f := forecastOf(t, sample(t, test.asOf), test.asOf)
			if spring, fall := first(f, keepers, crop.FlushSpring) != "", first(f, keepers, crop.FlushFall) != ""; spring != test.spring || fall != test.fall {
				t.Errorf("%+v", f.FirstCuts)
			}
			for _, cut := range f.FirstCuts {
				if !(test.asOf < cut.Q05 && cut.Q05 <= cut.Q50 && cut.Q50 <= cut.Q95 && cut.Chance > 0 && cut.Chance <= 1) {
					t.Errorf("%+v", cut)
				}
			}
		})
	}
}

func TestSeasonsWhoseBedsWereCutBackHadAFallFlushThoughNobodyCalledItThat(t *testing.T) {
	const asOf = "2025-04-20"
	farm := sample(t, asOf)
	told := forecastOf(t, farm, asOf)
	for id, visit := range farm.Visits {
		if visit.Flush == crop.FlushFall {
			visit.Flush = ""
			farm.Visits[id] = visit
			bed := farm.Beds[visit.Bed]
			if visit.Plant != "" {
				bed = farm.Beds[farm.BedOf(farm.Plants[visit.Plant])]
			}
			season := farm.Calendar.SeasonOf(visit.Date)
			if bed.CutBack == nil {
				bed.CutBack = map[crop.Season]crop.Date{}
			}
			bed.CutBack[season] = farm.Calendar.Spring(season).Add(130)
			farm.Beds[bed.ID] = bed
		}
	}
	chance := func(f Forecast) float64 { return f.FirstCuts[1].Chance }
	if untold := chance(forecastOf(t, farm, asOf)); untold < chance(told)-0.1 {
		t.Errorf("a fall flush comes with a chance of %.2f, called so of %.2f", untold, chance(told))
	}
}

func TestAFirstCutThatIsOverdueLiesAhead(t *testing.T) {
	const asOf = "2025-06-20"
	farm := sample(t, "2025-03-01") // nothing was told since
	f := forecastOf(t, farm, asOf)
	for _, cut := range f.FirstCuts {
		if cut.Q05 <= asOf {
			t.Errorf("%+v", cut)
		}
	}
	if first(f, keepers, crop.FlushSpring) == "" {
		t.Errorf("the spring's has no odds: %+v", f.FirstCuts)
	}
}

// A season three degrees warmer than the one before is the only one with a flush, on days 70 to 96: in the usual one, which is
// the mean of both, it would have been on days 80 to 110.
func TestAFlushThatWarmthBroughtForwardIsLaterInAUsualSeason(t *testing.T) {
	const asOf = "2025-04-10"
	farm := crop.NewFarm()
	farm.Stocks["S"], farm.Beds["B"] = crop.Stock{ID: "S"}, crop.Bed{ID: "B"}
	farm.Plantings["P"] = crop.Planting{ID: "P", Stock: "S", Bed: "B", Planted: "2023-09-20", FirstSeason: 2024}
	for k := range 20 {
		id := crop.PlantID(fmt.Sprint(k))
		farm.Plants[id] = crop.Plant{ID: id, Planting: "P"}
	}
	giveWeather(&farm, 2023, 306, 18)
	giveWeather(&farm, 2024, 306, 21)
	giveWeather(&farm, 2025, 41, 19.5)
	for k, stems := range []int{2, 8, 18, 28, 32, 28, 18, 8, 2} {
		id, day := crop.VisitID(fmt.Sprint(k)), farm.Calendar.Spring(2024).Add(72+3*k)
		farm.Visits[id] = crop.Visit{ID: id, Bed: "B", Date: day, Purpose: crop.PurposeBench, Flush: crop.FlushSpring, Counts: []crop.Count{{Stems: stems}}}
	}
	if cut := first(forecastOf(t, farm, asOf), "S", crop.FlushSpring); cut < "2025-05-15" || cut > "2025-05-28" {
		t.Errorf("its first cut comes on %s, want about the 20th of May", cut)
	}
}

func TestAWarmSpringBringsTheFirstCutForward(t *testing.T) {
	const asOf = "2025-04-20"
	spring := func(degrees float64) (crop.Date, *SeasonShift, *Warmth) {
		farm := sample(t, asOf)
		giveWeather(&farm, 2023, 306, 18)
		giveWeather(&farm, 2024, 306, 18)
		giveWeather(&farm, 2025, 51, degrees)
		f := forecastOf(t, farm, asOf)
		return first(f, keepers, crop.FlushSpring), f.Shift, f.Warmth
	}
	usual, usualShift, _ := spring(18)
	early, earlyShift, warmth := spring(21)
	// Days with 11 degree-days where 8 are usual count 11.8 against 8.8: 51 days are as 68.
	if warmth.Ahead < 16 || warmth.Ahead > 19 {
		t.Errorf("the warmth is ahead by %v days", warmth.Ahead)
	}
	if forward := early.DaysTo(usual); forward < 11 || forward > 23 {
		t.Errorf("the first cut comes %d days sooner, on %s instead of %s", forward, early, usual)
	}
	if forward := usualShift.Usual.Q50 - earlyShift.Usual.Q50; forward < 11 || forward > 23 {
		t.Errorf("the season is %v days sooner: %+v, %+v", forward, usualShift, earlyShift)
	}
}

func TestCuttingBackLaterPutsTheFallOff(t *testing.T) {
	const asOf = "2025-08-01"
	fall := func(day crop.Date) crop.Date {
		farm := sample(t, asOf)
		for id, bed := range farm.Beds {
			bed.CutBack = map[crop.Season]crop.Date{2025: day}
			farm.Beds[id] = bed
		}
		return first(forecastOf(t, farm, asOf), keepers, crop.FlushFall)
	}
	early, late := fall("2025-07-01"), fall("2025-07-29")
	if by := early.DaysTo(late); by < 20 || by > 32 {
		t.Errorf("cut back four weeks later, the fall's first cut comes on %s instead of %s", late, early)
	}
	if wait := crop.Date("2025-07-29").DaysTo(late); wait < 47 || wait > 61 {
		t.Errorf("it comes %d days after that; seven and a half weeks, and two days for the first stems, are usual", wait)
	}
	if never, notYet := fall(""), fall("2025-08-02"); never != notYet {
		t.Errorf("a day of cutting back that lies ahead brings %s instead of %s", notYet, never)
	}
}

func TestNoWeatherOfLaterDaysIsUsed(t *testing.T) {
	const asOf = "2025-05-08"
	farm := func(days int) crop.Farm {
		farm := sample(t, asOf)
		giveWeather(&farm, 2024, 306, 18)
		giveWeather(&farm, 2025, days, 20)
		return farm
	}
	whole, cutOff := forecastOf(t, farm(306), asOf), forecastOf(t, farm(69), asOf)
	if !reflect.DeepEqual(whole, cutOff) {
		t.Errorf("%+v\n%+v", whole, cutOff)
	}
}
