package sheets

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"corymb/internal/crop"
)

// priceColumns are the columns of prices.csv.
var priceColumns = []column{
	{name: "colour", required: true},
	{name: "grade", required: true},
	{name: "channel", required: true},
	{name: "price_cents", required: true},
	{name: "stems_a_week", required: true},
}

// PriceRow is what one channel pays the farm for a stem of a colour class and grade, commission taken off.
type PriceRow struct {
	Colour  crop.ColourID // empty is every colour class without a row of its own for that grade and channel
	Grade   crop.Grade    // or better; empty is any but out
	Channel string
	Cents   int
	AWeek   int  // stems that it takes a week
	All     bool // it takes all there are: the cell was empty
}

// Prices is what a good prices.csv holds.
type Prices struct {
	Rows    []PriceRow
	Ignored []IgnoredColumn
}

// ReadPrices reads a spreadsheet with a row for each colour class, grade and channel; colours are those that the farm has.
// The error is of type Problems where the file can be read but not taken.
func ReadPrices(source Source, colours map[crop.ColourID]crop.Colour) (Prices, error) {
	var ps Problems
	t, err := openTable(source, priceColumns, &ps)
	if err != nil {
		return Prices{}, err
	}
	prices, lines := Prices{Ignored: t.ignored}, map[PriceRow]int{}
	for _, r := range t.rows {
		prices.add(r, colours, lines)
	}
	if t.readable && len(t.rows) == 0 {
		t.refuse(1, "", "there is no price below the first line: add a row for each colour, grade and channel")
	}
	if len(ps) > 0 {
		return Prices{}, ps
	}
	return prices, nil
}

// add takes a row; lines tells on which line each colour, grade and channel before it stands.
func (p *Prices) add(r *row, colours map[crop.ColourID]crop.Colour, lines map[PriceRow]int) {
	price := PriceRow{Colour: crop.ColourID(r.cell("colour")), Channel: r.need("channel")}
	if _, known := colours[price.Colour]; price.Colour != "" && !known {
		r.refuse("colour", "%s is the colour of no plant and no cut: write it as in the other files%s", quote(string(price.Colour)), named(colours))
	}
	price.Grade = readGrade(r)
	same := price
	price.Cents, _ = r.wholeCents("price_cents")
	price.AWeek, _ = r.whole("stems_a_week", 0, mostStemsAWeek)
	price.All = r.cell("stems_a_week") == ""
	if line, there := lines[same]; there {
		r.refuse("", "line %d is of the same colour, grade and channel: delete one of the two rows", line)
		return
	}
	lines[same] = r.line
	p.Rows = append(p.Rows, price)
}

// Larger numbers are slips.
const (
	mostPriceCents = 1_000_000
	mostStemsAWeek = 10_000_000
)

// wholeCents reads a price. 0.85 is taken for no slip of the finger, but for another unit.
func (r *row) wholeCents(column string) (cents int, ok bool) {
	text := r.need(column)
	switch {
	case text == "":
		return 0, false
	case strings.HasPrefix(text, "-") || strings.HasPrefix(text, "−"):
		r.refuse(column, "%s is below 0: write what a stem brings in whole cents, or 0", quote(text))
		return 0, false
	case strings.Trim(text, "0123456789") != "":
		r.refuse(column, "%s is not whole cents: write 85 for 0.85, digits only", quote(text))
		return 0, false
	}
	return r.whole(column, 0, mostPriceCents)
}

// named lists a few colours.
func named(colours map[crop.ColourID]crop.Colour) string {
	const most = 8
	list := slices.Sorted(maps.Keys(colours))
	if len(list) == 0 {
		return ", or leave the cell empty for every colour"
	}
	words := make([]string, 0, most)
	for _, id := range list[:min(len(list), most)] {
		words = append(words, string(id))
	}
	return fmt.Sprintf(" (%s)", strings.Join(words, ", "))
}
