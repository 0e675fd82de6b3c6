package forecast

import (
	"fmt"
	"slices"
	"testing"

	"corymb/internal/crop"
)

// twoColours is a bed of twenty plants in their second season, uncounted: half of each class, or so many of unknown class.
func twoColours(unknown int) crop.Farm {
	farm := crop.NewFarm()
	farm.Stocks["S"], farm.Beds["B"] = crop.Stock{ID: "S"}, crop.Bed{ID: "B"}
	farm.Plantings["P"] = crop.Planting{ID: "P", Stock: "S", Bed: "B", Planted: "2023-09-20", FirstSeason: 2024}
	for k := range 20 {
		plant := crop.Plant{ID: crop.PlantID(fmt.Sprintf("%02d", k)), Planting: "P", Colour: crop.ColourID([]string{"red", "white"}[k%2])}
		if k < unknown {
			plant.Colour = ""
		}
		farm.Plants[plant.ID] = plant
	}
	return farm
}

func bench(farm crop.Farm, day crop.Date, counts ...crop.Count) {
	id := crop.VisitID("bench " + day)
	farm.Visits[id] = crop.Visit{ID: id, Bed: "B", Date: day, Purpose: crop.PurposeBench, Flush: crop.FlushSpring, Counts: counts}
}

// toCome are the mean stems still to come by colour.
func toCome(t *testing.T, farm crop.Farm, asOf crop.Date) map[crop.ColourID]float64 {
	t.Helper()
	f, err := Of(farm, asOf)
	if err != nil {
		t.Fatal(err)
	}
	sums := map[crop.ColourID]float64{}
	for _, week := range f.Weeks {
		for colour, of := range week.Colours {
			sums[colour] += of.Mean
		}
	}
	return sums
}

func TestColoursToComeAreThoseOfThePlantsThatBearThem(t *testing.T) {
	red, white, untold := crop.Count{Colour: "red", Stems: 30}, crop.Count{Colour: "white", Stems: 6}, crop.Count{Stems: 36}
	tests := []struct {
		name     string
		unknown  int
		counts   []crop.Count
		low, top float64 // of red stems against white ones
	}{
		{"a total by colour goes to the plants of each", 0, []crop.Count{red, white}, 2.5, 6},
		{"a total without colours goes to all alike", 0, []crop.Count{untold}, 0.75, 1.35},
		{"plants of unknown class are as the totals have them", 20, []crop.Count{red, white}, 2.5, 6},
		{"plants of unknown class are as those of their stock", 10, []crop.Count{untold}, 0.6, 1.6},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			farm := twoColours(test.unknown)
			for _, day := range []crop.Date{"2025-05-20", "2025-05-23", "2025-05-26"} {
				bench(farm, day, test.counts...)
			}
			of := toCome(t, farm, "2025-05-26")
			if ratio := of["red"] / of["white"]; ratio < test.low || ratio > test.top {
				t.Errorf("%.1f red and %.1f white, want %v to %v times as many", of["red"], of["white"], test.low, test.top)
			}
			if _, there := of[""]; there {
				t.Errorf("%.1f have no class", of[""])
			}
		})
	}
	t.Run("where nothing is known of any class it stays untold", func(t *testing.T) {
		farm := twoColours(20)
		bench(farm, "2025-05-20", untold)
		if of := toCome(t, farm, "2025-05-20"); len(of) != 1 || of[""] < 10 {
			t.Errorf("to come: %v", of)
		}
	})
}

func TestATotalsColoursNeverComeToMoreThanTheTotal(t *testing.T) {
	tests := []struct {
		name    string
		counted map[crop.ColourID]int
		want    map[crop.ColourID]int
	}{
		{"nothing was counted", nil, map[crop.ColourID]int{"red": 8, "white": 4, "": 3}},
		{"some of a colour were", map[crop.ColourID]int{"red": 5}, map[crop.ColourID]int{"red": 3, "white": 4, "": 3}},
		{"of one colour more than the bench has", map[crop.ColourID]int{"red": 10}, map[crop.ColourID]int{"red": 0, "white": 4, "": 1}},
		{"some whose colour was not told", map[crop.ColourID]int{"": 6}, map[crop.ColourID]int{"red": 6, "white": 3}},
		{"more than all", map[crop.ColourID]int{"": 16}, map[crop.ColourID]int{"red": 0, "white": 0}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			one := total{stems: 15, colours: map[crop.ColourID]int{"red": 8, "white": 4}}
			rest := one.beside(test.counted)
			for _, colour := range []crop.ColourID{"red", "white", ""} {
				if rest[colour] != test.want[colour] {
					t.Errorf("%v are left, want %v", rest, test.want)
				}
			}
		})
	}
}

