package selling

import (
	"cmp"
	"slices"

	"corymb/internal/crop"
)

// CreditAsked is a credit note that an owner asks for: of a claim, or of what was billed of a line and taken back since.
type CreditAsked struct {
	Claim crop.ClaimID
	Line  crop.LineID // where it is no claim
	// Invoice is the one that is credited; empty for the newest that has the line.
	Invoice crop.InvoiceID
	Date    crop.Date
	// Words say what is credited, in the language of whoever asks.
	Words string
}

// Credit makes a credit note without id and number.
func Credit(s crop.Sales, asked CreditAsked) (crop.Invoice, *Refusal) {
	if asked.Claim != "" {
		return creditClaim(s, asked)
	}
	return creditTakenBack(s, asked)
}

// creditClaim takes a claim's credit off an invoice that has its line, once.
func creditClaim(s crop.Sales, asked CreditAsked) (crop.Invoice, *Refusal) {
	claim, ok := s.Claims[asked.Claim]
	switch {
	case !ok:
		return crop.Invoice{}, refused("no_claim", "", "That claim is not there, or not any more. Nothing was credited.")
	case claim.Credit <= 0:
		return crop.Invoice{}, refused("no_credit", "", "The claim says no amount to credit. Nothing was credited. Write the amount into the claim, then ask again.")
	}
	on, refusal := invoiceOf(s, claim.Line, asked.Invoice)
	if refusal == nil {
		refusal = claimedBefore(s, claim)
	}
	if refusal != nil {
		return crop.Invoice{}, refusal
	}
	if claim.Credit > leftOf(s, on) {
		return crop.Invoice{}, refused("too_much", on.Number, "The credit is more than is left of invoice %s. Nothing was credited. Lower the claim’s amount.", on.Number)
	}
	row := crop.InvoiceLine{Line: claim.Line, Due: claim.Due, Cents: -claim.Credit, Words: cmp.Or(asked.Words, "Credit")}
	note := noteOn(on, asked.Date, []crop.InvoiceLine{row})
	note.Claim = claim.ID
	return note, nil
}

// claimedBefore refuses stems that notes credit already: of this claim, of one that was taken away after its note was
// made, or of others that together come to more than was packed.
func claimedBefore(s crop.Sales, claim crop.Claim) *Refusal {
	stems, last := claim.Stems, ""
	for _, note := range claimNotesOf(s, claim.Line) {
		other, there := s.Claims[note.Claim]
		switch {
		case note.Claim == claim.ID:
			return refused("credited", note.Number, "Credit note %s has this already. Nothing was credited twice.", note.Number)
		case !there:
			return refused("claim_gone", note.Number, "Credit note %s is of a claim on this line that was taken away since. Nothing was credited twice. Bring that claim back on the line’s page, then look whether this one is still owed.", note.Number)
		}
		stems, last = stems+other.Stems, note.Number
	}
	packed := stemsPacked(s, claim.Line)
	if last != "" && packed > 0 && stems > packed {
		return refused("claimed_twice", last, "With what credit note %s has of this line, %d stems would be credited, and %d were packed. Nothing was credited. Put the claim’s stems right, then ask again.", last, stems, packed)
	}
	return nil
}

// claimNotesOf are the notes of claims about a line, on invoices that stand, by their numbers.
func claimNotesOf(s crop.Sales, line crop.LineID) []crop.Invoice {
	var notes []crop.Invoice
	for _, i := range s.Invoices {
		if i.Claim != "" && stands(s, i) && slices.ContainsFunc(i.Lines, func(row crop.InvoiceLine) bool { return row.Line == line }) {
			notes = append(notes, i)
		}
	}
	return byNumber(notes)
}

// stemsPacked is how many stems lie in what was packed for a line; 0 where nobody told.
func stemsPacked(s crop.Sales, line crop.LineID) int {
	stems := 0
	for _, p := range s.Packed {
		if p.Line != line {
			continue
		}
		for _, n := range p.Stems {
			stems += n
		}
	}
	return stems
}

