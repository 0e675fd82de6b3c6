package farm_test

import (
	"slices"
	"strings"
	"testing"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/syncproto"
)

var aLot = crop.LotID{Bed: "b", Cut: "2026-10-05", Colour: "c", Grade: crop.GradeFirst, Length: crop.TenCentimetres(40)}

// smallSales has one of everything that is sold, with every field set.
func smallSales() crop.Sales {
	s := crop.NewSales()
	s.Terms = crop.SaleTerms{
		Currency: "EUR", Seller: "Hazel Bank\nMill Lane", CoolerDays: 6, OverCut: 5, PayDays: 14, TaxRate: 700, TaxName: "VAT",
		BreakCost: 400,
	}
	s.Channels["ch"] = crop.Channel{
		ID: "ch", Name: "Florists", Kind: crop.ChannelWholesale, Floor: map[crop.Grade]crop.Cents{crop.GradeFirst: 35},
		Commission: 1250, Fee: 600, BuyerPays: true, CutoffDays: 2, CutoffTime: "18:00", Days: "24",
	}
	s.Buyers["bu"] = crop.Buyer{
		ID: "bu", Name: "Studio Nord", Channel: "ch", Address: "Quay 4\nPort", Phone: "1", Email: "a@example.org", Note: "back door",
		Accepts: map[crop.ColourID][]crop.ColourID{"c": {"d"}},
	}
	s.Bunches["ten"] = crop.Bunch{ID: "ten", Name: "Ten", Stems: 10, Grade: crop.GradeFirst, Length: 400}
	s.Prices["pr"] = crop.Price{ID: "pr", Channel: "ch", Buyer: "bu", Colour: "c", Bunch: "ten", From: "2026-05-01", Cents: 520}
	s.Orders["or"] = crop.Order{ID: "or", Buyer: "bu", Due: "2026-12-09", Taken: "2026-10-01", Note: "ring first"}
	s.Standings["st"] = crop.StandingOrder{
		ID: "st", Buyer: "bu", From: "2026-05-04", Until: "2026-07-31", Days: "14", Every: 2, Skips: []crop.Date{"2026-06-01"}, Note: "weekly",
	}
	s.Lines["li"] = crop.Line{
		ID: "li", Order: "or", Bunch: "ten", Bunches: 6, Stems: 10, Grade: crop.GradeFirst, Length: 400,
		Colours: []crop.ColourID{"c", "d"}, Whole: true, Exact: true, Price: 520,
	}
	s.Lines["sl"] = crop.Line{ID: "sl", Standing: "st", Bunches: 2, Stems: 5}
	s.Packed["pa"] = crop.Packed{
		ID: "pa", Line: "li", Buyer: "bu", Due: "2026-12-09", Date: "2026-10-06", Person: "p", Bunches: 3, Stems: map[crop.LotID]int{aLot: 30},
	}
	s.Shrink["sh"] = crop.Shrink{
		ID: "sh", Lot: aLot, Stems: 4, Reason: crop.ShrinkWilted, What: "top shelf", Date: "2026-10-07", Person: "p",
	}
	s.Claims["cl"] = crop.Claim{
		ID: "cl", Line: "li", Buyer: "bu", Due: "2026-12-09", Lot: &aLot, Stems: 10, Reason: crop.ClaimShattered, Back: true, Credit: 520,
		What: "on the table", Date: "2026-10-09", Person: "p",
	}
	s.Invoices["in"] = crop.Invoice{
		ID: "in", Number: "2026-A-0001", Buyer: "bu", Date: "2026-10-06", PayBy: "2026-10-20", Currency: "EUR", TaxRate: 700,
		Void: "2026-10-08", Credits: "before",
		Lines: []crop.InvoiceLine{
			{Line: "li", Due: "2026-12-09", Bunches: 3, Stems: 10, Cents: 1560, Words: "ember, first | 40 cm"},
			{Cents: 600, Words: "delivery"},
		},
	}
	s.Gone.Lines["gone"] = crop.Line{ID: "gone", Order: "withdrawn", Bunches: 2, Stems: 10, Price: 520}
	s.Gone.Orders["withdrawn"] = crop.Order{ID: "withdrawn", Buyer: "gone", Due: "2026-10-03", Taken: "2026-10-01"}
	s.Gone.Buyers["gone"] = crop.Buyer{ID: "gone", Name: "Closed shop", Channel: "ch", Accepts: map[crop.ColourID][]crop.ColourID{}}
	return s
}

