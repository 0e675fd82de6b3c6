package money

import (
	"cmp"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// Bill is an invoice and what became of it. Billed less Credited less Paid is Owed, to the cent.
type Bill struct {
	ID       crop.InvoiceID
	Number   string
	Buyer    crop.BuyerID
	Date     crop.Date
	PayBy    crop.Date
	Currency string
	Void     crop.Date
	Billed   crop.Cents // with tax
	Credited crop.Cents // by notes; all of it where the invoice is void
	Paid     crop.Cents
	Owed     crop.Cents // below 0 is to be paid back
	Late     int        // days since it was to be paid, while something is owed
}

// Bills are a season's invoices, each with its credit notes and payments, of all days up to one, by date and number.
type Bills struct {
	Bills []Bill
	// Loose are payments whose invoice is not there, or whose order is on none: they are of nothing that anybody owes.
	Loose []crop.Payment
}

// BillsOf lists them.
func BillsOf(farm crop.Farm, season crop.Season, today crop.Date) Bills {
	credited := creditedOf(farm.Sales)
	paid, loose := paidOf(farm, credited, today)
	var list Bills
	span := farm.Calendar.Span(season)
	for _, i := range farm.Sales.Invoices {
		if i.Credits == "" && span.Holds(i.Date) {
			list.Bills = append(list.Bills, billOf(i, credited[i.ID], paid[i.ID], today))
		}
	}
	for _, p := range loose {
		if farm.Calendar.SeasonOf(p.Date) == season {
			list.Loose = append(list.Loose, p)
		}
	}
	slices.SortFunc(list.Bills, func(a, b Bill) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
	})
	return list
}

// creditedOf is what notes credit of each invoice, tax and all.
func creditedOf(s crop.Sales) map[crop.InvoiceID]crop.Cents {
	credited := map[crop.InvoiceID]crop.Cents{}
	for _, i := range s.Invoices {
		if i.Credits != "" {
			credited[i.Credits] -= selling.TotalsOf(i).Total
		}
	}
	return credited
}

func billOf(i crop.Invoice, credited, paid crop.Cents, today crop.Date) Bill {
	bill := Bill{
		ID: i.ID, Number: i.Number, Buyer: i.Buyer, Date: i.Date, PayBy: i.PayBy, Currency: i.Currency, Void: i.Void,
		Billed: selling.TotalsOf(i).Total, Credited: credited, Paid: paid,
	}
	if i.Void != "" {
		bill.Credited = bill.Billed
	}
	bill.Owed = bill.Billed - bill.Credited - bill.Paid
	if bill.Owed > 0 && i.PayBy != "" && i.PayBy < today {
		bill.Late = i.PayBy.DaysTo(today)
	}
	return bill
}
