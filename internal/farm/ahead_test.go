package farm_test

import (
	"encoding/json"
	"maps"
	"os"
	"reflect"
	"slices"
	"testing"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/syncproto"
)

// smallAhead has one of everything that lies ahead, with every field set.
func smallAhead() crop.Ahead {
	a := crop.NewAhead()
	a.Warmth = crop.Warmth{Degrees: crop.Fahrenheit, Lower: 0, Upper: 27.5, Method: crop.WarmAverage}
	a.Costs = crop.DivisionCosts{Hour: 1850, Divide: 9, Lift: 4, Set: 2, Plug: 0, Ground: 25, Standing: 90}
	a.Asks["as"] = crop.Ask{
		ID: "as", Buyer: "bu", Note: "for a wedding", Stems: 180, Colours: []crop.ColourID{"c", "d"}, Grade: crop.GradeFirst, Length: 400,
		From: "2026-12-07", Due: "2026-12-13", Taken: "2026-11-20", Person: "p", Answer: crop.AskPromised, Offered: 120, Chance: 930,
		Order: "or", Price: 55,
	}
	a.Asks["open"] = crop.Ask{ID: "open", Stems: 20, From: "2026-12-09", Due: "2026-12-09"}
	a.Weather["2026-10-05"] = crop.Weather{Date: "2026-10-05", Min: -1.5, Max: 12.3}
	a.WeatherWrong["2026-10-06"] = crop.Weather{Date: "2026-10-06", Min: 20, Max: 2}
	a.Tasks["2026.cut_back.b"] = crop.Task{
		ID: "2026.cut_back.b", Kind: crop.TaskCutBack, Due: "2026-12-20", Done: "2026-11-20", Person: "p", Dropped: true,
	}
	a.Tasks["t"] = crop.Task{ID: "t", Kind: crop.TaskOwn, Bed: "b", Due: "2026-12-20", What: "mend the fence"}
	a.Intents["2026.k"] = crop.Intent{
		ID: "2026.k", Season: 2026, Plant: "k", Do: crop.DoDivide, Into: 3, Why: []string{"open_centre", "good_colour"},
		Made: "2026-11-01", Done: "2026-11-10", Person: "p",
		Stems: crop.ExpectedStems{Mean: 40, Lo: 22, Hi: 61}, Value: crop.ExpectedCents{Mean: 900, Lo: -250, Hi: 2100},
	}
	a.Plans[2026] = crop.Plan{
		Season: 2026, Goal: 150, Seasons: 2, Places: 120, Minutes: 960, Chance: 871, Made: "2026-11-01", Net: -1200,
	}
	return a
}

func aheadFactsOf(f crop.Farm) []changelog.Fact {
	a := f.Ahead
	return slices.Concat(
		farm.WarmthFacts(f.ID, a.Warmth), farm.DivisionCostFacts(f.ID, a.Costs), ofEach(a.Asks, farm.AskFacts), ofEach(a.Weather, farm.WeatherFacts),
		ofEach(a.WeatherWrong, farm.WeatherFacts), ofEach(a.Tasks, farm.TaskFacts), ofEach(a.Intents, farm.IntentFacts),
		ofEach(a.Plans, farm.PlanFacts),
	)
}

