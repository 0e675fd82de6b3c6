// Package money keeps a season's books: what was sold, kept by channels, claimed, spent and worked, each whole cent at the
// plants, beds and buyers that it is of, so that sums by any of them add up to the same.
//
// Of lays the ledger (sold.go, spent.go, shrink.go) by what stems came of (sources.go); By adds it up (view.go); budget.go
// says at what price a season breaks even, invoices.go what is paid, worth.go what one more plant would bring.
package money

import (
	"slices"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// Kind says what an amount is.
type Kind string

// The kinds of entries. Amounts that came are above 0, those that went below. Shrink is a memo and in no sum of money.
const (
	Sold    Kind = "sold"
	Kept    Kind = "kept"     // by the channel, of the price
	Fee     Kind = "fee"      // of bringing a delivery
	FeePaid Kind = "fee_paid" // what the buyer pays for that
	Claimed Kind = "claimed"  // credited of what was sold
	Spent   Kind = "spent"    // that would not have been spent without the crop
	Fixed   Kind = "fixed"    // spent whatever was grown
	Worked  Kind = "worked"   // hours at what an hour costs
	Shrunk  Kind = "shrunk"   // stems written off, at what stems of their colour class brought
)

// At is all that is known of where an amount belongs. What is empty is untold: nobody said, or it is of the whole farm.
type At struct {
	Channel crop.ChannelID
	Buyer   crop.BuyerID
	Colour  crop.ColourID
	Grade   crop.Grade
	Length  crop.LengthClass
	Age     int // seasons in the ground on the day of the cut; 0 is untold
	Stock   crop.StockID
	Bed     crop.BedID
	Plant   crop.PlantID // where it was counted by itself
	Cut     crop.Date
	Day     crop.Date // of the delivery, the cost or the work
}

// Entry is one amount of the ledger.
type Entry struct {
	*At
	Kind  Kind
	Cents crop.Cents
	// Stems and Bunches are those sold (of Sold) or written off (of Shrunk). Bunches are thousandths, since one may hold
	// stems of several plants.
	Stems   int
	Bunches int
	Minutes int    // of Worked
	What    string // the kind of the cost or the work, the reason of the claim or the shrink
}

// Books are a season's.
type Books struct {
	Season  crop.Season
	Span    crop.Window
	Entries []Entry // in an order that depends on the farm alone
	// Unpriced are bunches that were packed for lines without a price: they count as stems that brought nothing.
	Unpriced int
	// Overbilled are bunches that stand on invoices and are packed no longer; they count as sold until they are credited.
	Overbilled int
	// ShrunkUnpriced are stems written off of colour classes of which nothing was sold.
	ShrunkUnpriced int

	ground ground
	came   map[string]came // by class of age
}

// Of lays the books of a season. An hour is what work costs (crop.Cents an hour).
func Of(farm crop.Farm, season crop.Season, hour crop.Cents) *Books {
	b := &books{
		Books:   &Books{Season: season, Span: farm.Calendar.Span(season)},
		farm:    farm,
		sources: newSources(farm),
		places:  map[At]*At{},
	}
	b.addSales()
	b.addShrink()
	b.addSpent()
	b.addWork(hour)
	b.ground = groundOf(farm, season, b.sources)
	b.came = b.sources.cameBy(b.Span)
	return b.Books
}

// Seasons are those in which anything was sold, spent or worked, the latest first.
func Seasons(farm crop.Farm) []crop.Season {
	found := map[crop.Season]bool{}
	note := func(day crop.Date) { found[farm.Calendar.SeasonOf(day)] = true }
	for _, p := range farm.Sales.Packed {
		note(p.Due)
	}
	for _, i := range farm.Sales.Invoices {
		note(i.Date)
	}
	for _, c := range farm.Money.Costs {
		note(c.Date)
	}
	for _, w := range farm.Money.Work {
		note(w.Date)
	}
	delete(found, 0)
	list := make([]crop.Season, 0, len(found))
	for season := range found {
		list = append(list, season)
	}
	slices.Sort(list)
	slices.Reverse(list)
	return list
}

// books are being laid.
type books struct {
	*Books
	farm    crop.Farm
	sources *sources
	places  map[At]*At // each once: thousands of entries share one
}

func (b *books) add(at At, e Entry) {
	place, known := b.places[at]
	if !known {
		place = new(at)
		b.places[at] = place
	}
	e.At = place
	b.Entries = append(b.Entries, e)
}

// spread adds an amount to cells by their stems; where there are none, to one place. Amounts of 0 leave no entry.
func (b *books) spread(cells []cell, cents crop.Cents, untold At, e Entry) {
	if cents == 0 {
		return
	}
	if !told(cells) {
		e.Cents = cents
		b.add(untold, e)
		return
	}
	for i, part := range selling.PartsOf(int64(cents), weightsOf(cells)) {
		if part != 0 {
			e.Cents = crop.Cents(part)
			b.add(cells[i].at, e)
		}
	}
}

// inSeason tells whether a day is of the season.
func (b *books) inSeason(day crop.Date) bool { return b.Span.Holds(day) }
