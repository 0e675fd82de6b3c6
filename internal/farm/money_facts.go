package farm

import (
	"slices"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/syncproto"
)

// CostFacts says what was spent.
func CostFacts(c crop.Cost) []changelog.Fact {
	m := money(TypeCost, string(c.ID))
	m.text(FieldDate, string(c.Date))
	m.text(FieldKind, string(c.Kind))
	m.told(FieldWhat, c.What)
	m.number(FieldCents, int(c.Cents))
	m.flag(FieldFixed, c.Fixed)
	m.told(FieldBed, string(c.Bed))
	m.told(FieldStock, string(c.Stock))
	m.told(FieldChannel, string(c.Channel))
	return m.facts
}

// WorkFacts says who worked at what for how long. For which channel it was is an owner's to know.
func WorkFacts(w crop.Work) []changelog.Fact {
	e, m := entity{scope: syncproto.ScopeField, kind: TypeWork, id: string(w.ID)}, money(TypeWork, string(w.ID))
	e.text(FieldDate, string(w.Date))
	e.told(FieldPerson, string(w.Person))
	e.text(FieldKind, string(w.Kind))
	e.number(FieldMinutes, w.Minutes)
	e.told(FieldBed, string(w.Bed))
	e.told(FieldNote, w.Note)
	m.told(FieldChannel, string(w.Channel))
	return slices.Concat(e.facts, m.facts)
}

// PaymentFacts says what came for an invoice, or for an order that stands on none.
func PaymentFacts(p crop.Payment) []changelog.Fact {
	m := money(TypePayment, string(p.ID))
	m.told(FieldInvoice, string(p.Invoice))
	m.told(FieldOrder, string(p.Order))
	m.text(FieldDate, string(p.Date))
	m.number(FieldCents, int(p.Cents))
	m.told(FieldNote, p.Note)
	return m.facts
}

// StatementFacts says what stands at a statement's head and foot.
func StatementFacts(s crop.Statement) []changelog.Fact {
	m := money(TypeStatement, string(s.ID))
	m.text(FieldChannel, string(s.Channel))
	m.text(FieldSince, string(s.From))
	m.text(FieldLast, string(s.To))
	m.told(FieldPaid, string(s.Paid))
	m.number(FieldCents, int(s.Cents))
	m.told(FieldNote, s.Note)
	return m.facts
}

// StatementRowFacts says what stands in a row of a statement, and what a person said of it.
func StatementRowFacts(r crop.StatementRow) []changelog.Fact {
	m := money(TypeStatementRow, string(r.ID))
	m.text(FieldStatement, string(r.Statement))
	m.number(FieldPlace, r.Place)
	m.told(FieldDate, string(r.Date))
	m.told(FieldWords, r.Words)
	m.toldNumber(FieldBunches, r.Bunches)
	m.number(FieldCents, int(r.Cents))
	m.toldNumber(FieldKept, int(r.Kept))
	m.told(FieldOf, string(r.Line))
	m.told(FieldDue, string(r.Due))
	m.flag(FieldSettled, r.Settled)
	return m.facts
}
