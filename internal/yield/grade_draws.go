package yield

import (
	"fmt"
	"math"
	"math/rand/v2"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// GradeShares are the shares of a season's stems by grade, in the order of crop.GradesLowToHigh.
type GradeShares [4]float64

// DrawGrades fits the grades alone and draws at most so many times how the stems of each age, from 1 up to the oldest asked
// about, are shared by grade: over plants, and over flushes, beds and weeks as its graded stems fell. Of an age of which
// nothing was graded they are those of a first flush in another bed; of a farm without graded stems, what common practice
// says. The first index is the draw, the second the age less 1. The draws are worth no more than are kept, by a quick
// quadrature. The same farm and options give the same draws.
func DrawGrades(farm crop.Farm, options Options, oldest, most int) ([][]GradeShares, error) {
	d := layOut(farm, options)
	g := newGradeModel(d.graded, d.poolOf)
	g.mixed.Nodes, g.mixed.Worth = quickNodes, float64(max(most, quickWorth))
	if err := g.fit(); err != nil {
		return nil, fmt.Errorf("draw grades by age: %w", err)
	}
	source := rand.New(rand.NewPCG(drawSeed, 10))
	points := g.draws.Thin(most).Points
	if len(d.graded) == 0 {
		points = g.fromPriors(most, source)
	}
	parts := make([][]part, oldest)
	for age := range parts {
		parts[age] = g.partsOfAge(age + 1)
	}
	draws := make([][]GradeShares, len(points))
	for k, point := range points {
		draws[k] = make([]GradeShares, oldest)
		for age, of := range parts {
			if len(of) == 0 {
				of = []part{{row: stats.Row{Offset: g.unseen(point, age+1, source)}, weight: 1}}
			}
			g.probs(draws[k][age][:], point, of)
		}
	}
	return draws, nil
}

// partsOfAge are those of all flushes of an age, by their stems.
func (g *gradeModel) partsOfAge(age int) []part {
	stems, all := map[crop.Flush]float64{}, 0.0
	for _, s := range g.graded {
		if s.age == age {
			n := sumOf(s.stems)
			stems[s.flush], all = stems[s.flush]+n, all+n
		}
	}
	var list []part
	for _, flush := range g.flushes {
		for _, of := range g.parts(age, flush) {
			of.weight *= stems[flush] / all
			list = append(list, of)
		}
	}
	return list
}

// unseen is the predictor of an age of which nothing was graded, in another planting and bed.
func (g *gradeModel) unseen(point []float64, age int, source *rand.Rand) float64 {
	eta := 0.0
	for a := 2; a <= age; a++ {
		prior := g.priors.laterStep
		if a == 2 {
			prior = g.priors.secondStep
		}
		if i, known := g.p.at[name("step", a)]; known {
			eta += point[i]
		} else {
			eta += prior.Mean + prior.SD*source.NormFloat64()
		}
	}
	for _, scale := range []string{scalePlot, scaleBed} {
		logSD := g.priors.plotSD.Mean + g.priors.plotSD.SD*source.NormFloat64()
		if i, known := g.p.scalePlace(scale); known {
			logSD = point[i]
		}
		eta += math.Exp(logSD) * source.NormFloat64()
	}
	return eta
}

// fromPriors draws the parameters of a model that has seen nothing: those of plants and of thresholds.
func (g *gradeModel) fromPriors(most int, source *rand.Rand) [][]float64 {
	g.family.Count = [][]float64{make([]float64, len(crop.GradesLowToHigh))} // tells how many grades there are
	points := make([][]float64, most)
	for k := range points {
		points[k] = make([]float64, len(g.p.names))
		for i, prior := range g.p.h.Priors {
			points[k][i] = prior.Mean + prior.SD*source.NormFloat64()
		}
	}
	return points
}
