package yield

import (
	"math"
	"reflect"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

func TestDrawsOfTheGradesAloneSayWhatTheWholeFitSays(t *testing.T) {
	farm := drawFarm(3).Farm
	report, err := Fit(farm, Options{})
	if err != nil {
		t.Fatal(err)
	}
	const oldest = 6
	draws, err := DrawGrades(farm, Options{}, oldest, 300)
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, age := range report.Ages {
		stems, want := 0.0, [4]float64{}
		for _, cell := range age.Grades {
			n := float64(cell.Stems)
			stems += n
			for k, p := range []Figure{cell.P.Out, cell.P.Second, cell.P.First, cell.P.Extra} {
				want[k] += n * float64(p)
			}
		}
		if stems == 0 || age.Age > oldest {
			continue
		}
		seen++
		for k := range want {
			mean := 0.0
			for _, draw := range draws {
				mean += draw[age.Age-1][k] / float64(len(draws))
			}
			if math.Abs(mean-want[k]/stems) > 0.02 {
				t.Errorf("age %d, %s: %.3f, by the whole fit %.3f", age.Age, crop.GradesLowToHigh[k], mean, want[k]/stems)
			}
		}
	}
	if seen == 0 {
		t.Fatal("nothing is graded: this test would not see what it is for")
	}
	checkShares(t, draws, oldest)
	again, err := DrawGrades(farm, Options{}, oldest, 300)
	if err != nil || !reflect.DeepEqual(again, draws) {
		t.Errorf("the same farm gives other draws (%v)", err)
	}
}

// The model that the draws are of has fewer nodes than the whole fit's, and draws that are worth less.
func TestDrawsOfGradesSpreadAsThoseOfTheWholeFit(t *testing.T) {
	farm := drawFarm(3).Farm
	const most = 500
	quick, err := DrawGrades(farm, Options{}, 1, most)
	if err != nil {
		t.Fatal(err)
	}
	d := layOut(farm, Options{})
	g := newGradeModel(d.graded, d.poolOf)
	if err := g.fit(); err != nil {
		t.Fatal(err)
	}
	parts, points := g.partsOfAge(1), g.draws.Thin(most).Points
	if len(parts) == 0 {
		t.Fatal("nothing of the first season is graded: this test would not see what it is for")
	}
	for k, grade := range crop.GradesLowToHigh {
		var of, whole []float64
		for i := range quick {
			of = append(of, quick[i][0][k])
		}
		for _, point := range points {
			var shares GradeShares
			g.probs(shares[:], point, parts)
			whole = append(whole, shares[k])
		}
		median, width := middleOf(of)
		wantMedian, wantWidth := middleOf(whole)
		// Of 500 draws the median is known to a thirtieth of the width, and the width itself to a twentieth.
		if ratio := width / wantWidth; math.Abs(median-wantMedian) > 0.08*wantWidth || ratio < 0.8 || ratio > 1.25 {
			t.Errorf("%s: %.4f and nine in ten within %.4f, by the whole fit %.4f and %.4f", grade, median, width, wantMedian, wantWidth)
		}
	}
}

// middleOf is the median, and how far apart the ends of the middle nine in ten lie.
func middleOf(values []float64) (median, width float64) {
	return stats.Quantile(values, 0.5), stats.Quantile(values, 1-tail) - stats.Quantile(values, tail)
}

func checkShares(t *testing.T, draws [][]GradeShares, oldest int) {
	t.Helper()
	for k, draw := range draws {
		if len(draw) != oldest {
			t.Fatalf("draw %d is of %d ages, want %d", k, len(draw), oldest)
		}
		for age, shares := range draw {
			if sum := shares[0] + shares[1] + shares[2] + shares[3]; math.Abs(sum-1) > 1e-9 {
				t.Fatalf("draw %d, age %d: the shares come to %v", k, age+1, sum)
			}
		}
	}
}

// By the priors a grade's shares are even, and better in the second season than in the first.
func TestDrawsOfGradesOfAFarmWithoutRecordsAreThePriors(t *testing.T) {
	draws, err := DrawGrades(crop.NewFarm(), Options{}, 2, 600)
	if err != nil {
		t.Fatal(err)
	}
	checkShares(t, draws, 2)
	out, extra := [2]float64{}, [2]float64{}
	for _, draw := range draws {
		for age, shares := range draw {
			out[age] += shares[0] / float64(len(draws))
			extra[age] += shares[3] / float64(len(draws))
		}
	}
	if math.Abs(out[0]-0.3) > 0.1 || out[1] > out[0]-0.05 || extra[1] < extra[0]+0.05 {
		t.Errorf("out %.2f, extra %.2f", out, extra)
	}
}
