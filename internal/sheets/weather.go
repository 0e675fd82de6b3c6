package sheets

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"corymb/internal/crop"
)

// weatherColumns are the columns of weather.csv.
var weatherColumns = []column{
	{name: "date", required: true},
	{name: "tmin", required: true},
	{name: "tmax", required: true},
}

// Weather is what a good weather.csv holds.
type Weather struct {
	Days []crop.Weather // in the order of their dates, whatever that of the rows
	// OutOfOrder says that the rows were in another order.
	OutOfOrder bool
	// Empty are the days of rows in which a temperature is missing; they are not among Days.
	Empty   []crop.Date
	Ignored []IgnoredColumn
}

// ReadWeather reads a spreadsheet with the lowest and highest temperature of each day. The error is of type Problems
// where the file can be read but not taken.
func ReadWeather(source Source) (Weather, error) {
	var ps Problems
	t, err := openTable(source, weatherColumns, &ps)
	if err != nil {
		return Weather{}, err
	}
	w := Weather{Ignored: t.ignored}
	lines := map[crop.Date]int{}
	for _, r := range t.rows {
		w.add(r, lines)
	}
	if t.readable && !t.lost && len(t.rows) == 0 {
		t.refuse(1, "", "there is no day below the first line: add a row for each day")
	}
	if len(ps) > 0 {
		return Weather{}, ps
	}
	inOrder := func(a, b crop.Weather) int { return cmp.Compare(a.Date, b.Date) }
	w.OutOfOrder = !slices.IsSortedFunc(w.Days, inOrder)
	slices.SortFunc(w.Days, inOrder)
	return w, nil
}

// add takes a row; lines tells on which line each day before it stands.
func (w *Weather) add(r *row, lines map[crop.Date]int) {
	r.need("date")
	day := r.day("date")
	if day == "" {
		return
	}
	if line, there := lines[day]; there {
		r.refuse("date", "%s stands on line %d too: delete one of the two rows", day, line)
		return
	}
	lines[day] = r.line
	low, lowThere := r.temperature("tmin")
	high, highThere := r.temperature("tmax")
	switch {
	case r.cell("tmin") == "" || r.cell("tmax") == "":
		w.Empty = append(w.Empty, day)
	case lowThere && highThere && low > high:
		r.refuse("tmin", "%v is above tmax, %v: change the two over, or correct one", low, high)
	case lowThere && highThere:
		w.Days = append(w.Days, crop.Weather{Date: day, Min: low, Max: high})
	}
}

// No weather of the earth is beyond these in degrees Celsius or Fahrenheit (World Meteorological Organization's
// extremes, from memory: -89.2 to 56.7 °C, which is -128.6 to 134 °F).
const coldest, hottest = -130, 140

// temperature reads a number, its decimals behind a point or a comma; ok is false where the cell is empty or refused.
func (r *row) temperature(column string) (degrees float64, ok bool) {
	text := r.cell(column)
	if text == "" {
		return 0, false
	}
	// A minus sign as typographers write it comes from weather pages.
	plain := strings.NewReplacer(",", ".", "−", "-").Replace(text)
	degrees, err := strconv.ParseFloat(plain, 64)
	switch {
	case err != nil || strings.Trim(plain, "+-.0123456789") != "":
		r.refuse(column, "%s is not a temperature: write a number like 7.5, without a unit", quote(text))
		return 0, false
	case degrees < coldest || degrees > hottest:
		r.refuse(column, "%s looks like a slip: no day on earth is colder than %d or warmer than %d", quote(text), coldest, hottest)
		return 0, false
	}
	return degrees, true
}
