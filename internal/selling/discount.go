package selling

import (
	"fmt"

	"corymb/internal/crop"
)

// wholeRate is all of an amount, in hundredths of a percent.
const wholeRate = 10_000

// Discount is what an owner takes off an invoice's bunches, before tax: of what buyers pay for bringing nothing is taken.
// Nothing is taken off by the zero one.
type Discount struct {
	Rate  int        // hundredths of a percent, 1 to 9,999; 0 where it is an amount
	Cents crop.Cents // above 0; 0 where it is a share
	Words string     // what its row says, in the language of whoever asks
}

// Valid tells whether it takes something off that an invoice could hold: a share or an amount, and not both.
func (d Discount) Valid() bool {
	isShare, isAmount := d.Rate > 0 && d.Rate < wholeRate, d.Cents > 0 && d.Cents <= crop.MostCents
	return isShare && d.Cents == 0 || isAmount && d.Rate == 0
}

// Of is what it takes off bunches that come to so much: a share is rounded once an invoice, half a cent up.
func (d Discount) Of(goods crop.Cents) crop.Cents {
	if d.Rate == 0 {
		return d.Cents
	}
	return taxOf(goods, d.Rate) // a share of an amount, as tax is
}

// row is the row of an invoice that takes it off the others; false where there is none. One that leaves nothing to pay for
// the bunches is refused: a gift is not billed.
func (d Discount) row(rows []crop.InvoiceLine) (crop.InvoiceLine, bool, *Refusal) {
	goods := crop.Cents(0)
	for _, row := range rows {
		if row.Line != "" {
			goods += row.Cents
		}
	}
	off := d.Of(goods)
	switch {
	case off == 0:
		return crop.InvoiceLine{}, false, nil
	case off >= goods:
		return crop.InvoiceLine{}, false, refused("discount_too_much", "", "The discount leaves nothing to pay for the bunches. Nothing was billed. Take off less, then ask again.")
	}
	return crop.InvoiceLine{Cents: -off, Words: d.words()}, true, nil
}

func (d Discount) words() string {
	switch {
	case d.Words != "":
		return d.Words
	case d.Rate > 0:
		return fmt.Sprintf("Discount %g %%", float64(d.Rate)/100)
	}
	return "Discount"
}

// isDiscount tells whether a row takes off a bill's others. Fees charge, and a note's rows all take off.
func isDiscount(i crop.Invoice, row crop.InvoiceLine) bool {
	return i.Credits == "" && row.Line == "" && row.Cents < 0
}

// AfterDiscount are an invoice's rows with its discounts taken off those that have a line, by what each comes to: whole cents,
// the largest remainders first, so that the rows add up to the same. They are as they stand where nothing has a line.
func AfterDiscount(i crop.Invoice) []crop.InvoiceLine {
	discount := crop.Cents(0)
	var rows, others []crop.InvoiceLine
	var weights []int64
	for _, row := range i.Lines {
		switch {
		case row.Line != "":
			rows, weights = append(rows, row), append(weights, max(0, int64(row.Cents)))
		case isDiscount(i, row):
			discount += row.Cents
		default:
			others = append(others, row)
		}
	}
	if len(rows) == 0 || discount == 0 {
		return i.Lines
	}
	for k, part := range PartsOf(int64(discount), weights) {
		rows[k].Cents += crop.Cents(part)
	}
	return append(rows, others...)
}

// bunchesCost is what some bunches of a row cost, those after the first so many: all of them together cost the row, to the
// cent, however many notes take them back.
func bunchesCost(row crop.InvoiceLine, after, n int) crop.Cents {
	upTo := func(bunches int) crop.Cents { return row.Cents * crop.Cents(bunches) / crop.Cents(row.Bunches) }
	return upTo(after+n) - upTo(after)
}
