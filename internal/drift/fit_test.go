package drift

import (
	"math"
	"testing"
)

// The slope is compared with differences of the likelihood, at a point that is no mode.
func TestTheSlopeIsThatOfTheLikelihood(t *testing.T) {
	m := ordinaryStand(1)
	m.plants, m.references, m.odd = 8, 2, 0.2
	l := layOut(m.grow().Stand)
	l.blocks[3].free[1] = true
	w := &workspace{}
	theta := make([]float64, parameterCount)
	for i, p := range priors() {
		theta[i] = p.mean + 0.3*math.Sin(float64(i))
	}
	at := func(theta []float64) *solution {
		sol, err := l.solve(l.blocks, spreadsAt(theta), w)
		if err != nil {
			t.Fatal(err)
		}
		return sol
	}
	slope, _ := l.score(l.blocks, at(theta), w)
	for i := range theta {
		const step = 1e-4
		up, down := append([]float64(nil), theta...), append([]float64(nil), theta...)
		up[i] += step
		down[i] -= step
		want := (at(up).logLikelihood - at(down).logLikelihood) / (2 * step)
		if math.Abs(slope[i]-want) > 1e-4*(1+math.Abs(want)) {
			t.Errorf("parameter %d: slope %.8g, differences say %.8g", i, slope[i], want)
		}
	}
}
