package sheets

import (
	"strconv"
	"strings"

	"corymb/internal/crop"
	"corymb/internal/tables/formula"
)

// row is one row of a table. Its methods read a cell as something, and report it when it is not.
type row struct {
	table *table
	line  int
	cells []string
}

// refuse reports a cell of this row.
func (r *row) refuse(column, format string, args ...any) {
	r.table.refuse(r.line, column, format, args...)
}

// cell is a cell's text without the space around it; empty where the column or the cell is missing.
// Space at the end of a name cannot be seen in a spreadsheet, and would make two names of one. The guard that our own
// files have before what looks like a formula is no part of the text.
func (r *row) cell(column string) string {
	i, there := r.table.columns[column]
	if !there || i >= len(r.cells) {
		return ""
	}
	return formula.Unguard(strings.TrimSpace(r.cells[i]))
}

// need is a cell that may not be empty.
func (r *row) need(column string) string {
	text := r.cell(column)
	if text == "" {
		r.refuse(column, "the cell is empty, but this row needs it: fill it in")
	}
	return text
}

// earliest is the oldest day believed; an older one is a slip of the finger.
const earliest crop.Date = "1900-01-01"

// day reads a date; it is empty where the cell is empty or refused. No other form is tried: 03/04
// is a day in March to some and in April to others.
func (r *row) day(column string) crop.Date {
	text := r.cell(column)
	if text == "" {
		return ""
	}
	d, known := r.table.days[text]
	if known {
		return d
	}
	d, err := crop.ParseDate(text)
	if err != nil {
		r.refuse(column, "%s is not a date: write year, month and day like 2026-05-28", quote(text))
		return ""
	}
	if d < earliest {
		r.refuse(column, "%s is before %s, which looks like a slip: check the year", d, earliest)
		return ""
	}
	r.table.days[text] = d
	return d
}

// past reads the date of something that has happened.
func (r *row) past(column string, today crop.Date) crop.Date {
	d := r.day(column)
	if d > today {
		r.refuse(column, "%s lies in the future (today is %s): check the date", d, today)
		return ""
	}
	return d
}

// whole reads a whole number from least to most. Digits only: "1e3", "+5" and "2.0" are what a
// spreadsheet makes of other things, and a rounded guess would be a wrong count.
// ok is false where the cell is empty or was refused.
func (r *row) whole(column string, least, most int) (n int, ok bool) {
	text := r.cell(column)
	if text == "" {
		return 0, false
	}
	if strings.Trim(text, "0123456789") != "" {
		r.refuse(column, "%s is not a whole number: write digits only, from %d to %d",
			quote(text), least, most)
		return 0, false
	}
	// Atoi fails only where the digits are too many, which is too large as well.
	n, err := strconv.Atoi(text)
	switch {
	case err != nil || n > most:
		r.refuse(column, "%s looks like a slip: the largest number taken here is %d", quote(text), most)
		return 0, false
	case n < least:
		r.refuse(column, "%d is too small: the smallest number taken here is %d", n, least)
		return 0, false
	}
	return n, true
}

// needWhole is a whole number that may not be missing.
func (r *row) needWhole(column string, least, most int) (n int, ok bool) {
	if r.need(column) == "" {
		return 0, false
	}
	return r.whole(column, least, most)
}