func TestLengthsAreToldApartWhereTheFarmDoes(t *testing.T) {
	farm := twoColours(0)
	farm.Sales.Bunches = map[crop.BunchID]crop.Bunch{"a": {Length: 450}, "b": {Length: 0}, "c": {Length: 600}}
	graded := func(lo, hi crop.Millimetres, stems int) crop.Count {
		return crop.Count{Grade: crop.GradeFirst, Length: crop.LengthClass{Lo: lo, Hi: hi}, Stems: stems}
	}
	bench(farm, "2025-05-20", graded(400, 500, 60), graded(600, crop.OpenEnd, 20), crop.Count{Grade: crop.GradeFirst, Stems: 500})
	c := read(farm, "2025-05-21").classes
	if want := []crop.Millimetres{0, 400, 450, 600}; !slices.Equal(c.lengths, want) {
		t.Fatalf("edges are %v, want %v", c.lengths, want)
	}
	// 400 to 500 spans two classes; nothing is known of the 500 of untold length.
	if got := c.byLen.of(crop.GradeFirst.Rank(), 0, 2025); !slices.Equal(got, []float64{0, 30, 30, 20}) {
		t.Errorf("stems by length are %v", got)
	}
}

func TestAZeroThatWasToldIsALook(t *testing.T) {
	tests := []struct {
		name string
		zero crop.Visit
	}{
		{"a bench total of nothing", crop.Visit{ID: "zero", Bed: "B", Purpose: crop.PurposeBench}},
		{"nothing here at a plant", crop.Visit{ID: "zero", Plant: "00", Purpose: crop.PurposeNothingHere}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			looked := func(zero bool) bool {
				farm := twoColours(0)
				for id, plant := range farm.Plants {
					plant.Counted = map[crop.Season]crop.Window{2025: farm.Calendar.Span(2025)}
					farm.Plants[id] = plant
				}
				farm.Visits["cut"] = crop.Visit{ID: "cut", Plant: "01", Date: "2025-05-20", Purpose: crop.PurposeCut, Counts: []crop.Count{{Stems: 2}}}
				test.zero.Date = "2025-05-22"
				if zero {
					farm.Visits["zero"] = test.zero
				}
				r := read(farm, "2025-05-23")
				return slices.ContainsFunc(r.cohorts[0].looks, func(l look) bool { return l.day == r.day("2025-05-22") && l.stems[0] == 0 && !l.blind })
			}
			if looked(false) || !looked(true) {
				t.Errorf("looked on that day: %v with it, %v without", looked(true), looked(false))
			}
		})
	}
}

func TestGradesOfAWholeBedAreThoseOfItsPlantsWhereTheyAreAlike(t *testing.T) {
	graded := crop.Count{Grade: crop.GradeExtra, Stems: 40}
	tests := []struct {
		name   string
		change func(*crop.Farm)
		want   float64 // stems of the bed's planting in its second season
	}{
		{"one planting", func(*crop.Farm) {}, 40},
		{"another of the same age", func(f *crop.Farm) {
			f.Plantings["Q"] = crop.Planting{ID: "Q", Stock: "S", Bed: "B", Planted: "2023-09-20", FirstSeason: 2024}
		}, 40},
		{"a younger one beside it", func(f *crop.Farm) {
			f.Plantings["Q"] = crop.Planting{ID: "Q", Stock: "S", Bed: "B", Planted: "2024-09-20", FirstSeason: 2025}
		}, 0},
		{"one of another species beside it", func(f *crop.Farm) {
			f.Stocks["T"] = crop.Stock{ID: "T", Species: "other"}
			f.Plantings["Q"] = crop.Planting{ID: "Q", Stock: "T", Bed: "B", Planted: "2023-09-20", FirstSeason: 2024}
		}, 0},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			farm := twoColours(0)
			test.change(&farm)
			bench(farm, "2025-05-20", graded)
			c := read(farm, "2025-05-21").classes
			if got := c.byGrade.of(c.gradeKind("", 2), 0, 2025)[crop.GradeExtra.Rank()]; got != test.want {
				t.Errorf("%v extra stems are of plants in their second season, want %v", got, test.want)
			}
		})
	}
}
