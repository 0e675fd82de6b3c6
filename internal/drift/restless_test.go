package drift

import (
	"math"
	"testing"
)

// At the variances by which readings were made up, the squared distances left are worth their degrees of freedom, also of
// plants that drift.
func TestWhatIsLeftOfReadingsIsWorthItsDegreesOfFreedom(t *testing.T) {
	var left, df float64
	for seed := range uint64(8) {
		m := ordinaryStand(60 + seed)
		m.drifters, m.sizes = 0.3, []float64{8}
		l := layOut(m.grow().Stand)
		s := spreadsAt(trueTheta(m))
		w := &workspace{}
		sol, err := l.solve(l.blocks, s, w)
		if err != nil {
			t.Fatal(err)
		}
		if err := l.eachShift(l.blocks, sol, false, w, func(*block, []shift) { left, df = left+w.scatter.left, df+w.scatter.df }); err != nil {
			t.Fatal(err)
		}
	}
	// Less than one, since what sessions did is found from the same readings.
	if ratio := left / df; ratio < 0.85 || ratio > 1.05 {
		t.Errorf("%.0f are left of %.0f degrees of freedom", left, df)
	}
}

// trueTheta is the parameters of a made-up stand.
func trueTheta(m *made) []float64 {
	theta := make([]float64, parameterCount)
	for i, p := range priors() {
		theta[i] = p.mean
	}
	for c, sd := range map[int]vector{atWobble: m.wobble, atPlantDay: m.day, atHead: m.head, atSession: {m.session, m.session, m.session}} {
		for axis := range 3 {
			theta[components[c].first+axis] = math.Log(sd[axis])
		}
	}
	theta[components[atApparatus].first] = math.Log(m.apparatus[0])
	return theta
}

// The same drift beside the same others: heads that lie far apart within each day say that the plant is restless.
func TestARestlessPlantIsGivenMoreDoubtAndNoneIsGivenLess(t *testing.T) {
	judged := func(apart float64) PlantSeason {
		g := quiet(3).grow()
		g.move(paler(t, g, 5), func(r Reading) bool { return r.Plant == mover && r.Season > 2021 })
		side := 1.0
		for i, r := range g.Readings {
			if r.Plant == mover {
				g.Readings[i].Lab = labVector(r.Lab).plus(vector{apart, apart, -apart}.times(side)).lab()
				side = -side
			}
		}
		return find(t, mustJudge(t, g.Stand).PlantSeasons, mover, 2022)
	}
	still, restless := judged(0), judged(4)
	if wider := restless.Shift.Cov.LL / still.Shift.Cov.LL; wider < 1.7 || wider > 2.2 || restless.Shift.P < 3*still.Shift.P {
		t.Errorf("%.2f times as wide, p from %.5f to %.5f", wider, still.Shift.P, restless.Shift.P)
	}
	if got := (scatter{left: 500, df: 30}).restless(); got != mostRestless {
		t.Errorf("a plant with one odd day is taken for %.2f times as restless", got)
	}
	if got := (scatter{left: 0, df: 30}).restless(); got != 1 {
		t.Errorf("a plant whose photos are all alike is taken for %.2f times as restless", got)
	}
}
