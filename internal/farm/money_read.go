package farm

import (
	"corymb/internal/changelog"
	"corymb/internal/crop"
)

var moneyReaders = map[string]func(*crop.Money, *changelog.Entity){
	TypeCost:         func(m *crop.Money, e *changelog.Entity) { put(m.Costs, costOf(e), e) },
	TypeWork:         func(m *crop.Money, e *changelog.Entity) { put(m.Work, workOf(e), e) },
	TypePayment:      func(m *crop.Money, e *changelog.Entity) { put(m.Payments, paymentOf(e), e) },
	TypeStatement:    func(m *crop.Money, e *changelog.Entity) { put(m.Statements, statementOf(e), e) },
	TypeStatementRow: func(m *crop.Money, e *changelog.Entity) { put(m.Rows, statementRowOf(e), e) },
}

func costOf(e *changelog.Entity) crop.Cost {
	return crop.Cost{
		ID: crop.CostID(e.Key.ID), Date: crop.Date(e.Text(FieldDate)), Kind: crop.CostKind(e.Text(FieldKind)), What: e.Text(FieldWhat),
		Cents: crop.Cents(e.Int(FieldCents)), Fixed: e.Int(FieldFixed) == 1,
		Bed: crop.BedID(e.Text(FieldBed)), Stock: crop.StockID(e.Text(FieldStock)), Channel: crop.ChannelID(e.Text(FieldChannel)),
	}
}

func workOf(e *changelog.Entity) crop.Work {
	return crop.Work{
		ID: crop.WorkID(e.Key.ID), Date: crop.Date(e.Text(FieldDate)), Person: crop.PersonID(e.Text(FieldPerson)),
		Kind: crop.WorkKind(e.Text(FieldKind)), Minutes: int(e.Int(FieldMinutes)), Bed: crop.BedID(e.Text(FieldBed)),
		Channel: crop.ChannelID(e.Text(FieldChannel)), Note: e.Text(FieldNote),
	}
}

func paymentOf(e *changelog.Entity) crop.Payment {
	return crop.Payment{
		ID: crop.PaymentID(e.Key.ID), Invoice: crop.InvoiceID(e.Text(FieldInvoice)), Order: crop.OrderID(e.Text(FieldOrder)), Date: crop.Date(e.Text(FieldDate)),
		Cents: crop.Cents(e.Int(FieldCents)), Note: e.Text(FieldNote),
	}
}

func statementOf(e *changelog.Entity) crop.Statement {
	return crop.Statement{
		ID: crop.StatementID(e.Key.ID), Channel: crop.ChannelID(e.Text(FieldChannel)), From: crop.Date(e.Text(FieldSince)),
		To: crop.Date(e.Text(FieldLast)), Paid: crop.Date(e.Text(FieldPaid)), Cents: crop.Cents(e.Int(FieldCents)), Note: e.Text(FieldNote),
	}
}

func statementRowOf(e *changelog.Entity) crop.StatementRow {
	return crop.StatementRow{
		ID: crop.RowID(e.Key.ID), Statement: crop.StatementID(e.Text(FieldStatement)), Place: int(e.Int(FieldPlace)),
		Date: crop.Date(e.Text(FieldDate)), Words: e.Text(FieldWords), Bunches: int(e.Int(FieldBunches)),
		Cents: crop.Cents(e.Int(FieldCents)), Kept: crop.Cents(e.Int(FieldKept)),
		Line: crop.LineID(e.Text(FieldOf)), Due: crop.Date(e.Text(FieldDue)), Settled: e.Int(FieldSettled) == 1,
	}
}
