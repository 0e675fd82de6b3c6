package drift

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"corymb/internal/crop"
)

// oddStand is what no grower means to photograph: a few plants, anything told of them, colours that lie on each other or
// far apart, and uncertainties of a hundredth or of fifty units.
func oddStand(source *rand.Rand) Stand {
	var s Stand
	pick := func(list ...string) string { return list[source.IntN(len(list))] }
	centre := vector{100 * source.Float64(), 80 * source.NormFloat64() * float64(source.IntN(2)), 80 * source.NormFloat64() * float64(source.IntN(2))}
	spread := []float64{0, 0.01, 1, 30}[source.IntN(4)]
	for p := range 1 + source.IntN(6) {
		id := crop.PlantID(fmt.Sprint("p", p))
		if source.IntN(3) == 0 {
			s.References = append(s.References, id)
		}
		for range 1 + source.IntN(12) {
			year := 2021 + source.IntN(4)
			r := Reading{
				Plant: id, Season: crop.Season(year), Date: crop.Date(fmt.Sprintf("%d-06-0%d", year, 1+source.IntN(3))), Camera: pick("", "one", "two"),
				Stage: crop.Stage(pick("", "full", "full", "full", "fading", "later")), Light: crop.Light(pick("", "shade", "shade", "sun", "indoors", "later")),
				Card: pick("", "a", "a", "b"),
			}
			r.Lab = centre.plus(vector{source.NormFloat64(), source.NormFloat64(), source.NormFloat64()}.times(spread)).lab()
			for axis := range r.SE {
				r.SE[axis] = 0.01 * math.Pow(5000, source.Float64()*float64(source.IntN(2)))
			}
			s.Readings = append(s.Readings, r)
		}
	}
	return s
}

func TestWhateverWasReadIsJudgedInNumbers(t *testing.T) {
	seeds := 10 * standsAsked()
	t.Logf("%d stands from seed %d on", seeds, *driftSeed)
	for i := range seeds {
		seed := *driftSeed + uint64(i)
		s := oddStand(rand.New(rand.NewPCG(seed, 30)))
		r, err := Judge(s)
		if err == nil {
			_, err = json.Marshal(r)
		}
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
}
