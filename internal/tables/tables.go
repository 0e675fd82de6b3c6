// Package tables lays a farm out as tables for spreadsheets, and writes them as CSV (RFC 4180) so that a spreadsheet
// reads numbers as numbers and runs no text.
//
// Every field of every noun of package crop stands in some table, a row for each noun, and for each part where it has
// many of one kind. What points to another noun is told by that one's name and, in a column ending in _id, its id. Days
// are ISO 8601, lengths whole millimetres, money the farm's currency with two decimals, temperatures degrees Celsius.
package tables

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"

	"corymb/internal/changelog"
	"corymb/internal/crop"
)

// Language is that of headings, and of how a spreadsheet that speaks it writes numbers.
type Language string

// The languages.
const (
	English Language = "en" // cells are parted by commas, decimals have a point
	Spanish Language = "es" // cells are parted by semicolons, decimals have a comma
)

// Table is one table. Name and headings are in English and Spanish.
type Table struct {
	Name    Words
	Columns []Words
	Rows    [][]Cell
}

// Words says something in both languages.
type Words struct{ English, Spanish string }

// In is what is said in a language.
func (w Words) In(l Language) string {
	if l == Spanish {
		return w.Spanish
	}
	return w.English
}

// Cell is a text, a number or yes and no.
type Cell struct {
	text    string // of a number, with a point
	spanish string // of a code
	kind    kind
}

type kind int

const (
	isText kind = iota
	isNumber
	isYes
)

// Of lays out a farm as it is on a day, with what only the merged state tells of it: marks of plants and what was done to
// beds. The tables are always the same ones, in the same order, those without a row too.
func Of(farm crop.Farm, state *changelog.State, day crop.Date) []Table {
	b := book{f: farm}
	b.ground()
	b.row()
	b.marks(state)
	b.colours()
	b.cooler(day)
	b.buyers()
	b.orders()
	b.bills()
	b.ahead()
	b.money()
	return b.tables
}

// book is the tables in the making.
type book struct {
	f      crop.Farm
	tables []Table
}

// table begins one: its name and then its headings, each "english|spanish".
func (b *book) table(name string, headings ...string) {
	t := Table{Name: words(name)}
	for _, one := range headings {
		t.Columns = append(t.Columns, words(one))
	}
	b.tables = append(b.tables, t)
}

func words(both string) Words {
	english, spanish, _ := strings.Cut(both, "|")
	return Words{english, cmp.Or(spanish, english)}
}

// add adds a row to the table begun last; what is told by two cells comes as two.
func (b *book) add(cells ...any) {
	t := &b.tables[len(b.tables)-1]
	var row []Cell
	for _, one := range cells {
		switch cell := one.(type) {
		case Cell:
			row = append(row, cell)
		case []Cell:
			row = append(row, cell...)
		}
	}
	t.Rows = append(t.Rows, row)
}

// Cells.

// text is a word of somebody, or a code, which Spanish has a word for.
func text[T ~string](s T) Cell { return Cell{text: string(s), spanish: inSpanish[s]} }

func yes(on bool) Cell {
	if on {
		return Cell{text: "yes", kind: isYes}
	}
	return Cell{text: "no", kind: isYes}
}

func whole[T ~int | ~int64](n T) Cell {
	return Cell{text: strconv.FormatInt(int64(n), 10), kind: isNumber}
}

// told is a number of which 0 says that there is none.
func told[T ~int | ~int64](n T) Cell {
	if n == 0 {
		return Cell{}
	}
	return whole(n)
}

// hundredths is a number of hundredths with two decimals.
func hundredths[T ~int | ~int64](n T) Cell {
	sign, all := "", int64(n)
	if all < 0 {
		sign, all = "-", -all
	}
	digits := strconv.FormatInt(all, 10)
	digits = strings.Repeat("0", max(0, 3-len(digits))) + digits
	return Cell{text: sign + digits[:len(digits)-2] + "." + digits[len(digits)-2:], kind: isNumber}
}

func decimal(x float64) Cell {
	return Cell{text: strconv.FormatFloat(x, 'f', -1, 64), kind: isNumber}
}

func lab(c crop.Lab) []Cell { return []Cell{decimal(c.L), decimal(c.A), decimal(c.B)} }

// list is words with spaces between.
func list[T ~string](all []T) Cell {
	parts := make([]string, len(all))
	for i, one := range all {
		parts[i] = string(one)
	}
	return Cell{text: strings.Join(parts, " ")}
}

// sorted visits nouns in the order of their ids.
func sorted[K cmp.Ordered, V any](all map[K]V, visit func(K, V)) {
	for _, key := range slices.Sorted(maps.Keys(all)) {
		visit(key, all[key])
	}
}

// Nouns that others point to: by name and id.

func (b *book) bed(id crop.BedID) []Cell { return []Cell{text(b.f.Beds[id].Name), text(id)} }

func (b *book) stock(id crop.StockID) []Cell { return []Cell{text(b.f.Stocks[id].Name), text(id)} }

func (b *book) plant(id crop.PlantID) []Cell { return []Cell{text(b.f.Plants[id].Code), text(id)} }

func (b *book) person(id crop.PersonID) []Cell { return []Cell{text(b.f.People[id].Name), text(id)} }

func (b *book) colour(id crop.ColourID) []Cell { return []Cell{text(b.f.Colours[id].Name), text(id)} }

func (b *book) bunch(id crop.BunchID) []Cell {
	return []Cell{text(b.f.Sales.Bunches[id].Name), text(id)}
}

func (b *book) channel(id crop.ChannelID) []Cell {
	if c, there := b.f.Sales.Channels[id]; there {
		return []Cell{text(c.Name), text(id)}
	}
	return []Cell{text(b.f.Sales.Gone.Channels[id].Name), text(id)}
}

func (b *book) buyer(id crop.BuyerID) []Cell {
	if one, there := b.f.Sales.Buyers[id]; there {
		return []Cell{text(one.Name), text(id)}
	}
	return []Cell{text(b.f.Sales.Gone.Buyers[id].Name), text(id)}
}

// names are those of several colour classes, and their ids; names may hold spaces, so that commas part them.
func (b *book) colourList(ids []crop.ColourID) []Cell {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = b.f.Colours[id].Name
	}
	return []Cell{text(strings.Join(names, ", ")), list(ids)}
}

// class is a class of lengths: from and up to below, empty where nothing was told or there is no end.
func class(c crop.LengthClass) []Cell {
	switch {
	case !c.Told():
		return []Cell{{}, {}}
	case c.Hi == crop.OpenEnd:
		return []Cell{whole(c.Lo), {}}
	default:
		return []Cell{whole(c.Lo), whole(c.Hi)}
	}
}
