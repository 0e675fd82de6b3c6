package division

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/sheets"
)

// sample is the small farm of testdata/sheets/good.
func sample(t testing.TB) crop.Farm {
	t.Helper()
	open := func(name string) sheets.Source {
		file, err := os.Open("../../testdata/sheets/good/" + name)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { file.Close() })
		return sheets.Source{Name: name, Reader: file}
	}
	contents, err := sheets.Read(open("plants.csv"), open("cuts.csv"), "2026-01-01")
	if err != nil {
		t.Fatal(err)
	}
	return contents.Farm
}

// usual is a question about the sample.
func usual() Question {
	return Question{
		Places: 120, Hours: 16, Goal: 1.5, Seasons: 2, Most: 4, Costs: crop.UsualDivisionCosts,
		Prices: []Price{
			{Colour: "crème", Grade: crop.GradeExtra, Channel: "florist", Cents: 90, AWeek: 20},
			{Grade: crop.GradeExtra, Channel: "florist", Cents: 85, AWeek: 10},
			{Grade: crop.GradeFirst, Channel: "market", Cents: 45, AWeek: 20},
			{Grade: crop.GradeSecond, Channel: "bouquet", Cents: 15, AWeek: math.Inf(1)},
		},
	}
}

func BenchmarkPlanOfASmallFarm(b *testing.B) {
	farm, q := sample(b), usual()
	for b.Loop() {
		if _, err := Of(farm, q); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPlanOfALargeFarm(b *testing.B) {
	farm := madeFarm(newTruth(rand.New(rand.NewPCG(5, 5))), 6_900, 25, 4)
	q := Question{Places: 1200, Hours: 160, Goal: 1.5, Seasons: 2, Most: 4, Costs: crop.UsualDivisionCosts, Prices: madePrices(700)}
	standing := 0
	for _, p := range farm.Plants {
		if p.Removed == "" {
			standing++
		}
	}
	for b.Loop() {
		plan, err := Of(farm, q)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(plan.Gap, "gap")
		b.ReportMetric(plan.Goal.Chance, "chance")
		b.ReportMetric(float64(plan.PlacesUsed), "places")
		b.ReportMetric(plan.HoursUsed, "hours")
	}
	b.ReportMetric(float64(standing), "plants")
}