func saleFactsOf(f crop.Farm) []changelog.Fact {
	s := f.Sales
	away := func(kind, id string) changelog.Fact {
		return changelog.Fact{Scope: syncproto.ScopeShed, Op: syncproto.OpSet, Type: kind, ID: id, Field: changelog.FieldWithdrawn, Value: syncproto.Int(1)}
	}
	goneBuyer := func(b crop.Buyer) []changelog.Fact {
		return append(farm.BuyerFacts(b), away(farm.TypeBuyer, string(b.ID)))
	}
	goneOrder := func(o crop.Order) []changelog.Fact {
		return append(farm.OrderFacts(o), away(farm.TypeOrder, string(o.ID)))
	}
	goneLine := func(l crop.Line) []changelog.Fact {
		return append(farm.LineFacts(l), away(farm.TypeLine, string(l.ID)))
	}
	return slices.Concat(
		farm.TermsFacts(f.ID, s.Terms), ofEach(s.Channels, farm.ChannelFacts), ofEach(s.Buyers, farm.BuyerFacts), ofEach(s.Gone.Buyers, goneBuyer), ofEach(s.Gone.Orders, goneOrder), ofEach(s.Gone.Lines, goneLine),
		ofEach(s.Bunches, farm.BunchFacts), ofEach(s.Prices, farm.PriceFacts), ofEach(s.Orders, farm.OrderFacts),
		ofEach(s.Standings, farm.StandingFacts), ofEach(s.Lines, farm.LineFacts), ofEach(s.Packed, farm.PackedFacts),
		ofEach(s.Shrink, farm.ShrinkFacts), ofEach(s.Claims, farm.ClaimFacts), ofEach(s.Invoices, farm.InvoiceFacts),
	)
}

func TestWhatIsSoldIsRefusedWhereItCannotBe(t *testing.T) {
	shed, money := syncproto.ScopeShed, syncproto.ScopeMoney
	set := func(scope syncproto.Scope, kind, field string, v syncproto.Value) syncproto.Change {
		return syncproto.Change{Scope: scope, Op: syncproto.OpSet, Type: kind, ID: "x", Field: field, Value: v}
	}
	count := func(field string, n int64) syncproto.Change {
		return syncproto.Change{Scope: shed, Op: syncproto.OpCount, Type: farm.TypePacked, ID: "x", Field: field, Value: syncproto.Int(n)}
	}
	for _, c := range []struct {
		what   string
		change syncproto.Change
		code   syncproto.Code
	}{
		{"a price of a line where crew reads it", set(shed, farm.TypeLine, "cents", syncproto.Int(520)), syncproto.CodeScope},
		{"a floor where crew reads it", set(shed, farm.TypeChannel, "floor.first", syncproto.Int(30)), syncproto.CodeScope},
		{"an invoice where crew reads it", set(shed, farm.TypeInvoice, "invoice_no", syncproto.Text("1")), syncproto.CodeScope},
		{"a price of nothing", set(money, farm.TypePrice, "cents", syncproto.Int(0)), syncproto.CodeValue},
		{"a price beyond all prices", set(money, farm.TypePrice, "cents", syncproto.Int(int64(crop.MostCents)+1)), syncproto.CodeValue},
		{"a bunch of no stems", set(shed, farm.TypeBunch, "stems", syncproto.Int(0)), syncproto.CodeValue},
		{"fewer than no bunches", set(shed, farm.TypeLine, "bunches", syncproto.Int(-1)), syncproto.CodeValue},
		{"a commission above all of the price", set(money, farm.TypeChannel, "commission", syncproto.Int(10_001)), syncproto.CodeValue},
		{"a weekday that there is not", set(shed, farm.TypeChannel, "days", syncproto.Text("18")), syncproto.CodeValue},
		{"weekdays out of order", set(shed, farm.TypeStanding, "days", syncproto.Text("41")), syncproto.CodeValue},
		{"a time that there is not", set(shed, farm.TypeChannel, "cutoff_time", syncproto.Text("24:00")), syncproto.CodeValue},
		{"shrink of no lot", set(shed, farm.TypeShrink, "lot", syncproto.Text("b|today|c|first|400|500")), syncproto.CodeValue},
		{"shrink of no stems", set(shed, farm.TypeShrink, "stems", syncproto.Int(0)), syncproto.CodeValue},
		{"a reason that nobody knows", set(shed, farm.TypeShrink, "reason", syncproto.Text("tired")), syncproto.CodeValue},
		{"a line that wants what is unsaleable", set(shed, farm.TypeLine, "grade", syncproto.Text("out")), syncproto.CodeValue},
		{"fewer than no packed stems", count(farm.LotCell(aLot), -1), syncproto.CodeCount},
		{"packed of something that is no lot", count("c|first|400|500", 3), syncproto.CodeValue},
		{"more bunches than anybody ties", count("bunches", farm.MostBunches+1), syncproto.CodeCount},
		{"a row of an invoice without its numbers", syncproto.Change{
			Scope: money, Op: syncproto.OpAdd, Type: farm.TypeInvoice, ID: "x", Field: "rows", Value: syncproto.Text("001|line"),
		}, syncproto.CodeValue},
		{"packed bunches", count("bunches", 3), ""},
		{"packed stems", count(farm.LotCell(aLot), 30), ""},
	} {
		code, why := farm.Check(c.change, "2026-11-25")
		if code != c.code {
			t.Errorf("%s: %q (%s), want %q", c.what, code, why, c.code)
		}
		if len(why) > farm.MostReason {
			t.Errorf("%s: %d bytes of reason", c.what, len(why))
		}
	}
}

func TestALotsNameIsReadBack(t *testing.T) {
	for _, name := range []string{"b|2026-10-05|c|first|400|500", "b|2026-10-05||||0", strings.Repeat("|", 5)} {
		lot, err := farm.ParseLotCell(name)
		if want := name == "b|2026-10-05|c|first|400|500"; (err == nil) != want {
			t.Errorf("%q: %v", name, err)
		} else if want && farm.LotCell(lot) != name {
			t.Errorf("%q is written %q", name, farm.LotCell(lot))
		}
	}
}
