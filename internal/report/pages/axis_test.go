package pages

import (
	"math"
	"testing"
)

func TestAnAxisHoldsTheMostInAFewWholeSteps(t *testing.T) {
	for _, most := range []float64{0, 0.3, 1, 2.3, 8.2, 9, 11, 12.4, 100, 101, 1_240, 48_000} {
		a := axisTo(most, 0, 100)
		if a.most < most || a.step != math.Trunc(a.step) || a.most/a.step > 6 || a.most < 1 {
			t.Errorf("to %g: it ends at %g in steps of %g", most, a.most, a.step)
		}
	}
}
