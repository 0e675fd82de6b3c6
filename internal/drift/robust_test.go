package drift

import (
	"math"
	"testing"
)

// The same plants, of which a sixth drift or none: what is called an ordinary year must come out alike.
func TestPlantsThatDriftDoNotPassForAnOrdinaryYear(t *testing.T) {
	wobble := func(drifters float64) (sum float64) {
		for seed := range uint64(3) {
			m := ordinaryStand(40 + seed)
			m.plants, m.drifters, m.sizes = 40, drifters, []float64{6, 8, 10}
			f, err := layOut(m.grow().Stand).fitRobustly(&workspace{})
			if err != nil {
				t.Fatal(err)
			}
			sum += f.of[atWobble].trace()
		}
		return sum
	}
	none, some := wobble(0), wobble(1.0/6)
	if ratio := math.Sqrt(some / none); ratio > 1.2 || ratio < 0.8 {
		t.Errorf("with drifting plants an ordinary year's standard deviation comes out %.2f times as large", ratio)
	}
}