func TestWhatLiesAheadIsRefusedWhereItCannotBe(t *testing.T) {
	const field, shed, money = syncproto.ScopeField, syncproto.ScopeShed, syncproto.ScopeMoney
	text, number := syncproto.Text, syncproto.Int
	for _, c := range []struct {
		what            string
		scope           syncproto.Scope
		kind, id, field string
		value           syncproto.Value
		code            syncproto.Code
	}{
		{"an ask of no stems", shed, "ask", "a", "stems", number(0), syncproto.CodeValue},
		{"an ask of more stems than anybody has", shed, "ask", "a", "stems", number(crop.MostBenchStems + 1), syncproto.CodeValue},
		{"an ask that begins on no day", shed, "ask", "a", "since", text("2026-02-30"), syncproto.CodeDate},
		{"an ask for no day", shed, "ask", "a", "due", text("Wednesday"), syncproto.CodeDate},
		{"an ask for a day to come", shed, "ask", "a", "due", text("2027-06-03"), ""},
		{"an ask that is yet to come in", shed, "ask", "a", "taken", text("2026-11-27"), syncproto.CodeDate},
		{"an ask for what is unsaleable", shed, "ask", "a", "grade", text("out"), syncproto.CodeValue},
		{"an answer that nobody knows", shed, "ask", "a", "answer", text("perhaps"), syncproto.CodeValue},
		{"an answer that is taken back", shed, "ask", "a", "answer", text(""), ""},
		{"more than all chances", shed, "ask", "a", "chance", number(1_001), syncproto.CodeValue},
		{"fewer than no stems offered", shed, "ask", "a", "offered", number(-1), syncproto.CodeValue},
		{"colours that are a text", shed, "ask", "a", "colours", text("c"), syncproto.CodeValue},
		{"the price of an ask where crew reads it", shed, "ask", "a", "cents", number(55), syncproto.CodeScope},
		{"the price of an ask", money, "ask", "a", "cents", number(55), ""},
		{"what a broken promise costs where crew reads it", shed, "farm", "f", "break_cost", number(900), syncproto.CodeScope},
		{"a broken promise that costs a hundred times the price and more", money, "farm", "f", "break_cost", number(10_001), syncproto.CodeValue},
		{"what work costs where crew reads it", shed, "farm", "f", "hour_cents", number(2000), syncproto.CodeScope},
		{"minutes a division where crew reads them", field, "farm", "f", "divide_minutes", number(6), syncproto.CodeScope},
		{"ground that costs nothing", money, "farm", "f", "ground_cents", number(0), ""},
		{"work that costs what is usual again", money, "farm", "f", "hour_cents", number(farm.AsUsual), ""},
		{"plugs that bring money", money, "farm", "f", "plug_cents", number(-250), syncproto.CodeValue},
		{"a division that takes more than a day", money, "farm", "f", "divide_minutes", number(601), syncproto.CodeValue},
		{"plants worth more than any to come", money, "farm", "f", "standing_worth", number(501), syncproto.CodeValue},
		{"the weather of a day that there is not", field, "weather", "2026-02-30", "min", number(10), syncproto.CodeDate},
		{"the weather of a day to come", field, "weather", "2026-11-27", "min", number(10), syncproto.CodeDate},
		{"the weather of no day", field, "weather", "today", "withdrawn", number(1), syncproto.CodeDate},
		{"colder than it ever was", field, "weather", "2026-11-25", "min", number(-901), syncproto.CodeValue},
		{"hotter than it ever was", field, "weather", "2026-11-25", "max", number(601), syncproto.CodeValue},
		{"a temperature that is a text", field, "weather", "2026-11-25", "max", text("12"), syncproto.CodeValue},
		{"frost", field, "weather", "2026-11-25", "min", number(-35), ""},
		{"degrees that nobody knows", field, "farm", "f", "degrees", text("k"), syncproto.CodeValue},
		{"a method that nobody knows", field, "farm", "f", "warm_method", text("triangle"), syncproto.CodeValue},
		{"a threshold beyond all weather", field, "farm", "f", "warm_upper", number(601), syncproto.CodeValue},
		{"a task of no kind", field, "task", "t", "kind", text("dance"), syncproto.CodeValue},
		{"a task whose id has no kind", field, "task", "2026.dance.b", "done", text(""), syncproto.CodeValue},
		{"a task that will be done", field, "task", "2026.cut_back.b", "done", text("2026-11-27"), syncproto.CodeDate},
		{"a task that is half dropped", field, "task", "2026.cut_back.b", "dropped", number(2), syncproto.CodeValue},
		{"a task that is put off", field, "task", "2026.cut_back.b", "due", text("2027-03-01"), ""},
		{"a deed that nobody knows", field, "intent", "2026.k", "do", text("eat"), syncproto.CodeValue},
		{"a decision that is taken back", field, "intent", "2026.k", "do", text(""), ""},
		{"a decision for no plant", field, "intent", "2026", "do", text("keep"), syncproto.CodeValue},
		{"a plant in a hundred parts", field, "intent", "2026.k", "into", number(100), syncproto.CodeValue},
		{"what a decision is worth where crew reads it", field, "intent", "2026.k", "cents_lo", number(1), syncproto.CodeScope},
		{"a loss", money, "intent", "2026.k", "cents_lo", number(-400), ""},
		{"a plan of no season", shed, "plan", "next", "goal", number(150), syncproto.CodeValue},
		{"a goal of nothing", shed, "plan", "2026", "goal", number(0), syncproto.CodeValue},
		{"a plan for no season", shed, "plan", "2026", "seasons", number(0), syncproto.CodeValue},
		{"what a plan brings where crew reads it", shed, "plan", "2026", "net", number(1), syncproto.CodeScope},
	} {
		change := syncproto.Change{Scope: c.scope, Op: syncproto.OpSet, Type: c.kind, ID: c.id, Field: c.field, Value: c.value}
		code, why := farm.Check(change, "2026-11-25")
		if code != c.code {
			t.Errorf("%s: %q (%s), want %q", c.what, code, why, c.code)
		}
		if len(why) > farm.MostReason {
			t.Errorf("%s: %d bytes of reason", c.what, len(why))
		}
	}
}

