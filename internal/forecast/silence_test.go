package forecast

import (
	"fmt"
	"slices"
	"testing"

	"corymb/internal/crop"
)

func TestACutAfterASilenceIsOfWhatOpenedSinceOneUsuallyWouldHaveGone(t *testing.T) {
	cases := []struct {
		name  string
		cuts  []int // days from spring
		looks []int
	}{
		{"cuts as usual follow each other", []int{80, 83, 86, 89, 94}, []int{77, 80, 83, 86, 89, 94}},
		{"before a later flush somebody went as long ago as usual and found nothing", []int{80, 83, 86, 89, 140, 143}, []int{77, 80, 83, 86, 89, 137, 140, 143}},
		{"of one cut alone nothing says what is usual", []int{80}, []int{77, 80}},
	}
	for _, c := range cases {
		f := cutOn(c.cuts...)
		var looks []int
		for _, l := range read(f, crop.NorthernYear.Spring(2025).Add(c.cuts[len(c.cuts)-1])).cohorts[0].looks {
			looks = append(looks, l.day)
		}
		if !slices.Equal(looks, c.looks) {
			t.Errorf("%s: looks on %v, want %v", c.name, looks, c.looks)
		}
	}
}

func TestSilenceUntilTodaySaysThatNothingOpenedUntilOneUsuallyWentLast(t *testing.T) {
	cases := []struct {
		name  string
		since int // days since the last of cuts that come every fourth day
		until int // days before the question; 0 for none
	}{
		{"as long as there usually is between two cuts", 4, 0},
		{"longer", 5, 2},
		{"far longer", 30, 2},
	}
	for _, c := range cases {
		r := read(cutOn(80, 84, 88), crop.NorthernYear.Spring(2025).Add(88+c.since))
		looks := r.cohorts[0].looks
		last := looks[len(looks)-1].day
		if want := r.day(r.asOf) - c.until; c.until > 0 && last != want || c.until == 0 && last != 88 {
			t.Errorf("%s: the last look was on day %d of %d", c.name, last, r.day(r.asOf))
		}
	}
}

// cutOn is a farm of one plant that gave three stems on each of some days, counted from spring.
func cutOn(days ...int) crop.Farm {
	f := crop.NewFarm()
	f.Stocks["s"] = crop.Stock{ID: "s"}
	f.Beds["b"] = crop.Bed{ID: "b"}
	f.Plantings["p"] = crop.Planting{ID: "p", Stock: "s", Bed: "b", FirstSeason: 2025, Planted: "2024-09-20"}
	f.Plants["1"] = crop.Plant{ID: "1", Planting: "p", Counted: map[crop.Season]crop.Window{2025: f.Calendar.Span(2025)}}
	spring := f.Calendar.Spring(2025)
	for _, day := range days {
		id := crop.VisitID(fmt.Sprint(day))
		f.Visits[id] = crop.Visit{ID: id, Plant: "1", Date: spring.Add(day), Purpose: crop.PurposeCut, Counts: []crop.Count{{Stems: 3}}}
	}
	return f
}
