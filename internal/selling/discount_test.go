package selling_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

type discountVector struct {
	Name            string
	Rows            []crop.Cents // of lines
	Fees            []crop.Cents
	Rate            int // hundredths of a percent taken off
	Cents           crop.Cents
	TaxRate         int `json:"tax_rate"`
	Discount        crop.Cents
	Shares          []crop.Cents // of each line
	Net, Tax, Total crop.Cents
}

func readDiscounts(t *testing.T) []discountVector {
	t.Helper()
	data, err := os.ReadFile("../../testdata/vectors/discount.json")
	var vectors struct{ Cases []discountVector }
	if err == nil {
		err = json.Unmarshal(data, &vectors)
	}
	if err != nil || len(vectors.Cases) == 0 {
		t.Fatal(err, "or no cases")
	}
	return vectors.Cases
}

func TestADiscountIsSharedByTheLinesToTheCent(t *testing.T) {
	for _, v := range readDiscounts(t) {
		t.Run(v.Name, func(t *testing.T) {
			s := orderOf(v.Rows)
			s.Terms.TaxRate = v.TaxRate
			s.Channels["ch"] = crop.Channel{ID: "ch", BuyerPays: len(v.Fees) > 0, Fee: sum(v.Fees)}
			invoice, refusal := selling.Bill(s, selling.Asked{
				Buyer: "nord", Orders: []crop.OrderID{"o"}, Date: "2026-06-05", Discount: selling.Discount{Rate: v.Rate, Cents: v.Cents},
			})
			if refusal != nil {
				t.Fatal(refusal)
			}
			totals, want := selling.TotalsOf(invoice), selling.Totals{Net: v.Net, Tax: v.Tax, Total: v.Total}
			if totals != want {
				t.Errorf("%+v, want %+v", totals, want)
			}
			goods := selling.Discount{Rate: v.Rate, Cents: v.Cents}.Of(sum(v.Rows))
			if goods != v.Discount {
				t.Errorf("%d taken off, want %d", goods, v.Discount)
			}
			after := selling.AfterDiscount(invoice)
			for i, share := range v.Shares {
				if got := v.Rows[i] - after[i].Cents; got != share {
					t.Errorf("line %d bears %d, want %d", i, got, share)
				}
			}
		})
	}
}

// orderOf is an order of one bunch a line, packed, at prices.
func orderOf(prices []crop.Cents) crop.Sales {
	s := crop.NewSales()
	s.Buyers["nord"] = crop.Buyer{ID: "nord", Channel: "ch"}
	s.Orders["o"] = crop.Order{ID: "o", Buyer: "nord", Due: "2026-06-04"}
	for i, price := range prices {
		addLine(s, i, 1, price)
	}
	return s
}

func addLine(s crop.Sales, i, bunches int, price crop.Cents) {
	id := crop.LineID(fmt.Sprintf("l%03d", i))
	s.Lines[id] = crop.Line{ID: id, Order: "o", Bunches: bunches, Stems: 10, Price: price}
	s.Packed[crop.PackedID(id)] = crop.Packed{ID: crop.PackedID(id), Line: id, Buyer: "nord", Due: "2026-06-04", Bunches: bunches}
}

func sum(all []crop.Cents) (cents crop.Cents) {
	for _, one := range all {
		cents += one
	}
	return cents
}

func TestInvoicesAddUpUnderAnyDiscountAndRounding(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	src := rand.New(rand.NewPCG(seed, 10))
	for range 1500 {
		s := crop.NewSales()
		s.Terms.TaxRate = src.IntN(2_500)
		s.Channels["ch"] = crop.Channel{ID: "ch", BuyerPays: src.IntN(2) == 0, Fee: crop.Cents(src.IntN(900))}
		s.Buyers["nord"] = crop.Buyer{ID: "nord", Channel: "ch"}
		s.Orders["o"] = crop.Order{ID: "o", Buyer: "nord", Due: "2026-06-04"}
		goods := crop.Cents(0)
		for i := range 1 + src.IntN(6) {
			bunches, price := 1+src.IntN(5), crop.Cents(1+src.IntN(900))
			addLine(s, i, bunches, price)
			goods += crop.Cents(bunches) * price
		}
		asked := selling.Asked{Buyer: "nord", Orders: []crop.OrderID{"o"}, Date: "2026-06-05"}
		if src.IntN(2) == 0 {
			asked.Discount.Rate = src.IntN(10_000)
		} else {
			asked.Discount.Cents = crop.Cents(src.Int64N(int64(goods) + 1))
		}
		addsUp(t, src, s, asked, goods)
	}
}

