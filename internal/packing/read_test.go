package packing

import (
	"context"
	"errors"
	"strings"
	"testing"
)

const (
	goodSupply = `{"id":"S1","grade":"first","length_cm":50,"colour":"red","stems":34,"floor_cents":21}`
	goodDemand = `{"id":"D1","channel":"florist","min_grade":"second","min_length_cm":40,"colours":["red"],"bunch":10,"price_cents":520,"max_bunches":6,"all_or_nothing":false}`
)

func dayOf(supply, demand string) string {
	return `{"name":"x","grades_low_to_high":["out","second","first","extra"],"supply":[` + supply + `],"demand":[` + demand + `]}`
}

// changed is a text with one piece put for another, which must be there.
func changed(t *testing.T, text, from, to string) string {
	t.Helper()
	if !strings.Contains(text, from) {
		t.Fatalf("%s is not in %s", from, text)
	}
	return strings.Replace(text, from, to, 1)
}

// planned reads and plans a day.
func planned(text string) (Plan, []Note, error) {
	d, notes, err := Read(strings.NewReader(text))
	if err != nil {
		return Plan{}, notes, err
	}
	plan, err := Solve(context.Background(), d, Options{})
	return plan, append(notes, plan.Warnings...), err
}

func TestWhatIsWrongWithADayIsASentenceEach(t *testing.T) {
	supply := func(from, to string) string { return dayOf(changed(t, goodSupply, from, to), goodDemand) }
	demand := func(from, to string) string { return dayOf(goodSupply, changed(t, goodDemand, from, to)) }
	day := func(from, to string) string { return changed(t, dayOf(goodSupply, goodDemand), from, to) }
	for _, c := range []struct{ name, text, want string }{
		{"nothing at all", ``, `the day is not JSON: it is empty`},
		{"white space", " \n\t", `the day is not JSON: it is empty`},
		{"no JSON", `plant,stock`, `the day is not JSON: line 1,`},
		{"cut off", "{\"name\":\n\"x\"", `the day is not JSON: line 2, unexpected end`},
		{"more after it", dayOf(goodSupply, goodDemand) + ` {}`, `the day is not JSON: line 1, invalid character '{' after top-level value`},
		{"a list", `[1]`, `the day: [1] is not an object`},
		{"no supply", day(`"supply":[`+goodSupply+`],`, ``), `the day: "supply" is missing`},
		{"supply is null", day(`[`+goodSupply+`]`, `null`), `the day: "supply" is missing`},
		{"supply is no list", day(`[`+goodSupply+`]`, `{}`), `the day: "supply" {} is not a list`},
		{"a supply is no object", dayOf(`7`, goodDemand), `supply number 1: 7 is not an object`},
		{"grades missing", day(`"grades_low_to_high":["out","second","first","extra"],`, ``), `the day: "grades_low_to_high" is missing`},
		{"no grades", day(`["out","second","first","extra"]`, `[]`), `the day: "grades_low_to_high" names no grade`},
		{"a grade twice", day(`["out",`, `["out","out",`), `the day: "grades_low_to_high" names "out" twice`},
		{"a grade without a name", day(`["out",`, `["",`), `the day: "grades_low_to_high" has an empty name`},
		{"a grade that is no text", day(`["out",`, `[3,`), `the day: "grades_low_to_high" [3,"second","first","extra"] is not a list of texts`},
		{"negative stock", supply(`"stems":34`, `"stems":-4`), `supply "S1": "stems" is -4: it cannot be negative`},
		{"half a stem", supply(`"stems":34`, `"stems":3.5`), `supply "S1": "stems" 3.5 is not a whole number`},
		{"stems in quotation marks", supply(`"stems":34`, `"stems":"34"`), `supply "S1": "stems" "34" is not a number`},
		{"more stems than can be counted", supply(`"stems":34`, `"stems":1e30`), `supply "S1": "stems" 1e30 is too large`},
		{"a number without end", supply(`"stems":34`, `"stems":1e999999999`), `supply "S1": "stems" 1e999999999 is too large`},
		{"a number next to nothing", supply(`"stems":34`, `"stems":1e-999999999`), `supply "S1": "stems" 1e-999999999 is not a whole number`},
		{"stems missing", supply(`"stems":34,`, ``), `supply "S1": "stems" is missing`},
		{"stems twice", supply(`"stems":34`, `"stems":34,"stems":35`), `supply "S1": "stems" is there twice`},
		{"a negative floor", supply(`"floor_cents":21`, `"floor_cents":-1`), `supply "S1": "floor_cents" is -1: it cannot be negative`},
		{"a floor in parts of a cent", supply(`"floor_cents":21`, `"floor_cents":21.5`), `supply "S1": "floor_cents" 21.5 is not a whole number`},
		{"a negative length", supply(`"length_cm":50`, `"length_cm":-50`), `supply "S1": "length_cm" is -50: it cannot be negative`},
		{"a length too fine", supply(`"length_cm":50`, `"length_cm":50.25`), `supply "S1": "length_cm" 50.25 has more than one place`},
		{"an unknown grade", supply(`"grade":"first"`, `"grade":"best"`), `supply "S1": "grade" is "best", which is none of the grades`},
		{"an unknown least grade", demand(`"second"`, `"best"`), `demand "D1": "min_grade" is "best", which is none of the grades`},
		{"no day", supply(`"stems":34`, `"cut_date":"2026-02-30","stems":34`), `supply "S1": "cut_date" is "2026-02-30", which is no day`},
		{"an id twice", dayOf(goodSupply+","+goodSupply, goodDemand), `supply "S1": "id" is that of number 1 and of number 2`},
		{"a line's id twice", dayOf(goodSupply, goodDemand+","+goodDemand), `demand "D1": "id" is that of number 1 and of number 2`},
		{"an empty id", supply(`"S1"`, `""`), `supply number 1: "id" is empty`},
		{"an id that is no text", supply(`"S1"`, `7`), `supply number 1: "id" 7 is not text`},
		{"an id missing", supply(`"id":"S1",`, ``), `supply number 1: "id" is missing`},
		{"a price of zero", demand(`"price_cents":520`, `"price_cents":0`), `demand "D1": "price_cents" is 0: say what a bunch brings`},
		{"a negative price", demand(`"price_cents":520`, `"price_cents":-5`), `demand "D1": "price_cents" is -5: it cannot be negative`},
		{"a bunch of none", demand(`"bunch":10`, `"bunch":0`), `demand "D1": "bunch" is 0: say how many stems`},
		{"bunches below none", demand(`"max_bunches":6`, `"max_bunches":-1`), `demand "D1": "max_bunches" is -1: it cannot be negative`},
		{"a minimum above the most", demand(`"max_bunches":6`, `"max_bunches":6,"min_bunches":7`), `demand "D1": "min_bunches" is 7, but "max_bunches" only 6`},
		{"pinned above the most", demand(`"max_bunches":6`, `"max_bunches":6,"pinned_bunches":7`), `demand "D1": "pinned_bunches" is 7, but "max_bunches" only 6`},
		{"part of all pinned", demand(`false`, `true,"pinned_bunches":2`), `demand "D1": "pinned_bunches" is 2, but the line is all or nothing`},
		{"pinned and refused", demand(`false`, `false,"refused":true,"pinned_bunches":2`), `demand "D1": "pinned_bunches" is 2, but the line is refused`},
		{"neither true nor false", demand(`"all_or_nothing":false`, `"all_or_nothing":0`), `demand "D1": "all_or_nothing" 0 is neither true nor false`},
		{"revenue past counting", dayOf(changed(t, goodSupply, `34`, `9007199254740992`), changed(t, goodDemand, `"max_bunches":6`, `"max_bunches":9007199254740992`)), `more than can be counted exactly`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := planned(c.text)
			var faults Faults
			if !errors.As(err, &faults) {
				t.Fatalf("%v is no list of faults", err)
			}
			if !strings.Contains(err.Error(), c.want) || len(faults) != 1 {
				t.Errorf("said %q, want %q alone", err, c.want)
			}
		})
	}
}

