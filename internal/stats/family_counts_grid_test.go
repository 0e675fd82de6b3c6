package stats

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

func TestDensitiesAtEvenStepsAreThoseOfEachStep(t *testing.T) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	src := rand.New(rand.NewPCG(seed, 1))
	f := &Counts{Count: []int{0, 1, 7, 300, 5, 40}, AtLeast: []bool{false, false, false, false, true, false}, LogSize: []int{0, 0, 0, 1, 1, 1}}
	for range 200 {
		f.Set([]float64{src.NormFloat64() * 2, 3 + src.NormFloat64()*5})
		for i := range f.Count {
			eta, step := 3*src.NormFloat64(), src.Float64()
			if src.IntN(10) == 0 {
				eta = -720 // where an exponential is nearly 0
			}
			to := make([]float64, 25)
			to[3] = 1
			f.addLogDensities(i, eta, step, to)
			to[3]--
			for k, got := range to {
				want := f.LogDensity(i, eta+float64(k)*step)
				if math.Abs(got-want) > 1e-11*(1+math.Abs(want)) {
					t.Fatalf("count %d, step %d from %v by %v: %v, want %v", i, k, eta, step, got, want)
				}
			}
		}
	}
}
