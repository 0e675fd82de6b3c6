package yield

import (
	"fmt"
	"math"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// lengthModel is an interval-censored normal of the measured stems, in centimetres.
type lengthModel struct {
	*qualityModel
	measured []measured // by cell
	first    int
	family   *stats.Intervals
}

func newLengthModel(list []measured, poolOf func(whence) pool) *lengthModel {
	l := &lengthModel{qualityModel: newQualityModel(lengthNodes, lengthPriors, poolOf), measured: list}
	l.first = l.p.own(parFirstOf, lengthPriors.first)
	f := &stats.Intervals{LogSD: l.p.own(parLengthSD, lengthSDPrior), Ratio: l.p.own(parLengthRatio, lengthRatioPrior)}
	l.mixed.Effect = stats.LogSDOfBoth(f.LogSD, f.Ratio)
	l.extra = l.termsOf
	for _, s := range list {
		l.lay(*s.whence, s.rank, s.stems)
		lo, hi := openBelow(bounds(s.classes))
		f.Lo, f.Hi, f.Count = append(f.Lo, lo), append(f.Hi, hi), append(f.Count, s.stems)
	}
	f.Pooled, f.Spread = l.pooled, l.spread
	l.family = f
	return l
}

func (l *lengthModel) termsOf(rank int) []stats.Coef {
	return append([]stats.Coef{{Parameter: l.first, Value: 1}}, rankTerms(l.p, rank)...)
}

// bounds of length classes, in centimetres; a class without an upper bound is open.
func bounds(classes []crop.LengthClass) (lo, hi []float64) {
	for _, c := range classes {
		lo = append(lo, float64(c.Lo)/10)
		if c.Hi >= crop.OpenEnd {
			hi = append(hi, math.Inf(1))
		} else {
			hi = append(hi, float64(c.Hi)/10)
		}
	}
	return lo, hi
}

// openBelow takes the lowest class for all below its upper bound: no stem is shorter than 0, which a normal
// does not know.
func openBelow(lo, hi []float64) ([]float64, []float64) {
	for c, v := range lo {
		if v <= 0 {
			lo[c] = math.Inf(-1)
		}
	}
	return lo, hi
}

func (l *lengthModel) fit() error {
	if len(l.measured) == 0 {
		return nil
	}
	if err := l.qualityModel.fit(l.family, l.p.start()); err != nil {
		return fmt.Errorf("from %d rows of measured stems: %w", len(l.measured), err)
	}
	return nil
}

// mean length at a point, over parts; plants' effects are about 0.
func (l *lengthModel) mean(point []float64, parts []part) float64 {
	sum := 0.0
	for _, t := range parts {
		sum += t.weight * t.eta(point)
	}
	return sum
}
