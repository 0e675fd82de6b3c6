package farm

import (
	"slices"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/syncproto"
)

// WarmthFacts says how a farm reckons with warmth.
func WarmthFacts(id crop.FarmID, w crop.Warmth) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeFarm, id: string(id)}
	e.text(FieldDegrees, string(w.Degrees))
	e.number(FieldWarmLower, inTenths(w.Lower))
	e.number(FieldWarmUpper, inTenths(w.Upper))
	e.text(FieldWarmMethod, string(w.Method))
	return e.facts
}

// DivisionCostFacts says what divisions cost a farm.
func DivisionCostFacts(id crop.FarmID, c crop.DivisionCosts) []changelog.Fact {
	m := money(TypeFarm, string(id))
	for _, cost := range costFields {
		m.number(cost.field, cost.get(c))
	}
	return m.facts
}

// AskFacts says what somebody would buy.
func AskFacts(a crop.Ask) []changelog.Fact {
	e, m := shed(TypeAsk, string(a.ID)), money(TypeAsk, string(a.ID))
	e.told(FieldBuyer, string(a.Buyer))
	e.told(FieldNote, a.Note)
	e.number(FieldStems, a.Stems)
	e.list(FieldColours, textsOf(a.Colours))
	e.told(FieldGrade, string(a.Grade))
	e.toldNumber(FieldLeast, int(a.Length))
	e.text(FieldSince, string(a.From))
	e.text(FieldDue, string(a.Due))
	e.told(FieldTaken, string(a.Taken))
	e.told(FieldPerson, string(a.Person))
	e.told(FieldAnswer, string(a.Answer))
	e.toldNumber(FieldOffered, a.Offered)
	e.toldNumber(FieldChance, a.Chance)
	e.told(FieldOrder, string(a.Order))
	m.toldNumber(FieldCents, int(a.Price))
	return slices.Concat(e.facts, m.facts)
}

// WeatherFacts says how cold and how warm a day was, in degrees Celsius; a day that was taken back stands again.
func WeatherFacts(w crop.Weather) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeWeather, id: string(w.Date)}
	e.number(FieldMin, inTenths(w.Min))
	e.number(FieldMax, inTenths(w.Max))
	e.number(changelog.FieldWithdrawn, 0)
	return e.facts
}

// TaskFacts says what became of a task, and of a grower's own what it is.
func TaskFacts(t crop.Task) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeTask, id: string(t.ID)}
	if IsOwnTask(t.ID) {
		e.text(FieldKind, string(t.Kind))
		e.told(FieldBed, string(t.Bed))
		e.text(FieldWhat, t.What)
	}
	e.told(FieldDue, string(t.Due))
	e.told(FieldDone, string(t.Done))
	e.told(FieldPerson, string(t.Person))
	e.flag(FieldDropped, t.Dropped)
	return e.facts
}

// IntentFacts says what was decided for a plant.
func IntentFacts(i crop.Intent) []changelog.Fact {
	id := string(IntentID(i.Season, i.Plant))
	e, m := entity{scope: syncproto.ScopeField, kind: TypeIntent, id: id}, money(TypeIntent, id)
	e.text(FieldDo, string(i.Do))
	e.toldNumber(FieldInto, i.Into)
	e.list(FieldWhy, i.Why)
	e.told(FieldMade, string(i.Made))
	e.told(FieldDone, string(i.Done))
	e.told(FieldPerson, string(i.Person))
	e.toldNumber(FieldMean, i.Stems.Mean)
	e.toldNumber(FieldLo, i.Stems.Lo)
	e.toldNumber(FieldHi, i.Stems.Hi)
	m.toldNumber(FieldCents, int(i.Value.Mean))
	m.toldNumber(FieldCentsLo, int(i.Value.Lo))
	m.toldNumber(FieldCentsHi, int(i.Value.Hi))
	return slices.Concat(e.facts, m.facts)
}

// PlanFacts says what a season's division plan was made for.
func PlanFacts(p crop.Plan) []changelog.Fact {
	id := SeasonField("", p.Season)
	e, m := shed(TypePlan, id), money(TypePlan, id)
	e.number(FieldGoal, p.Goal)
	e.number(FieldSeasons, p.Seasons)
	e.number(FieldPlaces, p.Places)
	e.number(FieldMinutes, p.Minutes)
	e.number(FieldChance, p.Chance)
	e.text(FieldMade, string(p.Made))
	m.number(FieldNet, int(p.Net))
	return slices.Concat(e.facts, m.facts)
}
