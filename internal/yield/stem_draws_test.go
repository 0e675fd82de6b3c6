package yield

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/demo"
	"corymb/internal/farm"
	"corymb/internal/stats"
)

func TestDrawsOfTheStemsAloneSayWhatTheWholeFitSays(t *testing.T) {
	farm := drawFarm(3).Farm
	report, err := Fit(farm, Options{})
	if err != nil {
		t.Fatal(err)
	}
	const oldest = 6
	draws, err := DrawStems(farm, Options{}, oldest, 600)
	if err != nil {
		t.Fatal(err)
	}
	if len(report.Plants) == 0 || draws.Counted == 0 {
		t.Fatal("nothing is counted: this test would not see what it is for")
	}
	median := func(of func(k int) float64) float64 {
		values := make([]float64, len(draws.Draws))
		for k := range values {
			values[k] = of(k)
		}
		slices.Sort(values)
		return values[len(values)/2]
	}
	for _, p := range report.Plants {
		times := math.Exp(median(func(k int) float64 {
			effect, counted := draws.Plant(k, p.Plant)
			if !counted {
				t.Errorf("%s was counted, and has no effect", p.Plant)
			}
			return effect
		}))
		if ratio := times / float64(p.Times.Mean); ratio < 0.85 || ratio > 1.18 {
			t.Errorf("%s gives %.2f times as much, by the whole fit %.2f", p.Plant, times, p.Times.Mean)
		}
	}
	for k, d := range draws.Draws {
		if len(d.Ages) != oldest || len(d.Sizes) != oldest {
			t.Fatalf("draw %d is of %d ages, want %d", k, len(d.Ages), oldest)
		}
	}
	if _, counted := draws.Plant(0, "nobody"); counted {
		t.Error("a plant that is not there was counted")
	}
	again, err := DrawStems(farm, Options{}, oldest, 600)
	if err != nil || !reflect.DeepEqual(again, draws) {
		t.Errorf("the same farm gives other draws (%v)", err)
	}
}

func TestDrawsOfAFarmWithoutRecordsAreThePriors(t *testing.T) {
	draws, err := DrawStems(crop.NewFarm(), Options{}, 3, 600)
	if err != nil {
		t.Fatal(err)
	}
	sum, steps := 0.0, 0.0
	for _, d := range draws.Draws {
		sum += d.Ages[0] / float64(len(draws.Draws))
		steps += (d.Ages[1] - d.Ages[0]) / float64(len(draws.Draws))
	}
	if math.Abs(sum-firstSeasonPrior.Mean) > 0.2 || math.Abs(steps-secondStepPrior.Mean) > 0.1 {
		t.Errorf("the first season is %.2f and the second %.2f more, want %.2f and %.2f", sum, steps, firstSeasonPrior.Mean, secondStepPrior.Mean)
	}
}

func TestDrawsOfSurvivalHaveTheMiddleThatIsReported(t *testing.T) {
	farm := drawFarm(3).Farm
	survival, err := FitSurvival(farm, Options{})
	if err != nil {
		t.Fatal(err)
	}
	const draws, oldest = 4000, 5
	list, err := DrawSurvival(farm, Options{}, oldest, draws)
	if err != nil {
		t.Fatal(err)
	}
	for _, age := range survival.Ages {
		below := 0
		for _, d := range list {
			if 1/(1+math.Exp(-d.Lasts[age.Age-1])) < age.P {
				below++
			}
		}
		if share := float64(below) / draws; math.Abs(share-0.5) > 0.04 {
			t.Errorf("age %d: %.3f of the draws are below the median", age.Age, share)
		}
	}
	if len(list[0].Lasts) != max(oldest, len(survival.Ages)) {
		t.Errorf("%d ages are drawn, want %d", len(list[0].Lasts), oldest)
	}
}

func TestQuickDrawsOfTheMadeUpFarmNeedNoSliceSampler(t *testing.T) {
	state := changelog.NewState()
	for _, device := range demo.Changes("f", 2026) {
		for _, op := range device.Operations {
			for _, c := range op {
				state.Merge(c, c.Stamp)
			}
		}
	}
	f := farm.Read("f", state)
	for _, species := range []string{"Achillea millefolium", "Phlox paniculata"} {
		d := layOut(f, Options{Species: species, AsOf: "2026-12-01"})
		m := newStemsModel(d.counted, d.living, d.totals, f)
		m.mixed.Nodes, m.mixed.Worth, m.mixed.Work = quickNodes, quickWorth, quickWork
		if err := m.fit(); err != nil {
			t.Fatal(err)
		}
		if len(m.mixed.Cells) == 0 || m.draws.Basis != stats.BasisWeighted {
			t.Errorf("%s: draws from %d plant-seasons are %s", species, len(m.mixed.Cells), m.draws.Basis)
		}
	}
}
