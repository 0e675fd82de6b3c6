package farm

import (
	"slices"
	"strings"

	"corymb/internal/changelog"
	"corymb/internal/crop"
)

var saleReaders = map[string]func(*crop.Sales, *changelog.Entity){
	TypeChannel:  func(s *crop.Sales, e *changelog.Entity) { put(s.Channels, channelOf(e), e) },
	TypeBuyer:    func(s *crop.Sales, e *changelog.Entity) { put(s.Buyers, buyerOf(e), e) },
	TypeBunch:    func(s *crop.Sales, e *changelog.Entity) { put(s.Bunches, bunchOf(e), e) },
	TypePrice:    func(s *crop.Sales, e *changelog.Entity) { put(s.Prices, priceOf(e), e) },
	TypeOrder:    func(s *crop.Sales, e *changelog.Entity) { put(s.Orders, orderOf(e), e) },
	TypeStanding: func(s *crop.Sales, e *changelog.Entity) { put(s.Standings, standingOf(e), e) },
	TypeLine:     func(s *crop.Sales, e *changelog.Entity) { put(s.Lines, lineOf(e), e) },
	TypePacked:   func(s *crop.Sales, e *changelog.Entity) { put(s.Packed, packedOf(e), e) },
	TypeShrink:   readShrink,
	TypeClaim:    func(s *crop.Sales, e *changelog.Entity) { put(s.Claims, claimOf(e), e) },
	TypeInvoice:  func(s *crop.Sales, e *changelog.Entity) { put(s.Invoices, invoiceOf(e), e) },
}

func put[K ~string, V any](all map[K]V, one V, e *changelog.Entity) { all[K(e.Key.ID)] = one }

// keepGone keeps a deleted buyer, channel, order or line as it was.
func keepGone(s *crop.Sales, e *changelog.Entity) {
	switch e.Key.Type {
	case TypeChannel:
		put(s.Gone.Channels, channelOf(e), e)
	case TypeBuyer:
		put(s.Gone.Buyers, buyerOf(e), e)
	case TypeOrder:
		put(s.Gone.Orders, orderOf(e), e)
	case TypeLine:
		put(s.Gone.Lines, lineOf(e), e)
	}
}

func termsOf(e *changelog.Entity) crop.SaleTerms {
	return crop.SaleTerms{
		Currency: e.Text(FieldCurrency), Seller: e.Text(FieldSeller), CoolerDays: int(e.Int(FieldCoolerDays)),
		OverCut: int(e.Int(FieldOverCut)), PayDays: int(e.Int(FieldPayDays)), TaxRate: int(e.Int(FieldTaxRate)),
		TaxName: e.Text(FieldTaxName), BreakCost: int(e.Int(FieldBreakCost)),
	}
}

func channelOf(e *changelog.Entity) crop.Channel {
	c := crop.Channel{
		ID: crop.ChannelID(e.Key.ID), Name: e.Text(FieldName), Kind: crop.ChannelKind(e.Text(FieldKind)),
		Floor:      map[crop.Grade]crop.Cents{},
		Commission: int(e.Int(FieldCommission)), Fee: crop.Cents(e.Int(FieldFee)), BuyerPays: e.Int(FieldBuyerPays) == 1,
		CutoffDays: int(e.Int(FieldCutoffDays)), CutoffTime: e.Text(FieldCutoffTime), Days: crop.Weekdays(e.Text(FieldDays)),
	}
	for _, field := range e.Fields() {
		if grade, ok := strings.CutPrefix(field, FieldFloor); ok && e.Int(field) > 0 {
			c.Floor[crop.Grade(grade)] = crop.Cents(e.Int(field))
		}
	}
	return c
}

func buyerOf(e *changelog.Entity) crop.Buyer {
	b := crop.Buyer{
		ID: crop.BuyerID(e.Key.ID), Name: e.Text(FieldName), Channel: crop.ChannelID(e.Text(FieldChannel)),
		Address: e.Text(FieldAddress), Phone: e.Text(FieldPhone), Email: e.Text(FieldEmail), Note: e.Text(FieldNote),
		Accepts: map[crop.ColourID][]crop.ColourID{},
	}
	for _, field := range e.Fields() {
		colour, ok := strings.CutPrefix(field, FieldAccepts)
		if others := idsOf[crop.ColourID](e.List(field)); ok && len(others) > 0 {
			b.Accepts[crop.ColourID(colour)] = others
		}
	}
	return b
}

func bunchOf(e *changelog.Entity) crop.Bunch {
	return crop.Bunch{
		ID: crop.BunchID(e.Key.ID), Name: e.Text(FieldName), Stems: int(e.Int(FieldStems)),
		Grade: crop.Grade(e.Text(FieldGrade)), Length: crop.Millimetres(e.Int(FieldLeast)),
	}
}

func priceOf(e *changelog.Entity) crop.Price {
	return crop.Price{
		ID: crop.PriceID(e.Key.ID), Channel: crop.ChannelID(e.Text(FieldChannel)), Buyer: crop.BuyerID(e.Text(FieldBuyer)),
		Colour: crop.ColourID(e.Text(FieldColour)), Bunch: crop.BunchID(e.Text(FieldBunch)),
		From: crop.Date(e.Text(FieldSince)), Cents: crop.Cents(e.Int(FieldCents)),
	}
}

func orderOf(e *changelog.Entity) crop.Order {
	return crop.Order{
		ID: crop.OrderID(e.Key.ID), Buyer: crop.BuyerID(e.Text(FieldBuyer)), Due: crop.Date(e.Text(FieldDue)),
		Taken: crop.Date(e.Text(FieldTaken)), Note: e.Text(FieldNote),
	}
}

