package drift

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"corymb/internal/crop"
)

// glmmTMB is one fit in fit.json.
type glmmTMB struct {
	Wobble    sdAndCor  `json:"wobble"`
	PlantDay  sdAndCor  `json:"plant_day"`
	Apparatus float64   `json:"apparatus"`
	Session   []float64 `json:"session"`
	Head      []float64 `json:"head"`
}

type sdAndCor struct {
	SD  []float64   `json:"sd"`
	Cor [][]float64 `json:"cor"`
}

func (s sdAndCor) covariance() square {
	var c square
	for i := range c {
		for j := range c {
			c[i][j] = s.SD[i] * s.SD[j] * s.Cor[i][j]
		}
	}
	return c
}

func (g glmmTMB) spreads() *spreads {
	s := &spreads{}
	s.of[atWobble], s.of[atPlantDay] = g.Wobble.covariance(), g.PlantDay.covariance()
	s.of[atApparatus] = identity.scale(g.Apparatus * g.Apparatus)
	for i := range 3 {
		s.of[atHead][i][i] = g.Head[i] * g.Head[i]
		s.of[atSession][i][i] = g.Session[i] * g.Session[i]
	}
	return s
}

// referenceLayout is the readings beside fit.R, in the model that R was given: axes of L*, a* and b* for every plant, no
// uncertainty stated, and cameras and seasons that nothing holds.
func referenceLayout(t *testing.T) *layout {
	t.Helper()
	const all = 1e3
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", "drift", "readings.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	var s Stand
	for _, line := range lines[1:] {
		r := Reading{Plant: crop.PlantID(line[0]), Season: crop.Season(number(line[1])), Date: crop.Date(line[2]), Camera: line[3], Stage: crop.StageFull, Light: crop.LightShade, Card: "a", SE: [3]float64{1e-5, 1e-5, 1e-5}}
		r.Lab = vector{number(line[4]), number(line[5]), number(line[6])}.lab()
		s.Readings = append(s.Readings, r)
	}
	l := layOut(s)
	for i, e := range l.list {
		switch e.kind {
		case ofCamera:
			l.list[i].sd = alike(all, 3)
		case ofSeason:
			l.list[i].sd = []float64{all, all, all, 1e-6, 1e-6, 1e-6}
		}
	}
	for _, b := range l.blocks {
		b.frame = frame{cos: 1, clear: 1}
	}
	return l
}

func readReference(t *testing.T, into any) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", "drift", "fit.json"))
	if err == nil {
		err = json.Unmarshal(b, into)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// Source: testdata/reference/drift/fit.json (R 4.2.2, glmmTMB 1.1.5, REML).
func TestVariancesAsAnotherProgramFindsThem(t *testing.T) {
	var want struct {
		All glmmTMB `json:"all"`
	}
	readReference(t, &want)
	l := referenceLayout(t)
	flat := make([]normal, parameterCount)
	start := make([]float64, parameterCount)
	for _, c := range components {
		if c.name == Unfit { // nothing is, so only a prior holds it
			flat[c.first].precision = 1
		}
	}
	for k := range 3 { // all plants are taken for alike
		flat[growingAt+k].precision = 1
	}
	f, err := l.fit(l.blocks, flat, start, 1e-6, &workspace{})
	if err != nil {
		t.Fatal(err)
	}
	for c, cov := range want.All.spreads().of {
		if c == atUnfit {
			continue
		}
		for i := range 3 {
			near(t, string(components[c].name), math.Sqrt(f.of[c][i][i]), math.Sqrt(cov[i][i]), 2e-4)
			for j := range i {
				scale := math.Sqrt(f.of[c][i][i] * f.of[c][j][j])
				near(t, string(components[c].name)+", correlation", f.of[c][i][j]/scale, cov[i][j]/scale, 5e-4)
			}
		}
	}
}

// The same source: a plant's shifts in two seasons as fixed effects, at the variances that R found with them.
func TestShiftsAsAnotherProgramFindsThem(t *testing.T) {
	var want struct {
		Own struct {
			glmmTMB
			Plant crop.PlantID `json:"plant"`
			Est   []float64    `json:"est"`
			Cov   [][]float64  `json:"cov"`
		} `json:"own"`
	}
	readReference(t, &want)
	l := referenceLayout(t)
	w := &workspace{}
	sol, err := l.solve(l.blocks, want.Own.spreads(), w)
	if err != nil {
		t.Fatal(err)
	}
	asked := 0
	if err := l.eachShift(l.blocks, sol, false, w, func(b *block, list []shift) {
		if b.plant != want.Own.Plant {
			return
		}
		for _, s := range list {
			at := 3 * (s.season - 1)
			for i := range 3 {
				asked++
				near(t, "shift", s.by[i], want.Own.Est[at+i], 1e-4)
				for j := range 3 {
					near(t, "covariance", s.cov[i][j], want.Own.Cov[at+i][at+j], 1e-4)
				}
			}
		}
	}); err != nil {
		t.Fatal(err)
	}
	if asked != 6 {
		t.Errorf("%d numbers were compared, want 6", asked)
	}
}
