package forecast

import (
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
	if wait := crop.Date("2025-07-29").DaysTo(late); wait < 6*7 || wait > 9*7+3 {
		t.Errorf("it comes %d days after that", wait)
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