// creditTakenBack takes off an invoice the bunches of a line that were billed and are packed no longer, as far as they
// stand on it.
func creditTakenBack(s crop.Sales, asked CreditAsked) (crop.Invoice, *Refusal) {
	over := billedLines(s)[asked.Line].bunches - packedBunches(s)[asked.Line]
	if over <= 0 {
		return crop.Invoice{}, refused("not_over", "", "No more of that line is billed than is packed. Nothing was credited.")
	}
	on, refusal := invoiceOf(s, asked.Line, asked.Invoice)
	if refusal != nil {
		return crop.Invoice{}, refusal
	}
	row := on.Lines[slices.IndexFunc(on.Lines, func(row crop.InvoiceLine) bool { return row.Line == asked.Line })]
	n := min(over, bunchesLeft(s, on, asked.Line))
	if n <= 0 {
		return crop.Invoice{}, refused("not_on_invoice", on.Number, "All of that was taken off invoice %s already. Nothing was credited. Look for the invoice that has the rest.", on.Number)
	}
	cents := row.Cents / crop.Cents(row.Bunches) * crop.Cents(n)
	if cents > leftOf(s, on) {
		return crop.Invoice{}, refused("none_left", on.Number, "Less than that is left of invoice %s, since claims were credited on it. Nothing was credited. Call the invoice void and bill what is packed.", on.Number)
	}
	row.Bunches, row.Cents, row.Words = n, -cents, cmp.Or(asked.Words, row.Words)
	return noteOn(on, asked.Date, []crop.InvoiceLine{row}), nil
}

// bunchesLeft is how many bunches of a line stand on an invoice, less those that notes took off it.
func bunchesLeft(s crop.Sales, on crop.Invoice, line crop.LineID) int {
	n := 0
	for _, row := range on.Lines {
		if row.Line == line {
			n += row.Bunches
		}
	}
	for _, note := range notesOn(s, on.ID) {
		for _, row := range note.Lines {
			if row.Line == line {
				n -= row.Bunches
			}
		}
	}
	return n
}

// leftOf is what is left of an invoice before tax once its notes are taken off.
func leftOf(s crop.Sales, on crop.Invoice) crop.Cents {
	left := TotalsOf(on).Net
	for _, note := range notesOn(s, on.ID) {
		left += TotalsOf(note).Net
	}
	return left
}

// invoiceOf is the invoice that was asked for, which must have the line and stand; where none was, the newest that does.
func invoiceOf(s crop.Sales, line crop.LineID, asked crop.InvoiceID) (crop.Invoice, *Refusal) {
	if asked == "" {
		on, ok := newestOf(s, line)
		if !ok {
			return on, refused("not_billed", "", "What this is about stands on no invoice. Nothing was credited. Make the delivery’s invoice first.")
		}
		return on, nil
	}
	on, ok := s.Invoices[asked]
	switch {
	case !ok || on.Credits != "":
		return on, refused("no_invoice", "", "That invoice is not there. Nothing was changed.")
	case on.Void != "":
		return on, refused("is_void", on.Number, "Invoice %s was called void already. Nothing was changed.", on.Number)
	case !slices.ContainsFunc(on.Lines, func(row crop.InvoiceLine) bool { return row.Line == line }):
		return on, refused("not_on_invoice", on.Number, "Invoice %s does not have that line. Nothing was credited. Look for the invoice that has it.", on.Number)
	}
	return on, nil
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
	return noteOn(invoice, date, takenBack(rowsLeft(s, invoice))), nil
}

// rowsLeft are the rows of an invoice less what its notes took off each: a note that takes back the rest has no row that
// charges anything again.
func rowsLeft(s crop.Sales, invoice crop.Invoice) []crop.InvoiceLine {
	rows := slices.Clone(invoice.Lines)
	for _, note := range notesOn(s, invoice.ID) {
		for _, off := range note.Lines {
			at := slices.IndexFunc(rows, func(row crop.InvoiceLine) bool { return row.Line == off.Line })
			if at < 0 {
				rows = append(rows, off)
				continue
			}
			rows[at].Cents += off.Cents
			rows[at].Bunches -= off.Bunches
		}
	}
	return slices.DeleteFunc(rows, func(row crop.InvoiceLine) bool { return row.Cents == 0 && row.Bunches == 0 })
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

// newestOf is the newest invoice that has bunches of a line left and was not called void.
func newestOf(s crop.Sales, line crop.LineID) (newest crop.Invoice, ok bool) {
	for _, i := range s.Invoices {
		if i.Credits != "" || i.Void != "" || ok && i.Number < newest.Number || bunchesLeft(s, i, line) <= 0 {
			continue
		}
		newest, ok = i, true
	}
	return newest, ok
}

// notesOn are the notes that credit an invoice, by their numbers.
func notesOn(s crop.Sales, id crop.InvoiceID) []crop.Invoice {
	var notes []crop.Invoice
	for _, i := range s.Invoices {
		if i.Credits == id {
			notes = append(notes, i)
		}
	}
	return byNumber(notes)
}

func byNumber(invoices []crop.Invoice) []crop.Invoice {
	return slices.SortedFunc(slices.Values(invoices), func(a, b crop.Invoice) int { return cmp.Compare(a.Number, b.Number) })
}