func TestAllThatIsWrongIsSaidAtOnce(t *testing.T) {
	_, _, err := planned(dayOf(
		changed(t, goodSupply, `"stems":34`, `"stems":-4`),
		changed(t, changed(t, goodDemand, `"bunch":10`, `"bunch":0`), `"price_cents":520`, `"price_cents":0`)))
	if lines := strings.Split(err.Error(), "\n"); len(lines) != 3 {
		t.Errorf("%d sentences, want 3: %v", len(lines), err)
	}
}

func TestWhatIsOddIsNotedAndTheDayStillPlanned(t *testing.T) {
	for _, c := range []struct{ name, text, code, want string }{
		{"an unknown key", dayOf(changed(t, goodSupply, `"stems"`, `"note":"wet","stems"`), goodDemand), CodeUnknownKey, `supply "S1": "note" is not known and was ignored`},
		{"a key in another case", dayOf(changed(t, goodSupply, `"stems"`, `"Stems":1,"stems"`), goodDemand), CodeUnknownKey, `supply "S1": "Stems" is not known`},
		{"an unknown key of the day", changed(t, dayOf(goodSupply, goodDemand), `"name"`, `"week":12,"name"`), CodeUnknownKey, `the day: "week" is not known`},
		{"no floor", dayOf(changed(t, goodSupply, `,"floor_cents":21`, ``), goodDemand), CodeAssumed, `supply "S1": "floor_cents" is missing, so the stems have no floor`},
		{"a floor above every price", dayOf(changed(t, goodSupply, `"floor_cents":21`, `"floor_cents":53`), goodDemand), CodeFloor, `supply "S1": "floor_cents" is 53, and no line that would take the stems pays that: the best pays 52 cents a stem, so all 34 stems stay unsold`},
		{"a minimum that cannot be met", dayOf(goodSupply, changed(t, goodDemand, `"max_bunches":6`, `"max_bunches":6,"min_bunches":4`)), CodeUnmet, `demand "D1": "min_bunches" cannot be met: 4 bunches must be packed`},
		{"a pin that cannot be met", dayOf(goodSupply, changed(t, goodDemand, `"max_bunches":6`, `"max_bunches":6,"pinned_bunches":4`)), CodeUnmet, `demand "D1": "pinned_bunches" is 4, but`},
	} {
		t.Run(c.name, func(t *testing.T) {
			plan, notes, err := planned(c.text)
			if err != nil {
				t.Fatal(err)
			}
			if len(notes) != 1 || notes[0].Code != c.code || !strings.Contains(notes[0].Text, c.want) {
				t.Errorf("noted %+v, want %s: %s", notes, c.code, c.want)
			}
			if c.code != CodeFloor && plan.Revenue != 3*520 {
				t.Errorf("the plan brings %d, want three bunches", plan.Revenue)
			}
		})
	}
}

