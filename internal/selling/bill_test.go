package selling_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

type taxVectors struct {
	Cases []struct {
		Name            string
		Rows            []crop.Cents
		Rate            int
		Net, Tax, Total crop.Cents
	}
	Notes []struct {
		Name  string
		Rows  []crop.Cents
		Rate  int
		Notes []struct {
			Net, Tax crop.Cents
			Old      bool
		}
		Left []crop.Cents
	}
}

func readTaxVectors(t *testing.T) taxVectors {
	t.Helper()
	data, err := os.ReadFile("../../testdata/vectors/tax.json")
	if err != nil {
		t.Fatal(err)
	}
	var vectors taxVectors
	if err := json.Unmarshal(data, &vectors); err != nil || len(vectors.Cases) == 0 || len(vectors.Notes) == 0 {
		t.Fatal(err, "or no cases")
	}
	return vectors
}

func TestNotesTakeBackTheTaxOfWhatTheyTakeBackAndLeaveNoCent(t *testing.T) {
	for _, v := range readTaxVectors(t).Notes {
		s := crop.NewSales()
		on := crop.Invoice{ID: "i", Number: "2026-B-0001", TaxRate: v.Rate, Lines: []crop.InvoiceLine{{Line: "a", Bunches: 1}}}
		for _, cents := range v.Rows {
			on.Lines[0].Cents += cents
		}
		s.Invoices["i"] = on
		left := []crop.Cents{selling.TotalsOf(on).Total}
		for n, want := range v.Notes {
			claim := crop.ClaimID(fmt.Sprint("cl", n))
			s.Claims[claim] = crop.Claim{ID: claim, Line: "a", Credit: -want.Net}
			note, refusal := selling.Credit(s, selling.CreditAsked{Claim: claim, Date: "2026-06-06"})
			if refusal != nil {
				t.Fatalf("%s: %v", v.Name, refusal)
			}
			if want.Old {
				note.Tax = nil
			}
			note.ID, note.Number = crop.InvoiceID(claim), fmt.Sprintf("2026-B-%04d", n+2)
			s.Invoices[note.ID] = note
			got := selling.TotalsOf(note)
			if got.Net != want.Net || got.Tax != want.Tax {
				t.Errorf("%s: note %d comes to %+v, want %+v", v.Name, n+1, got, want)
			}
			left = append(left, left[n]+got.Total)
		}
		if !slices.Equal(left, v.Left) {
			t.Errorf("%s: leaves %v, want %v", v.Name, left, v.Left)
		}
	}
}

func TestTaxIsRoundedOnceAnInvoice(t *testing.T) {
	for _, v := range readTaxVectors(t).Cases {
		invoice := crop.Invoice{TaxRate: v.Rate}
		for _, cents := range v.Rows {
			invoice.Lines = append(invoice.Lines, crop.InvoiceLine{Cents: cents})
		}
		if got, want := selling.TotalsOf(invoice), (selling.Totals{Net: v.Net, Tax: v.Tax, Total: v.Total}); got != want {
			t.Errorf("%s: %+v, want %+v", v.Name, got, want)
		}
	}
}

// aDay has a buyer's order of two lines, 3 of 4 bunches of the one packed by two devices, a standing order, and another
// buyer's order.
func aDay() crop.Sales {
	s := crop.NewSales()
	s.Terms = crop.SaleTerms{Currency: "EUR", PayDays: 14, TaxRate: 700}
	s.Channels["ch"] = crop.Channel{ID: "ch", Fee: 600, BuyerPays: true}
	s.Channels["free"] = crop.Channel{ID: "free", Fee: 600}
	s.Buyers["nord"] = crop.Buyer{ID: "nord", Name: "Studio Nord", Channel: "ch"}
	s.Buyers["hof"] = crop.Buyer{ID: "hof", Name: "Hof", Channel: "free"}
	s.Bunches["ten"] = crop.Bunch{ID: "ten", Name: "Ten", Stems: 10}
	s.Orders["o"] = crop.Order{ID: "o", Buyer: "nord", Due: "2026-06-04"}
	s.Lines["a"] = crop.Line{ID: "a", Order: "o", Bunches: 4, Stems: 10, Price: 520}
	s.Lines["b"] = crop.Line{ID: "b", Order: "o", Bunch: "ten", Bunches: 2, Stems: 10, Price: 480}
	s.Packed["p1"] = crop.Packed{ID: "p1", Line: "a", Buyer: "nord", Due: "2026-06-04", Bunches: 2}
	s.Packed["p2"] = crop.Packed{ID: "p2", Line: "a", Buyer: "nord", Due: "2026-06-04", Bunches: 1}
	s.Standings["st"] = crop.StandingOrder{ID: "st", Buyer: "nord", From: "2026-06-01", Days: "5", Every: 1}
	s.Lines["c"] = crop.Line{ID: "c", Standing: "st", Bunches: 1, Stems: 10, Price: 500}
	s.Packed["p3"] = crop.Packed{ID: "p3", Line: "c@2026-06-05", Buyer: "nord", Due: "2026-06-05", Bunches: 1}
	s.Orders["h"] = crop.Order{ID: "h", Buyer: "hof", Due: "2026-06-04"}
	s.Lines["d"] = crop.Line{ID: "d", Order: "h", Bunches: 1, Stems: 10, Price: 100}
	s.Packed["p4"] = crop.Packed{ID: "p4", Line: "d", Buyer: "hof", Due: "2026-06-04", Bunches: 1}
	return s
}

