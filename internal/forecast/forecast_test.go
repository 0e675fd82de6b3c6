package forecast

import (
	"reflect"
	"testing"

	"corymb/internal/crop"
)

func TestNothingOfLaterDaysIsUsed(t *testing.T) {
	for _, day := range []crop.Date{"2025-03-01", "2025-06-05", "2025-09-10"} {
		t.Run(string(day), func(t *testing.T) {
			whole, err := Of(sample(t, "2026-01-01"), day)
			if err != nil {
				t.Fatal(err)
			}
			cutOff, err := Of(sample(t, day), day)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(whole, cutOff) {
				t.Errorf("the whole farm says\n%+v\nand the one cut off on the day\n%+v", whole.Weeks[0], cutOff.Weeks[0])
			}
		})
	}
}

func TestEveryWeekLeftOfTheSeasonIsThere(t *testing.T) {
	tests := []struct {
		name        string
		asOf        crop.Date
		first, last string
		weeks       int
	}{
		{"in the middle of a week, which is in it", "2025-05-08", "2025-W19", "2026-W01", 35},
		{"on a Sunday, of whose week nothing is left", "2025-05-11", "2025-W20", "2026-W01", 34},
		{"two days before the season ends", "2025-12-29", "2026-W01", "2026-W01", 1},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			weeks := weeksLeft(crop.NorthernYear, test.asOf)
			if len(weeks) != test.weeks || isoWeek(weeks[0]) != test.first || isoWeek(weeks[len(weeks)-1]) != test.last {
				t.Errorf("%d weeks from %s to %s", len(weeks), isoWeek(weeks[0]), isoWeek(weeks[len(weeks)-1]))
			}
		})
	}
	for asOf, want := range map[crop.Date]int{"2025-12-29": 1, "2025-12-31": 0} {
		f, err := Of(sample(t, asOf), asOf)
		if err != nil || len(f.Weeks) != want {
			t.Errorf("as of %s, with %d weeks left: %+v, %v", asOf, want, f, err)
		}
	}
}

func TestADayThatIsNoneIsRefused(t *testing.T) {
	if _, err := Of(crop.NewFarm(), "2025-02-30"); err == nil {
		t.Error("it was taken")
	}
}

// Common practice, no source: with nothing counted a flush of four to five weeks with the third the heaviest is expected, and
// of second-season plants some times as much as of first-season ones.
func TestWithNothingCountedPracticeIsExpected(t *testing.T) {
	// What 500 draws come to on the average still hangs on the few greatest.
	many := effort{chains: usual.chains, warmUp: usual.warmUp, kept: 10 * usual.kept, apart: usual.apart, futures: 1}
	stems := func(firstSeason crop.Season) (sum float64) {
		farm := crop.NewFarm()
		farm.Stocks["S"] = crop.Stock{ID: "S"}
		farm.Beds["B"] = crop.Bed{ID: "B"}
		farm.Plantings["P"] = crop.Planting{ID: "P", Stock: "S", Bed: "B", Planted: "2023-09-20", FirstSeason: firstSeason}
		for _, id := range []crop.PlantID{"1", "2", "3", "4", "5", "6", "7", "8", "9", "10"} {
			farm.Plants[id] = crop.Plant{ID: id, Planting: "P"}
		}
		const asOf = "2025-03-01"
		d, err := read(farm, asOf).drawSome(weeksLeft(farm.Calendar, asOf), many, func(int) bool { return false })
		if err != nil {
			t.Fatal(err)
		}
		for _, week := range d.total {
			sum += rangeOf(week).Mean
		}
		return sum
	}
	first, second := stems(2025), stems(2024)
	if first < 50 || first > 300 {
		t.Errorf("ten plants in their first season give %.0f stems", first)
	}
	// The plants of the second have a winter behind them of which nobody told what it left: some fifth of them is gone.
	if ratio := second / first; ratio < 1.4 || ratio > 3.2 {
		t.Errorf("in their second they give %.1f times as many", ratio)
	}
}
