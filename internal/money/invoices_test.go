package money

import (
	"math/rand/v2"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// TestInvoicesAddUpUnderAnyDiscountAndRounding makes invoices of any rows, some of which take off, at any tax, takes parts
// of them back in any order and then all that is left.
func TestInvoicesAddUpUnderAnyDiscountAndRounding(t *testing.T) {
	t.Logf("seeds from %d: again with -money.first", *firstFarm)
	for i := range uint64(*farms * 25) {
		m := &made{Rand: rand.New(rand.NewPCG(*firstFarm+i, 5)), Farm: crop.NewFarm()}
		invoice := m.anyInvoice()
		for range m.IntN(4) {
			m.takeBackSome(invoice)
			checkBill(t, m, invoice)
		}
		m.payments(invoice)
		checkBill(t, m, invoice)
		note, refusal := selling.Void(m.Sales, invoice.ID, "2026-07-01")
		if refusal != nil {
			t.Fatal(refusal)
		}
		m.number(note)
		checkBill(t, m, invoice)
		bill := BillsOf(m.Farm, testSeason, "2026-12-31").Bills[0]
		if bill.Credited != bill.Billed || bill.Owed != -bill.Paid {
			t.Errorf("all was taken back: %+v", bill)
		}
		if t.Failed() {
			t.Fatalf("seed %d", *firstFarm+i)
		}
	}
}

// checkBill has what is left of an invoice be its rows left and their tax, rounded once, half a cent from nothing.
func checkBill(t *testing.T, m *made, invoice crop.Invoice) {
	t.Helper()
	net := selling.TotalsOf(invoice).Net
	for _, note := range m.Sales.Invoices {
		if note.Credits == invoice.ID {
			net += selling.TotalsOf(note).Net
		}
	}
	tax := (max(net, -net)*crop.Cents(invoice.TaxRate) + 5_000) / 10_000
	if net < 0 {
		tax = -tax
	}
	bills := BillsOf(m.Farm, testSeason, "2026-12-31").Bills
	if len(bills) != 1 || bills[0].Billed-bills[0].Credited != net+tax || bills[0].Owed != net+tax-bills[0].Paid {
		t.Errorf("left are %d and %d of tax, of %+v", net, tax, bills)
	}
}

func (m *made) anyInvoice() crop.Invoice {
	i := crop.Invoice{Date: "2026-06-05", TaxRate: m.IntN(2) * m.IntN(2500)}
	for n := range 1 + m.IntN(5) {
		bunches := 1 + m.IntN(30)
		line := crop.LineID(string(rune('a' + n)))
		i.Lines = append(i.Lines, crop.InvoiceLine{Line: line, Due: "2026-06-05", Bunches: bunches, Stems: 10, Cents: crop.Cents(bunches * (1 + m.IntN(900)))})
		m.Sales.Packed[crop.PackedID(line)] = crop.Packed{ID: crop.PackedID(line), Line: line, Due: "2026-06-05", Bunches: bunches}
	}
	if m.IntN(2) == 0 {
		i.Lines = append(i.Lines, crop.InvoiceLine{Due: "2026-06-05", Cents: -crop.Cents(m.IntN(300))})
	}
	return m.number(i)
}

// takeBackSome has less packed of a line, or claims some of it, and credits that.
func (m *made) takeBackSome(invoice crop.Invoice) {
	line := invoice.Lines[m.IntN(len(invoice.Lines))].Line
	asked := selling.CreditAsked{Line: line, Date: "2026-06-20"}
	if m.IntN(2) == 0 {
		id := crop.ClaimID(m.id("claim"))
		m.Sales.Claims[id] = crop.Claim{ID: id, Line: line, Due: "2026-06-05", Reason: crop.ClaimWilted, Credit: crop.Cents(1 + m.IntN(700))}
		asked = selling.CreditAsked{Claim: id, Date: "2026-06-20"}
	} else if p := m.Sales.Packed[crop.PackedID(line)]; p.Bunches > 0 {
		p.Bunches = m.IntN(p.Bunches)
		m.Sales.Packed[p.ID] = p
	}
	if note, refusal := selling.Credit(m.Sales, asked); refusal == nil {
		m.number(note)
	}
}

func (m *made) payments(invoice crop.Invoice) {
	of := invoice.ID
	for _, note := range m.Sales.Invoices {
		if note.Credits == invoice.ID && note.ID > of { // money that is paid back names the note
			of = note.ID
		}
	}
	m.Money.Payments["in"] = crop.Payment{ID: "in", Invoice: invoice.ID, Date: "2026-06-20", Cents: crop.Cents(m.IntN(5000))}
	m.Money.Payments["back"] = crop.Payment{ID: "back", Invoice: of, Date: "2026-06-21", Cents: -crop.Cents(m.IntN(500))}
}

func TestWhatIsPaidAndUnpaid(t *testing.T) {
	f := crop.NewFarm()
	row := func(cents crop.Cents) []crop.InvoiceLine { return []crop.InvoiceLine{{Line: "l", Cents: cents}} }
	tax := crop.Cents(-20)
	for _, i := range []crop.Invoice{
		{ID: "paid", Number: "1", Date: "2026-06-01", PayBy: "2026-06-10", Lines: row(1000), TaxRate: 1000},
		{ID: "late", Number: "2", Date: "2026-06-02", PayBy: "2026-06-10", Lines: row(1000), TaxRate: 1000},
		{ID: "void", Number: "3", Date: "2026-06-03", PayBy: "2026-06-10", Lines: row(500), Void: "2026-06-04"},
		{ID: "note", Number: "4", Date: "2026-06-05", Credits: "late", Lines: row(-200), Tax: &tax},
		{ID: "other", Number: "5", Date: "2025-06-05", Lines: row(9)},
	} {
		f.Sales.Invoices[i.ID] = i
	}
	for _, p := range []crop.Payment{
		{ID: "1", Invoice: "paid", Date: "2026-06-09", Cents: 1100}, {ID: "2", Invoice: "late", Date: "2026-06-09", Cents: 300},
		{ID: "3", Invoice: "late", Date: "2026-06-30", Cents: 580}, {ID: "4", Invoice: "void", Date: "2026-06-09", Cents: 500},
		{ID: "5", Invoice: "nobody's", Date: "2026-06-09", Cents: 7}, {ID: "6", Invoice: "note", Date: "2026-06-12", Cents: -50},
	} {
		f.Money.Payments[p.ID] = p
	}
	for _, order := range []crop.OrderID{"billed", "open"} { // paid before any invoice: that counts for the first that stands
		f.Sales.Orders[order] = crop.Order{ID: order}
		f.Sales.Lines[crop.LineID(order)] = crop.Line{ID: crop.LineID(order), Order: order}
		f.Money.Payments[crop.PaymentID(order)] = crop.Payment{ID: crop.PaymentID(order), Order: order, Date: "2026-06-01", Cents: 40}
	}
	for id, number := range map[crop.InvoiceID]string{"gone": "6", "first": "7", "second": "8"} {
		f.Sales.Invoices[id] = crop.Invoice{ID: id, Number: number, Date: "2026-06-06", Lines: []crop.InvoiceLine{{Line: "billed", Cents: 100}}}
	}
	gone := f.Sales.Invoices["gone"]
	gone.Void = "2026-06-07"
	f.Sales.Invoices["gone"] = gone
	got := BillsOf(f, 2026, "2026-06-20")
	want := map[crop.InvoiceID]Bill{
		"paid": {Billed: 1100, Paid: 1100}, "late": {Billed: 1100, Credited: 220, Paid: 250, Owed: 630, Late: 10},
		"void": {Billed: 500, Credited: 500, Paid: 500, Owed: -500},
		"gone": {Billed: 100, Credited: 100}, "first": {Billed: 100, Paid: 40, Owed: 60}, "second": {Billed: 100, Owed: 100},
	}
	if len(got.Bills) != len(want) || len(got.Loose) != 2 || got.Loose[0].Order != "open" || got.Loose[1].Cents != 7 {
		t.Fatalf("%+v", got)
	}
	for _, b := range got.Bills {
		w := want[b.ID]
		if b.Billed != w.Billed || b.Credited != w.Credited || b.Paid != w.Paid || b.Owed != w.Owed || b.Late != w.Late {
			t.Errorf("%s: %+v, want %+v", b.ID, b, w)
		}
	}
}
