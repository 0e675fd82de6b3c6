package farm

// Fields of what a farm paid, worked and was paid, beside those that are called as of other types: date, kind, what, cents,
// bed, stock and channel of a cost; date, person, kind, minutes, bed, note and, of scope money, channel of work; date, cents,
// order and note of a payment; channel, since, last, cents and note of a statement; date, bunches, cents, of (a line) and due of a
// statement's row. Work is the field's, so that crew writes down its own hours; all else here is of scope money.
const (
	FieldFixed     = "fixed"     // cost: 0 or 1
	FieldInvoice   = "invoice"   // payment: invoice id
	FieldPaid      = "paid"      // statement: date or ""
	FieldStatement = "statement" // statement_row: statement id
	FieldPlace     = "place"     // statement_row: number, from 1
	FieldWords     = "words"     // statement_row: text
	FieldKept      = "kept"      // statement_row: cents
	FieldSettled   = "settled"   // statement_row: 0 or 1
)