func TestADayIsReadAsItIsWritten(t *testing.T) {
	pinned := dayOf(changed(t, goodSupply, `50`, `47.5`), changed(t, goodDemand, `false`, `false,"pinned_bunches":2.0`))
	d, notes, err := Read(strings.NewReader("\ufeff" + pinned))
	if err != nil || len(notes) > 0 {
		t.Fatal(notes, err)
	}
	if s := d.Supply[0]; s.LengthMM != 475 || s.Stems != 34 || s.Floor != 21 || s.Colour != "red" || s.Grade != "first" {
		t.Errorf("%+v", s)
	}
	if l := d.Demand[0]; l.Pinned == nil || *l.Pinned != 2 || l.MinLengthMM != 400 || l.Bunch != 10 || l.Price != 520 || l.MaxBunches != 6 {
		t.Errorf("%+v", l)
	}
}

func TestADayWithNothingInItHasAPlanWithNothingInIt(t *testing.T) {
	for _, text := range []string{dayOf("", ""), dayOf(goodSupply, ""), dayOf("", goodDemand)} {
		plan, notes, err := planned(text)
		if err != nil || len(notes) > 0 || plan.Revenue != 0 || !plan.Proven || plan.Bound != 0 {
			t.Errorf("%s: %+v %v %v", text, plan, notes, err)
		}
	}
}