func TestADecisionThatIsTakenBackIsGoneAndAnAskComesBack(t *testing.T) {
	withdrawn := func(kind, id string, n int64) changelog.Fact {
		return changelog.Fact{Scope: syncproto.ScopeShed, Op: syncproto.OpSet, Type: kind, ID: id, Field: changelog.FieldWithdrawn, Value: syncproto.Int(n)}
	}
	undone := changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: farm.TypeIntent, ID: "2026.k", Field: farm.FieldDo, Value: syncproto.Text("")}
	small := aheadFactsOf(crop.Farm{ID: "farm", Ahead: smallAhead()})
	a := readSaid(small, []changelog.Fact{undone, withdrawn("ask", "as", 1), withdrawn("ask", "open", 1), withdrawn("task", "t", 1)}, []changelog.Fact{withdrawn("ask", "as", 0)})
	if len(a.Intents) != 0 {
		t.Error("the decision stands")
	}
	if asks := slices.Collect(maps.Keys(a.Asks)); !slices.Equal(asks, []crop.AskID{"as"}) {
		t.Errorf("asks %v are there", asks)
	}
	if _, there := a.Tasks["t"]; there {
		t.Error("the own task stands")
	}
}

type fieldsTold map[string]any

func (told fieldsTold) of(kind, id string) []changelog.Fact {
	var facts []changelog.Fact
	for field, value := range told {
		fact := changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: kind, ID: id, Field: field}
		switch v := value.(type) {
		case string:
			fact.Value = syncproto.Text(v)
		case float64:
			fact.Value = syncproto.Int(int64(v))
		}
		facts = append(facts, fact)
	}
	return facts
}

// readSaid reads what lies ahead after some operations.
func readSaid(operations ...[]changelog.Fact) crop.Ahead {
	state := changelog.NewState()
	recorder := changelog.Recorder{Incarnation: inc}
	for i, facts := range operations {
		for _, c := range recorder.Operation(int64(i+1), facts...) {
			state.Merge(c, c.Stamp)
		}
	}
	return farm.Read("farm", state).Ahead
}

