package farm_test

import (
	"encoding/json"
	"maps"
	"os"
	"reflect"
	"slices"
	"testing"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/syncproto"
)

// smallMoney has one of everything that is paid and worked, with every field set.
func smallMoney() crop.Money {
	m := crop.NewMoney()
	m.Costs["co"] = crop.Cost{
		ID: "co", Date: "2026-03-14", Kind: crop.CostPlants, What: "plugs", Cents: 34950, Fixed: true, Bed: "b", Stock: "s", Channel: "ch",
	}
	m.Work["wo"] = crop.Work{
		ID: "wo", Date: "2026-05-28", Person: "p", Kind: crop.WorkCut, Minutes: 95, Bed: "b", Channel: "ch", Note: "in the rain",
	}
	m.Payments["pa"] = crop.Payment{ID: "pa", Invoice: "in", Order: "or", Date: "2026-06-30", Cents: -150, Note: "by cheque"}
	m.Statements["st"] = crop.Statement{
		ID: "st", Channel: "ch", From: "2026-06-01", To: "2026-06-30", Paid: "2026-07-12", Cents: 81000, Note: "no. 6",
	}
	m.Rows["ro"] = crop.StatementRow{
		ID: "ro", Statement: "st", Place: 3, Date: "2026-06-11", Words: "Lisianthus white", Bunches: 12, Cents: 6600, Kept: 1320,
		Line: "li", Due: "2026-06-10", Settled: true,
	}
	return m
}

func moneyFactsOf(m crop.Money) []changelog.Fact {
	var facts []changelog.Fact
	for _, x := range m.Costs {
		facts = append(facts, farm.CostFacts(x)...)
	}
	for _, x := range m.Work {
		facts = append(facts, farm.WorkFacts(x)...)
	}
	for _, x := range m.Payments {
		facts = append(facts, farm.PaymentFacts(x)...)
	}
	for _, x := range m.Statements {
		facts = append(facts, farm.StatementFacts(x)...)
	}
	for _, x := range m.Rows {
		facts = append(facts, farm.StatementRowFacts(x)...)
	}
	return facts
}

func TestWhatIsPaidAndWorkedIsRefusedWhereItCannotBe(t *testing.T) {
	const field, shed, money = syncproto.ScopeField, syncproto.ScopeShed, syncproto.ScopeMoney
	text, number := syncproto.Text, syncproto.Int
	for _, c := range []struct {
		what        string
		scope       syncproto.Scope
		kind, field string
		value       syncproto.Value
		code        syncproto.Code
	}{
		{"a cost", money, "cost", "cents", number(34950), ""},
		{"a cost where crew reads it", field, "cost", "cents", number(34950), syncproto.CodeScope},
		{"a cost that is withdrawn where crew reads it", field, "cost", "withdrawn", number(1), syncproto.CodeScope},
		{"a refund of a supplier", money, "cost", "cents", number(-1), ""},
		{"a refund beyond all money", money, "cost", "cents", number(-int64(crop.MostCents) - 1), syncproto.CodeValue},
		{"a cost beyond all money", money, "cost", "cents", number(int64(crop.MostCents) + 1), syncproto.CodeValue},
		{"a cost in words", money, "cost", "cents", text("349.50"), syncproto.CodeValue},
		{"a cost of a kind that nobody knows", money, "cost", "kind", text("yacht"), syncproto.CodeValue},
		{"a cost of tomorrow, as a phone east of the shed may say", money, "cost", "date", text("2026-11-26"), ""},
		{"a cost to come", money, "cost", "date", text("2026-11-27"), syncproto.CodeDate},
		{"a cost on no day", money, "cost", "date", text("2026-02-30"), syncproto.CodeDate},
		{"a cost that is half fixed", money, "cost", "fixed", number(2), syncproto.CodeValue},
		{"an hour of work", field, "work", "minutes", number(60), ""},
		{"no minute of work", field, "work", "minutes", number(0), syncproto.CodeValue},
		{"a whole day of work", field, "work", "minutes", number(24 * 60), ""},
		{"more work than a day has", field, "work", "minutes", number(24*60 + 1), syncproto.CodeValue},
		{"work of a kind that nobody knows", field, "work", "kind", text("sleep"), syncproto.CodeValue},
		{"work to come", field, "work", "date", text("2026-11-27"), syncproto.CodeDate},
		{"for which channel it was where crew reads it", field, "work", "channel", text("ch"), syncproto.CodeScope},
		{"for which channel it was", money, "work", "channel", text("ch"), ""},
		{"a payment", money, "payment", "cents", number(12000), ""},
		{"money paid back", money, "payment", "cents", number(-12000), ""},
		{"a payment beyond all money", money, "payment", "cents", number(-int64(crop.MostCents) - 1), syncproto.CodeValue},
		{"a payment where crew reads it", shed, "payment", "date", text("2026-11-20"), syncproto.CodeScope},
		{"a payment to come", money, "payment", "date", text("2026-11-27"), syncproto.CodeDate},
		{"a payment for an order", money, "payment", "order", text("or"), ""},
		{"a payment for no order", money, "payment", "order", text(""), syncproto.CodeValue},
		{"a payment for no invoice", money, "payment", "invoice", text(""), syncproto.CodeValue},
		{"a statement of no channel", money, "statement", "channel", text(""), syncproto.CodeValue},
		{"a statement that ends with the month", money, "statement", "last", text("2026-11-30"), ""},
		{"a statement that was paid tomorrow week", money, "statement", "paid", text("2026-12-03"), syncproto.CodeDate},
		{"a statement whose money is awaited", money, "statement", "paid", text(""), ""},
		{"a statement where crew reads it", shed, "statement", "cents", number(1), syncproto.CodeScope},
		{"a row of no statement", money, "statement_row", "statement", text(""), syncproto.CodeValue},
		{"a row in no place", money, "statement_row", "place", number(0), syncproto.CodeValue},
		{"bunches that came back", money, "statement_row", "bunches", number(-2), ""},
		{"more bunches than anybody ties", money, "statement_row", "bunches", number(farm.MostBunches + 1), syncproto.CodeValue},
		{"a row of no day", money, "statement_row", "date", text("June"), syncproto.CodeDate},
		{"a row where crew reads it", shed, "statement_row", "settled", number(1), syncproto.CodeScope},
		{"a row that is half settled", money, "statement_row", "settled", number(2), syncproto.CodeValue},
	} {
		change := syncproto.Change{Scope: c.scope, Op: syncproto.OpSet, Type: c.kind, ID: "x", Field: c.field, Value: c.value}
		code, why := farm.Check(change, "2026-11-25")
		if code != c.code {
			t.Errorf("%s: %q (%s), want %q", c.what, code, why, c.code)
		}
		if len(why) > farm.MostReason {
			t.Errorf("%s: %d bytes of reason", c.what, len(why))
		}
	}
}

