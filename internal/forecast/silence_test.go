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
		f := crop.NewFarm()
		f.Stocks["s"] = crop.Stock{ID: "s"}
		f.Beds["b"] = crop.Bed{ID: "b"}
		f.Plantings["p"] = crop.Planting{ID: "p", Stock: "s", Bed: "b", FirstSeason: 2025, Planted: "2024-09-20"}
		f.Plants["1"] = crop.Plant{ID: "1", Planting: "p", Counted: map[crop.Season]crop.Window{2025: f.Calendar.Span(2025)}}
		spring := f.Calendar.Spring(2025)
		for _, day := range c.cuts {
			id := crop.VisitID(fmt.Sprint(day))
			f.Visits[id] = crop.Visit{ID: id, Plant: "1", Date: spring.Add(day), Purpose: crop.PurposeCut, Counts: []crop.Count{{Stems: 3}}}
		}
		var looks []int
		for _, l := range read(f, spring.Add(c.cuts[len(c.cuts)-1])).cohorts[0].looks {
			looks = append(looks, l.day)
		}
		if !slices.Equal(looks, c.looks) {
			t.Errorf("%s: looks on %v, want %v", c.name, looks, c.looks)
		}
	}
}
