package selling

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"corymb/internal/crop"
)

// MostRows is the most rows of one invoice: what a place of three digits can tell, less some for a fee each.
const MostRows = 500

// Asked is a bill that an owner asks for: deliveries to one buyer.
type Asked struct {
	Buyer  crop.BuyerID
	Orders []crop.OrderID // a standing order's by the ids that they have on their days
	Date   crop.Date
	// Words say what each line is, and Fee what a delivery's fee is, in the language of whoever asks.
	Words    map[crop.LineID]string
	Fee      string
	Discount Discount
}

// Refusal says in a sentence why no invoice was made. It is an answer and no fault.
type Refusal struct {
	Code string
	Text string
	// Number is that of the invoice which is in the way, or empty.
	Number string
}

func (r *Refusal) Error() string { return r.Text }

func refused(code, number, format string, args ...any) *Refusal {
	return &Refusal{Code: code, Number: number, Text: fmt.Sprintf(format, args...)}
}

// Bill makes an invoice, without id and number, of what was packed for some deliveries and stands on none yet. Prices
// are those of the lines as they are now.
func Bill(s crop.Sales, asked Asked) (crop.Invoice, *Refusal) {
	b := biller{sales: s, asked: asked, packed: packedBunches(s), billed: billedLines(s), spare: spareFees(s, asked.Buyer)}
	if len(asked.Orders) == 0 {
		return crop.Invoice{}, refused("nothing_asked", "", "No delivery was named. Choose one, then ask again.")
	}
	for _, order := range slices.Compact(slices.Sorted(slices.Values(asked.Orders))) {
		if refusal := b.addOrder(order); refusal != nil {
			return crop.Invoice{}, refusal
		}
	}
	if refusal := b.refusal(); refusal != nil {
		return crop.Invoice{}, refusal
	}
	row, given, refusal := asked.Discount.row(b.rows)
	if refusal != nil {
		return crop.Invoice{}, refusal
	}
	if given {
		b.rows = append(b.rows, row)
	}
	invoice := crop.Invoice{
		Buyer: asked.Buyer, Date: asked.Date, Currency: s.Terms.Currency, TaxRate: s.Terms.TaxRate, Lines: b.rows,
	}
	if s.Terms.PayDays > 0 {
		invoice.PayBy = asked.Date.Add(s.Terms.PayDays)
	}
	return invoice, nil
}

// HeadOf is what the paper of an invoice says beside its rows on the day it is made. A note calls the tax as its invoice did,
// whose rate it has.
func HeadOf(f crop.Farm, i crop.Invoice) *crop.InvoiceHead {
	buyer := buyerOf(f.Sales, i.Buyer)
	head := crop.InvoiceHead{
		BuyerName: buyer.Name, Address: buyer.Address, Seller: cmp.Or(strings.TrimSpace(f.Sales.Terms.Seller), f.Name), TaxName: f.Sales.Terms.TaxName,
	}
	if on := f.Sales.Invoices[i.Credits]; on.Head != nil {
		head.TaxName = on.Head.TaxName
	}
	return &head
}

// biller gathers the rows of an invoice.
type biller struct {
	sales  crop.Sales
	asked  Asked
	packed map[crop.LineID]int
	billed map[crop.LineID]onInvoices
	spare  map[crop.Date]int // fees by day that were billed for orders of which no billed line is left

	rows     []crop.InvoiceLine
	unpriced []string
	over     []string // lines of which more was packed than is ordered
	before   string   // number of an invoice that has a line of what was asked for
}

// onInvoices is what of a line stands on invoices.
type onInvoices struct {
	bunches int
	number  string // of the last
}

func (b *biller) addOrder(id crop.OrderID) *Refusal {
	due, ok := DueOf(b.sales, id)
	switch {
	case !ok:
		return refused("no_order", "", "One of the deliveries is not there, or not any more. Nothing was billed. Look at the orders, then ask again.")
	case due.Buyer != b.asked.Buyer:
		return refused("other_buyer", "", "One of the deliveries is another buyer’s. Nothing was billed. Ask for each buyer apart.")
	}
	if left := b.packedBeside(due); left > 0 {
		return refused("line_gone", "", "%d bunches were packed for lines that are ordered no longer, so they have no price. Nothing was billed. Put the order right first.", left)
	}
	first, feeBefore := len(b.rows), false
	for _, line := range due.Lines {
		before := b.billed[line.ID]
		if before.number != "" {
			b.before, feeBefore = before.number, true
		}
		b.addLine(due.Day, line, b.packed[line.ID]-before.bunches)
	}
	channel, known := b.sales.Channels[buyerOf(b.sales, b.asked.Buyer).Channel]
	if len(b.rows) == first || feeBefore || !known || !channel.BuyerPays || channel.Fee <= 0 {
		return nil
	}
	if b.spare[due.Day] > 0 { // the fee of this delivery came with a line that was taken out of it since
		b.spare[due.Day]--
		return nil
	}
	b.rows = append(b.rows, crop.InvoiceLine{Due: due.Day, Cents: channel.Fee, Words: cmp.Or(b.asked.Fee, "Delivery")})
	return nil
}

