package farm

import (
	"maps"
	"slices"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/syncproto"
)

// shed begins facts that crew may read.
func shed(kind, id string) entity { return entity{scope: syncproto.ScopeShed, kind: kind, id: id} }

// money begins facts that only an owner may read.
func money(kind, id string) entity { return entity{scope: syncproto.ScopeMoney, kind: kind, id: id} }

func (e *entity) list(field string, ids []string) {
	if len(ids) > 0 {
		e.set(field, syncproto.List(ids...))
	}
}

func (e *entity) add(field, element string) {
	e.facts = append(e.facts, changelog.Fact{
		Scope: e.scope, Op: syncproto.OpAdd, Type: e.kind, ID: e.id, Field: field, Value: syncproto.Text(element),
	})
}

func (e *entity) count(cell string, n int) {
	e.facts = append(e.facts, changelog.Fact{
		Scope: e.scope, Op: syncproto.OpCount, Type: e.kind, ID: e.id, Field: cell, Value: syncproto.Int(int64(n)),
	})
}

// TermsFacts says how a farm sells.
func TermsFacts(id crop.FarmID, t crop.SaleTerms) []changelog.Fact {
	e, m := shed(TypeFarm, string(id)), money(TypeFarm, string(id))
	e.told(FieldSeller, t.Seller)
	e.toldNumber(FieldCoolerDays, t.CoolerDays)
	e.toldNumber(FieldOverCut, t.OverCut)
	m.told(FieldCurrency, t.Currency)
	m.toldNumber(FieldPayDays, t.PayDays)
	m.toldNumber(FieldTaxRate, t.TaxRate)
	m.told(FieldTaxName, t.TaxName)
	m.toldNumber(FieldBreakCost, t.BreakCost)
	return slices.Concat(e.facts, m.facts)
}

// ChannelFacts says what a channel is.
func ChannelFacts(c crop.Channel) []changelog.Fact {
	e, m := shed(TypeChannel, string(c.ID)), money(TypeChannel, string(c.ID))
	e.text(FieldName, c.Name)
	e.text(FieldKind, string(c.Kind))
	e.toldNumber(FieldCutoffDays, c.CutoffDays)
	e.told(FieldCutoffTime, c.CutoffTime)
	e.told(FieldDays, string(c.Days))
	for _, grade := range slices.Sorted(maps.Keys(c.Floor)) {
		m.number(FieldFloor+string(grade), int(c.Floor[grade]))
	}
	m.toldNumber(FieldCommission, c.Commission)
	m.toldNumber(FieldFee, int(c.Fee))
	m.flag(FieldBuyerPays, c.BuyerPays)
	return slices.Concat(e.facts, m.facts)
}

// BuyerFacts says who a buyer is.
func BuyerFacts(b crop.Buyer) []changelog.Fact {
	e := shed(TypeBuyer, string(b.ID))
	e.text(FieldName, b.Name)
	e.text(FieldChannel, string(b.Channel))
	e.told(FieldAddress, b.Address)
	e.told(FieldPhone, b.Phone)
	e.told(FieldEmail, b.Email)
	e.told(FieldNote, b.Note)
	for _, colour := range slices.Sorted(maps.Keys(b.Accepts)) {
		e.list(FieldAccepts+string(colour), textsOf(b.Accepts[colour]))
	}
	return e.facts
}

// BunchFacts says how bunches of a kind are tied.
func BunchFacts(b crop.Bunch) []changelog.Fact {
	e := shed(TypeBunch, string(b.ID))
	e.text(FieldName, b.Name)
	e.number(FieldStems, b.Stems)
	e.told(FieldGrade, string(b.Grade))
	e.toldNumber(FieldLeast, int(b.Length))
	return e.facts
}

// PriceFacts says what a bunch costs from a day on.
func PriceFacts(p crop.Price) []changelog.Fact {
	m := money(TypePrice, string(p.ID))
	m.text(FieldChannel, string(p.Channel))
	m.told(FieldBuyer, string(p.Buyer))
	m.told(FieldColour, string(p.Colour))
	m.text(FieldBunch, string(p.Bunch))
	m.told(FieldSince, string(p.From))
	m.number(FieldCents, int(p.Cents))
	return m.facts
}

// OrderFacts says who wants something on which day.
func OrderFacts(o crop.Order) []changelog.Fact {
	e := shed(TypeOrder, string(o.ID))
	e.text(FieldBuyer, string(o.Buyer))
	e.text(FieldDue, string(o.Due))
	e.told(FieldTaken, string(o.Taken))
	e.told(FieldNote, o.Note)
	return e.facts
}

