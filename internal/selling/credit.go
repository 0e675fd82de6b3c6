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
	owed := claim.Credit - CreditedOf(s, claim.ID)
	if refusal == nil {
		refusal = moreThanLeft(s, on, claim.Line, owed)
	}
	if refusal != nil {
		return crop.Invoice{}, refusal
	}
	row := crop.InvoiceLine{Line: claim.Line, Due: claim.Due, Cents: -owed, Words: cmp.Or(asked.Words, "Credit")}
	note := noteOn(s, on, asked.Date, []crop.InvoiceLine{row})
	note.Claim = claim.ID
	return note, nil
}

// moreThanLeft refuses what a claim is owed where less is left of its line on an invoice: the other rows are not its own.
func moreThanLeft(s crop.Sales, on crop.Invoice, line crop.LineID, owed crop.Cents) *Refusal {
	if owed <= min(lineLeft(s, on, line), leftOf(s, on)) {
		return nil
	}
	if note, ok := lastNoteOf(s, on, line); ok {
		return refused("line_credited", note.Number, "Since credit note %s, less than the claim’s amount is left of its line on invoice %s. Nothing was credited. Look whether that note has it already; else lower the claim’s amount.", note.Number, on.Number)
	}
	return refused("too_much", on.Number, "The credit is more than is left of the line on invoice %s. Nothing was credited. Lower the claim’s amount.", on.Number)
}

// CreditedOf is what notes that stand credit of a claim: one that was raised since has a further note for the difference.
func CreditedOf(s crop.Sales, claim crop.ClaimID) crop.Cents {
	credited := crop.Cents(0)
	for _, i := range s.Invoices {
		if i.Claim == claim && claim != "" && stands(s, i) {
			credited -= TotalsOf(i).Net
		}
	}
	return credited
}

