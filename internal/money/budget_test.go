package money

import (
	"fmt"
	"math"
	"testing"

	"corymb/internal/crop"
)

// lisianthus is the first worked example of the trade: 900 bunches at 4.00, variable cost 2,462.08, fixed 104.17
// (University of Maryland slides on a Penn State budget), here as a farm's own entries.
func lisianthus() crop.Farm {
	f := crop.NewFarm()
	f.Sales.Orders["o"] = crop.Order{ID: "o", Due: "2026-06-05"}
	f.Sales.Lines["l"] = crop.Line{ID: "l", Order: "o", Bunches: 900, Stems: 10, Price: 400}
	f.Sales.Packed["p"] = crop.Packed{ID: "p", Line: "l", Due: "2026-06-05", Date: "2026-06-05", Bunches: 900}
	f.Money.Costs["plants"] = crop.Cost{ID: "plants", Date: "2026-03-01", Cents: 146_208}
	f.Money.Costs["fixed"] = crop.Cost{ID: "fixed", Date: "2026-03-01", Cents: 10_417, Fixed: true}
	f.Money.Work["all"] = crop.Work{ID: "all", Date: "2026-06-01", Minutes: 3000}
	return f
}

func TestTheExtensionBudgetToTheCent(t *testing.T) {
	b := Of(lisianthus(), 2026, 2000).By(ByChannel, Filter{}).All.Budget()
	for what, c := range map[string]struct{ got, want string }{
		"variable cost":            {fmt.Sprintf("%.2f", b.Variable/100), "2462.08"},
		"variable a bunch":         {fmt.Sprintf("%.4f", b.VariableABunch()/100), "2.7356"},
		"fixed a bunch":            {fmt.Sprintf("%.4f", b.FixedABunch()/100), "0.1157"},
		"break-even price":         {fmt.Sprintf("%.4f", b.BreakEvenPrice()/100), "2.8514"},
		"break-even bunches":       {fmt.Sprintf("%.2f", b.BreakEvenBunches()), "641.56"},
		"whole bunches that do":    {fmt.Sprint(math.Ceil(b.BreakEvenBunches())), "642"},
		"net":                      {fmt.Sprintf("%.2f", b.Net()/100), "1033.75"}, // the slides print 1,035.75, an arithmetic slip
		"bunches for what's fixed": {fmt.Sprintf("%.2f", b.PaysFixed()), "82.39"}, // 104.17 / (4.00 - 2.7356), not in the slides
	} {
		if c.got != c.want {
			t.Errorf("%s: %s, want %s", what, c.got, c.want)
		}
	}
}

func TestABunchThatCostsMoreThanItBringsNeverPays(t *testing.T) {
	b := Budget{Bunches: 10, Gross: 1000, Variable: 1200, Fixed: 50}
	if !math.IsInf(b.PaysFixed(), 1) || b.Net() != -250 || b.BreakEvenPrice() != 125 {
		t.Errorf("%v %v %v", b.PaysFixed(), b.Net(), b.BreakEvenPrice())
	}
}

func TestABudgetIsWhatTheLedgerLeaves(t *testing.T) {
	eachFarm(t, func(t *testing.T, m *made, b *Books) {
		all := b.By(ByDay, m.randomFilter(b)).All.Sums
		if net := all.Budget().Net(); net != float64(all.Left()) {
			t.Errorf("net %v, left %d", net, all.Left())
		}
	})
}