func TestACostThatIsWithdrawnIsGoneUntilItIsBroughtBack(t *testing.T) {
	withdrawn := func(n int64) []changelog.Fact {
		return []changelog.Fact{{Scope: syncproto.ScopeMoney, Op: syncproto.OpSet, Type: farm.TypeCost, ID: "co", Field: changelog.FieldWithdrawn, Value: syncproto.Int(n)}}
	}
	said := moneyFactsOf(smallMoney())
	if m := readMoney(said, withdrawn(1)); len(m.Costs) != 0 || len(m.Work) != 1 {
		t.Errorf("withdrawn: %+v", m)
	}
	if m := readMoney(said, withdrawn(1), withdrawn(0)); !reflect.DeepEqual(m, smallMoney()) {
		t.Errorf("brought back: %+v", m)
	}
}

// readMoney reads a farm's books after some operations.
func readMoney(operations ...[]changelog.Fact) crop.Money {
	state := changelog.NewState()
	recorder := changelog.Recorder{Incarnation: inc}
	for i, facts := range operations {
		for _, c := range recorder.Operation(int64(i+1), facts...) {
			state.Merge(c, c.Stamp)
		}
	}
	return farm.Read("farm", state).Money
}

type moneyVector[T any] struct {
	Name, ID string
	Fields   fieldsTold
	Want     T
}

func (v moneyVector[T]) check(t *testing.T, kind string, got func(crop.Money) []T) {
	t.Helper()
	if all := got(readMoney(v.Fields.of(kind, v.ID))); !reflect.DeepEqual(all, []T{v.Want}) {
		t.Errorf("%s, %s: %+v, want %+v", kind, v.Name, all, v.Want)
	}
}

func all[K comparable, V any](m map[K]V) []V { return slices.Collect(maps.Values(m)) }

func TestTheBooksFollowTheVectors(t *testing.T) {
	var v struct {
		CostKinds  []crop.CostKind `json:"cost_kinds"`
		WorkKinds  []crop.WorkKind `json:"work_kinds"`
		Costs      []moneyVector[crop.Cost]
		Work       []moneyVector[crop.Work]
		Payments   []moneyVector[crop.Payment]
		Statements []moneyVector[crop.Statement]
		Rows       []moneyVector[crop.StatementRow]
	}
	data, err := os.ReadFile("../../testdata/vectors/money.json")
	if err == nil {
		err = json.Unmarshal(data, &v)
	}
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(v.CostKinds, crop.CostKinds) || !slices.Equal(v.WorkKinds, crop.WorkKinds) {
		t.Errorf("kinds %v and %v", crop.CostKinds, crop.WorkKinds)
	}
	for _, c := range v.Costs {
		c.check(t, farm.TypeCost, func(m crop.Money) []crop.Cost { return all(m.Costs) })
	}
	for _, c := range v.Work {
		c.check(t, farm.TypeWork, func(m crop.Money) []crop.Work { return all(m.Work) })
	}
	for _, c := range v.Payments {
		c.check(t, farm.TypePayment, func(m crop.Money) []crop.Payment { return all(m.Payments) })
	}
	for _, c := range v.Statements {
		c.check(t, farm.TypeStatement, func(m crop.Money) []crop.Statement { return all(m.Statements) })
	}
	for _, c := range v.Rows {
		c.check(t, farm.TypeStatementRow, func(m crop.Money) []crop.StatementRow { return all(m.Rows) })
	}
}
