package division

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/division/choose"
)

// middling is a farm drawn once, and a question about it.
func middling() (crop.Farm, Question) {
	q := Question{Places: 12, Hours: 3, Seasons: 2, Most: 4, Costs: crop.UsualDivisionCosts, Prices: madePrices(60), AsOf: "2026-12-31"}
	return madeFarm(newTruth(rand.New(rand.NewPCG(8, 50))), 16, 2, 3), q
}

func planOf(t *testing.T, farm crop.Farm, q Question) Plan {
	t.Helper()
	plan, err := Of(farm, q)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func divided(plan Plan, of func(Action) bool) (into int) {
	for _, a := range plan.Actions {
		if a.Do == Divide && of(a) {
			into += a.Into
		}
	}
	return into
}

func everyOne(Action) bool { return true }

func TestProtectedStockIsNeverDivided(t *testing.T) {
	farm, q := middling()
	if divided(planOf(t, farm, q), everyOne) == 0 {
		t.Fatal("nothing is divided: this test would not see what it is for")
	}
	farm.Stocks["strain"] = crop.Stock{ID: "strain", Protected: true}
	plan := planOf(t, farm, q)
	if n := divided(plan, everyOne); n > 0 {
		t.Errorf("%d divisions of protected stock", n)
	}
	if !noted(plan, NoteProtected) {
		t.Errorf("it is not noted: %v", plan.Notes)
	}
}

func TestWhereAllFitsNothingElseForAnyPlantOfTheBestPlanIsBetter(t *testing.T) {
	q := usual()
	q.Hours = 100
	plan := planOf(t, sample(t), q)
	if plan.Gap > 0 || plan.PlacesUsed == q.Places {
		t.Fatalf("gap %v, %d places used: this test would not see what it is for", plan.Gap, plan.PlacesUsed)
	}
	for _, a := range plan.Actions {
		if a.GivesUp < 0 {
			t.Errorf("for %s, which is to %s, another thing would bring %.0f cents more", a.Plant, a.Do, -a.GivesUp)
		}
	}
}

func TestAFarmWithoutCountsGaveAboutWhatPracticeSays(t *testing.T) {
	farm := crop.NewFarm()
	farm.Stocks["S"], farm.Beds["B"] = crop.Stock{ID: "S"}, crop.Bed{ID: "B"}
	farm.Plantings["P"] = crop.Planting{ID: "P", Stock: "S", Bed: "B", Planted: "2023-09-20", FirstSeason: 2024}
	farm.Plants["1"] = crop.Plant{ID: "1", Planting: "P"}
	farm.Visits["v"] = crop.Visit{
		ID: "v", Bed: "B", Date: "2024-05-20", Purpose: crop.PurposeBedCut, Flush: crop.FlushSpring,
		Counts: []crop.Count{{Grade: crop.GradeFirst, Stems: 9}},
	}
	plan := planOf(t, farm, Question{Seasons: 1, Most: 1, Prices: madePrices(20), Costs: crop.UsualDivisionCosts, AsOf: "2024-12-31", Goal: 1})
	if now := plan.Goal.Now; !(now > 2 && now < 100) { // a first season has some eight stems: common practice, no source
		t.Errorf("one plant is taken to have given %.0f stems", now)
	}
}

func TestAPlantingWhoseStockHasNotComeYetIsPlanned(t *testing.T) {
	farm, q := middling()
	delete(farm.Stocks, "strain")
	for id, p := range farm.Plants {
		p.Colour = ""
		farm.Plants[id] = p
	}
	if plan := planOf(t, farm, q); len(plan.Actions) == 0 {
		t.Error("nothing is planned")
	}
}

func noted(plan Plan, code NoteCode) bool {
	for _, n := range plan.Notes {
		if n.Code == code {
			return true
		}
	}
	return false
}

func TestNoMoreIsUsedThanThereIs(t *testing.T) {
	for seed := uint64(1); seed <= 5; seed++ {
		src := rand.New(rand.NewPCG(seed, 60))
		farm, q := middling()
		q.Places, q.Hours, q.Most = src.IntN(15), 3*src.Float64(), 1+src.IntN(4)
		plan := planOf(t, farm, q)
		places, minutes := 0, 0.0
		for _, a := range plan.Actions {
			switch a.Do {
			case Divide:
				places, minutes = places+a.Into-1, minutes+float64(a.Into*q.Costs.Divide)
				if a.Into > q.Most {
					t.Errorf("seed %d: %s is made into %d, %d at most", seed, a.Plant, a.Into, q.Most)
				}
			case Lift:
				places, minutes = places-1, minutes+float64(q.Costs.Lift)
			case Replace:
				minutes += float64(q.Costs.Lift + q.Costs.Set)
			}
		}
		if places > q.Places || minutes > 60*q.Hours+1e-6 || places != plan.PlacesUsed || math.Abs(minutes/60-plan.HoursUsed) > 1e-6 {
			t.Errorf("seed %d: %d places of %d and %v minutes of %v; it tells %d and %v", seed, places, q.Places, minutes, 60*q.Hours, plan.PlacesUsed, plan.HoursUsed)
		}
	}
}

// problemOf lays out the choice.
func problemOf(t *testing.T, farm crop.Farm, q Question) (*planner, *choose.Problem) {
	t.Helper()
	s, err := standingOn(farm, q)
	if err != nil {
		t.Fatal(err)
	}
	p, err := newPlanner(s, q)
	if err != nil {
		t.Fatal(err)
	}
	return p, p.problem()
}

func TestDivisionsKeepTheirColourAndPlugsDoNot(t *testing.T) {
	farm, q := middling()
	p, problem := problemOf(t, farm, q)
	for i, one := range p.plants {
		for n, o := range p.options[i] {
			colours := map[int]bool{}
			for _, give := range problem.Things[i][n].Gives {
				colours[give.Market%len(p.colours)] = true
			}
			switch {
			case o.do == Replace && len(colours) < 2:
				t.Errorf("%s replaced gives colours %v: a plug may be of any in its stock", one.ID, colours)
			case o.do == Divide && (len(colours) != 1 || !colours[one.colour]):
				t.Errorf("%s divided gives colours %v, want %d alone", one.ID, colours, one.colour)
			}
		}
	}
}

// given is the mean stems of an option in one season ahead.
func given(problem *choose.Problem, thing, option, t int, colours int) float64 {
	sum := 0.0
	for _, give := range problem.Things[thing][option].Gives {
		if give.Market/colours == t {
			for _, stems := range give.Stems {
				sum += float64(stems) / float64(problem.Draws)
			}
		}
	}
	return sum
}

func TestAnOpenCentreGivesLessUntilItIsDivided(t *testing.T) {
	farm, q := middling()
	p, sound := problemOf(t, farm, q)
	q.OpenCentre = map[crop.PlantID]bool{}
	for _, one := range p.plants {
		q.OpenCentre[one.ID] = true
	}
	_, open := problemOf(t, farm, q)
	var kept, divided [2]float64
	for i, one := range p.plants {
		if one.age < leastToDivide {
			continue
		}
		for n, problem := range []*choose.Problem{sound, open} {
			kept[n] += given(problem, i, 0, 0, len(p.colours))
			divided[n] += given(problem, i, 1, 0, len(p.colours))
		}
	}
	if ratio := kept[1] / kept[0]; math.Abs(ratio-0.75) > 0.05 {
		t.Errorf("kept it gives %.3f times as much, want some 0.75", ratio)
	}
	if ratio := divided[1] / divided[0]; math.Abs(ratio-1) > 0.05 {
		t.Errorf("divided it gives %.3f times as much, want as much", ratio)
	}
}

func TestADivisionsFirstSeasonIsPartOfAClumpsAndThenItCatchesUp(t *testing.T) {
	farm, q := middling()
	p, problem := problemOf(t, farm, q)
	first, second := 0.0, 0.0
	for i := range p.plants {
		if p.options[i][1].do == Divide {
			first += given(problem, i, 1, 0, len(p.colours)) / divisionTakes
			second += given(problem, i, 1, 1, len(p.colours)) / divisionTakes
		}
	}
	// Some divisions die before their second season.
	if ratio := first / second; ratio < 0.5 || ratio > 0.8 {
		t.Errorf("the first season is %.2f of the second, want half to two thirds of what lives", ratio)
	}
}

func TestAsksThatNobodyMetMakeRoomForMore(t *testing.T) {
	farm, q := middling()
	q.Prices, q.Places, q.Hours = madePrices(2), 100, 100
	coral := func(a Action) bool { return farm.Plants[a.Plant].Colour == "coral" }
	before := divided(planOf(t, farm, q), coral)
	for _, due := range []crop.Date{"2026-05-20", "2026-05-29", "2026-06-05", "2026-06-12"} {
		q.Asks = append(q.Asks, Ask{Colours: []crop.ColourID{"coral"}, Grade: crop.GradeFirst, Due: due, Stems: 200, Cents: 70})
	}
	plan := planOf(t, farm, q)
	if after := divided(plan, coral); after <= before {
		t.Errorf("%d divisions of coral with asks for it, %d without", after, before)
	}
	found := false
	for _, a := range plan.Actions {
		for _, why := range a.Why {
			found = found || why.Code == WhyColourAsked && why.Colour == "coral" && a.Do == Divide
		}
	}
	if !found {
		t.Error("no plant is divided because its colour was asked for")
	}
}

func TestWantedStemsComeBeforeMoney(t *testing.T) {
	farm, q := middling()
	q.Prices, q.Places, q.Hours = madePrices(1), 100, 100
	q.Wanted = []Wanted{{Colour: "coral", Due: "2028-05-29", Stems: 1}}
	few := planOf(t, farm, q).Wanted[0].Mean
	q.Wanted[0].Stems = 400
	if many := planOf(t, farm, q).Wanted[0].Mean; many <= few {
		t.Errorf("%v coral stems come where 400 are wanted, %v where 1 is", many, few)
	}
}

func TestWantedStemsAreNotGivenUpForAGoalOutOfReach(t *testing.T) {
	farm, q := middling()
	q.Wanted = []Wanted{{Colour: "coral", Due: "2028-05-29", Stems: 120}}
	free := planOf(t, farm, q).Wanted[0].Mean
	q.Goal, q.Chance = 4, 0.9
	plan := planOf(t, farm, q)
	if !noted(plan, NoteGoalOutOfReach) || plan.Wanted[0].Mean < 0.8*free {
		t.Errorf("%v of the wanted stems come with a goal out of reach, %v with none; the notes are %v", plan.Wanted[0].Mean, free, plan.Notes)
	}
}

func TestWhatWantedStemsCountForIsNotToldAsMoney(t *testing.T) {
	farm, q := middling()
	q.Wanted = []Wanted{{Colour: "coral", Due: "2028-05-29", Stems: 5_000}} // more than can come
	plan := planOf(t, farm, q)
	const most = wantedCents / 2 // a plant brings less than that
	told := false
	for _, a := range plan.Actions {
		if math.Abs(a.GivesUp) > most || a.ByAge != nil && math.Abs(a.ByAge.GivesUp) > most {
			t.Errorf("%s: gives up %v, by age %+v", a.Plant, a.GivesUp, a.ByAge)
		}
		for _, why := range a.Why {
			told = told || why.Code == WhyColourWanted && a.Do == Divide && why.Colour == "coral" && why.Stems == 5_000
			if why.Cents > most {
				t.Errorf("%s: %v", a.Plant, why)
			}
		}
	}
	if plan.PlaceWorth > most || plan.HourWorth > most || !told {
		t.Errorf("a place is worth %v, an hour %v; told that it is wanted: %v", plan.PlaceWorth, plan.HourWorth, told)
	}
}

func TestAChanceThatIsAskedForIsReachedOrSaidToBeOutOfReach(t *testing.T) {
	farm, q := middling()
	q.Prices, q.Goal, q.Places, q.Hours = madePrices(2), 1, 60, 30
	free := planOf(t, farm, q)
	q.Chance = 0.75
	asked := planOf(t, farm, q)
	if (noted(asked, NoteGoalLessSure) || noted(asked, NoteGoalOutOfReach)) != (asked.Goal.Chance < 0.75) {
		t.Errorf("a chance of %v where 0.75 is asked for has the notes %v", asked.Goal.Chance, asked.Notes)
	}
	if asked.Goal.Chance < 0.65 || asked.Goal.Chance <= free.Goal.Chance {
		t.Errorf("the chance is %v where 0.75 is asked for, %v where none is; %v", asked.Goal.Chance, free.Goal.Chance, asked.Notes)
	}
	q.Goal = 500
	if plan := planOf(t, farm, q); !noted(plan, NoteGoalOutOfReach) {
		t.Errorf("500 times as many stems: %v", plan.Notes)
	}
}

func TestWhereAgeAloneWouldDoAnotherThingItIsTold(t *testing.T) {
	farm, q := middling()
	plan := planOf(t, farm, q)
	told := 0
	for _, a := range plan.Actions {
		age := farm.Plantings[farm.Plants[a.Plant].Planting].AgeIn(2026)
		old := age >= 3
		agrees := old && (a.Do == Divide || a.Do == Replace) || !old && a.Do == Keep
		if agrees != (a.ByAge == nil) {
			t.Errorf("%s in season %d: %s, by age %+v", a.Plant, age, a.Do, a.ByAge)
		}
		if a.ByAge != nil {
			told++
		}
	}
	if told == 0 {
		t.Error("nothing differs: this test would not see what it is for")
	}
}

func TestThePlanIsTheSameTwiceAndSeesNothingOfLaterDays(t *testing.T) {
	farm, q := middling()
	want := planOf(t, farm, q)
	later := farm
	later.Visits = map[crop.VisitID]crop.Visit{"later": {
		ID: "later", Plant: want.Actions[0].Plant, Date: "2027-05-20", Purpose: crop.PurposeCut, Counts: []crop.Count{{Stems: 99}},
	}}
	for id, v := range farm.Visits {
		later.Visits[id] = v
	}
	for _, of := range []crop.Farm{farm, later} {
		if got := planOf(t, of, q); !reflect.DeepEqual(got, want) {
			t.Errorf("another plan: net %v, %v", got.Net, want.Net)
		}
	}
}

func TestTheFarmsOwnDivisionsOverrulePractice(t *testing.T) {
	src := rand.New(rand.NewPCG(4, 70))
	truth := newTruth(src)
	truth.ages, truth.plantSD, truth.seasonSD = []float64{2, 3, 3, 3}, 0.2, 0.1
	farm := madeFarm(truth, 40, 2, 3)
	q := Question{Seasons: 1, Most: 2, Prices: madePrices(100), Costs: crop.UsualDivisionCosts, AsOf: "2026-12-31"}
	const bed = "D"
	for n := range 8 { // plantings, for places differ too
		id := crop.PlantingID(fmt.Sprint(bed, n))
		farm.Plantings[id] = crop.Planting{ID: id, Stock: "strain", Bed: crop.BedID(id), Planted: "2025-10-01", FirstSeason: 2026}
		for k := range 6 {
			p := crop.Plant{
				ID: crop.PlantID(fmt.Sprint(id, "-", k)), Planting: id, Colour: "coral", Parents: []crop.PlantID{"gone"},
				Counted: map[crop.Season]crop.Window{2026: farm.Calendar.Span(2026)},
			}
			farm.Plants[p.ID] = p
			truth.cut(farm, p, 2026, 5) // a quarter of exp(3)
		}
	}
	p, _ := problemOf(t, farm, q)
	mean := meanOf(p.posterior.child)
	if math.Abs(math.Exp(mean)-0.25) > 0.09 {
		t.Errorf("divisions are held to give %.2f of a clump, want near to 0.25", math.Exp(mean))
	}
	if plan := planOf(t, farm, q); !noted(plan, NoteOwnDivisions) {
		t.Errorf("it is not noted: %v", plan.Notes)
	}
}

func TestQuestionsAndFarmsThatCannotBeAreRefusedInASentence(t *testing.T) {
	tests := []struct {
		name string
		with func(*crop.Farm, *Question)
		want RefusalCode
		word string
	}{
		{"four seasons", func(_ *crop.Farm, q *Question) { q.Seasons = 4 }, RefusedSeasons, "4 seasons"},
		{"no season", func(_ *crop.Farm, q *Question) { q.Seasons = 0 }, RefusedSeasons, "0 seasons"},
		{"a goal below nothing", func(_ *crop.Farm, q *Question) { q.Goal = -1 }, RefusedGoal, "goal of -1"},
		{"a goal that is no number", func(_ *crop.Farm, q *Question) { q.Goal = math.NaN() }, RefusedGoal, "goal"},
		{"places below nothing", func(_ *crop.Farm, q *Question) { q.Places = -3 }, RefusedPlaces, "-3 more places"},
		{"hours below nothing", func(_ *crop.Farm, q *Question) { q.Hours = -0.5 }, RefusedHours, "-0.5 hours"},
		{"into nothing", func(_ *crop.Farm, q *Question) { q.Most = 0 }, RefusedMost, "into 0"},
		{"a chance above one", func(_ *crop.Farm, q *Question) { q.Chance = 80 }, RefusedChance, "80"},
		{"work that brings money", func(_ *crop.Farm, q *Question) { q.Costs.Hour = -1 }, RefusedCosts, "0 or more"},
		{"a day's work at one plant", func(_ *crop.Farm, q *Question) { q.Costs.Divide = 601 }, RefusedCosts, "at most 600 minutes"},
		{"costs that people read", func(_ *crop.Farm, q *Question) { q.Costs.Standing = 501 }, RefusedCosts, "Such costs cannot be"},
		{"no price", func(_ *crop.Farm, q *Question) { q.Prices = nil }, RefusedPrices, "no price"},
		{"no day", func(_ *crop.Farm, q *Question) { q.AsOf = "2026-02-30" }, RefusedDay, "2026-02-30"},
		{"nothing stands", func(f *crop.Farm, _ *Question) { f.Plants = nil }, RefusedPlants, "No plant stands"},
		{"nothing was cut", func(f *crop.Farm, q *Question) { f.Visits, q.AsOf = nil, "" }, RefusedCuts, "No cut"},
		{"half a season", func(f *crop.Farm, q *Question) { q.AsOf = ""; halfOfLast(f) }, RefusedHalf, "2026-05-20"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			farm, q := middling()
			test.with(&farm, &q)
			_, err := Of(farm, q)
			var refusal Refusal
			if !errors.As(err, &refusal) || refusal.Code != test.want || !strings.Contains(err.Error(), test.word) {
				t.Errorf("%v, want %s with %q", err, test.want, test.word)
			}
		})
	}
}

