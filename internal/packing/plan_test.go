package packing

import (
	"context"
	"encoding/json"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// red is so many red stems, all alike.
func red(id string, stems int64, cut string) Supply {
	return Supply{ID: id, Grade: "first", LengthMM: 500, Colour: "red", Stems: stems, Cut: cut}
}

// tens takes red bunches of ten.
func tens(id string, price, most int64) Demand {
	return Demand{ID: id, MinGrade: "second", MinLengthMM: 400, Colours: []string{"red"}, Bunch: 10, Price: price, MaxBunches: most}
}

func dayWith(supply []Supply, demand ...Demand) Day {
	return Day{Grades: []string{"out", "second", "first", "extra"}, Supply: supply, Demand: demand}
}

func solved(t *testing.T, d Day, o Options) Plan {
	t.Helper()
	plan, err := Solve(context.Background(), d, o)
	if err != nil {
		t.Fatal(err)
	}
	if wrong := broken(d, plan); len(wrong) > 0 || !plan.Proven {
		t.Fatalf("proven %v: %v", plan.Proven, wrong)
	}
	return plan
}

func TestTheOldestStemsGoFirst(t *testing.T) {
	for _, c := range []struct {
		name   string
		supply []Supply
		want   []Stems
	}{
		{"by the day they were cut", []Supply{red("new", 20, "2026-06-20"), red("old", 20, "2026-06-18"), red("older", 4, "2026-06-17")},
			[]Stems{{"older", 4}, {"old", 16}}},
		{"whoever is of no known day last", []Supply{red("when", 20, ""), red("new", 15, "2026-06-20")}, []Stems{{"new", 15}, {"when", 5}}},
		{"of one day as given", []Supply{red("b", 15, "2026-06-20"), red("a", 15, "2026-06-20")}, []Stems{{"b", 15}, {"a", 5}}},
		{"of one day the lesser grade", []Supply{red("b", 15, ""), {ID: "less", Grade: "second", LengthMM: 500, Colour: "red", Stems: 15}},
			[]Stems{{"less", 15}, {"b", 5}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			plan := solved(t, dayWith(c.supply, tens("D", 300, 2)), Options{})
			if got := plan.Lines[0].Stems; !slices.Equal(got, c.want) {
				t.Errorf("%v, want %v", got, c.want)
			}
		})
	}
}

// Two lines of one price need the same pink stems, the one with red ones and the other with white.
func TestAmongPlansThatBringTheSameTheOneWithOlderStemsIsTaken(t *testing.T) {
	for _, c := range []struct {
		red, white string
		want       []int64
	}{{"2026-06-18", "2026-06-20", []int64{1, 0}}, {"2026-06-20", "2026-06-18", []int64{0, 1}}, {"2026-06-20", "", []int64{1, 0}}} {
		white, pink := red("W", 10, c.white), red("P", 10, "2026-06-19")
		white.Colour, pink.Colour = "white", "pink"
		reds, whites := tens("reds", 600, 1), tens("whites", 600, 1)
		reds.Colours, whites.Colours = []string{"red", "pink"}, []string{"white", "pink"}
		reds.Bunch, whites.Bunch = 20, 20
		plan := solved(t, dayWith([]Supply{red("R", 10, c.red), white, pink}, reds, whites), Options{})
		if got := bunchesOf(plan); !slices.Equal(got, c.want) {
			t.Errorf("red of %q, white of %q: %v, want %v", c.red, c.white, got, c.want)
		}
	}
}

func TestOfTwoLinesAlikeTheOneNamedFirstIsFilled(t *testing.T) {
	plan := solved(t, dayWith([]Supply{red("S", 45, "")}, tens("A", 300, 3), tens("B", 300, 3)), Options{})
	if got := bunchesOf(plan); !slices.Equal(got, []int64{3, 1}) {
		t.Errorf("%v, want 3 and 1", got)
	}
}

func TestShortfallsSayForWantOfWhat(t *testing.T) {
	whole := tens("L", 300, 5)
	whole.AllOrNothing = true
	refused, pinned := tens("L", 300, 5), tens("L", 300, 5)
	refused.Refused = true
	pinned.Pinned = new(int64)
	minimum := tens("L", 300, 5)
	minimum.MinBunches = 5
	dear := red("dear", 30, "")
	dear.Floor = 31
	short := red("short", 30, "")
	short.LengthMM = 300
	for _, c := range []struct {
		name    string
		d       Day
		lacking int64
		minimum int64
		codes   []ReasonCode
		says    string
	}{
		{"nothing good enough", dayWith([]Supply{short}, tens("L", 300, 5)), 10, 0, []ReasonCode{ReasonNone}, "nothing on hand is red, second or better, 40 cm or longer"},
		{"too few", dayWith([]Supply{red("S", 34, "")}, tens("L", 300, 5)), 6, 0, []ReasonCode{ReasonFew, ReasonRemainder}, "6 stems are lacking for one more"},
		{"a floor", dayWith([]Supply{red("S", 30, ""), dear}, tens("L", 300, 5)), 10, 0, []ReasonCode{ReasonFew, ReasonFloor}, "with a floor above the 30.0 cents a stem that it pays, 30 stems are: 30 of dear."},
		{"a better paid line", dayWith([]Supply{red("S", 49, "")}, tens("L", 300, 5), tens("X", 400, 3)), 1, 0, []ReasonCode{ReasonBetter, ReasonRemainder}, "1 line has 30 such stems: X 30 at 40.0 cents."},
		{"all or nothing", dayWith([]Supply{red("S", 60, "")}, whole, tens("X", 900, 3)), 20, 0, []ReasonCode{ReasonBetter, ReasonWhole}, "for all of it, and it is all or nothing"},
		{"a minimum", dayWith([]Supply{red("S", 34, "")}, minimum), 6, 2, []ReasonCode{ReasonFew, ReasonRemainder}, "2 bunches fewer than must be packed"},
		{"refused", dayWith([]Supply{red("S", 34, "")}, refused), 0, 0, []ReasonCode{ReasonRefused}, "the line is refused"},
		{"pinned to none", dayWith([]Supply{red("S", 34, "")}, pinned), 0, 0, []ReasonCode{ReasonPinned}, "it is pinned to that"},
		{"larger bunches elsewhere that bring more in all", dayWith([]Supply{red("S", 20, "")}, tens("L", 301, 1),
			Demand{ID: "X", MinGrade: "second", Bunch: 20, Price: 600, MaxBunches: 1}), 10, 0, []ReasonCode{ReasonOthers}, "Paid no better a stem"},
	} {
		t.Run(c.name, func(t *testing.T) {
			plan := solved(t, c.d, Options{})
			if len(plan.Shortfalls) == 0 || plan.Shortfalls[0].ID != "L" {
				t.Fatalf("shortfalls %+v", plan.Shortfalls)
			}
			s := plan.Shortfalls[0]
			var codes []ReasonCode
			for _, r := range s.Reasons {
				codes = append(codes, r.Code)
			}
			if !slices.Equal(codes, c.codes) || s.Lacking != c.lacking || s.Minimum != c.minimum || !strings.Contains(s.Text, c.says) {
				t.Errorf("%v, lacking %d, minimum short by %d: %s", codes, s.Lacking, s.Minimum, s.Text)
			}
		})
	}
}

func TestPinnedAndRefusedLinesAreSolvedAgain(t *testing.T) {
	d := dayWith([]Supply{red("S", 50, "")}, tens("A", 500, 4), tens("B", 400, 4), tens("C", 300, 4))
	if got := bunchesOf(solved(t, d, Options{})); !slices.Equal(got, []int64{4, 1, 0}) {
		t.Fatalf("%v", got)
	}
	two := int64(2)
	d.Demand[2].Pinned = &two
	d.Demand[0].Refused = true
	if got := bunchesOf(solved(t, d, Options{})); !slices.Equal(got, []int64{0, 3, 2}) {
		t.Errorf("%v, want none, 3 and the pinned 2", got)
	}
}

func TestTheOrdersTopDownAreComparedWithThePlan(t *testing.T) {
	d := dayWith([]Supply{red("S", 50, "")}, tens("C", 300, 4), tens("A", 500, 4))
	plan := solved(t, d, Options{})
	if plan.Revenue != 4*500+300 || plan.TopDown.Revenue != 4*300+500 {
		t.Errorf("%d, top down %d", plan.Revenue, plan.TopDown.Revenue)
	}
	if want := []Differs{{"C", 1, 4}, {"A", 4, 1}}; !slices.Equal(plan.TopDown.Differs, want) {
		t.Errorf("%v, want %v", plan.TopDown.Differs, want)
	}
}

func TestTheSameDayHasTheSamePlanOnAnyNumberOfProcessors(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, kind := range kinds {
		d := madeUp(kind, 2, 100, 50)
		var texts []string
		for _, processors := range []int{1, 4} {
			runtime.GOMAXPROCS(processors)
			plan := solved(t, d, Options{})
			plan.Seconds = 0
			text, err := json.Marshal(plan)
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, string(text))
		}
		if texts[0] != texts[1] {
			t.Errorf("%s: the plans differ", kind)
		}
	}
}

