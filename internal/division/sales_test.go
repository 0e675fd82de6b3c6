package division

import (
	"math"
	"testing"

	"corymb/internal/crop"
)

// booked is a farm with a channel that keeps a tenth, a list price, and what was packed in its last season.
func booked() crop.Farm {
	farm := crop.NewFarm()
	s := farm.Sales
	s.Channels["ch"] = crop.Channel{ID: "ch", Commission: 1_000}
	s.Buyers["b"] = crop.Buyer{ID: "b", Channel: "ch"}
	s.Bunches["ten"] = crop.Bunch{ID: "ten", Stems: 10, Grade: crop.GradeFirst}
	s.Prices["old"] = crop.Price{ID: "old", Channel: "ch", Bunch: "ten", From: "2025-01-01", Cents: 500}
	s.Prices["new"] = crop.Price{ID: "new", Channel: "ch", Bunch: "ten", From: "2026-03-01", Cents: 600}
	s.Prices["later"] = crop.Price{ID: "later", Channel: "ch", Bunch: "ten", From: "2027-03-01", Cents: 900}
	return farm
}

func pack(farm crop.Farm, id crop.PackedID, day crop.Date, colour crop.ColourID, stems int) {
	line := crop.LineID("line " + id)
	farm.Sales.Lines[line] = crop.Line{ID: line, Bunch: "ten", Bunches: stems / 10, Stems: 10, Grade: crop.GradeFirst, Price: 450}
	farm.Sales.Packed[id] = crop.Packed{ID: id, Line: line, Buyer: "b", Due: day, Date: day, Bunches: stems / 10, Stems: map[crop.LotID]int{{Colour: colour}: stems}}
}

func TestPricesComeFromTheListsAndWhatChannelsTookLastSeason(t *testing.T) {
	const asOf = "2026-11-01"
	farm := booked()
	if prices, _ := FromSales(farm, asOf); len(prices) != 1 || prices[0].Cents != 54 || !math.IsInf(prices[0].AWeek, 1) || prices[0].Grade != crop.GradeFirst {
		t.Errorf("with nothing packed: %+v, want the list's 60 less a tenth for all there are", prices)
	}
	pack(farm, "before", "2025-05-28", "coral", 200)
	pack(farm, "a", "2026-05-27", "coral", 30)
	pack(farm, "b", "2026-05-29", "coral", 20)
	pack(farm, "c", "2026-06-03", "coral", 40)
	pack(farm, "d", "2026-06-03", "shell", 10)
	prices, _ := FromSales(farm, asOf)
	if len(prices) != 2 || prices[0].Colour != "coral" || prices[0].AWeek != 50 || prices[0].Cents != 54 || prices[1].AWeek != 10 {
		t.Errorf("%+v, want 50 coral stems a week, 10 of shell, at 54", prices)
	}
	farm.Sales.Prices = map[crop.PriceID]crop.Price{}
	if prices, _ := FromSales(farm, asOf); len(prices) != 2 || prices[0].Cents != 40.5 {
		t.Errorf("%+v, want what was paid, 45 less a tenth", prices)
	}
}

func TestAsksCountThatNobodyMetAndNobodyCanMeetAnyMore(t *testing.T) {
	farm := booked()
	for _, a := range []crop.Ask{
		{ID: "declined", Answer: crop.AskDeclined, Stems: 50, Due: "2026-06-01", Buyer: "b", Price: 100},
		{ID: "half", Answer: crop.AskPromised, Offered: 20, Stems: 50, Due: "2026-06-01"},
		{ID: "met", Answer: crop.AskPromised, Offered: 50, Stems: 50, Due: "2026-06-01"},
		{ID: "open", Stems: 50, Due: "2026-11-20"},
		{ID: "long ago", Answer: crop.AskDeclined, Stems: 50, Due: "2025-06-01"},
	} {
		farm.Ahead.Asks[a.ID] = a
	}
	_, asks := FromSales(farm, "2026-11-01")
	if len(asks) != 2 || asks[0].Stems != 50 || asks[0].Cents != 90 || asks[1].Stems != 30 {
		t.Errorf("%+v, want 50 stems at 90 and 30 more", asks)
	}
}

func TestASeasonsStemsAreSpreadAsPracticeSpreadsThem(t *testing.T) {
	r := rhythm{spring: 80, fall: 180, fallPart: 0.25}
	sum, weeks := 0.0, r.weeks()
	for _, w := range weeks {
		sum += w.share
	}
	// The third week has 34 stems of a hundred of its flush (common practice, no source).
	if third := weeks[2].share / 0.75; len(weeks) != 2*flushWeeks || math.Abs(sum-1) > 1e-12 || math.Abs(third-0.34) > 0.01 {
		t.Errorf("weeks %+v sum to %v", weeks, sum)
	}
	for day, want := range map[crop.Date]int{"2026-05-20": 0, "2026-06-05": 2, "2030-06-05": 2, "2026-09-01": 5, "2026-01-15": -1, "2026-05-10": 0} {
		if got := r.weekOf(crop.NorthernYear, day); got != want {
			t.Errorf("%s is in week %d, want %d", day, got, want)
		}
	}
}