func asked(buyer crop.BuyerID, orders ...crop.OrderID) selling.Asked {
	return selling.Asked{Buyer: buyer, Orders: orders, Date: "2026-06-05", Words: map[crop.LineID]string{"a": "ember, first"}, Fee: "Lieferung"}
}

func TestABillHasWhatWasPackedAtTheLinesPrices(t *testing.T) {
	row := func(line crop.LineID, due crop.Date, bunches int, cents crop.Cents, words string) crop.InvoiceLine {
		return crop.InvoiceLine{Line: line, Due: due, Bunches: bunches, Stems: 10, Cents: cents, Words: words}
	}
	fee := func(due crop.Date) crop.InvoiceLine {
		return crop.InvoiceLine{Due: due, Cents: 600, Words: "Lieferung"}
	}
	for _, c := range []struct {
		name   string
		change func(*crop.Sales)
		asked  selling.Asked
		want   []crop.InvoiceLine
	}{
		{"one order", nil, asked("nord", "o"), []crop.InvoiceLine{row("a", "2026-06-04", 3, 1560, "ember, first"), fee("2026-06-04")}},
		{"named twice is billed once", nil, asked("nord", "o", "o"), []crop.InvoiceLine{row("a", "2026-06-04", 3, 1560, "ember, first"), fee("2026-06-04")}},
		{"a standing order's delivery, and the order", nil, asked("nord", "st@2026-06-05", "o"), []crop.InvoiceLine{
			row("a", "2026-06-04", 3, 1560, "ember, first"), fee("2026-06-04"), row("c@2026-06-05", "2026-06-05", 1, 500, "bunches of 10"), fee("2026-06-05"),
		}},
		{"a line without a price of its own, at the list's", func(s *crop.Sales) {
			line := s.Lines["a"]
			line.Price, line.Bunch = 0, "ten"
			s.Lines["a"] = line
			s.Prices["p"] = crop.Price{ID: "p", Channel: "ch", Bunch: "ten", From: "2026-05-01", Cents: 410}
		}, asked("nord", "o"), []crop.InvoiceLine{row("a", "2026-06-04", 3, 1230, "ember, first"), fee("2026-06-04")}},
		{"another order of the buyer, moved to a later day after it was packed, is no hindrance", func(s *crop.Sales) {
			s.Orders["moved"] = crop.Order{ID: "moved", Buyer: "nord", Due: "2026-06-09"}
			s.Lines["m"] = crop.Line{ID: "m", Order: "moved", Bunches: 2, Stems: 10, Price: 500}
			s.Packed["pm"] = crop.Packed{ID: "pm", Line: "m", Buyer: "nord", Due: "2026-06-04", Bunches: 1}
		}, asked("nord", "o"), []crop.InvoiceLine{row("a", "2026-06-04", 3, 1560, "ember, first"), fee("2026-06-04")}},
		{"and is billed on its new day", func(s *crop.Sales) {
			s.Orders["moved"] = crop.Order{ID: "moved", Buyer: "nord", Due: "2026-06-09"}
			s.Lines["m"] = crop.Line{ID: "m", Order: "moved", Bunches: 2, Stems: 10, Price: 500}
			s.Packed["pm"] = crop.Packed{ID: "pm", Line: "m", Buyer: "nord", Due: "2026-06-04", Bunches: 1}
		}, asked("nord", "moved"), []crop.InvoiceLine{row("m", "2026-06-09", 1, 500, "bunches of 10"), fee("2026-06-09")}},
		{"a fee that the farm bears", nil, asked("hof", "h"), []crop.InvoiceLine{row("d", "2026-06-04", 1, 100, "bunches of 10")}},
		{"what was packed after the invoice, without a second fee", func(s *crop.Sales) {
			s.Invoices["i"] = crop.Invoice{ID: "i", Number: "2026-B-0001", Lines: []crop.InvoiceLine{row("a", "2026-06-04", 2, 1040, "")}}
		}, asked("nord", "o"), []crop.InvoiceLine{row("a", "2026-06-04", 1, 520, "ember, first")}},
		{"what stood on an invoice that is void", func(s *crop.Sales) {
			s.Invoices["i"] = crop.Invoice{ID: "i", Number: "2026-B-0001", Void: "2026-06-05", Lines: []crop.InvoiceLine{row("a", "2026-06-04", 3, 1560, "")}}
			s.Invoices["n"] = crop.Invoice{ID: "n", Number: "2026-B-0002", Credits: "i", Lines: []crop.InvoiceLine{row("a", "2026-06-04", 3, -1560, "")}}
		}, asked("nord", "o"), []crop.InvoiceLine{row("a", "2026-06-04", 3, 1560, "ember, first"), fee("2026-06-04")}},
		{"what took the place of a billed line that was taken out, without a second fee", func(s *crop.Sales) {
			s.Invoices["i"] = crop.Invoice{ID: "i", Number: "2026-B-0001", Buyer: "nord", Lines: []crop.InvoiceLine{row("a", "2026-06-04", 3, 1560, ""), fee("2026-06-04")}}
			delete(s.Lines, "a")
			s.Packed["pb"] = crop.Packed{ID: "pb", Line: "b", Buyer: "nord", Due: "2026-06-04", Bunches: 2}
		}, asked("nord", "o"), []crop.InvoiceLine{row("b", "2026-06-04", 2, 960, "Ten")}},
		{"a second order of the day, whose fee is its own", func(s *crop.Sales) {
			s.Invoices["i"] = crop.Invoice{ID: "i", Number: "2026-B-0001", Buyer: "nord", Lines: []crop.InvoiceLine{row("a", "2026-06-04", 3, 1560, ""), fee("2026-06-04")}}
			s.Orders["o2"] = crop.Order{ID: "o2", Buyer: "nord", Due: "2026-06-04"}
			s.Lines["e"] = crop.Line{ID: "e", Order: "o2", Bunches: 1, Stems: 10, Price: 500}
			s.Packed["pe"] = crop.Packed{ID: "pe", Line: "e", Buyer: "nord", Due: "2026-06-04", Bunches: 1}
		}, asked("nord", "o2"), []crop.InvoiceLine{row("e", "2026-06-04", 1, 500, "bunches of 10"), fee("2026-06-04")}},
		{"what was taken back, credited and packed again, without a second fee", func(s *crop.Sales) {
			s.Invoices["i"] = crop.Invoice{ID: "i", Number: "2026-B-0001", Buyer: "nord", Lines: []crop.InvoiceLine{row("a", "2026-06-04", 3, 1560, ""), fee("2026-06-04")}}
			s.Invoices["n"] = crop.Invoice{ID: "n", Number: "2026-B-0002", Buyer: "nord", Credits: "i", Lines: []crop.InvoiceLine{row("a", "2026-06-04", 3, -1560, "")}}
		}, asked("nord", "o"), []crop.InvoiceLine{row("a", "2026-06-04", 3, 1560, "ember, first")}},
		{"a buyer who was deleted", func(s *crop.Sales) {
			s.Gone.Buyers["nord"] = s.Buyers["nord"]
			delete(s.Buyers, "nord")
		}, asked("nord", "o"), []crop.InvoiceLine{row("a", "2026-06-04", 3, 1560, "ember, first"), fee("2026-06-04")}},
	} {
		s := aDay()
		if c.change != nil {
			c.change(&s)
		}
		got, refusal := selling.Bill(s, c.asked)
		if refusal != nil {
			t.Errorf("%s: %v", c.name, refusal)
			continue
		}
		want := map[crop.InvoiceLine]int{}
		for _, r := range c.want {
			want[r]++
		}
		have := map[crop.InvoiceLine]int{}
		for _, r := range got.Lines {
			have[r]++
		}
		if !maps.Equal(have, want) {
			t.Errorf("%s: %+v, want %+v", c.name, got.Lines, c.want)
		}
		if got.PayBy != "2026-06-19" || got.TaxRate != 700 || got.Currency != "EUR" || got.Buyer != c.asked.Buyer || got.Number != "" {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

func TestWhatCannotBeBilledIsToldInASentence(t *testing.T) {
	onInvoice := func(s *crop.Sales) {
		s.Invoices["i"] = crop.Invoice{ID: "i", Number: "2026-B-0001", Lines: []crop.InvoiceLine{{Line: "a", Bunches: 3, Cents: 1560}}}
	}
	line := func(id crop.LineID, change func(*crop.Line)) func(*crop.Sales) {
		return func(s *crop.Sales) {
			l := s.Lines[id]
			change(&l)
			s.Lines[id] = l
		}
	}
	for _, c := range []struct {
		name   string
		change func(*crop.Sales)
		asked  selling.Asked
		code   string
		says   string
	}{
		{"nothing was asked for", nil, asked("nord"), "nothing_asked", ""},
		{"an order that is not there", nil, asked("nord", "x"), "no_order", ""},
		{"a standing order on a day that it does not come", nil, asked("nord", "st@2026-06-06"), "no_order", ""},
		{"another buyer's order", nil, asked("hof", "o"), "other_buyer", ""},
		{"a second asking", onInvoice, asked("nord", "o"), "billed", "2026-B-0001"},
		{"more on the invoice than is packed now", func(s *crop.Sales) { onInvoice(s); delete(s.Packed, "p2") }, asked("nord", "o"), "billed", "2026-B-0001"},
		{"nothing packed", func(s *crop.Sales) { delete(s.Packed, "p1"); delete(s.Packed, "p2") }, asked("nord", "o"), "nothing_packed", ""},
		{"a line without a price", line("a", func(l *crop.Line) { l.Price = 0 }), asked("nord", "o"), "no_price", "ember, first"},
		{"more packed than is ordered, by two who did not see each other", func(s *crop.Sales) {
			s.Packed["p4"] = crop.Packed{ID: "p4", Line: "a", Buyer: "nord", Due: "2026-06-04", Bunches: 2}
		}, asked("nord", "o"), "over_packed", "ember, first: 5 of 4"},
		{"bunches for a line that was taken out", func(s *crop.Sales) { delete(s.Lines, "a") }, asked("nord", "o"), "line_gone", "3 bunches"},
	} {
		s := aDay()
		if c.change != nil {
			c.change(&s)
		}
		invoice, refusal := selling.Bill(s, c.asked)
		if refusal == nil || refusal.Code != c.code || !strings.Contains(refusal.Text, c.says) || refusal.Text == "" {
			t.Errorf("%s: %+v, refused %+v; want %s", c.name, invoice, refusal, c.code)
		}
		if refusal != nil && c.code == "billed" && refusal.Number != c.says {
			t.Errorf("%s: names %q", c.name, refusal.Number)
		}
	}
}

func TestALargeInvoiceIsExact(t *testing.T) {
	s := aDay()
	l := s.Lines["a"]
	l.Price, l.Bunches = crop.MostCents, 9_999
	s.Lines["a"] = l
	s.Packed["p1"] = crop.Packed{ID: "p1", Line: "a", Buyer: "nord", Due: "2026-06-04", Bunches: 9_996}
	invoice, refusal := selling.Bill(s, asked("nord", "o"))
	if refusal != nil || invoice.Lines[0].Cents != 999_700_000_000 { // 9,997 bunches at 1,000,000.00
		t.Errorf("%+v (%v)", invoice.Lines, refusal)
	}
}

func TestCreditAndVoidTakeBackAndNoMore(t *testing.T) {
	billed := func() crop.Sales {
		s := aDay()
		s.Invoices["i"] = crop.Invoice{
			ID: "i", Number: "2026-B-0001", Buyer: "nord", Currency: "EUR", TaxRate: 700,
			Lines: []crop.InvoiceLine{{Line: "a", Due: "2026-06-04", Bunches: 3, Stems: 10, Cents: 1560, Words: "ember"}, {Due: "2026-06-04", Cents: 600, Words: "fee"}},
		}
		s.Claims["cl"] = crop.Claim{ID: "cl", Line: "a", Due: "2026-06-04", Credit: 520}
		return s
	}
	note := crop.Invoice{ID: "n", Number: "2026-B-0002", Credits: "i", TaxRate: 700, Lines: []crop.InvoiceLine{{Line: "a", Cents: -520}}}
	ofClaim := func(claim crop.ClaimID, stems int) func(*crop.Sales) {
		return func(s *crop.Sales) {
			n := note
			n.Claim = claim
			s.Invoices["n"] = n
			s.Packed["p1"] = crop.Packed{ID: "p1", Line: "a", Bunches: 3, Stems: map[crop.LotID]int{{}: 30}}
			s.Claims["cl"] = crop.Claim{ID: "cl", Line: "a", Stems: stems, Credit: 520}
			s.Claims["other"] = crop.Claim{ID: "other", Line: "a", Stems: 10, Credit: 520}
		}
	}
	takenBack := func(left int, also ...func(*crop.Sales)) func(*crop.Sales) {
		return func(s *crop.Sales) {
			delete(s.Packed, "p2")
			s.Packed["p1"] = crop.Packed{ID: "p1", Line: "a", Buyer: "nord", Bunches: left}
			for _, change := range also {
				change(s)
			}
		}
	}
	claimed := func(cents crop.Cents, reason crop.ClaimReason) func(*crop.Sales) {
		return func(s *crop.Sales) {
			s.Claims["cl"] = crop.Claim{ID: "cl", Line: "a", Credit: cents, Reason: reason}
			n := note
			n.Claim, n.Lines = "cl", []crop.InvoiceLine{{Line: "a", Cents: -cents}}
			s.Invoices["n"] = n
		}
	}
	discounted := func(cents crop.Cents) func(*crop.Sales) {
		return func(s *crop.Sales) {
			i := s.Invoices["i"]
			i.Lines = append(i.Lines, crop.InvoiceLine{Cents: -cents})
			s.Invoices["i"] = i
		}
	}
	for _, c := range []struct {
		name   string
		change func(*crop.Sales)
		make   func(crop.Sales) (crop.Invoice, *selling.Refusal)
		net    crop.Cents
		code   string
	}{
		{"a claim", nil, credit, -520, ""},
		{"a claim of all of its line", func(s *crop.Sales) { s.Claims["cl"] = crop.Claim{Line: "a", Credit: 1560} }, credit, -1560, ""},
		{"a claim of more than its line, which other rows would pay", func(s *crop.Sales) { s.Claims["cl"] = crop.Claim{Line: "a", Credit: 1561} }, credit, 0, "too_much"},
		{"a claim of all that former credits left of its line", func(s *crop.Sales) {
			s.Invoices["n"] = note
			s.Claims["cl"] = crop.Claim{Line: "a", Credit: 1040}
		}, credit, -1040, ""},
		{"a claim of more than former credits left of its line", func(s *crop.Sales) {
			s.Invoices["n"] = note
			s.Claims["cl"] = crop.Claim{Line: "a", Credit: 1041}
		}, credit, 0, "line_credited"},
		{"a claim of bunches that were taken back and credited", func(s *crop.Sales) {
			n := note
			n.Lines = []crop.InvoiceLine{{Line: "a", Bunches: 3, Cents: -1560}}
			s.Invoices["n"] = n
			s.Claims["cl"] = crop.Claim{Line: "a", Credit: 1560}
		}, creditOn("i"), 0, "line_credited"},
		{"a claim without an amount", func(s *crop.Sales) { s.Claims["cl"] = crop.Claim{Line: "a"} }, credit, 0, "no_credit"},
		{"a claim that is not there", func(s *crop.Sales) { delete(s.Claims, "cl") }, credit, 0, "no_claim"},
		{"a claim about what stands on no invoice", func(s *crop.Sales) { delete(s.Invoices, "i") }, credit, 0, "not_billed"},
		{"a claim that was credited", ofClaim("cl", 10), credit, 0, "credited"},
		{"a claim that was credited on another invoice with the line", func(s *crop.Sales) {
			ofClaim("cl", 10)(s)
			j := s.Invoices["i"]
			j.ID, j.Number = "j", "2026-B-0003"
			s.Invoices["j"] = j
		}, credit, 0, "credited"},
		{"a claim beside a note whose claim was taken away", ofClaim("gone", 10), credit, 0, "claim_gone"},
		{"a claim of what another left", ofClaim("other", 20), credit, -520, ""},
		{"a claim of a stem that another has", ofClaim("other", 21), credit, 0, "claimed_twice"},
		{"a claim on an invoice that was pressed and lacks the line", func(s *crop.Sales) {
			s.Invoices["i"] = crop.Invoice{ID: "i", Number: "2026-B-0001", Lines: []crop.InvoiceLine{{Line: "b", Bunches: 1}}}
		}, credit, 0, "not_billed"},
		{"a claim on the invoice that was pressed", func(s *crop.Sales) {
			j := s.Invoices["i"]
			j.ID, j.Number = "j", "2026-B-0003"
			s.Invoices["j"] = j
		}, creditOn("i"), -520, ""},
		{"a claim on one without the line", func(s *crop.Sales) {
			s.Invoices["j"] = crop.Invoice{ID: "j", Number: "2026-B-0003"}
		}, creditOn("j"), 0, "not_on_invoice"},
		{"a claim on one that is void", func(s *crop.Sales) {
			i := s.Invoices["i"]
			i.Void = "2026-06-06"
			s.Invoices["i"] = i
		}, creditOn("i"), 0, "is_void"},
		{"a claim on a note", func(s *crop.Sales) { s.Invoices["n"] = note }, creditOn("n"), 0, "no_invoice"},
		{"two of three billed bunches taken back", takenBack(1), creditBack, -1040, ""},
		{"taken back, and one credited before", takenBack(1, func(s *crop.Sales) {
			s.Invoices["n"] = crop.Invoice{ID: "n", Credits: "i", Lines: []crop.InvoiceLine{{Line: "a", Bunches: 1, Cents: -520}}}
		}), creditBack, -520, ""},
		{"taken back and credited in full", takenBack(1, func(s *crop.Sales) {
			s.Invoices["n"] = crop.Invoice{ID: "n", Credits: "i", Lines: []crop.InvoiceLine{{Line: "a", Bunches: 2, Cents: -1040}}}
		}), creditBack, 0, "not_over"},
		{"taken back from two invoices, the newest first", takenBack(2, func(s *crop.Sales) {
			s.Invoices["h"] = crop.Invoice{ID: "h", Number: "2026-A-0001", Lines: []crop.InvoiceLine{{Line: "a", Bunches: 2, Cents: 1000}}}
		}), creditBack, -1560, ""},
		{"some taken back where claims left less", takenBack(1, func(s *crop.Sales) {
			n := note
			n.Lines = []crop.InvoiceLine{{Line: "a", Cents: -600}}
			s.Invoices["n"] = n
		}), creditBack, 0, "none_left"},
		{"all taken back after a claim above the price of a bunch: 1,560 less 600", takenBack(0, claimed(600, crop.ClaimWilted)), creditBack, -960, ""},
		{"all taken back after a claim that one and a bit are missing", takenBack(0, claimed(600, crop.ClaimMissing)), creditBack, -960, ""},
		{"all taken back after a claim that half of one is missing", takenBack(0, claimed(260, crop.ClaimMissing)), creditBack, -1300, ""},
		{"all taken back of a line with a discount after a claim of a bunch at its list price: 1,560 less 156 and 520", takenBack(0, discounted(156), claimed(520, crop.ClaimMissing)), creditBack, -884, ""},
		{"all taken back of a line with a discount after a claim that left a few cents: 1,404 less 1,400", takenBack(0, discounted(156), claimed(1400, crop.ClaimMissing)), creditBack, -4, ""},
		{"two taken back of a line with a discount after a claim that one is missing at its list price", takenBack(1, discounted(156), claimed(520, crop.ClaimMissing)), creditBack, -468, ""},
		{"taken back after a claim of all of it", takenBack(0, claimed(1560, crop.ClaimWilted)), creditBack, 0, "back_credited"},
		{"all taken back after a claim that all is missing", takenBack(0, claimed(1560, crop.ClaimMissing)), creditBack, 0, "back_credited"},
		{"one bunch taken back after a claim that it is missing", takenBack(2, claimed(520, crop.ClaimMissing)), creditBack, 0, "back_credited"},
		{"two bunches taken back after a claim that one is missing", takenBack(1, claimed(520, crop.ClaimMissing)), creditBack, -520, ""},
		{"one bunch taken back after a claim that half of one is missing", takenBack(2, claimed(260, crop.ClaimMissing)), creditBack, -520, ""},
		{"one bunch taken back after a claim that another wilted", takenBack(2, claimed(520, crop.ClaimWilted)), creditBack, -520, ""},
		{"two bunches taken back after two others wilted, for which less is left", takenBack(1, claimed(1040, crop.ClaimWilted)), creditBack, 0, "none_left"},
		{"nothing taken back", nil, creditBack, 0, "not_over"},
		{"void", nil, void, -2160, ""},
		{"void after a credit", func(s *crop.Sales) { s.Invoices["n"] = note }, void, -1640, ""},
		{"void twice", func(s *crop.Sales) {
			i := s.Invoices["i"]
			i.Void = "2026-06-06"
			s.Invoices["i"] = i
		}, void, 0, "is_void"},
		{"a credit note called void", func(s *crop.Sales) { n := note; n.ID = "i"; n.Credits = "j"; s.Invoices["i"] = n }, void, 0, "is_credit"},
		{"void of none", func(s *crop.Sales) { delete(s.Invoices, "i") }, void, 0, "no_invoice"},
	} {
		s := billed()
		if c.change != nil {
			c.change(&s)
		}
		made, refusal := c.make(s)
		if c.code != "" {
			if refusal == nil || refusal.Code != c.code || refusal.Number != "" && !strings.Contains(refusal.Text, refusal.Number) {
				t.Errorf("%s: refused %+v, want %s", c.name, refusal, c.code)
			}
			continue
		}
		if refusal != nil || selling.TotalsOf(made).Net != c.net || made.Credits != "i" || made.TaxRate != 700 || made.Buyer != "nord" {
			t.Errorf("%s: %+v (%v), want %d", c.name, made, refusal, c.net)
		}
	}
}

func TestAVoidNoteTakesBackRowByRowWhatNotesLeft(t *testing.T) {
	s := crop.NewSales()
	s.Invoices["i"] = crop.Invoice{ID: "i", Number: "2026-B-0001", Lines: []crop.InvoiceLine{
		{Line: "a", Bunches: 3, Stems: 10, Cents: 1560, Words: "ember"}, {Line: "b", Bunches: 1, Stems: 10, Cents: 480, Words: "oyster"}, {Cents: 600, Words: "fee"},
	}}
	s.Invoices["n"] = crop.Invoice{ID: "n", Number: "2026-B-0002", Credits: "i", Lines: []crop.InvoiceLine{{Line: "a", Bunches: 1, Cents: -520}}}
	s.Invoices["o"] = crop.Invoice{ID: "o", Number: "2026-B-0003", Credits: "i", Lines: []crop.InvoiceLine{{Line: "a", Cents: -100}}}
	s.Invoices["p"] = crop.Invoice{ID: "p", Number: "2026-B-0004", Credits: "i", Lines: []crop.InvoiceLine{{Line: "b", Bunches: 1, Cents: -480}}}
	note, refusal := void(s)
	want := []crop.InvoiceLine{{Line: "a", Bunches: 2, Stems: 10, Cents: -940, Words: "ember"}, {Cents: -600, Words: "fee"}}
	if refusal != nil || !slices.Equal(note.Lines, want) {
		t.Errorf("%+v (%v), want %+v", note.Lines, refusal, want)
	}
	if held := s.Invoices["i"].Lines[0]; held.Cents != 1560 {
		t.Errorf("the invoice itself became %+v", held)
	}
}

func credit(s crop.Sales) (crop.Invoice, *selling.Refusal) {
	return selling.Credit(s, selling.CreditAsked{Claim: "cl", Date: "2026-06-06"})
}
func creditOn(id crop.InvoiceID) func(crop.Sales) (crop.Invoice, *selling.Refusal) {
	return func(s crop.Sales) (crop.Invoice, *selling.Refusal) {
		return selling.Credit(s, selling.CreditAsked{Claim: "cl", Invoice: id, Date: "2026-06-06"})
	}
}
func creditBack(s crop.Sales) (crop.Invoice, *selling.Refusal) {
	return selling.Credit(s, selling.CreditAsked{Line: "a", Date: "2026-06-06"})
}
func void(s crop.Sales) (crop.Invoice, *selling.Refusal) { return selling.Void(s, "i", "2026-06-06") }
