package yield

import (
	"cmp"
	"fmt"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// gradeModel is a cumulative logit of the graded stems.
type gradeModel struct {
	*qualityModel
	graded  []graded // by cell
	family  *stats.Ordered
	flushes []crop.Flush
}

// newGradeModel lays the graded stems out; poolOf tells which plants are behind stems.
func newGradeModel(list []graded, poolOf func(whence) pool) *gradeModel {
	g := &gradeModel{qualityModel: newQualityModel(gradeNodes, gradePriors, poolOf), graded: list}
	plantSD := g.p.own(parPlantSD, plantGradeSDPrior)
	g.mixed.Effect = stats.LogSD(plantSD)
	first := g.p.own(parThreshold, firstThresholdPrior)
	for k := 1; k < len(crop.GradesLowToHigh)-1; k++ {
		g.p.own(name("log spacing", k), logSpacingPrior)
	}
	f := &stats.Ordered{First: first, EffectSD: plantSD}
	for _, s := range list {
		g.lay(*s.whence, 0, s.stems)
		f.Count = append(f.Count, s.stems)
		if !slices.Contains(g.flushes, s.flush) {
			g.flushes = append(g.flushes, s.flush)
		}
	}
	f.Pooled, f.Spread = g.pooled, g.spread
	g.family = f
	slices.SortFunc(g.flushes, compareFlush)
	return g
}

// compareFlush puts spring first, then fall, then any others by name.
func compareFlush(a, b crop.Flush) int {
	return cmp.Or(cmp.Compare(flushRank(a), flushRank(b)), cmp.Compare(a, b))
}

func flushRank(f crop.Flush) int {
	switch f {
	case crop.FlushSpring:
		return 0
	case crop.FlushFall:
		return 1
	}
	return 2
}

func (g *gradeModel) fit() error {
	if len(g.graded) == 0 {
		return nil
	}
	if err := g.qualityModel.fit(g.family, g.p.start()); err != nil {
		return fmt.Errorf("from %d rows of graded stems: %w", len(g.graded), err)
	}
	return nil
}

// effectRule integrates over a plant's effect where probabilities are averaged over plants.
var effectRule = stats.NormalRule(15)

// probs writes the probability of each grade at a point, over plants and parts.
func (g *gradeModel) probs(into []float64, point []float64, parts []part) {
	f := g.family
	f.Set(point)
	sd := g.sdAt(point)
	single := make([]float64, len(into))
	clear(into)
	for _, t := range parts {
		eta := t.eta(point)
		for q, z := range effectRule.At {
			f.Probs(single, eta+sd*z)
			for k, p := range single {
				into[k] += t.weight * effectRule.Weight[q] * p
			}
		}
	}
}
