package farm

import (
	"slices"

	"corymb/internal/changelog"
	"corymb/internal/crop"
)

var aheadReaders = map[string]func(*crop.Ahead, *changelog.Entity){
	TypeAsk:     func(a *crop.Ahead, e *changelog.Entity) { put(a.Asks, askOf(e), e) },
	TypeWeather: readWeather,
	TypeTask:    func(a *crop.Ahead, e *changelog.Entity) { put(a.Tasks, taskOf(e), e) },
	TypeIntent:  readIntent,
	TypePlan:    readPlan,
}

// warmthOf takes what is usual where a farm says nothing.
func warmthOf(e *changelog.Entity) crop.Warmth {
	w := crop.UsualWarmth
	if e.Text(FieldDegrees) == string(crop.Fahrenheit) {
		w.Degrees = crop.Fahrenheit
	}
	if e.Text(FieldWarmMethod) == string(crop.WarmAverage) {
		w.Method = crop.WarmAverage
	}
	if lower, told := tenths(e, FieldWarmLower); told {
		w.Lower = lower
	}
	if upper, told := tenths(e, FieldWarmUpper); told {
		w.Upper = upper
	}
	return w
}

// costsOf takes what is usual where a farm says nothing, or says that it goes by that again.
func costsOf(e *changelog.Entity) crop.DivisionCosts {
	c := crop.UsualDivisionCosts
	for _, cost := range costFields {
		if n := int(e.Int(cost.field)); n != AsUsual && slices.Contains(e.Fields(), cost.field) {
			cost.set(&c, n)
		}
	}
	return c
}

func askOf(e *changelog.Entity) crop.Ask {
	return crop.Ask{
		ID: crop.AskID(e.Key.ID), Buyer: crop.BuyerID(e.Text(FieldBuyer)), Note: e.Text(FieldNote), Stems: int(e.Int(FieldStems)),
		Colours: idsOf[crop.ColourID](e.List(FieldColours)), Grade: crop.Grade(e.Text(FieldGrade)),
		Length: crop.Millimetres(e.Int(FieldLeast)), From: crop.Date(e.Text(FieldSince)), Due: crop.Date(e.Text(FieldDue)),
		Taken: crop.Date(e.Text(FieldTaken)), Person: crop.PersonID(e.Text(FieldPerson)),
		Answer: crop.AskAnswer(e.Text(FieldAnswer)), Offered: int(e.Int(FieldOffered)), Chance: int(e.Int(FieldChance)),
		Order: crop.OrderID(e.Text(FieldOrder)), Price: crop.Cents(e.Int(FieldCents)),
	}
}

func readWeather(a *crop.Ahead, e *changelog.Entity) {
	lowest, lowestTold := tenths(e, FieldMin)
	highest, highestTold := tenths(e, FieldMax)
	w := crop.Weather{Date: crop.Date(e.Key.ID), Min: lowest, Max: highest}
	switch {
	case !lowestTold || !highestTold || !w.Date.Valid():
		return
	case lowest > highest:
		a.WeatherWrong[w.Date] = w
	default:
		a.Weather[w.Date] = w
	}
}

func taskOf(e *changelog.Entity) crop.Task {
	t := crop.Task{
		ID: crop.TaskID(e.Key.ID), Kind: crop.TaskKind(e.Text(FieldKind)), Bed: crop.BedID(e.Text(FieldBed)), Due: crop.Date(e.Text(FieldDue)),
		What: e.Text(FieldWhat), Done: crop.Date(e.Text(FieldDone)), Person: crop.PersonID(e.Text(FieldPerson)),
		Dropped: e.Int(FieldDropped) == 1,
	}
	if name, err := ParseTaskID(t.ID); err == nil {
		t.Kind = name.Kind
	}
	if t.Kind == "" {
		t.Kind = crop.TaskOwn
	}
	return t
}

// readIntent passes over what was taken back.
func readIntent(a *crop.Ahead, e *changelog.Entity) {
	id, do := crop.IntentID(e.Key.ID), crop.IntentDo(e.Text(FieldDo))
	season, plant, err := ParseIntentID(id)
	if err != nil || do == "" {
		return
	}
	a.Intents[id] = crop.Intent{
		ID: id, Season: season, Plant: plant, Do: do, Into: int(e.Int(FieldInto)), Why: e.List(FieldWhy),
		Made: crop.Date(e.Text(FieldMade)), Done: crop.Date(e.Text(FieldDone)), Person: crop.PersonID(e.Text(FieldPerson)),
		Stems: crop.ExpectedStems{Mean: int(e.Int(FieldMean)), Lo: int(e.Int(FieldLo)), Hi: int(e.Int(FieldHi))},
		Value: crop.ExpectedCents{
			Mean: crop.Cents(e.Int(FieldCents)), Lo: crop.Cents(e.Int(FieldCentsLo)), Hi: crop.Cents(e.Int(FieldCentsHi)),
		},
	}
}

func readPlan(a *crop.Ahead, e *changelog.Entity) {
	season, err := parseSeason(e.Key.ID)
	if err != nil {
		return
	}
	a.Plans[season] = crop.Plan{
		Season: season, Goal: int(e.Int(FieldGoal)), Seasons: int(e.Int(FieldSeasons)), Places: int(e.Int(FieldPlaces)),
		Minutes: int(e.Int(FieldMinutes)), Chance: int(e.Int(FieldChance)), Made: crop.Date(e.Text(FieldMade)),
		Net: crop.Cents(e.Int(FieldNet)),
	}
}

// tenths reads a number of tenths, and whether it was ever told: 0 degrees is a temperature like any other.
func tenths(e *changelog.Entity, field string) (float64, bool) {
	return float64(e.Int(field)) / 10, slices.Contains(e.Fields(), field)
}
