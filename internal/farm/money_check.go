package farm

import (
	"corymb/internal/crop"
	"corymb/syncproto"
)

const (
	// mostWorked is the largest number of minutes that one person works on one day.
	mostWorked = 24 * 60
	// mostRows is the largest number of rows of one statement.
	mostRows = 9_999
)

var (
	named = fieldRule{kind: syncproto.KindText, check: checkNamed}
	// paidEitherWay is money that may flow back, as for what was returned.
	paidEitherWay = upTo(-int64(crop.MostCents), int64(crop.MostCents))
	yesOrNo       = upTo(0, 1)
)

var moneyRules = map[string]fieldRule{
	"cost date": pastDay, "cost what": anyText, "cost cents": paidEitherWay, "cost fixed": yesOrNo,
	"cost kind": oneOf(textsOf(crop.CostKinds)...),
	"cost bed":  anyText, "cost stock": anyText, "cost channel": anyText,
	"work date": pastDay, "work person": anyText, "work kind": oneOf(textsOf(crop.WorkKinds)...),
	"work minutes": upTo(1, mostWorked), "work bed": anyText, "work channel": anyText, "work note": anyText,
	"payment invoice": named, "payment order": named, "payment date": pastDay, "payment cents": paidEitherWay, "payment note": anyText,
	"statement channel": named, "statement since": pastDay, "statement last": anyDay, "statement paid": pastDay,
	"statement cents": paidEitherWay, "statement note": anyText,
	"statement_row statement": named, "statement_row place": upTo(1, mostRows), "statement_row date": anyDay,
	"statement_row words": anyText, "statement_row bunches": upTo(-MostBunches, MostBunches),
	"statement_row cents": paidEitherWay, "statement_row kept": paidEitherWay,
	"statement_row of": anyText, "statement_row due": anyDay, "statement_row settled": yesOrNo,
}

// checkNamed wants the id of what something belongs to: without it nobody would find it again.
func checkNamed(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
	if text == "" {
		return syncproto.CodeValue, "it does not say to what it belongs"
	}
	return "", ""
}