// wild is a day as nobody would write it, with numbers near every edge.
func wild(r *rand.Rand) Day {
	edge := func() int64 {
		return []int64{0, 1, 2, 7, 10, 99, 1 << 20, 1 << 31, 1 << 40, 1 << 53}[r.IntN(10)]
	}
	d := tinyDay(r)
	for i := range d.Supply {
		switch s := &d.Supply[i]; r.IntN(4) {
		case 0:
			s.Stems = edge()
		case 1:
			s.Floor = edge()
		}
	}
	for i := range d.Demand {
		switch line := &d.Demand[i]; r.IntN(4) {
		case 0:
			line.Bunch = max(1, edge())
		case 1:
			line.Price = max(1, edge())
		case 2:
			line.MaxBunches = edge()
			line.MinBunches = min(line.MinBunches, line.MaxBunches)
			line.Pinned = nil
		}
	}
	return d
}

func TestAPlanBreaksNoRuleHoweverWildTheDay(t *testing.T) {
	t.Logf("seed %d", *tinySeed)
	plans := 0
	days := *tinyDays / 5
	for i := range days {
		d := wild(rand.New(rand.NewPCG(*tinySeed, uint64(i))))
		plan, err := Solve(context.Background(), d, Options{OneMore: i%4 == 0})
		if err != nil {
			continue
		}
		plans++
		if wrong := broken(d, plan); len(wrong) > 0 {
			t.Fatalf("seed %d, day %d: %v: %+v", *tinySeed, i, wrong, d)
		}
	}
	if plans < days/3 {
		t.Errorf("only %d of %d days had a plan", plans, days)
	}
}
