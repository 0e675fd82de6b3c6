package yield

import (
	"fmt"
	"slices"
	"testing"

	"corymb/internal/crop"
)

// evenBed is a bed of plants that each give 5 stems in May and 5 in June; the first of them are counted, and
// all are totalled on both days.
func evenBed(plants, counted int) plot {
	p := newPlot()
	p.set("a", "yarrow", "A", 2024, plants)
	for i := 1; i <= counted; i++ {
		id := crop.PlantID(fmt.Sprint("a", i))
		p.count(id, 2024)
		p.cut(id, "2024-05-20", stems("", 5))
		p.cut(id, "2024-06-20", stems("", 5))
	}
	p.bench("A", "2024-05-20", stems("", 5*plants))
	p.bench("A", "2024-06-20", stems("", 5*plants))
	return p
}

// watch sets a counted plant's window, and drops the cuts outside of it.
func (p plot) watch(plant crop.PlantID, from, to crop.Date) {
	window := crop.Window{From: from, To: to}
	p.Plants[plant].Counted[2024] = window
	for id, v := range p.Visits {
		if v.Plant == plant && !window.Holds(v.Date) {
			delete(p.Visits, id)
		}
	}
}

// unbench drops a day's totals.
func (p plot) unbench(day crop.Date) {
	for id, v := range p.Visits {
		if v.Purpose == crop.PurposeBench && v.Date == day {
			delete(p.Visits, id)
		}
	}
}

func TestWhatATotalHoldsOfPlantsThatNobodyWatchedThatDay(t *testing.T) {
	const may, june = crop.Date("2024-05-20"), crop.Date("2024-06-20")
	type want struct {
		stems       int
		share       float64
		part        int     // plants not watched on all days with a total
		unseenShare float64 // of their season
	}
	cases := map[string]struct {
		lay  func(p plot)
		want []want // a total each
	}{
		"all watched to the end": {func(plot) {}, []want{{stems: 400 - 200, share: 1}}},
		"windows that end between the totals leave the second day's stems in": {
			func(p plot) { p.watch("a1", "2024-04-01", may); p.watch("a2", "2024-04-01", may) },
			[]want{{stems: 400 - 190, share: 1, part: 2, unseenShare: 0.5}},
		},
		"and windows that begin between them the first day's": {
			func(p plot) { p.watch("a1", june, "2024-10-31") },
			[]want{{stems: 400 - 195, share: 1, part: 1, unseenShare: 0.5}},
		},
		"a cut outside of the window is left in too, since others may be missing": {
			func(p plot) { p.Plants["a1"].Counted[2024] = crop.Window{From: "2024-04-01", To: may} },
			[]want{{stems: 400 - 195, share: 1, part: 1, unseenShare: 0.5}},
		},
		"a plant that was gone gave nothing after": {
			func(p plot) { p.watch("a1", "2024-04-01", may); p.remove("a1", may) },
			[]want{{stems: 400 - 195, share: 1}},
		},
		"a window that missed a day without a total missed nothing of the totals": {
			func(p plot) { p.watch("a1", "2024-04-01", may); p.unbench(june) },
			[]want{{stems: 200 - 100, share: 0.5}},
		},
		"only plants watched to the end tell which part of the season was totalled": {
			func(p plot) {
				p.unbench(june)
				for i := 2; i <= 16; i++ { // four saw both days, one June alone
					p.watch(crop.PlantID(fmt.Sprint("a", i)), "2024-04-01", may)
				}
				p.watch("a1", june, "2024-10-31")
			},
			[]want{{stems: 200 - 95, share: 0.5, part: 1, unseenShare: 0.5}},
		},
		"where too few of them tell, the total is left out": {
			func(p plot) {
				p.unbench(june)
				for i := 2; i <= 20; i++ {
					p.watch(crop.PlantID(fmt.Sprint("a", i)), "2024-04-01", may)
				}
			}, nil,
		},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			p := evenBed(40, 20)
			c.lay(p)
			d := layOut(p.Farm, Options{})
			if len(d.totals) != len(c.want) || d.unsummed != 1-len(c.want) {
				t.Fatalf("%d totals and %d left out, want %d", len(d.totals), d.unsummed, len(c.want))
			}
			for i, total := range d.totals {
				got := want{stems: total.stems, share: total.share}
				for _, u := range total.unseen {
					got.part, got.unseenShare = got.part+u.plants, u.share
				}
				if got != c.want[i] {
					t.Errorf("total %+v, want %+v", got, c.want[i])
				}
			}
		})
	}
}

// Every plant gives the same, so uncounted ones give as much as counted ones, whoever was watched when.
func TestWindowsThatEndEarlyDoNotMakeUncountedPlantsLookBetter(t *testing.T) {
	for name, cut := range map[string]int{"none": 0, "a few": 6, "most": 24} {
		t.Run(name, func(t *testing.T) {
			p := evenBed(60, 30)
			for i := 1; i <= cut; i++ {
				p.watch(crop.PlantID(fmt.Sprint("a", i)), "2024-04-01", "2024-05-31")
			}
			r := mustReport(t, p.Farm, Options{})
			within(t, "uncounted against counted", float64(r.Spread.Uncounted.Mean), 0.96, 1.04)
			within(t, "mean", float64(ageOf(t, r, 1).Stems.Mean), 9.5, 10.5)
		})
	}
}

func TestStemsOfATotalThatAreNoPlantsAreTold(t *testing.T) {
	cases := map[string]struct {
		asOf    crop.Date
		counted int // of 20
		lay     func(p plot)
		stems   string // left over; empty where nothing is told
	}{
		"all counted, and the totals hold no more":          {counted: 20, lay: func(plot) {}},
		"all counted, and a total holds more":               {counted: 20, lay: func(p plot) { p.bench("A", "2024-06-20", stems("", 7)) }, stems: "7"},
		"on a day on which no plant gave any, too":          {counted: 20, lay: func(p plot) { p.bench("A", "2024-06-10", stems("", 7)) }, stems: "7"},
		"an uncounted plant may have given them":            {counted: 19, lay: func(p plot) { p.bench("A", "2024-06-20", stems("", 7)) }},
		"so may a counted one that nobody watched that day": {counted: 20, lay: func(p plot) { p.watch("a1", "2024-04-01", "2024-05-31") }},
		"a season that is still counted is not told of yet": {asOf: "2024-06-30", counted: 20, lay: func(p plot) { p.bench("A", "2024-06-20", stems("", 7)) }},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			p := evenBed(20, c.counted)
			c.lay(p)
			r := mustReport(t, p.Farm, Options{AsOf: c.asOf})
			if c.stems != "" {
				wantNote(t, r, NoteSurplus, map[string]string{"totals": "1", "stems": c.stems})
				return
			}
			if slices.Contains(codes(r), NoteSurplus) {
				t.Errorf("told among %v", codes(r))
			}
		})
	}
}
