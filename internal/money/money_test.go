package money

import (
	"testing"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// sellingFarm sold three bunches of ten of a lot of 24 stems and one of 6, and wrote one stem off.
func sellingFarm() crop.Farm {
	f := bedOfTwo()
	visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Planting: "old", Counts: emberOf(crop.GradeFirst, 25)})
	visit(f, crop.Visit{Bed: "bed", Purpose: crop.PurposeBench, Planting: "young", Counts: emberOf(crop.GradeExtra, 6)})
	s := f.Sales
	s.Channels["co_op"] = crop.Channel{ID: "co_op", Commission: 2550, Fee: 700, BuyerPays: true}
	s.Buyers["ana"] = crop.Buyer{ID: "ana", Channel: "co_op"}
	s.Orders["o"] = crop.Order{ID: "o", Buyer: "ana", Due: "2026-06-05"}
	s.Lines["l"] = crop.Line{ID: "l", Order: "o", Bunches: 3, Stems: 10, Price: 501}
	extra := emberLot
	extra.Grade = crop.GradeExtra
	s.Packed["p"] = crop.Packed{ID: "p", Line: "l", Buyer: "ana", Due: "2026-06-05", Date: "2026-06-04", Bunches: 3, Stems: map[crop.LotID]int{emberLot: 24, extra: 6}}
	s.Shrink["x"] = crop.Shrink{ID: "x", Lot: emberLot, Stems: 1, Reason: crop.ShrinkBroken, Date: "2026-06-06"}
	s.Claims["cl"] = crop.Claim{ID: "cl", Line: "l", Buyer: "ana", Due: "2026-06-05", Lot: &extra, Stems: 2, Credit: 99, Reason: crop.ClaimWilted, Date: "2027-01-02"}
	f.Money.Costs["net"] = crop.Cost{ID: "net", Date: "2026-03-01", Kind: crop.CostSupplies, Cents: 250, Bed: "bed"}
	f.Money.Costs["rent"] = crop.Cost{ID: "rent", Date: "2026-03-01", Kind: crop.CostGround, Cents: 400, Fixed: true}
	f.Money.Costs["before"] = crop.Cost{ID: "before", Date: "2025-12-31", Cents: 9999}
	f.Money.Work["cut"] = crop.Work{ID: "cut", Date: cutDay, Kind: crop.WorkCut, Minutes: 7, Bed: "bed"}
	return f
}

func TestBooksOfOneDelivery(t *testing.T) {
	b := Of(sellingFarm(), 2026, 2000)
	// By hand: 3 x 501 = 1503; 25.50 % of 501 is 127.755, so 128 a bunch; 7 minutes at 20.00 are 233.33; one stem of 30 that
	// brought 1503 is 50.1.
	want := Sums{
		Stems: 30, Bunches: 3000, Gross: 1503, Kept: 384, Fees: 700, FeesPaid: 700, Claims: 99, Costs: 650, Fixed: 400, Work: 233, Minutes: 7,
		ShrunkStems: 1, Shrunk: 50,
	}
	all := b.By(ByAge, Filter{}).All.Sums
	if all != want || all.Net() != 1020 || all.Left() != 137 {
		t.Errorf("%+v, net %d, left %d; want %+v", all, all.Net(), all.Left(), want)
	}
	rows := b.By(ByAge, Filter{}).Rows
	// A fifth of the stems were of first-season plants, the claim is of theirs, and of the costs nobody told an age.
	for key, want := range map[string]Sums{
		"":  {Costs: 650, Fixed: 400, Work: 233, Minutes: 7},
		"1": {Stems: 6, Bunches: 600, Gross: 301, Kept: 77, Fees: 140, FeesPaid: 140, Claims: 99},
		"3": {Stems: 24, Bunches: 2400, Gross: 1202, Kept: 307, Fees: 560, FeesPaid: 560, ShrunkStems: 1, Shrunk: 50},
	} {
		found := Sums{}
		for _, row := range rows {
			if row.Key == key {
				found = row.Sums
			}
		}
		if found != want {
			t.Errorf("age %q: %+v, want %+v", key, found, want)
		}
	}
	if price, ok := all.PriceAStem(); !ok || price != 50.1 {
		t.Errorf("%v cents a stem", price)
	}
}

func TestWhereAnAmountIsOfNobodyKnowsWhatItIsUntold(t *testing.T) {
	f := sellingFarm()
	b := Of(f, 2026, 2000)
	untold := b.By(ByStock, Filter{Is: map[Dim]string{ByBed: ""}}).All.Sums
	if untold != (Sums{Costs: 400, Fixed: 400}) {
		t.Errorf("of no bed: %+v", untold)
	}
	p := f.Sales.Packed["p"]
	p.Stems = nil
	f.Sales.Packed["p"] = p
	all := Of(f, 2026, 2000).By(ByBed, Filter{Is: map[Dim]string{ByBed: ""}}).All.Sums
	if all.Stems != 30 || all.Gross != 1503 || all.Kept != 384 || all.Claims != 0 { // the claim names its lot
		t.Errorf("packed of nobody knows which lots: %+v", all)
	}
}

func TestWhatStandsOnAnInvoiceGoesAtItsPrice(t *testing.T) {
	f := sellingFarm()
	m := &made{Farm: f}
	invoice, refusal := selling.Bill(f.Sales, selling.Asked{Buyer: "ana", Orders: []crop.OrderID{"o"}, Date: "2026-06-05"})
	if refusal != nil {
		t.Fatal(refusal)
	}
	invoice = m.number(invoice)
	line := f.Sales.Lines["l"]
	line.Price = 600
	f.Sales.Lines["l"] = line
	again := f.Sales.Packed["p"]
	again.ID, again.Bunches, again.Stems, again.Date = "q", 1, map[crop.LotID]int{emberLot: 10}, "2026-06-05"
	f.Sales.Packed["q"] = again
	check := func(what string, gross, kept, feePaid crop.Cents) {
		t.Helper()
		if all := Of(f, 2026, 0).By(ByBed, Filter{}).All.Sums; all.Gross != gross || all.Kept != kept || all.FeesPaid != feePaid {
			t.Errorf("%s: %d, kept %d, fee %d; want %d, %d, %d", what, all.Gross, all.Kept, all.FeesPaid, gross, kept, feePaid)
		}
	}
	check("three billed, one not", 1503+600, 384+153, 700)
	invoice.Void = "2026-06-06"
	f.Sales.Invoices[invoice.ID] = invoice
	check("called void", 2400, 4*153, 700)
	channel := f.Sales.Channels["co_op"]
	channel.BuyerPays = false
	f.Sales.Channels["co_op"] = channel
	check("the farm brings at its own cost", 2400, 4*153, 0)
}

func TestAStemThatNothingWasSoldLikeIsTold(t *testing.T) {
	f := sellingFarm()
	f.Sales.Shrink["y"] = crop.Shrink{ID: "y", Lot: crop.LotID{Bed: "bed", Cut: cutDay, Colour: "dusk"}, Stems: 4, Date: "2026-06-06"}
	b := Of(f, 2026, 0)
	if all := b.By(ByDay, Filter{}).All; all.ShrunkStems != 5 || all.Shrunk != 50 || b.ShrunkUnpriced != 4 {
		t.Errorf("%+v, without a price %d", all, b.ShrunkUnpriced)
	}
}

func TestSeasonsOfTheBooks(t *testing.T) {
	if got := Seasons(sellingFarm()); len(got) != 2 || got[0] != 2026 || got[1] != 2025 {
		t.Errorf("%v", got)
	}
}
