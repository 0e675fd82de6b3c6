package selling

import "corymb/internal/crop"

// Totals are what an invoice comes to.
type Totals struct{ Net, Tax, Total crop.Cents }

// TotalsOf adds an invoice up. Of a credit note all three are negative.
func TotalsOf(i crop.Invoice) Totals {
	var t Totals
	for _, line := range i.Lines {
		t.Net += line.Cents
	}
	t.Tax = taxOf(t.Net, i.TaxRate)
	if i.Tax != nil {
		t.Tax = *i.Tax
	}
	t.Total = t.Net + t.Tax
	return t
}

// taxBack is the tax that a note of these rows takes back of an invoice: what was left of its tax before less the tax of
// what is left after, so that notes that together take back all of it leave no cent.
func taxBack(s crop.Sales, on crop.Invoice, rows []crop.InvoiceLine) crop.Cents {
	net, tax := crop.Cents(0), crop.Cents(0)
	for _, i := range append(notesOn(s, on.ID), on) {
		totals := TotalsOf(i)
		net, tax = net+totals.Net, tax+totals.Tax
	}
	for _, row := range rows {
		net += row.Cents
	}
	return taxOf(net, on.TaxRate) - tax
}

// taxOf rounds once an invoice, half a cent up; of what is taken back down.
func taxOf(net crop.Cents, rate int) crop.Cents {
	if net < 0 {
		return -taxOf(-net, rate)
	}
	const whole = 10_000 // hundredths of a percent
	r := crop.Cents(rate)
	return net/whole*r + (net%whole*r+whole/2)/whole // in two steps: a large sum times its rate has no room
}
