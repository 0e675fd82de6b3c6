// Package report says in words, tables and figures what a season was: it takes the answers that other packages worked out and
// reckons nothing of its own but counts and shares of what they hold.
//
// Of lays out one section after another, each in a file of its own; package pages draws them.
package report

import (
	"cmp"
	"fmt"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/internal/drift"
	"corymb/internal/forecast"
	"corymb/internal/money"
	"corymb/internal/yield"
)

// Answers are all that a report of a season is made of.
type Answers struct {
	Farm    crop.Farm
	Season  crop.Season
	Made    crop.Date // the day on which the report is made, by which the answers are
	Ages    []SpeciesAges
	Colour  []SpeciesColour
	Scores  forecast.Scores // weeks of other seasons are passed over
	Books   *money.Books
	Bills   money.Bills
	Plan    *division.Plan // nil where there is none
	Asked   division.Question
	Planned crop.Season          // the one after which plants are planned on the day: no other has a plan
	NoPlan  division.RefusalCode // why, where Plan is nil
}

// SpeciesAges is the model by age of one species.
type SpeciesAges struct {
	Species string
	Report  yield.Report
}

// SpeciesColour is what the measured colours of one species say.
type SpeciesColour struct {
	Species string
	Report  drift.Report
}

// Report is a season in one language.
type Report struct {
	Language Language
	Title    string
	Under    string // season and the day on which it was made
	Foot     string // what each page bears behind the title
	Page     string // "page %d of %d" in the language
	Sections []Section
}

// Section is one subject. A section about which nothing is known holds a sentence that says so.
type Section struct {
	Title string
	Parts []Part
}

// Part is one of Text, Table, Ranges, Stacks and Weeks.
type Part interface{ part() }

// Text is a paragraph; Small ones are assumptions and denominators.
type Text struct {
	Words string
	Small bool
}

// Table has a head and rows of as many cells; the first column is words and all others are numbers. The last Totals rows are
// sums of those above.
type Table struct {
	Head   []string
	Rows   [][]string
	Totals int
}

// Ranges is estimates with their intervals, on one axis from 0.
type Ranges struct {
	Title string
	Rows  []Range
	Most  float64 // where the axis ends
}

// Range is an estimate between Lo and Hi; Said stands beside it.
type Range struct {
	Name, Said   string
	Mid, Lo, Hi  float64
	PlainPresent bool
	Plain        float64 // what was counted on average
}

// Stacks is shares of wholes, each a bar; Parts name them in the bars' order.
type Stacks struct {
	Title string
	Parts []string
	Rows  []Stack
}

// Stack is one whole: shares add up to 1.
type Stack struct {
	Name, Said string
	Shares     []float64
}

// Weeks is what was forecast for each week beside what came.
type Weeks struct {
	Title                     string
	Rows                      []Week
	Band, Mean, Within, Apart string // what the signs mean
}

// Week is one of them.
type Week struct {
	Name         string
	Lo, Mean, Hi float64
	Came         float64
	Inside       bool
}

func (Text) part()   {}
func (Table) part()  {}
func (Ranges) part() {}
func (Stacks) part() {}
func (Weeks) part()  {}

// Seasons are those of which a farm holds anything and the present one, the first one first.
func Seasons(f crop.Farm, today crop.Date) []crop.Season {
	found := map[crop.Season]bool{f.Calendar.SeasonOf(today): true}
	for _, p := range f.Plantings {
		for s := p.FirstSeason; s > 0 && s <= f.Calendar.SeasonOf(today); s++ {
			found[s] = true
		}
	}
	for _, v := range f.Visits {
		found[f.Calendar.SeasonOf(v.Date)] = true
	}
	for _, s := range money.Seasons(f) {
		found[s] = true
	}
	delete(found, 0)
	return slices.Sorted(keysOf(found))
}

// Unknown says that a farm holds nothing of a season.
type Unknown struct {
	Season crop.Season
	Known  []crop.Season
}

func (u Unknown) Error() string {
	return fmt.Sprintf("The farm holds nothing of season %d. It holds seasons %d to %d: ask for one of them.", u.Season, u.Known[0], u.Known[len(u.Known)-1])
}

// Check refuses a season of which a farm holds nothing, with Unknown.
func Check(f crop.Farm, season crop.Season, today crop.Date) error {
	if known := Seasons(f, today); !slices.Contains(known, season) {
		return Unknown{season, known}
	}
	return nil
}

// Of makes a season's report. The same answers give the same report.
func Of(a Answers, language Language) Report {
	w := writer{Answers: a, language: language}
	r := Report{
		Language: language,
		Title:    cmp.Or(a.Farm.Name, w.say("farm.unnamed")),
		Under:    w.say("title.under", int(a.Season), w.day(a.Made)),
		Foot:     w.say("title.foot", int(a.Season)),
		Page:     words["title.page"].in(language),
	}
	for _, section := range []struct {
		title string
		parts func() []Part
	}{
		{"summary.title", w.summary},
		{"yield.title", w.yields},
		{"survival.title", w.survival},
		{"grades.title", w.grades},
		{"colour.title", w.colours},
		{"weeks.title", w.weeks},
		{"promises.title", w.promises},
		{"money.title", w.money},
		{"plan.title", w.plan},
		{"read.title", w.howToRead},
	} {
		r.Sections = append(r.Sections, Section{w.say(section.title), section.parts()})
	}
	return r
}

// writer says a report's answers in one language.
type writer struct {
	Answers
	language Language
}

func (w writer) text(key string, args ...any) Text { return Text{Words: w.say(key, args...)} }

func (w writer) small(key string, args ...any) Text {
	return Text{Words: w.say(key, args...), Small: true}
}

// species heads what is of one species where the farm has several.
func (w writer) species(name string, of int) []Part {
	if of < 2 {
		return nil
	}
	return []Part{Text{Words: cmp.Or(name, w.say("untold"))}}
}
