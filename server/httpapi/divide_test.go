package httpapi_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"corymb/internal/access"
	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/internal/drift"
	"corymb/internal/farm"
	"corymb/server/httpapi"
)

// dividingGround is a farm with two seasons counted, a channel that keeps a tenth and took 40 stems in one week, and an ask
// that was declined.
func dividingGround() *ground {
	g := newGround()
	r := changelog.Recorder{Incarnation: "00000000-0000-4000-8000-000000000002"}
	var facts []changelog.Fact
	add := func(more []changelog.Fact) { facts = append(facts, more...) }
	add(farm.ColourFacts(crop.Colour{ID: "c", Name: "Coral"}))
	add(farm.BedFacts(crop.Bed{ID: "bed", Name: "North", Length: 10_000, Width: 1200, Lines: 2}))
	add(farm.StockFacts(crop.Stock{ID: "st", Name: "Hill strain", Origin: crop.OriginPlug}))
	add(farm.StockFacts(crop.Stock{ID: "own", Name: "Royal", Origin: crop.OriginBought, Protected: true}))
	for i, stock := range []crop.StockID{"st", "own"} {
		add(farm.PlantingFacts(crop.Planting{ID: crop.PlantingID("pl" + stock), Stock: stock, Bed: "bed", Planted: "2023-10-01", FirstSeason: crop.Season(2024)}))
		for n := range 4 {
			id := fmt.Sprintf("plant%d%d", i, n)
			add(farm.PlantFacts(crop.Plant{
				ID: crop.PlantID(id), Code: id, Planting: crop.PlantingID("pl" + stock), Colour: "c",
				Counted: map[crop.Season]crop.Window{2025: {From: "2025-01-01", To: "2025-12-31"}},
			}))
			add(farm.VisitFacts(crop.Visit{
				ID: crop.VisitID("v" + id), Plant: crop.PlantID(id), Date: "2025-05-28", Purpose: crop.PurposeCut, Flush: crop.FlushSpring,
				Counts: []crop.Count{{Colour: "c", Grade: crop.GradeFirst, Length: crop.TenCentimetres(50), Stems: 12 + 6*n}},
			}))
		}
	}
	add(farm.ChannelFacts(crop.Channel{ID: "ch", Name: "Florists", Commission: 1_000}))
	add(farm.BuyerFacts(crop.Buyer{ID: "b", Name: "Studio", Channel: "ch"}))
	add(farm.OrderFacts(crop.Order{ID: "o", Buyer: "b", Due: "2025-05-29"}))
	add(farm.LineFacts(crop.Line{ID: "l", Order: "o", Bunches: 4, Stems: 10, Price: 900}))
	lot := crop.LotID{Bed: "bed", Cut: "2025-05-28", Colour: "c", Grade: crop.GradeFirst, Length: crop.TenCentimetres(50)}
	add(farm.PackedFacts(crop.Packed{
		ID: "p", Line: "l", Buyer: "b", Due: "2025-05-29", Date: "2025-05-29", Bunches: 4, Stems: map[crop.LotID]int{lot: 40},
	}))
	add(farm.AskFacts(crop.Ask{ID: "a", Buyer: "b", Stems: 60, Colours: []crop.ColourID{"c"}, From: "2025-06-02", Due: "2025-06-08", Answer: crop.AskDeclined, Price: 110}))
	add(farm.DivisionCostFacts("f1", usualButGround))
	add(farm.FlagFacts("plant00", farm.FlagOpenCentre, "2025-07-01", "p1"))
	for _, c := range r.Operation(2, facts...) {
		g.state.Merge(c, c.Stamp)
	}
	return g
}

// usualButGround are the farm's own costs: its ground is dear.
var usualButGround = func() crop.DivisionCosts {
	costs := crop.UsualDivisionCosts
	costs.Ground = 500
	return costs
}()