// addsUp looks whether all that is said of an invoice is the same money, and whether notes that take it back leave no cent.
func addsUp(t *testing.T, src *rand.Rand, s crop.Sales, asked selling.Asked, goods crop.Cents) {
	t.Helper()
	invoice, refusal := selling.Bill(s, asked)
	if refusal != nil {
		if asked.Discount.Of(goods) < goods {
			t.Fatalf("%+v: %v", asked.Discount, refusal)
		}
		return
	}
	lines, fees, after := crop.Cents(0), crop.Cents(0), selling.AfterDiscount(invoice)
	for _, row := range after {
		switch {
		case row.Line == "":
			fees += row.Cents
		case row.Cents < 0:
			t.Fatalf("%+v: a line costs less than nothing: %+v", asked.Discount, row)
		default:
			lines += row.Cents
		}
	}
	totals := selling.TotalsOf(invoice)
	if lines != goods-asked.Discount.Of(goods) || lines+fees != totals.Net || totals.Net+totals.Tax != totals.Total {
		t.Fatalf("%+v of %d: lines %d and fees %d, %+v", asked.Discount, goods, lines, fees, totals)
	}
	invoice.ID, invoice.Number = "i", "2026-B-0001"
	s.Invoices["i"] = invoice
	left := totals.Total
	for n := range 1 + src.IntN(4) { // bunches are taken back and credited, some now and some later
		id := crop.LineID(fmt.Sprintf("l%03d", src.IntN(len(s.Lines))))
		p := s.Packed[crop.PackedID(id)]
		p.Bunches = src.IntN(p.Bunches + 1)
		s.Packed[p.ID] = p
		note, refusal := selling.Credit(s, selling.CreditAsked{Line: id, Date: "2026-06-06"})
		if refusal != nil {
			continue
		}
		note.ID, note.Number = crop.InvoiceID(fmt.Sprint("n", n)), fmt.Sprintf("2026-B-%04d", n+2)
		s.Invoices[note.ID] = note
		left += selling.TotalsOf(note).Total
		if p.Bunches == 0 && creditedOf(s, id) != rowOf(after, id).Cents {
			t.Fatalf("%+v: all of %s is credited with %d, it cost %d", asked.Discount, id, creditedOf(s, id), rowOf(after, id).Cents)
		}
	}
	note, refusal := selling.Void(s, "i", "2026-06-07")
	if refusal != nil || left+selling.TotalsOf(note).Total != 0 {
		t.Fatalf("%+v: %d is left of a void invoice (%v)", asked.Discount, left+selling.TotalsOf(note).Total, refusal)
	}
	for _, row := range note.Lines {
		if row.Cents > 0 {
			t.Fatalf("%+v: a note charges %+v", asked.Discount, row)
		}
	}
}

func creditedOf(s crop.Sales, line crop.LineID) (cents crop.Cents) {
	for _, i := range s.Invoices {
		if i.Credits != "" {
			cents -= rowOf(i.Lines, line).Cents
		}
	}
	return cents
}

func rowOf(rows []crop.InvoiceLine, line crop.LineID) (found crop.InvoiceLine) {
	for _, row := range rows {
		if row.Line == line {
			found.Cents += row.Cents
		}
	}
	return found
}

func TestADiscountThatLeavesNothingIsRefused(t *testing.T) {
	for name, discount := range map[string]selling.Discount{"all of it": {Cents: 500}, "more than all": {Cents: 9_999}, "so much that a share rounds to all": {Rate: 9_999}} {
		_, refusal := selling.Bill(orderOf([]crop.Cents{500}), selling.Asked{Buyer: "nord", Orders: []crop.OrderID{"o"}, Date: "2026-06-05", Discount: discount})
		if refusal == nil || refusal.Code != "discount_too_much" {
			t.Errorf("%s: %v", name, refusal)
		}
	}
}

func TestADiscountIsNoFeeThatWasBilledBefore(t *testing.T) {
	s := aDay()
	s.Orders["later"] = crop.Order{ID: "later", Buyer: "nord", Due: "2026-06-04"}
	s.Lines["e"] = crop.Line{ID: "e", Order: "later", Bunches: 1, Stems: 10, Price: 500}
	s.Packed["p9"] = crop.Packed{ID: "p9", Line: "e", Buyer: "nord", Due: "2026-06-04", Bunches: 1}
	first := asked("nord", "o")
	first.Discount = selling.Discount{Cents: 100}
	invoice, refusal := selling.Bill(s, first)
	if refusal != nil {
		t.Fatal(refusal)
	}
	invoice.ID, invoice.Number = "i", "2026-B-0001"
	for i := range invoice.Lines { // as an older program may have written it: with the day
		invoice.Lines[i].Due = "2026-06-04"
	}
	s.Invoices["i"] = invoice
	second, refusal := selling.Bill(s, asked("nord", "later"))
	if refusal != nil || len(second.Lines) != 2 || second.Lines[1].Cents != 600 {
		t.Errorf("%+v (%v), want its own fee of 600", second.Lines, refusal)
	}
}
