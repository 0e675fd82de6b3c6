package yield

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"corymb/internal/crop"
)

// meansOf are the quantiles of the draws' means that a report gives.
func meansOf(t *testing.T, report Report, age int) (lo, mid, hi float64) {
	t.Helper()
	draws, _, err := PlanDraws(report, age)
	if err != nil {
		t.Fatal(err)
	}
	var means []float64
	for _, d := range draws {
		means = append(means, d.Mean)
	}
	slices.Sort(means)
	n := len(means)
	return means[n/20], math.Sqrt(means[n/2-1] * means[n/2]), means[n-1-n/20]
}

func twelveInTheirSecondSeason() plot {
	p := newPlot()
	p.set("a", "yarrow", "A", 2024, 12)
	for i := 1; i <= 12; i++ {
		id := crop.PlantID(fmt.Sprint("a", i))
		p.count(id, 2025)
		p.cut(id, "2025-05-10", stems("", 9+(i*i)%23))
	}
	return p
}

func TestPlanDrawsAreThoseOfTheReport(t *testing.T) {
	p := twelveInTheirSecondSeason()
	report := mustReport(t, p.Farm, Options{})
	lo, mid, hi := meansOf(t, report, 2)
	s := ageOf(t, report, 2).Ahead
	// One standard error of an end, of 1,000 draws: 0.07 of a standard deviation, which is about 0.4 on the log scale.
	for what, pair := range map[string][2]float64{"middle": {mid, float64(s.Mean)}, "lo": {lo, float64(s.Lo)}, "hi": {hi, float64(s.Hi)}} {
		if math.Abs(math.Log(pair[0]/pair[1])) > 0.08 {
			t.Errorf("%s of the means drawn is %.2f, the report says %.2f", what, pair[0], pair[1])
		}
	}
}

func TestAnAgeThatNobodyCountedFollowsThePracticeCurveFromItsNeighbour(t *testing.T) {
	p := newPlot()
	p.set("a", "yarrow", "A", 2025, 30)
	for i := 1; i <= 30; i++ {
		id := crop.PlantID(fmt.Sprint("a", i))
		p.count(id, 2025)
		p.cut(id, "2025-05-10", stems("", 10+i%9))
	}
	report := mustReport(t, p.Farm, Options{})
	lo1, first, hi1 := meansOf(t, report, 1)
	lo2, second, hi2 := meansOf(t, report, 2)
	// 1.7 to 3.2 times as many, published trials: their geometric mean, give or take the draws' own luck.
	if want := first * math.Sqrt(leastRatio*mostRatio); math.Abs(math.Log(second/want)) > 0.1 {
		t.Errorf("the second season is drawn about %.2f, want %.2f", second, want)
	}
	if widest := math.Log(hi2 / lo2); widest < 2*secondStepPrior.SD || widest <= math.Log(hi1/lo1) {
		t.Errorf("it is drawn from %.1f to %.1f: too sure for an age that nobody counted", lo2, hi2)
	}
	lo9, _, hi9 := meansOf(t, report, 9)
	if hi9/lo9 <= hi2/lo2 {
		t.Errorf("the ninth season is drawn from %.1f to %.1f, no wider than the second", lo9, hi9)
	}
}

func TestDrawsWithoutAFitByPracticeRestOnNoAge(t *testing.T) {
	p := twelveInTheirSecondSeason()
	nothing, _, err := PlanDraws(Report{}, 2)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		prior Prior
		from  int
	}{{PriorPractice, 2}, {PriorFlat, 0}} {
		draws, from, err := PlanDraws(mustFit(t, p.Farm, Options{Prior: c.prior}), 2)
		if err != nil || from != c.from {
			t.Errorf("a %s prior's draws rest on age %d, want %d (%v)", c.prior, from, c.from, err)
		}
		if ofNothing := slices.Equal(draws, nothing); ofNothing != (c.from == 0) {
			t.Errorf("a %s prior's draws are those of nothing counted: %v", c.prior, ofNothing)
		}
	}
}
