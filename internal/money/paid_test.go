package money

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"testing"

	"corymb/internal/crop"
)

type paymentVectors struct {
	Lines []struct {
		ID       crop.LineID
		Order    crop.OrderID
		Standing crop.StandingID
	}
	Cases []paymentVector
}

type paymentVector struct {
	Name  string
	Gone  []string
	Bills []struct {
		ID         crop.InvoiceID
		Date, Void crop.Date
		Credits    crop.InvoiceID
		Rows       [][2]any
	}
	Payments []crop.Payment
	Paid     map[crop.InvoiceID]crop.Cents
	Loose    []crop.PaymentID
}

func readPayments(t *testing.T) (v paymentVectors) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/vectors/payments.json")
	if err == nil {
		err = json.Unmarshal(data, &v)
	}
	if err != nil || len(v.Cases) == 0 {
		t.Fatal(err, "or no cases")
	}
	return v
}

func (v paymentVectors) farm(c paymentVector) crop.Farm {
	f := crop.NewFarm()
	for _, line := range v.Lines {
		lines := f.Sales.Lines
		if slices.Contains(c.Gone, string(line.ID)) {
			lines = f.Sales.Gone.Lines
		}
		lines[line.ID] = crop.Line{ID: line.ID, Order: line.Order, Standing: line.Standing}
		if line.Order != "" && !slices.Contains(c.Gone, string(line.Order)) {
			f.Sales.Orders[line.Order] = crop.Order{ID: line.Order}
		}
	}
	for _, bill := range c.Bills {
		i := crop.Invoice{ID: bill.ID, Number: string(bill.ID), Date: bill.Date, Void: bill.Void, Credits: bill.Credits}
		for _, row := range bill.Rows {
			i.Lines = append(i.Lines, crop.InvoiceLine{Line: crop.LineID(row[0].(string)), Cents: crop.Cents(row[1].(float64))})
		}
		f.Sales.Invoices[i.ID] = i
	}
	for n, p := range c.Payments {
		p.Date = crop.Date(fmt.Sprintf("2026-06-1%d", n))
		f.Money.Payments[p.ID] = p
	}
	return f
}

func TestPaymentsOfAnOrderAreSpreadOverItsBills(t *testing.T) {
	v := readPayments(t)
	for _, c := range v.Cases {
		got := BillsOf(v.farm(c), 2026, "2026-06-30")
		for _, bill := range got.Bills {
			if bill.Void == "" && bill.Paid != c.Paid[bill.ID] || bill.Void != "" && bill.Paid != 0 {
				t.Errorf("%s: of %s %d was paid, want %d", c.Name, bill.ID, bill.Paid, c.Paid[bill.ID])
			}
		}
		var loose []crop.PaymentID
		for _, p := range got.Loose {
			loose = append(loose, p.ID)
		}
		if !slices.Equal(loose, c.Loose) {
			t.Errorf("%s: of no bill are %v, want %v", c.Name, loose, c.Loose)
		}
	}
}

// TestMoneyThatIsToComeIsNotPaidYet has a payment of a later day count from that day on.
func TestMoneyThatIsToComeIsNotPaidYet(t *testing.T) {
	v := readPayments(t)
	f := v.farm(v.Cases[0])
	for _, at := range []struct {
		day  crop.Date
		paid []crop.Cents
	}{{"2026-06-09", []crop.Cents{0, 0}}, {"2026-06-10", []crop.Cents{6000, 4000}}} {
		for n, bill := range BillsOf(f, 2026, at.day).Bills {
			if bill.Paid != at.paid[n] {
				t.Errorf("on %s %d was paid of bill %s, want %d", at.day, bill.Paid, bill.ID, at.paid[n])
			}
		}
	}
}