func postJSON(h http.Handler, path, body string) *httptest.ResponseRecorder {
	r := httptest.NewRequest("POST", path, strings.NewReader(body))
	r.Host = "shed.example:8420"
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func inOctober(c *httpapi.Config) {
	c.Now = func() time.Time { return time.Date(2025, 10, 20, 12, 0, 0, 0, time.UTC) }
}

func TestAPlanOfDivisionsComesFromTheFarmsBook(t *testing.T) {
	var asked division.Question
	h := handler(t, dividingGround(), func(c *httpapi.Config) {
		inOctober(c)
		c.Divide = func(f crop.Farm, q division.Question) (division.Plan, error) {
			asked = q
			return division.Of(f, q)
		}
	})
	answer := postJSON(h, "/api/divide", `{"places":6,"hours":2,"goal":1.5,"seasons":2,"most":3}`)
	var plan struct {
		AsOf    string
		Season  int
		Actions []struct {
			Plant, Do string
			Into      int
			Why       []struct{ Code string }
		}
		Goal  struct{ Chance, Draws float64 }
		Notes []struct{ Code string }
	}
	if err := json.Unmarshal(answer.Body.Bytes(), &plan); err != nil || answer.Code != http.StatusOK {
		t.Fatalf("%d %s", answer.Code, answer.Body)
	}
	if plan.AsOf != "2025-10-20" || plan.Season != 2025 || len(plan.Actions) != 8 || plan.Goal.Draws < 400 {
		t.Errorf("%s", answer.Body)
	}
	for _, a := range plan.Actions {
		if strings.HasPrefix(a.Plant, "plant1") && a.Do == "divide" {
			t.Errorf("protected stock is divided: %+v", a)
		}
	}
	if len(asked.Prices) != 1 || asked.Prices[0].Cents != 81 || asked.Prices[0].AWeek != 40 || asked.Prices[0].Colour != "c" {
		t.Errorf("prices %+v, want 90 less a tenth for 40 a week", asked.Prices)
	}
	if len(asked.Asks) != 1 || asked.Asks[0].Stems != 60 || asked.Asks[0].Cents != 99 {
		t.Errorf("asks %+v, want 60 stems at 110 less a tenth", asked.Asks)
	}
	if asked.Costs != usualButGround {
		t.Errorf("costs %+v, want the farm's own %+v", asked.Costs, usualButGround)
	}
	if !asked.OpenCentre["plant00"] || len(asked.OpenCentre) != 1 {
		t.Errorf("open centres %v", asked.OpenCentre)
	}
}

func TestAPlanOfDivisionsIsTheOwnersAndOnlyForWhatCanBe(t *testing.T) {
	desk := &deskOf{grant: access.Grant{Role: access.Owner, Person: "p"}}
	h := handler(t, dividingGround(), func(c *httpapi.Config) { inOctober(c); c.Desk = desk })
	empty := handler(t, newGround(), inOctober)
	tests := []struct {
		name   string
		h      http.Handler
		role   access.Role
		body   string
		status int
		code   string
	}{
		{"no JSON", h, access.Owner, `places`, 400, "malformed"},
		{"too far ahead", h, access.Owner, `{"seasons":4}`, 422, "seasons"},
		{"a goal below nothing", h, access.Owner, `{"goal":-1}`, 422, "goal"},
		{"fewer than no places", h, access.Owner, `{"places":-1}`, 422, "places"},
		{"a farm without a book", empty, access.Owner, `{}`, 422, "no_price"},
		{"crew", h, access.Crew, `{}`, 403, ""},
		{"a viewer", h, access.Viewer, `{}`, 403, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			desk.grant.Role = test.role
			answer := postJSON(test.h, "/api/divide", test.body)
			if answer.Code != test.status || !strings.Contains(answer.Body.String(), test.code) {
				t.Errorf("%d %s", answer.Code, answer.Body)
			}
		})
	}
}

func TestAPlanOfDivisionsIsMadeOnceUntilSomethingChanges(t *testing.T) {
	g, plans := dividingGround(), 0
	h := handler(t, g, func(c *httpapi.Config) {
		inOctober(c)
		c.Divide = func(_ crop.Farm, q division.Question) (division.Plan, error) {
			plans++
			return division.Plan{AsOf: q.AsOf}, nil
		}
	})
	for _, step := range []struct {
		name, body string
		newest     int64
		want       int
	}{
		{"asked first", `{"places":6}`, 7, 1},
		{"asked again", `{"places":6}`, 7, 1},
		{"for more ground", `{"places":9}`, 7, 2},
		{"the first again", `{"places":6}`, 7, 2},
		{"after something was recorded", `{"places":6}`, 8, 3},
	} {
		g.newest.Store(step.newest)
		if answer := postJSON(h, "/api/divide", step.body); answer.Code != http.StatusOK || plans != step.want {
			t.Errorf("%s: status %d, planned %d times, want %d", step.name, answer.Code, plans, step.want)
		}
	}
}

