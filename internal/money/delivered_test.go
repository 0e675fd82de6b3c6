package money

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"corymb/internal/crop"
)

type deliveredVector struct {
	Name   string
	Packed [][2]any // day and bunches
	Bills  []struct {
		ID, Credits crop.InvoiceID
		Claim       crop.ClaimID
		Void        crop.Date
		Rows        [][3]any // line, bunches and cents
	}
	Sold crop.Cents
}

func (v deliveredVector) farm(price crop.Cents) crop.Farm {
	const due = crop.Date("2026-06-04")
	f := crop.NewFarm()
	f.Sales.Buyers["bu"] = crop.Buyer{ID: "bu"}
	f.Sales.Orders["or"] = crop.Order{ID: "or", Buyer: "bu", Due: due}
	f.Sales.Lines["li"] = crop.Line{ID: "li", Order: "or", Bunches: 12, Stems: 10, Price: price}
	for n, told := range v.Packed {
		p := crop.Packed{ID: crop.PackedID(fmt.Sprint(n)), Line: "li", Buyer: "bu", Due: crop.Date(told[0].(string)), Date: crop.Date(told[0].(string)), Bunches: int(told[1].(float64))}
		f.Sales.Packed[p.ID] = p
	}
	for _, told := range v.Bills {
		i := crop.Invoice{ID: told.ID, Number: string(told.ID), Buyer: "bu", Date: due, Credits: told.Credits, Claim: told.Claim, Void: told.Void}
		for _, row := range told.Rows {
			line := crop.InvoiceLine{Line: crop.LineID(row[0].(string)), Due: due, Bunches: int(row[1].(float64)), Stems: 10, Cents: crop.Cents(row[2].(float64))}
			i.Lines = append(i.Lines, line)
		}
		f.Sales.Invoices[i.ID] = i
	}
	return f
}

func TestWhatWasDeliveredComesToWhatItsBillsCharge(t *testing.T) {
	var vectors struct {
		Price crop.Cents
		Cases []deliveredVector
	}
	data, err := os.ReadFile("../../testdata/vectors/delivered.json")
	if err == nil {
		err = json.Unmarshal(data, &vectors)
	}
	if err != nil || len(vectors.Cases) == 0 {
		t.Fatal(err, "or no cases")
	}
	for _, v := range vectors.Cases {
		sold := crop.Cents(0)
		for _, e := range Of(v.farm(vectors.Price), 2026, 0).Entries {
			if e.Kind == Sold {
				sold += e.Cents
			}
		}
		if sold != v.Sold {
			t.Errorf("%s: %d, want %d", v.Name, sold, v.Sold)
		}
	}
}
