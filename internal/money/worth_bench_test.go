package money

import (
	"testing"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/demo"
	"corymb/internal/farm"
)

// madeUpFarm is the demo's, on the day on which its last season is over.
func madeUpFarm() crop.Farm {
	state := changelog.NewState()
	for _, device := range demo.Changes("f", 2026) {
		for _, op := range device.Operations {
			for _, c := range op {
				state.Merge(c, c.Stamp)
			}
		}
	}
	return farm.Read("f", state)
}

// BenchmarkDrawPlantsOfTheDemo draws what one more plant gives on the made-up farm, its season over:
//
//	go test -run '^$' -bench DrawPlantsOfTheDemo -benchtime 3x ./internal/money
func BenchmarkDrawPlantsOfTheDemo(b *testing.B) {
	f := madeUpFarm()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := DrawPlants(f, 2026, "2026-12-01"); err != nil {
			b.Fatal(err)
		}
	}
}
