package farm_test

import (
	"encoding/json"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/syncproto"
)

const inc = "0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c"

// small is a farm with one of everything.
func small() crop.Farm {
	f := crop.NewFarm()
	f.ID, f.Name, f.Unit, f.MadeUp = "farm", "Hazel Bank", crop.Inches, true
	f.Calendar = crop.Calendar{Start: "07-01", Southern: true}
	f.People["p"] = crop.Person{ID: "p", Name: "Ñusta"}
	f.Colours["c"] = crop.Colour{ID: "c", Name: "ember", Swatch: "#b7603f"}
	f.Beds["b"] = crop.Bed{
		ID: "b", Name: "North", Length: 30_000, Width: 1_200, Lines: 3,
		CutBack: map[crop.Season]crop.Date{2026: "2026-11-20"},
	}
	f.Stocks["s"] = crop.Stock{ID: "s", Name: "Hedge mix", Species: "Achillea millefolium", Origin: crop.OriginSeed, Protected: true}
	f.Plantings["g"] = crop.Planting{ID: "g", Stock: "s", Bed: "b", Planted: "2025-04-02", FirstSeason: 2025}
	f.Plants["k"] = crop.Plant{
		ID: "k", Code: "R4K 7M", Planting: "g", Line: 2, Number: 7, Parents: []crop.PlantID{"m"},
		Colour: "c", Removed: "2026-11-02",
		Counted: map[crop.Season]crop.Window{2026: {From: "2026-07-01", To: "2027-06-30"}},
	}
	f.Plants["m"] = crop.Plant{ID: "m", Code: "M2C 4A", Planting: "g", Line: 1, Number: 7, Counted: map[crop.Season]crop.Window{}}
	f.Visits["v"] = crop.Visit{
		ID: "v", Plant: "k", Date: "2026-10-05", Purpose: crop.PurposeCut, Person: "p",
		Flush: crop.FlushSpring, ToOrder: true,
		Counts: []crop.Count{
			{Grade: crop.GradeExtra, Length: crop.TenCentimetres(50), Stems: 7},
			{Grade: "", Stems: 3},
		},
	}
	f.Visits["t"] = crop.Visit{
		ID: "t", Bed: "b", Planting: "g", Age: 2, Date: "2026-10-05", Purpose: crop.PurposeBench, Stage: crop.StageFull,
		Counts: []crop.Count{{Colour: "c", Grade: crop.GradeFirst, Length: crop.TenCentimetres(40), Stems: 120}},
	}
	f.Colours["d"] = crop.Colour{ID: "d", Name: "dusk", Reference: &crop.Lab{L: 41.5, A: 38.25, B: -12}, Limit: 4.5}
	f.Plants["r"] = crop.Plant{ID: "r", Code: "R7C 4A", Planting: "g", Counted: map[crop.Season]crop.Window{}, Reference: true}
	f.Readings["x"] = crop.Reading{
		ID: "x", Plant: "k", Date: "2026-10-05", Person: "p", Colour: crop.Lab{L: 58.21, A: -12.03, B: 33.44},
		SE: crop.Lab{L: 0.8, A: 1.1, B: 1.25}, Spread: 84.3, SpreadSE: 1.2, Stage: crop.StageFull, Light: crop.LightShade,
		Card: "K7M2QX", Camera: "back, 4000x3000", Photo: strings.Repeat("0a", 32), Quality: 83, Problems: []string{"glare", "slanted"},
	}
	f.Cards["K7M2QX"] = crop.Card{
		ID: "K7M2QX", Printed: "2026-03-01", Patches: []crop.Lab{{L: 22}, {L: 95.1, A: 0.3, B: -2.2}}, SE: 0.6, How: "beside",
		Measured: "2026-03-02", Retired: "2026-11-01",
	}
	f.Sales = smallSales()
	f.Ahead = smallAhead()
	f.Money = smallMoney()
	return f
}

func factsOf(f crop.Farm) []changelog.Fact {
	return slices.Concat(
		farm.FarmFacts(f), ofEach(f.People, farm.PersonFacts), ofEach(f.Colours, farm.ColourFacts), ofEach(f.Beds, farm.BedFacts),
		ofEach(f.Stocks, farm.StockFacts), ofEach(f.Plantings, farm.PlantingFacts), ofEach(f.Plants, farm.PlantFacts),
		ofEach(f.Visits, farm.VisitFacts), ofEach(f.Readings, farm.ReadingFacts), ofEach(f.Cards, farm.CardFacts),
		saleFactsOf(f), aheadFactsOf(f), moneyFactsOf(f.Money),
	)
}

