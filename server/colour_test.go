package main

import (
	"math"
	"slices"
	"testing"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/demo"
	"corymb/internal/drift"
	"corymb/internal/farm"
	"corymb/server/httpapi"
)

// measuredFarm has two species, of which one plant each was read once, and the plants named beside.
func measuredFarm(plants ...crop.Plant) crop.Farm {
	f := crop.NewFarm()
	f.Stocks["yarrow"] = crop.Stock{ID: "yarrow", Species: "Achillea"}
	f.Stocks["phlox"] = crop.Stock{ID: "phlox", Species: "Phlox"}
	f.Plantings["y"] = crop.Planting{ID: "y", Stock: "yarrow"}
	f.Plantings["p"] = crop.Planting{ID: "p", Stock: "phlox"}
	for _, p := range append(plants, crop.Plant{ID: "a", Planting: "y"}, crop.Plant{ID: "b", Planting: "p"}) {
		f.Plants[p.ID] = p
	}
	for id, r := range map[crop.ReadingID]crop.Reading{"r1": reading("a"), "r2": reading("b")} {
		f.Readings[id] = r
	}
	return f
}

func reading(plant crop.PlantID) crop.Reading {
	return crop.Reading{
		Plant: plant, Date: "2026-05-28", Colour: crop.Lab{L: 50, A: 40, B: 15}, SE: crop.Lab{L: .6, A: .7, B: .8},
		Stage: crop.StageFull, Light: crop.LightShade, Card: "k1", Camera: "one",
	}
}

func TestReadingsGoToTheStandOfTheirSpecies(t *testing.T) {
	tests := []struct {
		name    string
		change  func(*crop.Farm, *crop.Reading)
		want    func(*drift.Reading)
		leftOut int
	}{
		{"as it is", func(*crop.Farm, *crop.Reading) {}, func(*drift.Reading) {}, 0},
		{"of a season that began the year before", func(f *crop.Farm, r *crop.Reading) {
			f.Calendar, r.Date = crop.Calendar{Start: "07-01", Southern: true}, "2026-10-02"
		}, func(r *drift.Reading) { r.Season, r.Date = 2026, "2026-10-02" }, 0},
		{"of a batch that was never characterised", func(f *crop.Farm, _ *crop.Reading) { f.Cards["k1"] = crop.Card{ID: "k1"} }, func(*drift.Reading) {}, 0},
		{"of a batch that was retired before", func(f *crop.Farm, _ *crop.Reading) {
			f.Cards["k1"] = crop.Card{ID: "k1", Retired: "2026-05-27"}
		}, func(r *drift.Reading) { r.Card = "" }, 0},
		{"of a batch that was retired after that day's session", func(f *crop.Farm, _ *crop.Reading) {
			f.Cards["k1"] = crop.Card{ID: "k1", Retired: "2026-05-28"}
		}, func(*drift.Reading) {}, 0},
		{"without a card", func(_ *crop.Farm, r *crop.Reading) { r.Card = "" }, func(r *drift.Reading) { r.Card = "" }, 0},
		{"that is sure beyond belief", func(_ *crop.Farm, r *crop.Reading) { r.SE.A = 0 }, nil, 1},
		{"of no day", func(_ *crop.Farm, r *crop.Reading) { r.Date = "" }, nil, 1},
		{"of a plant that was withdrawn", func(_ *crop.Farm, r *crop.Reading) { r.Plant = "gone" }, nil, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f, r := measuredFarm(), reading("a")
			tt.change(&f, &r)
			f.Readings["r1"] = r
			stand, leftOut := standOf(f, "Achillea")
			if leftOut != tt.leftOut {
				t.Errorf("%d left out, want %d", leftOut, tt.leftOut)
			}
			var want []drift.Reading
			if tt.want != nil {
				one := drift.Reading{
					Plant: "a", Season: 2026, Date: "2026-05-28", Camera: "one", Stage: crop.StageFull, Light: crop.LightShade,
					Lab: crop.Lab{L: 50, A: 40, B: 15}, SE: [3]float64{.6, .7, .8}, Card: "k1",
				}
				tt.want(&one)
				want = append(want, one)
			}
			if !slices.Equal(stand.Readings, want) {
				t.Errorf("%+v, want %+v", stand.Readings, want)
			}
		})
	}
}

