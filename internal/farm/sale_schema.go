package farm

import (
	"fmt"
	"strconv"
	"strings"

	"corymb/internal/crop"
)

// Fields of what is sold. Those of scope money are only an owner's: prices, floors, what a channel keeps, credits
// and invoices. All others are the shed's, which crew packs by.
const (
	FieldCurrency   = "currency"    // farm: ISO 4217, or "" (money)
	FieldSeller     = "seller"      // farm: lines for papers; invoice: those that it was made with (money)
	FieldCoolerDays = "cooler_days" // farm: days that a stem is offered after its cut
	FieldOverCut    = "over_cut"    // farm: percent
	FieldPayDays    = "pay_days"    // farm: days (money)
	FieldTaxRate    = "tax_rate"    // farm, invoice: hundredths of a percent (money)
	FieldTaxName    = "tax_name"    // farm, invoice: text (money)
	FieldBreakCost  = "break_cost"  // farm: percent (money)

	FieldFloor      = "floor."      // channel, a grade after the dot: cents a stem (money)
	FieldCommission = "commission"  // channel: hundredths of a percent (money)
	FieldFee        = "fee"         // channel: cents a delivery (money)
	FieldBuyerPays  = "buyer_pays"  // channel: 0 or 1, who bears the fee (money)
	FieldCutoffDays = "cutoff_days" // channel: days
	FieldCutoffTime = "cutoff_time" // channel: "HH:MM" or ""
	FieldDays       = "days"        // channel, standing: crop.Weekdays

	FieldChannel = "channel"  // buyer, price: channel id
	FieldAddress = "address"  // buyer: text; invoice: that of its buyer when it was made (money)
	FieldPhone   = "phone"    // buyer: text
	FieldEmail   = "email"    // buyer: text
	FieldNote    = "note"     // buyer, order, standing: text
	FieldAccepts = "accepts." // buyer, a colour id after the dot: list of colour ids

	FieldStems     = "stems"      // bunch, line: a bunch; shrink, claim: stems
	FieldGrade     = "grade"      // bunch, line: crop.Grade or ""
	FieldLeast     = "least"      // bunch, line: least length in mm
	FieldBuyer     = "buyer"      // price, order, standing, packed, claim, invoice: buyer id
	FieldBunch     = "bunch"      // price, line: bunch id
	FieldSince     = "since"      // price, standing: date from which it holds
	FieldCents     = "cents"      // price: cents a bunch; line: cents a bunch; claim: cents credited (money)
	FieldDue       = "due"        // order, packed, claim: date
	FieldTaken     = "taken"      // order: date
	FieldOrder     = "order"      // line: order id; payment: the same (money)
	FieldStanding  = "standing"   // line: standing id
	FieldBunches   = "bunches"    // line: number; packed: count cell
	FieldColours   = "colours"    // line: list of colour ids
	FieldWhole     = "whole"      // line: 0 or 1
	FieldExact     = "exact"      // line: 0 or 1
	FieldLast      = "last"       // standing: date or ""
	FieldEvery     = "every"      // standing: weeks
	FieldSkips     = "skips"      // standing: set of dates
	FieldOf        = "of"         // packed, claim: line id
	FieldLot       = "lot"        // shrink, claim: LotCell, or "" in a claim
	FieldReason    = "reason"     // shrink, claim: words
	FieldBack      = "back"       // claim: 0 or 1
	FieldInvoiceNo = "invoice_no" // invoice: text (money)
	FieldPayBy     = "pay_by"     // invoice: date (money)
	FieldRows      = "rows"       // invoice: set of FormatInvoiceLine (money)
	FieldVoid      = "void"       // invoice: date or "" (money)
	FieldCredits   = "credits"    // invoice: invoice id or "" (money)
	FieldClaim     = "claim"      // invoice: claim id or "" (money)
	FieldBuyerName = "buyer_name" // invoice: text, as the buyer was called when it was made (money)
	FieldTax       = "tax"        // invoice: cents that a note takes back of tax, 0 or less (money)
)

// LotCell names a lot: "bed|2026-06-03|colour|first|400|500". It names the count cell of the lot's stems in what was
// packed, too.
func LotCell(l crop.LotID) string {
	return fmt.Sprintf("%s|%s|%s", l.Bed, l.Cut, BedCell(l.Colour, l.Grade, l.Length))
}

// ParseLotCell reads a lot's name.
func ParseLotCell(name string) (crop.LotID, error) {
	parts := strings.SplitN(name, "|", 3)
	if len(parts) != 3 || !crop.Date(parts[1]).Valid() {
		return crop.LotID{}, fmt.Errorf("%.60q is not a lot", name)
	}
	cell, err := ParseCell(parts[2])
	if err != nil || !cell.OfBed {
		return crop.LotID{}, fmt.Errorf("%.60q is not a lot", name)
	}
	return crop.LotID{
		Bed: crop.BedID(parts[0]), Cut: crop.Date(parts[1]), Colour: cell.Colour, Grade: cell.Grade, Length: cell.Length,
	}, nil
}

// FormatInvoiceLine writes a row of an invoice as an element of a set: "003|line|2026-06-04|4|10|520|words". The
// number is its place.
func FormatInvoiceLine(place int, l crop.InvoiceLine) string {
	return fmt.Sprintf("%03d|%s|%s|%d|%d|%d|%s", place, l.Line, l.Due, l.Bunches, l.Stems, l.Cents, l.Words)
}

// ParseInvoiceLine reads a row of an invoice.
func ParseInvoiceLine(text string) (crop.InvoiceLine, error) {
	parts := strings.SplitN(text, "|", 7)
	if len(parts) != 7 {
		return crop.InvoiceLine{}, fmt.Errorf("%.60q is no row of an invoice", text)
	}
	bunches, errBunches := strconv.Atoi(parts[3])
	stems, errStems := strconv.Atoi(parts[4])
	cents, errCents := strconv.ParseInt(parts[5], 10, 64)
	due := crop.Date(parts[2])
	if errBunches != nil || errStems != nil || errCents != nil || due != "" && !due.Valid() {
		return crop.InvoiceLine{}, fmt.Errorf("%.60q is no row of an invoice", text)
	}
	return crop.InvoiceLine{
		Line: crop.LineID(parts[1]), Due: due, Bunches: bunches, Stems: stems, Cents: crop.Cents(cents), Words: parts[6],
	}, nil
}