// claimedBefore refuses stems that notes credit already: all that this claim says, of a claim that was taken away after its
// note was made, or of others that together come to more than was packed.
func claimedBefore(s crop.Sales, claim crop.Claim) *Refusal {
	stems, last := claim.Stems, ""
	counted := map[crop.ClaimID]bool{claim.ID: true}
	for _, note := range claimNotesOf(s, claim.Line) {
		other, there := s.Claims[note.Claim]
		switch {
		case note.Claim == claim.ID && CreditedOf(s, claim.ID) >= claim.Credit:
			return refused("credited", note.Number, "Credit note %s has this already. Nothing was credited twice.", note.Number)
		case note.Claim != claim.ID && !there:
			return refused("claim_gone", note.Number, "Credit note %s is of a claim on this line that was taken away since. Nothing was credited twice. Bring that claim back on the line’s page, then look whether this one is still owed.", note.Number)
		case counted[note.Claim]:
			continue
		}
		counted[note.Claim] = true
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
		if i.Claim != "" && stands(s, i) && hasLine(i, line) {
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
// stand on it and no claim of missing stems was credited for them. Where some stay with the buyer it is not known whether what
// claims credited was of these, so that more than is left is refused.
func creditTakenBack(s crop.Sales, asked CreditAsked) (crop.Invoice, *Refusal) {
	packed := packedBunches(s)[asked.Line]
	over := billedLines(s)[asked.Line].bunches - packed
	if over <= 0 {
		return crop.Invoice{}, refused("not_over", "", "No more of that line is billed than is packed. Nothing was credited.")
	}
	on, refusal := invoiceOf(s, asked.Line, asked.Invoice)
	if refusal != nil {
		return crop.Invoice{}, refusal
	}
	rows := AfterDiscount(on)
	row := rows[slices.IndexFunc(rows, func(row crop.InvoiceLine) bool { return row.Line == asked.Line })]
	note, noted := lastNoteOf(s, on, asked.Line)
	n := min(over-bunchesMissing(s, asked.Line), bunchesLeft(s, on, asked.Line)-missingOn(s, on, asked.Line))
	left := min(lineLeft(s, on, asked.Line), leftOf(s, on))
	switch {
	case noted && (left <= 0 || n <= 0 && missingOn(s, on, asked.Line) > 0):
		return crop.Invoice{}, refused("back_credited", note.Number, "Credit note %s credits as much of this line already as these bunches cost. Nothing was credited twice.", note.Number)
	case n <= 0:
		return crop.Invoice{}, refused("not_on_invoice", on.Number, "All of that was taken off invoice %s already. Nothing was credited. Look for the invoice that has the rest.", on.Number)
	}
	cents := bunchesCost(row, row.Bunches-bunchesLeft(s, on, asked.Line), n)
	if packed <= 0 { // the buyer has none of it: whatever claims took off, the rest is owed no longer
		cents = left
	}
	if noted && cents > left {
		return crop.Invoice{}, refused("none_left", note.Number, "Since credit note %s, less than these bunches cost is left of their line on invoice %s. Nothing was credited. Call the invoice void and bill what is packed.", note.Number, on.Number)
	}
	row.Bunches, row.Cents, row.Words = n, -cents, cmp.Or(asked.Words, row.Words)
	return noteOn(s, on, asked.Date, []crop.InvoiceLine{row}), nil
}

// lineLeft is what is left of a line on an invoice before tax: its row after the discount less all rows of notes about it.
func lineLeft(s crop.Sales, on crop.Invoice, line crop.LineID) crop.Cents {
	left := crop.Cents(0)
	for _, i := range append(notesOn(s, on.ID), on) {
		for _, row := range AfterDiscount(i) {
			if row.Line == line {
				left += row.Cents
			}
		}
	}
	return left
}

// lastNoteOf is the last note on an invoice that has a line; where none has, the last of all.
func lastNoteOf(s crop.Sales, on crop.Invoice, line crop.LineID) (last crop.Invoice, ok bool) {
	notes := notesOn(s, on.ID)
	for _, note := range notes {
		if hasLine(note, line) {
			last, ok = note, true
		}
	}
	if !ok && len(notes) > 0 && lineLeft(s, on, line) > leftOf(s, on) { // rows of others took more than there was of them
		return notes[len(notes)-1], true
	}
	return last, ok
}

// bunchesMissing is how many whole bunches of a line were credited as missing, on all invoices that stand.
func bunchesMissing(s crop.Sales, line crop.LineID) int {
	n := 0
	for _, i := range s.Invoices {
		if i.Credits == "" && stands(s, i) && hasLine(i, line) {
			n += missingOn(s, i, line)
		}
	}
	return n
}

// missingOn is how many whole bunches cost what claims of missing stems were credited of a line of an invoice: who takes
// these back in what was packed says the same thing once more. Stems that wilted were brought, and are no such bunches.
func missingOn(s crop.Sales, on crop.Invoice, line crop.LineID) int {
	price, credited := crop.Cents(0), crop.Cents(0)
	for _, row := range AfterDiscount(on) {
		if row.Line == line && row.Bunches > 0 {
			price = row.Cents / crop.Cents(row.Bunches)
		}
	}
	for _, note := range notesOn(s, on.ID) {
		if s.Claims[note.Claim].Reason != crop.ClaimMissing {
			continue
		}
		for _, row := range note.Lines {
			if row.Line == line {
				credited -= row.Cents
			}
		}
	}
	if price <= 0 {
		return 0
	}
	return int(credited / price)
}

func hasLine(i crop.Invoice, line crop.LineID) bool {
	return slices.ContainsFunc(i.Lines, func(row crop.InvoiceLine) bool { return row.Line == line })
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
	case !hasLine(on, line):
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
	return noteOn(s, invoice, date, takenBack(rowsLeft(s, invoice))), nil
}

// rowsLeft are the rows of an invoice after its discount, less what its notes took off each: a note that takes back the rest has no row that
// charges anything again.
func rowsLeft(s crop.Sales, invoice crop.Invoice) []crop.InvoiceLine {
	rows := slices.Clone(AfterDiscount(invoice))
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

func noteOn(s crop.Sales, on crop.Invoice, date crop.Date, rows []crop.InvoiceLine) crop.Invoice {
	tax := taxBack(s, on, rows)
	return crop.Invoice{Buyer: on.Buyer, Date: date, Currency: on.Currency, TaxRate: on.TaxRate, Credits: on.ID, Lines: rows, Tax: &tax}
}

// newestOf is the newest invoice that has bunches of a line left and was not called void.
func newestOf(s crop.Sales, line crop.LineID) (newest crop.Invoice, ok bool) {
	for _, i := range s.Invoices {
		if i.Credits != "" || i.Void != "" || ok && i.Number < newest.Number {
			continue
		}
		if !hasLine(i, line) || bunchesLeft(s, i, line) <= 0 { // its notes are looked for last: they stand among all invoices
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
