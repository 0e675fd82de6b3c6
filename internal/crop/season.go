package crop

import (
	"fmt"
	"time"
)

// Season is a growing season; it bears the year of its spring.
type Season int

// Calendar says where a farm's seasons begin.
type Calendar struct {
	// Start is the month and day on which a season starts, MM-DD.
	Start string
	// Southern says that spring begins in September and not in March.
	Southern bool
}

// NorthernYear is the calendar of a farm whose season is the calendar year.
var NorthernYear = Calendar{Start: "01-01"}

// ParseCalendar checks a season's start. 29 February is refused, since most years lack it.
func ParseCalendar(start string, southern bool) (Calendar, error) {
	t, err := time.Parse("01-02", start)
	if err != nil || t.Format("01-02") != start || start == "02-29" {
		return Calendar{}, fmt.Errorf("%.30q is not a start of a season: write month and day like 01-01", start)
	}
	return Calendar{Start: start, Southern: southern}, nil
}

func (c Calendar) spring() string {
	if c.Southern {
		return "09-01"
	}
	return "03-01"
}

// SeasonOf is the season in which d lies, or 0 when d is not a date.
func (c Calendar) SeasonOf(d Date) Season {
	if !d.Valid() {
		return 0
	}
	started := d.Year()
	if string(d)[5:] < c.Start {
		started--
	}
	if c.spring() < c.Start {
		return Season(started + 1)
	}
	return Season(started)
}

// Span is the season's first and last day.
func (c Calendar) Span(s Season) Window {
	year := int(s)
	if c.spring() < c.Start {
		year--
	}
	first := Date(fmt.Sprintf("%04d-%s", year, c.Start))
	next := Date(fmt.Sprintf("%04d-%s", year+1, c.Start))
	return Window{From: first, To: next.Add(-1)}
}

// Spring is the day on which a season's spring begins.
func (c Calendar) Spring(s Season) Date {
	return Date(fmt.Sprintf("%04d-%s", int(s), c.spring()))
}
