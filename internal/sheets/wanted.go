package sheets

import (
	"regexp"
	"strconv"

	"corymb/internal/crop"
)

// wantedColumns are the columns of wanted.csv.
var wantedColumns = []column{
	{name: "colour", required: true},
	{name: "week", required: true},
	{name: "stems", required: true},
}

// WantedRow is stems of a colour class that are wanted in one week.
type WantedRow struct {
	Colour crop.ColourID
	Monday crop.Date // of the week
	Stems  int
}

// Wanted is what a good wanted.csv holds.
type Wanted struct {
	Rows    []WantedRow
	Ignored []IgnoredColumn
}

// ReadWanted reads a spreadsheet with a row for each colour class and week; colours are those that the farm has. The error
// is of type Problems where the file can be read but not taken.
func ReadWanted(source Source, colours map[crop.ColourID]crop.Colour) (Wanted, error) {
	var ps Problems
	t, err := openTable(source, wantedColumns, &ps)
	if err != nil {
		return Wanted{}, err
	}
	wanted, lines := Wanted{Ignored: t.ignored}, map[WantedRow]int{}
	for _, r := range t.rows {
		one := WantedRow{Colour: r.needColour("colour", colours), Monday: r.week("week")}
		if line, there := lines[one]; there {
			r.refuse("", "line %d is of the same colour and week: write their stems in one row", line)
			continue
		}
		lines[one] = r.line
		one.Stems, _ = r.needWhole("stems", 1, mostStemsAWeek)
		wanted.Rows = append(wanted.Rows, one)
	}
	if t.readable && len(t.rows) == 0 {
		t.refuse(1, "", "nothing is wanted below the first line: add a row for each colour and week, or leave the file out")
	}
	if len(ps) > 0 {
		return Wanted{}, ps
	}
	return wanted, nil
}

// needColour reads a colour class that the farm has.
func (r *row) needColour(column string, colours map[crop.ColourID]crop.Colour) crop.ColourID {
	text := r.need(column)
	if _, known := colours[crop.ColourID(text)]; text != "" && !known {
		r.refuse(column, "%s is the colour of no plant and no cut: write it as in the other files%s", quote(text), named(colours))
	}
	return crop.ColourID(text)
}

var weekForm = regexp.MustCompile(`^([12]\d{3})-W(\d\d)$`)

// week reads a week as ISO 8601 numbers it, 2027-W22, or by one of its days, and returns its Monday.
func (r *row) week(column string) crop.Date {
	text := r.need(column)
	if text == "" {
		return ""
	}
	if match := weekForm.FindStringSubmatch(text); match != nil {
		number, _ := strconv.Atoi(match[2]) // two digits
		monday := crop.Date(match[1] + "-01-04").Monday().Add(7 * (number - 1))
		if thursday := monday.Add(3); strconv.Itoa(thursday.Year()) == match[1] {
			return monday
		}
		r.refuse(column, "%s is no week: years have the weeks 01 to 52, and some 53", quote(text))
		return ""
	}
	day, err := crop.ParseDate(text)
	if err != nil {
		r.refuse(column, "%s is no week: write it like 2027-W22, or one of its days like 2027-05-31", quote(text))
		return ""
	}
	return day.Monday()
}
