package demo_test

import (
	"testing"

	"corymb/internal/crop"
	"corymb/internal/farm"
)

func TestTheMadeUpWeatherIsLateInTheSeasonThatWas(t *testing.T) {
	s, _ := state(t)
	f := farm.Read(farmID, s)
	if days, wrong := len(f.Ahead.Weather), len(f.Ahead.WeatherWrong); days != 3*273+1 || wrong != 0 { // one leap year
		t.Errorf("%d days of weather, %d of them wrong", days, wrong)
	}
	warmthBy := func(last crop.Date) (sum float64) {
		for date, day := range f.Ahead.Weather {
			if date.Year() == last.Year() && date <= last {
				sum += max((day.Min+day.Max)/2-f.Ahead.Warmth.Lower, 0)
			}
		}
		return sum
	}
	if late, early := warmthBy("2024-05-31"), warmthBy("2025-05-31"); late >= early {
		t.Errorf("by the end of May %.0f degree-days had come in the late season, %.0f in the early one", late, early)
	}
}

func TestTheMadeUpFarmCouldNotPromiseEverything(t *testing.T) {
	s, _ := state(t)
	f := farm.Read(farmID, s)
	unmet := 0
	for _, a := range f.Ahead.Asks {
		unmet += a.Unmet()
		if _, known := f.Sales.Buyers[a.Buyer]; a.Buyer != "" && !known {
			t.Errorf("%q is asked for by nobody in the book", a.Note)
		}
	}
	if len(f.Ahead.Asks) == 0 || unmet == 0 {
		t.Errorf("%d asks, %d stems unmet", len(f.Ahead.Asks), unmet)
	}
}
