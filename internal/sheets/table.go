package sheets

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"corymb/internal/crop"
)

// column is a column that Corymb knows.
type column struct {
	name     string
	required bool
	partner  string // the column that must be there too, if any
}

// table is one spreadsheet after its header was understood.
type table struct {
	name     string
	columns  map[string]int // where each known column stands
	named    []bool         // which places have a name at all, known or not
	rows     []*row
	ignored  []IgnoredColumn
	problems *Problems
	days     map[string]crop.Date // cells read as dates so far: many rows hold few different ones
	// readable says that the header was in order; without it there are no rows. lost says that rows
	// are missing because their quotation marks made no sense.
	readable, lost bool
	later          int // rows left out because they tell of later days
}

// has tells whether a known column is there.
func (t *table) has(column string) bool {
	_, there := t.columns[column]
	return there
}

// refuse adds a problem; column is empty where the row or the file as a whole is meant.
func (t *table) refuse(line int, column, format string, args ...any) {
	*t.problems = append(*t.problems,
		Problem{File: t.name, Line: line, Column: column, Reason: fmt.Sprintf(format, args...)})
}

// read takes the header and then every row that is not blank.
func (t *table) read(text string, want []column) {
	text = withoutSeparatorLine(text)
	r := newReader(text, delimiterOf(text, want))
	header, err := r.Read()
	if errors.Is(err, io.EOF) {
		t.refuse(1, "", "the file is empty: its first line must name the columns %s", namesOf(want))
		return
	}
	if err != nil {
		t.refuseQuotes(err)
		return
	}
	line, _ := r.FieldPos(0)
	t.readHeader(header, line, want)
	// Below a header that was refused nobody knows which cell means what.
	for t.readable {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			// The reader goes on behind the mark, so that later rows are still checked.
			t.refuseQuotes(err)
			continue
		}
		// Cells may hold line ends, so the line is asked for and not counted.
		line, _ := r.FieldPos(0)
		t.addRow(cells, line)
	}
}

// withoutSeparatorLine blanks a first line such as "sep=;", by which some spreadsheet programs tell
// themselves the separator. The line end stays, so that the lines after it keep their numbers.
func withoutSeparatorLine(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	mark := strings.Trim(strings.ToLower(line), "\" \r")
	if after, found := strings.CutPrefix(mark, "sep="); found && strings.Trim(after, ",;\t\"") == "" {
		return text[len(line):]
	}
	return text
}

// newReader leaves the number of cells to addRow, which can say what is wrong with it.
func newReader(text string, delimiter rune) *csv.Reader {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = delimiter
	r.FieldsPerRecord = -1 // programs drop empty cells at the end of a row, or add some
	// A quotation mark after a space would otherwise count as inside the cell. A tab is a space too.
	r.TrimLeadingSpace = delimiter != '\t'
	return r
}

// delimiterOf is whichever of comma, semicolon and tab finds the most known columns in the header.
// Spreadsheet programs write semicolons where the comma is the decimal sign.
func delimiterOf(text string, want []column) rune {
	best, most := ',', 0
	for _, delimiter := range []rune{',', ';', '\t'} {
		// An error here comes up again when the header is read in earnest.
		header, _ := newReader(text, delimiter).Read()
		found := 0
		for _, cell := range header {
			if isKnown(headerName(cell), want) {
				found++
			}
		}
		if found > most {
			best, most = delimiter, found
		}
	}
	return best
}

// readHeader finds each known column and reports those that are missing or there twice. An unknown
// column is no fault, for growers keep remarks beside their figures, but it is named in a note: it
// may be a known one misspelt.
func (t *table) readHeader(header []string, line int, want []column) {
	before := len(*t.problems)
	t.columns = map[string]int{}
	for i, cell := range header {
		name := headerName(cell)
		t.named = append(t.named, name != "")
		switch {
		case name == "":
		case !isKnown(name, want):
			t.ignored = append(t.ignored, IgnoredColumn{File: t.name, Column: strings.TrimSpace(cell)})
		case t.has(name):
			t.refuse(line, name, "two columns bear this name: rename or delete one of them")
		default:
			t.columns[name] = i
		}
	}
	for _, c := range want {
		switch {
		case t.has(c.name):
		case c.required:
			t.refuse(line, c.name, "the column is missing: the first line must name the columns %s",
				namesOf(want))
		case c.partner != "" && t.has(c.partner):
			t.refuse(line, c.name, "the column is missing, and belongs to %s: add it, or delete %s",
				c.partner, c.partner)
		}
	}
	t.readable = len(*t.problems) == before
}

// addRow keeps every row that has something in it. A cell outside the named columns is reported,
// since it usually means that a comma inside a text or number has shifted the row; the row is kept
// all the same, or each cut of its plant would be blamed as well.
func (t *table) addRow(cells []string, line int) {
	blank := true
	for i, cell := range cells {
		if strings.TrimSpace(cell) == "" {
			continue
		}
		blank = false
		if i >= len(t.named) || !t.named[i] {
			t.refuse(line, "", "cell %d (%s) stands under no column name: put text that holds the "+
				"separator in quotation marks, or delete the cell", i+1, quote(cell))
			break
		}
	}
	if !blank {
		t.rows = append(t.rows, &row{table: t, line: line, cells: cells})
	}
}

// dropAfter leaves out the rows of days after one; an empty day leaves all.
func (t *table) dropAfter(column string, last crop.Date) {
	if last == "" {
		return
	}
	before := len(t.rows)
	t.rows = slices.DeleteFunc(t.rows, func(r *row) bool {
		day, err := crop.ParseDate(r.cell(column))
		return err == nil && day > last
	})
	t.later = before - len(t.rows)
}

// refuseQuotes reports a row that the CSV reader gave up (RFC 4180, section 2, rules 5 to 7).
func (t *table) refuseQuotes(err error) {
	t.lost = true
	line := 1
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		line = parse.StartLine
	}
	t.refuse(line, "", "a quotation mark is not closed, or stands inside a cell: put the whole cell "+
		"in quotation marks and write a mark inside it twice")
}

// headerName is a column's name as it is compared.
func headerName(cell string) string { return strings.ToLower(strings.TrimSpace(cell)) }

func isKnown(name string, want []column) bool {
	return slices.ContainsFunc(want, func(c column) bool { return c.name == name })
}

// namesOf lists the required columns.
func namesOf(want []column) string {
	var names []string
	for _, c := range want {
		if c.required {
			names = append(names, c.name)
		}
	}
	return strings.Join(names, ", ")
}