// ofEach are the facts of all that there is of a kind.
func ofEach[K comparable, V any](all map[K]V, facts func(V) []changelog.Fact) (list []changelog.Fact) {
	for _, one := range all {
		list = append(list, facts(one)...)
	}
	return list
}

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	want := small()
	state := changelog.NewState()
	recorder := changelog.Recorder{Incarnation: inc}
	for _, c := range recorder.Operation(1, factsOf(want)...) {
		if err := c.Check(); err != nil {
			t.Errorf("%s %s: %v", c.Type, c.Field, err)
		}
		if code, why := farm.Check(c, "2026-11-25"); code != "" {
			t.Errorf("%s %s refused as %s: %s", c.Type, c.Field, code, why)
		}
		state.Merge(c, c.Stamp)
	}
	if got := farm.Read("farm", state); !reflect.DeepEqual(got, want) {
		t.Errorf("read\n%+v\nwant\n%+v", got, want)
	}
}

func TestWithdrawnEntitiesAreNotRead(t *testing.T) {
	state := changelog.NewState()
	recorder := changelog.Recorder{Incarnation: inc}
	withdraw := changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: farm.TypeVisit, ID: "v", Field: changelog.FieldWithdrawn, Value: syncproto.Int(1)}
	for _, c := range recorder.Operation(1, append(factsOf(small()), withdraw)...) {
		state.Merge(c, c.Stamp)
	}
	if _, there := farm.Read("farm", state).Visits["v"]; there {
		t.Error("the withdrawn visit was read")
	}
}