type aheadVectors struct {
	TaskIDs []struct {
		ID       crop.TaskID
		Own, Bad bool
		Season   crop.Season
		Kind     crop.TaskKind
		Of       string
	} `json:"task_ids"`
	IntentIDs []struct {
		ID     crop.IntentID
		Bad    bool
		Season crop.Season
		Plant  crop.PlantID
	} `json:"intent_ids"`
	Unmet []struct {
		Name           string
		Stems, Offered int
		Answer         crop.AskAnswer
		Want           int
	}
	ComesAgain []struct {
		Name           string
		Stems, Offered int
		Answer         crop.AskAnswer
		Due, On        crop.Date
		Want           bool
	} `json:"comes_again"`
	Weather []struct {
		Name, Want string
		ID         crop.Date
		Fields     fieldsTold
		Min, Max   float64
	}
	Warmth []struct {
		Name   string
		Fields fieldsTold
		Want   crop.Warmth
	}
	Costs []struct {
		Name   string
		Fields fieldsTold
		Want   crop.DivisionCosts
	}
}

func readAheadVectors(t *testing.T) (v aheadVectors) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/vectors/ahead.json")
	if err == nil {
		err = json.Unmarshal(data, &v)
	}
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestIdsOfTasksAndDecisionsFollowTheVectors(t *testing.T) {
	v := readAheadVectors(t)
	for _, c := range v.TaskIDs {
		name, err := farm.ParseTaskID(c.ID)
		if (err == nil) == (c.Own || c.Bad) || farm.IsOwnTask(c.ID) != c.Own {
			t.Errorf("task %q: %v, own %v", c.ID, err, farm.IsOwnTask(c.ID))
		} else if err == nil && (name != farm.TaskName{Season: c.Season, Kind: c.Kind, Of: c.Of} || name.ID() != c.ID) {
			t.Errorf("task %q is read as %+v and written %q", c.ID, name, name.ID())
		}
	}
	for _, c := range v.IntentIDs {
		season, plant, err := farm.ParseIntentID(c.ID)
		if (err == nil) == c.Bad {
			t.Errorf("intent %q: %v", c.ID, err)
		} else if err == nil && (season != c.Season || plant != c.Plant || farm.IntentID(season, plant) != c.ID) {
			t.Errorf("intent %q is read as %d and %q", c.ID, season, plant)
		}
	}
}

func TestUnmetStemsFollowTheVectors(t *testing.T) {
	for _, c := range readAheadVectors(t).Unmet {
		if got := (crop.Ask{Stems: c.Stems, Answer: c.Answer, Offered: c.Offered}).Unmet(); got != c.Want {
			t.Errorf("%s: %d, want %d", c.Name, got, c.Want)
		}
	}
}

func TestAsksThatComeAgainFollowTheVectors(t *testing.T) {
	for _, c := range readAheadVectors(t).ComesAgain {
		ask := crop.Ask{Stems: c.Stems, Answer: c.Answer, Offered: c.Offered, Due: c.Due}
		if got := ask.ComesAgain(c.On); got != c.Want {
			t.Errorf("%s: %v, want %v", c.Name, got, c.Want)
		}
	}
}

func TestWeatherAndWarmthFollowTheVectors(t *testing.T) {
	v := readAheadVectors(t)
	for _, c := range v.Weather {
		got, want := readSaid(c.Fields.of(farm.TypeWeather, string(c.ID))), crop.NewAhead()
		day := crop.Weather{Date: c.ID, Min: c.Min, Max: c.Max}
		switch c.Want {
		case "right":
			want.Weather[c.ID] = day
		case "wrong":
			want.WeatherWrong[c.ID] = day
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v", c.Name, got)
		}
	}
	for _, c := range v.Warmth {
		if got := readSaid(c.Fields.of(farm.TypeFarm, "farm")).Warmth; got != c.Want {
			t.Errorf("%s: %+v, want %+v", c.Name, got, c.Want)
		}
	}
}

func TestCostsOfDivisionsFollowTheVectors(t *testing.T) {
	for _, c := range readAheadVectors(t).Costs {
		if got := readSaid(c.Fields.of(farm.TypeFarm, "farm")).Costs; got != c.Want {
			t.Errorf("%s: %+v, want %+v", c.Name, got, c.Want)
		}
	}
}
