package selling

import (
	"cmp"
	"slices"

	"corymb/internal/crop"
)

// Credit makes the credit note, without id and number, by which a claim's credit is taken off the invoice that has its
// line.
func Credit(s crop.Sales, id crop.ClaimID, date crop.Date, words string) (crop.Invoice, *Refusal) {
	claim, ok := s.Claims[id]
	switch {
	case !ok:
		return crop.Invoice{}, refused("no_claim", "", "That claim is not there, or not any more. Nothing was credited.")
	case claim.Credit <= 0:
		return crop.Invoice{}, refused("no_credit", "", "The claim says no amount to credit. Nothing was credited. Write the amount into the claim, then ask again.")
	}
	on, ok := standingInvoiceOf(s, claim.Line)
	if !ok {
		return crop.Invoice{}, refused("not_billed", "", "What the claim is about stands on no invoice. Nothing was credited. Make the delivery’s invoice first.")
	}
	left := TotalsOf(on).Net
	for _, note := range notesOn(s, on.ID) {
		left += TotalsOf(note).Net
	}
	if claim.Credit > left {
		return crop.Invoice{}, refused("too_much", on.Number, "The credit is more than is left of invoice %s. Nothing was credited. Lower the claim’s amount.", on.Number)
	}
	row := crop.InvoiceLine{Line: claim.Line, Due: claim.Due, Cents: -claim.Credit, Words: cmp.Or(words, "Credit")}
	return noteOn(on, date, []crop.InvoiceLine{row}), nil
}

// Void makes the note, without id and number, that takes back all that is left of an invoice.
func Void(s crop.Sales, id crop.InvoiceID, date crop.Date) (crop.Invoice, *Refusal) {
	invoice, ok := s.Invoices[id]
	switch {
	case !ok:
		return crop.Invoice{}, refused("no_invoice", "", "That invoice is not there. Nothing was changed.")
	case invoice.Credits != "":
		return crop.Invoice{}, refused("is_credit", invoice.Number, "%s is a credit note, which is not called void. Nothing was changed.", invoice.Number)
	case invoice.Void != "":
		return crop.Invoice{}, refused("is_void", invoice.Number, "Invoice %s was called void already. Nothing was changed.", invoice.Number)
	}
	rows := takenBack(invoice.Lines)
	for _, note := range notesOn(s, id) {
		rows = append(rows, takenBack(note.Lines)...)
	}
	return noteOn(invoice, date, rows), nil
}

func takenBack(rows []crop.InvoiceLine) []crop.InvoiceLine {
	back := make([]crop.InvoiceLine, len(rows))
	for i, row := range rows {
		row.Cents = -row.Cents
		back[i] = row
	}
	return back
}

func noteOn(on crop.Invoice, date crop.Date, rows []crop.InvoiceLine) crop.Invoice {
	return crop.Invoice{Buyer: on.Buyer, Date: date, Currency: on.Currency, TaxRate: on.TaxRate, Credits: on.ID, Lines: rows}
}

// standingInvoiceOf is the newest invoice with a line that was not called void.
func standingInvoiceOf(s crop.Sales, line crop.LineID) (on crop.Invoice, ok bool) {
	for _, i := range s.Invoices {
		if i.Void != "" || i.Credits != "" || ok && i.Number < on.Number {
			continue
		}
		for _, row := range i.Lines {
			if row.Line == line {
				on, ok = i, true
			}
		}
	}
	return on, ok
}

// notesOn are the notes that credit an invoice, by their numbers.
func notesOn(s crop.Sales, id crop.InvoiceID) []crop.Invoice {
	var notes []crop.Invoice
	for _, i := range s.Invoices {
		if i.Credits == id {
			notes = append(notes, i)
		}
	}
	slices.SortFunc(notes, func(a, b crop.Invoice) int { return cmp.Compare(a.Number, b.Number) })
	return notes
}