func (b *biller) addLine(day crop.Date, line crop.Line, bunches int) {
	if bunches <= 0 {
		return
	}
	words := cmp.Or(b.asked.Words[line.ID], b.plainWords(line))
	if packed := b.packed[line.ID]; packed > line.Bunches {
		b.over = append(b.over, fmt.Sprintf("%s: %d of %d", words, packed, line.Bunches))
		return
	}
	price := LinePrice(b.sales, b.asked.Buyer, line, day)
	if price <= 0 {
		b.unpriced = append(b.unpriced, words)
		return
	}
	b.rows = append(b.rows, crop.InvoiceLine{
		Line: line.ID, Due: day, Bunches: bunches, Stems: line.Stems, Cents: price * crop.Cents(bunches), Words: words,
	})
}

// plainWords name a line of which the asker said nothing.
func (b *biller) plainWords(line crop.Line) string {
	return cmp.Or(b.sales.Bunches[line.Bunch].Name, fmt.Sprintf("bunches of %d", line.Stems))
}

// packedBeside counts bunches that were packed for the buyer's delivery on its day and whose line nobody orders any more.
func (b *biller) packedBeside(due Due) int {
	ordered := map[crop.LineID]bool{}
	for _, other := range DueBetween(b.sales, due.Day, due.Day) {
		for _, line := range other.Lines {
			ordered[line.ID] = true
		}
	}
	n := 0
	for _, p := range b.sales.Packed {
		if p.Due == due.Day && p.Buyer == due.Buyer && !ordered[p.Line] && !isWritten(b.sales, p.Line) && b.billed[p.Line].bunches < b.packed[p.Line] {
			n += p.Bunches
		}
	}
	return n
}

func (b *biller) refusal() *Refusal {
	switch {
	case len(b.over) > 0:
		return refused("over_packed", "", "More bunches were packed than are ordered (%s). Nothing was billed. Put right what was packed, or the order, then ask again.", strings.Join(b.over, "; "))
	case len(b.unpriced) > 0:
		return refused("no_price", "", "No price is agreed for %s. Nothing was billed. Give the order’s lines their prices, then ask again.", strings.Join(b.unpriced, "; "))
	case len(b.rows) == 0 && b.before != "":
		return refused("billed", b.before, "Invoice %s has this delivery already. Nothing was billed twice.", b.before)
	case len(b.rows) == 0:
		return refused("nothing_packed", "", "Nothing was packed for this delivery, so there is nothing to bill.")
	case len(b.rows) > MostRows:
		return refused("too_many", "", "That would be %d rows, and one invoice holds %d. Nothing was billed. Ask for fewer deliveries at once.", len(b.rows), MostRows)
	}
	return nil
}

func packedBunches(s crop.Sales) map[crop.LineID]int {
	packed := map[crop.LineID]int{}
	for _, p := range s.Packed {
		packed[p.Line] += p.Bunches
	}
	return packed
}

// billedLines is what stands on invoices that were not called void, less what notes took back of its bunches.
func billedLines(s crop.Sales) map[crop.LineID]onInvoices {
	billed := map[crop.LineID]onInvoices{}
	for _, i := range s.Invoices {
		if !stands(s, i) {
			continue
		}
		for _, row := range i.Lines {
			if row.Line == "" {
				continue
			}
			before := billed[row.Line]
			if i.Credits != "" {
				before.bunches -= row.Bunches
			} else {
				before = onInvoices{before.bunches + row.Bunches, max(before.number, i.Number)}
			}
			billed[row.Line] = before
		}
	}
	return billed
}

// stands tells whether an invoice was not called void; a note stands while its invoice does.
func stands(s crop.Sales, i crop.Invoice) bool {
	return i.Void == "" && s.Invoices[i.Credits].Void == ""
}

// spareFees counts by day the fees that a buyer was billed beyond one for each order that has a billed line: those of
// deliveries whose billed lines were all taken out since.
func spareFees(s crop.Sales, buyer crop.BuyerID) map[crop.Date]int {
	spare := map[crop.Date]int{}
	orders := map[crop.Date]map[crop.OrderID]bool{}
	for _, i := range s.Invoices {
		if i.Buyer != buyer || i.Credits != "" || i.Void != "" {
			continue
		}
		for _, row := range i.Lines {
			if row.Line == "" {
				if !isDiscount(i, row) {
					spare[row.Due]++
				}
				continue
			}
			if order, ok := orderOf(s, row.Line); ok {
				if orders[row.Due] == nil {
					orders[row.Due] = map[crop.OrderID]bool{}
				}
				orders[row.Due][order] = true
			}
		}
	}
	for day, of := range orders {
		spare[day] -= len(of)
	}
	return spare
}

// isWritten tells whether a line stands in a written order, which may have been moved to another day since it was packed.
func isWritten(s crop.Sales, id crop.LineID) bool {
	_, ok := s.Orders[s.Lines[id].Order]
	return ok
}

// orderOf is the order that a line stands in, also one of a standing order on its day.
func orderOf(s crop.Sales, id crop.LineID) (crop.OrderID, bool) {
	if isWritten(s, id) {
		return s.Lines[id].Order, true
	}
	template, day, ok := OfStanding(id)
	standing := s.Lines[template].Standing
	_, ordered := s.Standings[standing]
	return crop.OrderID(string(standing) + "@" + string(day)), ok && ordered
}
