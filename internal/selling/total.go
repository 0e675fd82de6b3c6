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
	t.Total = t.Net + t.Tax
	return t
}

// taxOf rounds once an invoice, half a cent up; of what is taken back down, so that a whole invoice that is taken back
// comes to nothing.
func taxOf(net crop.Cents, rate int) crop.Cents {
	if net < 0 {
		return -taxOf(-net, rate)
	}
	const whole = 10_000 // hundredths of a percent
	r := crop.Cents(rate)
	return net/whole*r + (net%whole*r+whole/2)/whole // in two steps: a large sum times its rate has no room
}