func TestOnlyReferencePlantsOfTheSpeciesTieIt(t *testing.T) {
	f := measuredFarm(crop.Plant{ID: "c", Planting: "y", Reference: true}, crop.Plant{ID: "d", Planting: "p", Reference: true})
	if stand, _ := standOf(f, "Achillea"); !slices.Equal(stand.References, []crop.PlantID{"c"}) {
		t.Errorf("references %v", stand.References)
	}
}

// A report that was taken over keeps the mark that is put to it here.
func TestOnlyWhatChangedIsJudgedAnew(t *testing.T) {
	tests := []struct {
		name   string
		change func(*crop.Farm)
		anew   []string
	}{
		{"nothing", func(*crop.Farm) {}, nil},
		{"a count", func(f *crop.Farm) { f.Visits["v"] = crop.Visit{ID: "v", Plant: "a"} }, nil},
		{"a reading more", func(f *crop.Farm) { f.Readings["r3"] = reading("a") }, []string{"Achillea"}},
		{"a reading that was put right", func(f *crop.Farm) {
			r := reading("b")
			r.Colour.L++
			f.Readings["r2"] = r
		}, []string{"Phlox"}},
		{"a reference plant", func(f *crop.Farm) {
			p := f.Plants["a"]
			p.Reference = true
			f.Plants["a"] = p
		}, []string{"Achillea"}},
		{"a batch that was retired before", func(f *crop.Farm) { f.Cards["k1"] = crop.Card{ID: "k1", Retired: "2026-05-01"} }, []string{"Achillea", "Phlox"}},
		{"a reading that no photo can have given", func(f *crop.Farm) {
			r := reading("a")
			r.SE.L = 0
			f.Readings["r3"] = r
		}, nil},
		{"a calendar", func(f *crop.Farm) { f.Calendar = crop.Calendar{Start: "10-01"} }, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := measuredFarm()
			before, err := judgeColours(f, nil)
			if err != nil || len(before) != 2 {
				t.Fatalf("%d species (%v)", len(before), err)
			}
			for i := range before {
				before[i].Report.Level = -1
			}
			tt.change(&f)
			after, err := judgeColours(f, before)
			if err != nil {
				t.Fatal(err)
			}
			var anew []string
			for _, s := range after {
				if s.Report.Level != -1 {
					anew = append(anew, s.Species)
				}
				if _, leftOut := standOf(f, s.Species); s.LeftOut != leftOut {
					t.Errorf("%s: %d are said to be left out, which are %d", s.Species, s.LeftOut, leftOut)
				}
			}
			if !slices.Equal(anew, tt.anew) {
				t.Errorf("judged anew: %v, want %v", anew, tt.anew)
			}
		})
	}
}

// What is true of the made-up farm is in internal/demo/readings.go.
func TestTheMadeUpFarmsDriftsAreFound(t *testing.T) {
	state := changelog.NewState()
	for _, device := range demo.Changes("f", 2026) {
		for _, op := range device.Operations {
			for _, c := range op {
				state.Merge(c, c.Stamp)
			}
		}
	}
	judged, err := judgeColours(farm.Read("f", state), nil)
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(judged, func(s httpapi.SpeciesColour) bool { return s.Species == "Achillea millefolium" })
	report := judged[at].Report
	states := map[drift.State]int{}
	for _, p := range report.PlantSeasons {
		if p.Season == 2026 {
			states[p.State]++
		}
		if p.Season < 2026 && (p.State == drift.StateDrift || p.State == drift.StateWatch) {
			t.Errorf("%s drifted in %d, when none did", p.Plant, p.Season)
		}
	}
	if states[drift.StateDrift] != 3 || states[drift.StateWatch] != 1 || states[drift.StateCannotTell] < 3 || states[drift.StateNone] < 30 {
		t.Errorf("states %v, want 3 that drift, one that was seen on one day, and some of which nothing can be told", states)
	}
	last := report.Stand[len(report.Stand)-1]
	if !last.Told || math.Hypot(last.Shift.A, last.Shift.B) < 2 {
		t.Errorf("the stand's paler season is told as %+v", last)
	}
}
