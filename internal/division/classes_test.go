package division

import (
	"math"
	"slices"
	"testing"

	"corymb/internal/crop"
)

// coralAlone is a farm whose plants were all told to be coral, with coral worth a lot and shell next to nothing.
func coralAlone() (crop.Farm, Question) {
	farm, q := middling()
	for id, p := range farm.Plants {
		p.Colour = "coral"
		farm.Plants[id] = p
	}
	q.Prices = []Price{
		{Colour: "coral", Grade: crop.GradeSecond, Channel: "florist", Cents: 90, AWeek: math.Inf(1)},
		{Colour: "shell", Grade: crop.GradeSecond, Channel: "florist", Cents: 1, AWeek: math.Inf(1)},
	}
	return farm, q
}

func actionOf(t *testing.T, plan Plan, plant crop.PlantID) Action {
	t.Helper()
	at := slices.IndexFunc(plan.Actions, func(a Action) bool { return a.Plant == plant })
	if at < 0 {
		t.Fatalf("nothing becomes of %s", plant)
	}
	return plan.Actions[at]
}

func saysWhy(a Action, code WhyCode) (Why, bool) {
	at := slices.IndexFunc(a.Why, func(why Why) bool { return why.Code == code })
	if at < 0 {
		return Why{}, false
	}
	return a.Why[at], true
}

func TestAPlantThatLeftItsClassCountsAsWhatItIsNow(t *testing.T) {
	farm, q := coralAlone()
	before := planOf(t, farm, q)
	at := slices.IndexFunc(before.Actions, func(a Action) bool { return a.Do == Divide })
	if at < 0 {
		t.Fatal("nothing is divided: this test would not see what it is for")
	}
	dearest := before.Actions[at].Plant
	q.Classes = map[crop.PlantID]Class{dearest: {Likely: []Likely{{"shell", 1}}, Drifts: true}}
	after := actionOf(t, planOf(t, farm, q), dearest)
	if after.Do == Divide || after.Value.Mean >= before.Actions[at].Value.Mean/4 {
		t.Errorf("as coral %+v, as shell %+v", before.Actions[at], after)
	}
	if why, told := saysWhy(after, WhyLeftClass); !told || why.Colour != "shell" {
		t.Errorf("the reasons are %v", after.Why)
	}
	if _, told := saysWhy(after, WhyDrifts); told {
		t.Errorf("it drifts and left its class: %v", after.Why)
	}

	q.Classes[dearest] = Class{Likely: []Likely{{"", 1}}} // nobody buys what is of no class
	plan := planOf(t, farm, q)
	if !noted(plan, NoteNoClass) || noted(plan, NoteNoPrice) {
		t.Errorf("the notes are %v", plan.Notes)
	}
	none := actionOf(t, plan, dearest)
	if why, told := saysWhy(none, WhyLeftClass); !told || why.Colour != "" || none.Value.Mean > after.Value.Mean {
		t.Errorf("of no class it is worth %v for %v, as shell %v", none.Value, none.Why, after.Value)
	}
}

func TestAPlantBetweenClassesCountsByWhatItMayBe(t *testing.T) {
	farm, q := coralAlone()
	q.Most, q.Hours = 1, 0 // all are kept
	plan := planOf(t, farm, q)
	between := plan.Actions[0].Plant
	q.Classes = map[crop.PlantID]Class{between: {Likely: []Likely{{"coral", 0.5}, {"shell", 0.5}}, Drifts: true}}
	half := actionOf(t, planOf(t, farm, q), between)
	whole := plan.Actions[0].Value.Mean + q.cost()
	if part := (half.Value.Mean + q.cost()) / whole; part < 0.4 || part > 0.6 {
		t.Errorf("a plant that is coral or shell is worth %v of a coral one's %v", part, whole)
	}
	if _, told := saysWhy(half, WhyDrifts); !told {
		t.Errorf("the reasons are %v", half.Why)
	}
}

// cost is what a plant that is kept costs.
func (q Question) cost() float64 {
	return float64(q.Costs.Ground) * float64(q.Seasons)
}
