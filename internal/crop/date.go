package crop

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Date is a day on the farm's own calendar, written YYYY-MM-DD (ISO 8601), without a time zone.
// Dates compare in order as strings. The empty Date means unknown.
type Date string

const dateLayout = "2006-01-02"

// ParseDate reads YYYY-MM-DD and refuses a day that does not exist.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(dateLayout, s)
	if err != nil || t.Format(dateLayout) != s {
		return "", fmt.Errorf("%q is not a date: write year, month and day like 2026-05-28", s)
	}
	return Date(s), nil
}

// DateOf is the day on which t falls in its own zone.
func DateOf(t time.Time) Date { return Date(t.Format(dateLayout)) }

// Valid tells whether d is a day that exists.
func (d Date) Valid() bool {
	_, err := ParseDate(string(d))
	return err == nil
}

// Add is the day n days later. It is empty when d is not a date.
func (d Date) Add(days int) Date {
	t, err := time.Parse(dateLayout, string(d))
	if err != nil {
		return ""
	}
	return DateOf(t.AddDate(0, 0, days))
}

// DaysTo is how many days lie from d to a later day; 0 when either is not a date.
func (d Date) DaysTo(later Date) int {
	from, errFrom := time.Parse(dateLayout, string(d))
	to, errTo := time.Parse(dateLayout, string(later))
	if errFrom != nil || errTo != nil {
		return 0
	}
	return int(to.Sub(from).Hours() / 24)
}

// Year is the calendar year of d, or 0 when d is not a date.
func (d Date) Year() int {
	t, err := time.Parse(dateLayout, string(d))
	if err != nil {
		return 0
	}
	return t.Year()
}

// Weekday is 1 for a Monday to 7 for a Sunday (ISO 8601), or 0 when d is not a date.
func (d Date) Weekday() int {
	t, err := time.Parse(dateLayout, string(d))
	if err != nil {
		return 0
	}
	return (int(t.Weekday())+6)%7 + 1
}

// Monday begins the week of d (ISO 8601). It is empty when d is not a date.
func (d Date) Monday() Date { return d.Add(1 - d.Weekday()) }

// ISOWeek is the week of d as ISO 8601 numbers it, and the year that the week is of; zeros when d is not a date.
func (d Date) ISOWeek() (year, week int) {
	t, err := time.Parse(dateLayout, string(d))
	if err != nil {
		return 0, 0
	}
	return t.ISOWeek()
}

// Holds tells whether a day is one of the days of the week.
func (w Weekdays) Holds(d Date) bool {
	return d.Weekday() > 0 && strings.Contains(string(w), strconv.Itoa(d.Weekday()))
}