// StandingFacts says what comes again.
func StandingFacts(s crop.StandingOrder) []changelog.Fact {
	e := shed(TypeStanding, string(s.ID))
	e.text(FieldBuyer, string(s.Buyer))
	e.text(FieldSince, string(s.From))
	e.told(FieldLast, string(s.Until))
	e.text(FieldDays, string(s.Days))
	e.number(FieldEvery, s.Every)
	e.told(FieldNote, s.Note)
	for _, day := range s.Skips {
		e.add(FieldSkips, string(day))
	}
	return e.facts
}

// LineFacts says what an order wants of one kind.
func LineFacts(l crop.Line) []changelog.Fact {
	e, m := shed(TypeLine, string(l.ID)), money(TypeLine, string(l.ID))
	e.told(FieldOrder, string(l.Order))
	e.told(FieldStanding, string(l.Standing))
	e.told(FieldBunch, string(l.Bunch))
	e.number(FieldBunches, l.Bunches)
	e.number(FieldStems, l.Stems)
	e.told(FieldGrade, string(l.Grade))
	e.toldNumber(FieldLeast, int(l.Length))
	e.list(FieldColours, textsOf(l.Colours))
	e.flag(FieldWhole, l.Whole)
	e.flag(FieldExact, l.Exact)
	m.toldNumber(FieldCents, int(l.Price))
	return slices.Concat(e.facts, m.facts)
}

// PackedFacts says what was packed for a line, and of which lots.
func PackedFacts(p crop.Packed) []changelog.Fact {
	e := shed(TypePacked, string(p.ID))
	e.text(FieldOf, string(p.Line))
	e.text(FieldBuyer, string(p.Buyer))
	e.text(FieldDue, string(p.Due))
	e.text(FieldDate, string(p.Date))
	e.told(FieldPerson, string(p.Person))
	e.count(FieldBunches, p.Bunches)
	stems := map[string]int{}
	for lot, n := range p.Stems {
		stems[LotCell(lot)] += n
	}
	for _, cell := range slices.Sorted(maps.Keys(stems)) {
		e.count(cell, stems[cell])
	}
	return e.facts
}

// ShrinkFacts says what was written off.
func ShrinkFacts(s crop.Shrink) []changelog.Fact {
	e := shed(TypeShrink, string(s.ID))
	e.text(FieldLot, LotCell(s.Lot))
	e.number(FieldStems, s.Stems)
	e.text(FieldReason, string(s.Reason))
	e.told(FieldWhat, s.What)
	e.text(FieldDate, string(s.Date))
	e.told(FieldPerson, string(s.Person))
	return e.facts
}

// ClaimFacts says what a buyer found wrong.
func ClaimFacts(c crop.Claim) []changelog.Fact {
	e, m := shed(TypeClaim, string(c.ID)), money(TypeClaim, string(c.ID))
	e.text(FieldOf, string(c.Line))
	e.text(FieldBuyer, string(c.Buyer))
	e.text(FieldDue, string(c.Due))
	if c.Lot != nil {
		e.text(FieldLot, LotCell(*c.Lot))
	}
	e.number(FieldStems, c.Stems)
	e.text(FieldReason, string(c.Reason))
	e.flag(FieldBack, c.Back)
	e.told(FieldWhat, c.What)
	e.text(FieldDate, string(c.Date))
	e.told(FieldPerson, string(c.Person))
	m.toldNumber(FieldCents, int(c.Credit))
	return slices.Concat(e.facts, m.facts)
}

// InvoiceFacts says what was billed.
func InvoiceFacts(i crop.Invoice) []changelog.Fact {
	m := money(TypeInvoice, string(i.ID))
	m.text(FieldInvoiceNo, i.Number)
	m.text(FieldBuyer, string(i.Buyer))
	m.text(FieldDate, string(i.Date))
	m.told(FieldPayBy, string(i.PayBy))
	m.told(FieldCurrency, i.Currency)
	m.toldNumber(FieldTaxRate, i.TaxRate)
	m.told(FieldVoid, string(i.Void))
	m.told(FieldCredits, string(i.Credits))
	m.told(FieldClaim, string(i.Claim))
	if i.Head != nil {
		m.text(FieldBuyerName, i.Head.BuyerName)
		m.told(FieldAddress, i.Head.Address)
		m.told(FieldSeller, i.Head.Seller)
		m.told(FieldTaxName, i.Head.TaxName)
	}
	if i.Tax != nil {
		m.number(FieldTax, int(*i.Tax))
	}
	for place, line := range i.Lines {
		m.add(FieldRows, FormatInvoiceLine(place+1, line))
	}
	return m.facts
}

// VoidFacts says on which day an invoice was called void.
func VoidFacts(id crop.InvoiceID, day crop.Date) []changelog.Fact {
	m := money(TypeInvoice, string(id))
	m.text(FieldVoid, string(day))
	return m.facts
}

func textsOf[T ~string](ids []T) []string {
	texts := make([]string, len(ids))
	for i, id := range ids {
		texts[i] = string(id)
	}
	return texts
}