func TestCheckRefusesWhatNoFarmCanHold(t *testing.T) {
	count := func(cell string, n int64) syncproto.Change {
		return syncproto.Change{Op: syncproto.OpCount, Type: farm.TypeVisit, ID: "v", Field: cell, Value: syncproto.Int(n)}
	}
	set := func(kind, field string, v syncproto.Value) syncproto.Change {
		return syncproto.Change{Op: syncproto.OpSet, Type: kind, ID: "x", Field: field, Value: v}
	}
	element := func(set, name string) syncproto.Change {
		return syncproto.Change{Op: syncproto.OpAdd, Type: farm.TypePlant, ID: "x", Field: set, Value: syncproto.Text(name)}
	}
	correct := count("|0|0", -3)
	correct.Op = syncproto.OpCorrect
	sawn := correct
	sawn.Extra = map[string]syncproto.Value{syncproto.ExtraSaw: syncproto.Int(9)}
	right := sawn
	right.Value = syncproto.Int(0)
	tests := []struct {
		name   string
		change syncproto.Change
		want   syncproto.Code
	}{
		{"999 stems of one plant", count("extra|500|600", 999), ""},
		{"1000 stems of one plant", count("extra|500|600", 1000), syncproto.CodeCount},
		{"1000 stems of a bed", count("c|extra|500|600", 1000), ""},
		{"100000 stems of a bed", count("c|extra|500|600", 100_000), syncproto.CodeCount},
		{"a count below zero", count("|0|0", -1), syncproto.CodeCount},
		{"a cell that is none", count("best|500|600", 1), syncproto.CodeValue},
		{"a count in a bed", syncproto.Change{Op: syncproto.OpCount, Type: farm.TypeBed, ID: "b", Field: "|0|0"}, syncproto.CodeValue},
		{"a correction", sawn, ""},
		{"a correction of nothing, for a number that is right", right, ""},
		{"a correction that does not say what it saw", correct, syncproto.CodeValue},
		{"a cut today", set("visit", "date", syncproto.Text("2026-11-25")), ""},
		{"a cut where it is tomorrow already", set("visit", "date", syncproto.Text("2026-11-26")), ""},
		{"a cut in the future", set("visit", "date", syncproto.Text("2026-11-27")), syncproto.CodeDate},
		{"a day that does not exist", set("visit", "date", syncproto.Text("2026-02-30")), syncproto.CodeDate},
		{"a date that is a number", set("visit", "date", syncproto.Int(20260530)), syncproto.CodeValue},
		{"a purpose of no kind", set("visit", "purpose", syncproto.Text("admire")), syncproto.CodeValue},
		{"a window that ends before it starts", set("plant", "counted.2026", syncproto.Text("2026-06-01/2026-05-01")), syncproto.CodeDate},
		{"a window that is taken back", set("plant", "counted.2026", syncproto.Text("")), ""},
		{"a season's start that is no day", set("farm", "season_start", syncproto.Text("13-45")), syncproto.CodeDate},
		{"a reading's colour", set("reading", "lab", syncproto.Text("5821/-1203/3344")), ""},
		{"a colour of two parts", set("reading", "lab", syncproto.Text("5821/-1203")), syncproto.CodeValue},
		{"a colour that is written in another way", set("reading", "lab", syncproto.Text("5821/-1203/+3344")), syncproto.CodeValue},
		{"a head in more light than the card", set("reading", "lab", syncproto.Text("10412/-80/512")), ""},
		{"a colour darker than black", set("reading", "lab", syncproto.Text("-1/0/0")), syncproto.CodeValue},
		{"a colour that no light has", set("reading", "lab", syncproto.Text("20001/0/0")), syncproto.CodeValue},
		{"a reading of tomorrow and later", set("reading", "date", syncproto.Text("2026-11-27")), syncproto.CodeDate},
		{"a reading's photo that is none", set("reading", "photo", syncproto.Text("x")), syncproto.CodeValue},
		{"a class whose measured colour is taken back", set("colour", "lab", syncproto.Text("")), ""},
		{"a class of two measured colours", set("colour", "lab", syncproto.Text("1/1/1 2/2/2")), syncproto.CodeValue},
		{"the patches of a card", set("card", "patches", syncproto.Text("2200/0/0 9510/30/-220")), ""},
		{"colours of a card that are taken back", set("card", "how", syncproto.Text("")), ""},
		{"a plant seen alive", set("plant", "stand.2026", syncproto.Text("2026-03-14/alive")), ""},
		{"a plant seen alive tomorrow and later", set("plant", "stand.2026", syncproto.Text("2026-12-14/alive")), syncproto.CodeDate},
		{"a plant seen on no day", set("plant", "stand.2026", syncproto.Text("alive")), syncproto.CodeValue},
		{"a colour taken back", set("plant", "colour.2026", syncproto.Text("")), ""},
		{"a place that is none", element("places", "somewhere"), syncproto.CodeValue},
		{"a place", element("places", "2026-03-14/m1/2/7/b1"), ""},
		{"an event of no kind", set("event", "kind", syncproto.Text("admired")), syncproto.CodeValue},
		{"a bed that was netted", set("event", "kind", syncproto.Text("netted")), ""},
		{"a field of a later version", set("plant", "vigour.2031", syncproto.List("a")), ""},
		{"a type of a later version", set("trellis", "date", syncproto.Int(3)), ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got, why := farm.Check(tt.change, "2026-11-25"); got != tt.want {
				t.Errorf("refused as %q (%s), want %q", got, why, tt.want)
			}
		})
	}
}

func TestNamesFollowTheVectors(t *testing.T) {
	var v struct {
		VisitIDs []struct {
			Incarnation, Person, Subject, Recorded, Purpose, Want string
		} `json:"visit_ids"`
		Cells []struct {
			Name   string
			OfBed  bool `json:"of_bed"`
			Colour crop.ColourID
			Grade  crop.Grade
			Lo, Hi crop.Millimetres
		}
		BadCells []string `json:"bad_cells"`
	}
	data, err := os.ReadFile("../../testdata/vectors/names.json")
	if err == nil {
		err = json.Unmarshal(data, &v)
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range v.VisitIDs {
		got := farm.VisitID(uuid.MustParse(c.Incarnation), crop.PersonID(c.Person), c.Subject, crop.Date(c.Recorded), crop.Purpose(c.Purpose))
		if string(got) != c.Want {
			t.Errorf("visit id of %+v is %s", c, got)
		}
	}
	for _, c := range v.Cells {
		want := farm.Cell{OfBed: c.OfBed, Colour: c.Colour, Grade: c.Grade, Length: crop.LengthClass{Lo: c.Lo, Hi: c.Hi}}
		if got, err := farm.ParseCell(c.Name); err != nil || got != want {
			t.Errorf("cell %q is %+v (%v)", c.Name, got, err)
		}
	}
	for _, name := range v.BadCells {
		if got, err := farm.ParseCell(name); err == nil {
			t.Errorf("%q was read as %+v", name, got)
		}
	}
}
