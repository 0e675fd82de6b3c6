// Package yield says what a plant gives in its first, second, third season in the ground: how many
// stems and of which grades, how sure that is, and on how many plants it rests.
package yield

import (
	"fmt"

	"corymb/internal/crop"
)

// Level is the probability that every interval of a Report is meant to hold.
const Level = 0.9

// Options say which part of a farm is asked about, and when.
type Options struct {
	// Species keeps to the stocks of one species; empty is all of them.
	Species string
	// AsOf is the day on which the question is put: a window that still runs then is open. Empty, as
	// for files, closes every window.
	AsOf crop.Date
	// AssumedCounted says that nobody declared which plants were counted and that all were taken to
	// be, so that the report can say so.
	AssumedCounted bool
}

// Fit reads the farm's records and fits stems by age, and grades by age and flush. The same farm and
// options give the same report to the last bit. An error means that the numbers could not be found,
// never that there are few of them.
func Fit(farm crop.Farm, options Options) (Report, error) {
	r := read(farm, options)
	seasons := r.plantSeasons()
	pickings := r.pickings()
	totals := totalsByAge(pickings)
	told := toldByCluster(pickings)

	report := Report{Level: Level, Ages: []Age{}}
	grades, err := fitGrades(told)
	if err != nil {
		return Report{}, fmt.Errorf("fit grades by age: %w", err)
	}
	for _, age := range agesOf(seasons, totals, told) {
		a, err := fitAge(age, seasons)
		if err != nil {
			return Report{}, fmt.Errorf("fit stems of age %d: %w", age, err)
		}
		a.StemsTotal = totals[age]
		a.Grades = grades.cellsOf(age)
		report.Ages = append(report.Ages, a)
	}
	report.Notes = notes(r, report, seasons, told)
	return report, nil
}