func TestAsksThatAreLeftOutOfAPlanDoNotComeAgain(t *testing.T) {
	var asked division.Question
	h := handler(t, dividingGround(), func(c *httpapi.Config) {
		inOctober(c)
		c.Divide = func(_ crop.Farm, q division.Question) (division.Plan, error) {
			asked = q
			return division.Plan{AsOf: q.AsOf}, nil
		}
	})
	for _, step := range []struct {
		body string
		asks int
	}{{`{"places":6}`, 1}, {`{"places":6,"left_out":["a"]}`, 0}, {`{"places":6,"left_out":["another"]}`, 1}} {
		answer := postJSON(h, "/api/divide", step.body)
		if answer.Code != http.StatusOK || len(asked.Asks) != step.asks {
			t.Errorf("%s: status %d, asks %+v, want %d of them", step.body, answer.Code, asked.Asks, step.asks)
		}
	}
	wanted := []division.Wanted{{Colour: "c", Due: "2027-05-31", Stems: 80}}
	if answer := postJSON(h, "/api/divide", `{"wanted":[{"colour":"c","due":"2027-05-31","stems":80}]}`); answer.Code != http.StatusOK || !slices.Equal(asked.Wanted, wanted) {
		t.Errorf("status %d, wanted %+v", answer.Code, asked.Wanted)
	}
}

func TestAPlanOfDivisionsKnowsWhatPhotosSayOfColours(t *testing.T) {
	g := dividingGround()
	r := changelog.Recorder{Incarnation: "00000000-0000-4000-8000-000000000003"}
	say := func(facts []changelog.Fact) {
		for _, c := range r.Operation(3, facts...) {
			g.state.Merge(c, c.Stamp)
		}
	}
	say(farm.ColourFacts(crop.Colour{ID: "c", Name: "Coral", Reference: &crop.Lab{L: 62, A: 44, B: 28}}))
	say(farm.ColourFacts(crop.Colour{ID: "a", Name: "Amber", Reference: &crop.Lab{L: 72, A: 12, B: 62}}))
	say(farm.ColourSeenFacts("plant03", 2025, "2025-05-30", "a"))
	sure := drift.Cov{LL: 0.25, AA: 0.25, BB: 0.25}
	var asked division.Question
	h := handler(t, g, func(c *httpapi.Config) {
		inOctober(c)
		c.Colours = func(crop.Farm, []httpapi.SpeciesColour) ([]httpapi.SpeciesColour, error) {
			return []httpapi.SpeciesColour{{Report: drift.Report{
				Colours: []drift.PlantColour{
					{Plant: "plant00", Season: 2025, Lab: drift.Lab{L: 71, A: 13, B: 61}, Cov: sure},
					{Plant: "plant01", Season: 2025, Lab: drift.Lab{L: 62, A: 43, B: 28}, Cov: sure},
					{Plant: "plant02", Season: 2025, Lab: drift.Lab{L: 62, A: 43, B: 28}, Cov: sure},
					{Plant: "plant10", Season: 2025, Lab: drift.Lab{L: 20, A: 0, B: 0}, Cov: sure}, // of none, and was so all along
					{Plant: "plant11", Season: 2025, Lab: drift.Lab{L: 20, A: 0, B: 0}, Cov: sure},
					{Plant: "plant12", Season: 2025, Lab: drift.Lab{L: 72, A: 16, B: 57}, Cov: drift.Cov{LL: 16, AA: 16, BB: 16}},
					{Plant: "plant02", Season: 2026, Lab: drift.Lab{L: 71, A: 13, B: 61}, Cov: sure}, // is yet to come
				},
				PlantSeasons: []drift.PlantSeason{
					{Plant: "plant00", Season: 2024, State: drift.StateNone, Shift: &drift.Shift{}},
					{Plant: "plant00", Season: 2025, State: drift.StateDrift, Shift: &drift.Shift{}},
					{Plant: "plant11", Season: 2025, State: drift.StateDrift, Shift: &drift.Shift{}},
					{Plant: "plant01", Season: 2024, State: drift.StateDrift, Shift: &drift.Shift{}},
					{Plant: "plant01", Season: 2025, State: drift.StateNone, Shift: &drift.Shift{}},
				},
			}}}, nil
		}
		c.Divide = func(_ crop.Farm, q division.Question) (division.Plan, error) {
			asked = q
			return division.Plan{AsOf: q.AsOf}, nil
		}
	})
	answer := postJSON(h, "/api/divide", `{}`)
	amber := []division.Likely{{Colour: "a", Share: 1}}
	want := map[crop.PlantID]division.Class{
		"plant00": {Likely: amber, Drifts: true}, "plant11": {Likely: []division.Likely{{Share: 1}}, Drifts: true},
	}
	between := asked.Classes["plant12"] // of a class that it may be of, and of the one that it was told to be of
	if len(between.Likely) != 2 || between.Likely[0].Colour != "a" || between.Likely[1].Colour != "c" || between.Drifts {
		t.Errorf("between classes it is %+v", between)
	}
	delete(asked.Classes, "plant12")
	if answer.Code != http.StatusOK || !reflect.DeepEqual(asked.Classes, want) {
		t.Errorf("status %d, classes %+v, want %+v", answer.Code, asked.Classes, want)
	}
}
