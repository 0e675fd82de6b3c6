package money

import (
	"testing"

	"corymb/internal/crop"
)

func TestMoneyThatCameBackLessensCosts(t *testing.T) {
	f := crop.NewFarm()
	for _, c := range []crop.Cost{
		{ID: "a", Date: "2026-03-14", Kind: crop.CostPlants, Cents: 5000, Bed: "b"}, {ID: "b", Date: "2026-03-20", Kind: crop.CostPlants, Cents: -1850, Bed: "b"},
		{ID: "c", Date: "2026-03-20", Kind: crop.CostGround, Cents: -300, Fixed: true},
	} {
		f.Money.Costs[c.ID] = c
	}
	v := Of(f, 2026, 0).By(ByBed, Filter{})
	if v.All.Costs != 2850 || v.All.Fixed != -300 || v.All.Left() != -2850 || len(v.Rows) != 2 || v.Rows[1].Costs != 3150 {
		t.Errorf("%+v", v)
	}
}