func standingOf(e *changelog.Entity) crop.StandingOrder {
	return crop.StandingOrder{
		ID: crop.StandingID(e.Key.ID), Buyer: crop.BuyerID(e.Text(FieldBuyer)), From: crop.Date(e.Text(FieldSince)),
		Until: crop.Date(e.Text(FieldLast)), Days: crop.Weekdays(e.Text(FieldDays)), Every: int(e.Int(FieldEvery)),
		Skips: idsOf[crop.Date](e.Members(FieldSkips)), Note: e.Text(FieldNote),
	}
}

func lineOf(e *changelog.Entity) crop.Line {
	return crop.Line{
		ID: crop.LineID(e.Key.ID), Order: crop.OrderID(e.Text(FieldOrder)), Standing: crop.StandingID(e.Text(FieldStanding)),
		Bunch: crop.BunchID(e.Text(FieldBunch)), Bunches: int(e.Int(FieldBunches)), Stems: int(e.Int(FieldStems)),
		Grade: crop.Grade(e.Text(FieldGrade)), Length: crop.Millimetres(e.Int(FieldLeast)),
		Colours: idsOf[crop.ColourID](e.List(FieldColours)), Whole: e.Int(FieldWhole) == 1, Exact: e.Int(FieldExact) == 1,
		Price: crop.Cents(e.Int(FieldCents)),
	}
}

func packedOf(e *changelog.Entity) crop.Packed {
	p := crop.Packed{
		ID: crop.PackedID(e.Key.ID), Line: crop.LineID(e.Text(FieldOf)), Buyer: crop.BuyerID(e.Text(FieldBuyer)),
		Due: crop.Date(e.Text(FieldDue)), Date: crop.Date(e.Text(FieldDate)), Person: crop.PersonID(e.Text(FieldPerson)),
		Stems: map[crop.LotID]int{},
	}
	for _, cell := range e.Cells() {
		n := int(e.Count(cell).Total)
		if cell == FieldBunches {
			p.Bunches = n
			continue
		}
		if lot, err := ParseLotCell(cell); err == nil && n != 0 {
			p.Stems[lot] = n
		}
	}
	return p
}

func readShrink(s *crop.Sales, e *changelog.Entity) {
	lot, err := ParseLotCell(e.Text(FieldLot))
	if err != nil { // not told yet, or of a later version
		return
	}
	put(s.Shrink, crop.Shrink{
		ID: crop.ShrinkID(e.Key.ID), Lot: lot, Stems: int(e.Int(FieldStems)), Reason: crop.ShrinkReason(e.Text(FieldReason)),
		What: e.Text(FieldWhat), Date: crop.Date(e.Text(FieldDate)), Person: crop.PersonID(e.Text(FieldPerson)),
	}, e)
}

func claimOf(e *changelog.Entity) crop.Claim {
	c := crop.Claim{
		ID: crop.ClaimID(e.Key.ID), Line: crop.LineID(e.Text(FieldOf)), Buyer: crop.BuyerID(e.Text(FieldBuyer)),
		Due: crop.Date(e.Text(FieldDue)), Stems: int(e.Int(FieldStems)), Reason: crop.ClaimReason(e.Text(FieldReason)),
		Back: e.Int(FieldBack) == 1, Credit: crop.Cents(e.Int(FieldCents)), What: e.Text(FieldWhat),
		Date: crop.Date(e.Text(FieldDate)), Person: crop.PersonID(e.Text(FieldPerson)),
	}
	if lot, err := ParseLotCell(e.Text(FieldLot)); err == nil {
		c.Lot = &lot
	}
	return c
}

func invoiceOf(e *changelog.Entity) crop.Invoice {
	i := crop.Invoice{
		ID: crop.InvoiceID(e.Key.ID), Number: e.Text(FieldInvoiceNo), Buyer: crop.BuyerID(e.Text(FieldBuyer)),
		Date: crop.Date(e.Text(FieldDate)), PayBy: crop.Date(e.Text(FieldPayBy)), Currency: e.Text(FieldCurrency),
		TaxRate: int(e.Int(FieldTaxRate)), Void: crop.Date(e.Text(FieldVoid)), Credits: crop.InvoiceID(e.Text(FieldCredits)),
		Claim: crop.ClaimID(e.Text(FieldClaim)),
	}
	if slices.Contains(e.Fields(), FieldBuyerName) {
		i.Head = &crop.InvoiceHead{
			BuyerName: e.Text(FieldBuyerName), Address: e.Text(FieldAddress), Seller: e.Text(FieldSeller), TaxName: e.Text(FieldTaxName),
		}
	}
	if slices.Contains(e.Fields(), FieldTax) {
		tax := crop.Cents(e.Int(FieldTax))
		i.Tax = &tax
	}
	for _, row := range e.Members(FieldRows) {
		if line, err := ParseInvoiceLine(row); err == nil {
			i.Lines = append(i.Lines, line)
		}
	}
	return i
}

// InvoiceNumbers are the numbers of all invoices, of those that were withdrawn too: none is given again.
func InvoiceNumbers(state *changelog.State) []string {
	var numbers []string
	state.Entities(func(e *changelog.Entity) {
		if e.Key.Type == TypeInvoice {
			numbers = append(numbers, e.Text(FieldInvoiceNo))
		}
	})
	return numbers
}

func idsOf[T ~string](texts []string) []T {
	var ids []T
	for _, text := range texts {
		ids = append(ids, T(text))
	}
	return ids
}