func TestAStockThatNobodyCountedIsNoted(t *testing.T) {
	farm, q := middling()
	farm.Stocks["new"] = crop.Stock{ID: "new"}
	farm.Plantings["N"] = crop.Planting{ID: "N", Stock: "new", Bed: "B0", Planted: "2025-10-01", FirstSeason: 2026}
	farm.Plants["n1"] = crop.Plant{ID: "n1", Planting: "N"}
	for _, n := range planOf(t, farm, q).Notes {
		if n.Code == NoteStockUnseen && n.Stock == "new" && n.Plants == 1 {
			return
		}
	}
	t.Error("it is not noted")
}

func TestPlantsTakenOutAfterTheLastSeasonOfTheFilesAreGone(t *testing.T) {
	farm, q := middling()
	q.AsOf = ""
	plan := planOf(t, farm, q)
	gone := plan.Actions[0].Plant
	p := farm.Plants[gone]
	p.Removed = "2027-02-10"
	farm.Plants[gone] = p
	after := planOf(t, farm, q)
	if len(after.Actions) != len(plan.Actions)-1 || after.Actions[0].Plant == gone {
		t.Errorf("%s is planned for, taken out since", gone)
	}
}

func TestPricesThatTakeEverythingAreNoted(t *testing.T) {
	farm, q := middling()
	q.Prices = []Price{{Grade: crop.GradeFirst, Channel: "any", Cents: 50, AWeek: math.Inf(1)}}
	if plan := planOf(t, farm, q); !noted(plan, NoteMarketOpen) {
		t.Errorf("it is not noted: %v", plan.Notes)
	}
}
