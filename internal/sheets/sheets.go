// Package sheets reads a grower's two spreadsheets, plants.csv and cuts.csv, into the nouns of
// package crop, and says of every row that it cannot take why not.
//
// plants.csv has the columns plant, stock, bed, planted and may have first_season, counted_from,
// counted_to, removed, colour, parent. cuts.csv has date, plant, stock, bed, planted, age, flush,
// grade, length_cm, stems and may have colour, grader. A row of cuts.csv without a plant is a bench
// total. Space around a cell is no part of it; text is compared in Unicode's form NFC.
//
// The order of work: text.go turns bytes into text, table.go text into rows, row.go cells into
// values; plants.go and cuts.go read one row each; match.go compares a cut with its plant;
// planting.go and counted.go derive what only the whole files tell; farm.go puts all together.
package sheets

import (
	"fmt"
	"io"

	"corymb/internal/crop"
)

// Source is one spreadsheet.
type Source struct {
	Name   string // as a person knows it, "plants.csv"; it stands in every problem
	Reader io.Reader
}

// Contents is what two good spreadsheets hold.
type Contents struct {
	// Farm's ids are the spreadsheets' own words; those of plantings and visits are made of them,
	// so that the same files always give the same ids.
	Farm crop.Farm
	// Listed are the plants in the order of plants.csv.
	Listed []crop.PlantID
	// Assumed says that plants.csv declares nothing counted, and that every plant was therefore
	// taken as counted in every season in which the cuts have a row, from its first season on.
	Assumed bool
	// Summed is how many rows of cuts.csv repeated the date, plant (or bed), grade, length, colour
	// and grader of an earlier row; their stems were added up.
	Summed int
	// Ignored are the columns that Corymb does not know.
	Ignored []IgnoredColumn
	// Idle are the plants whose counted_from to counted_to holds no day of a season in which they
	// were in the ground. They are not counted.
	Idle []crop.PlantID
	// EarlySeasons is how many seasons before their plant's first the other spans hold. They are not
	// counted. Seasons after a removal are not told: nobody expects them.
	EarlySeasons int
}

// IgnoredColumn is a column of a spreadsheet of which nothing was read.
type IgnoredColumn struct {
	File   string
	Column string
}

// Option changes how the spreadsheets are read.
type Option func(*settings)

// settings is what the files themselves do not tell.
type settings struct {
	today    crop.Date
	calendar crop.Calendar
	upTo     crop.Date // the last day that is read; empty for all
}

// WithCalendar reads the spreadsheets of a farm whose seasons are not the calendar years.
func WithCalendar(c crop.Calendar) Option {
	return func(s *settings) { s.calendar = c }
}

// UpTo reads the spreadsheets as they would have been on the evening of a day: rows of later cuts and of plants set
// later are not there, and who was removed later still stands.
func UpTo(day crop.Date) Option {
	return func(s *settings) { s.upTo = day }
}

// Read reads both spreadsheets, with today as the last day that may have happened. The error is of
// type Problems and lists every bad row where the files can be read but not taken; nothing is
// loaded then. Any other error is a failure to read.
func Read(plants, cuts Source, today crop.Date, options ...Option) (Contents, error) {
	s, err := settingsOf(today, options)
	if err != nil {
		return Contents{}, err
	}

	// Problems gather in ps while the reading goes on, so that one pass finds those of both files.
	var ps Problems
	plantTable, err := openTable(plants, plantColumns, &ps)
	if err != nil {
		return Contents{}, err
	}
	cutTable, err := openTable(cuts, cutColumns, &ps)
	if err != nil {
		return Contents{}, err
	}

	plantTable.dropAfter("planted", s.upTo)
	cutTable.dropAfter("date", s.upTo)
	list := readPlants(plantTable, s)
	all := readCuts(cutTable, list, s)
	book := gatherVisits(all)
	if len(ps) > 0 {
		ps.sort(plants.Name)
		return Contents{}, ps
	}

	// From here on every row is good, so that no field below can be missing.
	c := list.contents(all, book.visits, s)
	c.Summed, c.Ignored = book.summed, append(plantTable.ignored, cutTable.ignored...)
	return c, nil
}

// ReadPlants reads plants.csv by itself, as Read does. Where it declares nothing counted, no plant is: no cuts
// say in which seasons one was.
func ReadPlants(plants Source, today crop.Date, options ...Option) (Contents, error) {
	s, err := settingsOf(today, options)
	if err != nil {
		return Contents{}, err
	}
	var ps Problems
	t, err := openTable(plants, plantColumns, &ps)
	if err != nil {
		return Contents{}, err
	}
	t.dropAfter("planted", s.upTo)
	list := readPlants(t, s)
	list.settleFirstSeasons(nil, s.calendar)
	if len(ps) > 0 {
		ps.sort(plants.Name)
		return Contents{}, ps
	}
	c := list.contents(nil, nil, s)
	c.Ignored = t.ignored
	return c, nil
}

func settingsOf(today crop.Date, options []Option) (settings, error) {
	s := settings{today: today, calendar: crop.NorthernYear}
	if !today.Valid() {
		return s, fmt.Errorf("reading spreadsheets: today is %q, which is no date", today)
	}
	for _, o := range options {
		o(&s)
	}
	if _, err := crop.ParseCalendar(s.calendar.Start, s.calendar.Southern); err != nil {
		return s, fmt.Errorf("reading spreadsheets: %w", err)
	}
	return s, nil
}

// contents puts good rows together.
func (l *plantList) contents(cuts []*cut, visits []*crop.Visit, s settings) Contents {
	c := Contents{Assumed: !l.declaresCounted}
	c.Idle, c.EarlySeasons = l.markCounted(seasonsOf(cuts), s)
	c.Farm = l.farm(cuts, visits, s.calendar)
	for _, p := range l.rows {
		c.Listed = append(c.Listed, p.id)
	}
	return c
}

// openTable reads a source to its end. Whatever is wrong with its text goes to ps; the table is
// then unreadable and has no rows.
func openTable(s Source, want []column, ps *Problems) (*table, error) {
	raw, err := io.ReadAll(s.Reader)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", s.Name, err)
	}
	t := &table{name: s.Name, problems: ps, days: map[string]crop.Date{}}
	text, problem := decode(s.Name, raw)
	if problem != nil {
		*ps = append(*ps, *problem)
		return t, nil
	}
	t.read(text, want)
	return t, nil
}
