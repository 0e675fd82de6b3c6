package forecast

import (
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
)

// told are the stems of one kind of plants or stems, of one flush and season, by class: those of an age by grade, those of a
// grade by length, those of a stock by colour.
type told struct {
	kind, flush int
	season      crop.Season
	stems       []float64
}

// How many stems' worth one thing says of another: shares of grades vary from season to season (and from age to age, and
// from week to week) as those of so many stems drawn at random would (common practice, no source: a rainy week spoils a
// quarter of the heads). Lengths are taken to vary likewise.
const (
	alikeKinds   = 10
	alikeSeasons = 40
	alikeWeeks   = 60
	evenClasses  = 4 // before anything was told: every class alike, and little said
)

// tallies are all that was told of one thing.
type tallies struct {
	classes int
	all     []told
}

// of is where stems of a kind, flush and season are added up.
func (t *tallies) of(kind, flush int, season crop.Season) []float64 {
	for _, one := range t.all {
		if one.kind == kind && one.flush == flush && one.season == season {
			return one.stems
		}
	}
	t.all = append(t.all, told{kind, flush, season, make([]float64, t.classes)})
	return t.all[len(t.all)-1].stems
}

// shares is what is known of the shares of one kind and flush in the season asked about.
type shares struct {
	usual   []float64 // as Dirichlet counts, of seasons at large: this one says of them what any does
	present []float64 // what this season says of itself; none where seasons are alike
}

// shares gathers what is known of a kind and flush. Other kinds of the flush stand behind it, and the other flush behind
// those.
func (t *tallies) shares(kind, flush int, season crop.Season) shares {
	even := make([]float64, t.classes)
	for k := range even {
		even[k] = evenClasses / float64(t.classes)
	}
	behind := t.pooled(even, func(o told) bool { return o.flush != flush })
	behind = t.pooled(limited(behind, alikeKinds), func(o told) bool { return o.flush == flush && o.kind != kind })
	return t.sharesOver(limited(behind, alikeKinds), kind, flush, season)
}

// sharesOver adds what is told of the kind itself to what stands behind it.
func (t *tallies) sharesOver(behind []float64, kind, flush int, season crop.Season) shares {
	s := shares{present: make([]float64, t.classes)}
	s.usual = t.pooled(behind, func(o told) bool { return o.flush == flush && o.kind == kind })
	for _, o := range t.all {
		if o.flush == flush && o.kind == kind && o.season == season {
			s.present = limited(o.stems, 2*alikeWeeks)
		}
	}
	return s
}

// pooled adds some seasons' shares to what stands behind them, each season for as much as it says of another.
func (t *tallies) pooled(behind []float64, of func(told) bool) []float64 {
	for _, o := range t.all {
		if !of(o) {
			continue
		}
		for k, stems := range limited(o.stems, alikeSeasons) {
			behind[k] += stems
		}
	}
	return behind
}

// limited is n stems' worth n/(1+n/most), the most that they can say.
func limited(stems []float64, most float64) []float64 {
	n := 0.0
	for _, one := range stems {
		n += one
	}
	out := make([]float64, len(stems))
	for k := range stems {
		out[k] = stems[k] / (1 + n/most)
	}
	return out
}

// draw draws the season's shares.
func (s shares) draw(src *rand.Rand) []float64 {
	season := dirichlet(src, s.usual)
	if s.present == nil {
		return season
	}
	for k := range season {
		season[k] = alikeSeasons*season[k] + s.present[k]
	}
	return dirichlet(src, season)
}

// inAWeek draws the shares of one week of a season.
func inAWeek(src *rand.Rand, season []float64) []float64 {
	if len(season) == 1 {
		return season
	}
	counts := make([]float64, len(season))
	for k, share := range season {
		counts[k] = alikeWeeks * share
	}
	return dirichlet(src, counts)
}

// dirichlet draws shares.
func dirichlet(src *rand.Rand, counts []float64) []float64 {
	out := make([]float64, len(counts))
	sum := 0.0
	for k, n := range counts {
		if n > leastShape {
			out[k] = distuv.Gamma{Alpha: n, Beta: 1, Src: src}.Rand()
			sum += out[k]
		}
	}
	if sum <= 0 { // so small are the counts that no draw shows: all goes to the last class
		clear(out)
		out[len(out)-1], sum = 1, 1
	}
	for k := range out {
		out[k] /= sum
	}
	return out
}

// few stems are quicker dealt one by one than class by class.
const few = 40

// placed deals stems out by shares.
func placed(src *rand.Rand, stems int, shares []float64, to func(class, stems int)) {
	if len(shares) == 1 {
		to(0, stems)
		return
	}
	if stems <= few {
		for range stems {
			to(oneOf(src, shares), 1)
		}
		return
	}
	rest := 1.0
	for k := 0; k < len(shares)-1 && stems > 0; k++ {
		if shares[k] <= 0 {
			continue
		}
		here := stems
		if chance := shares[k] / rest; chance < 1 {
			here = int(distuv.Binomial{N: float64(stems), P: chance, Src: src}.Rand())
		}
		to(k, here)
		stems -= here
		rest -= shares[k]
	}
	if stems > 0 {
		to(len(shares)-1, stems)
	}
}

// oneOf draws a class.
func oneOf(src *rand.Rand, shares []float64) int {
	at := src.Float64()
	for k, share := range shares {
		if at -= share; at < 0 {
			return k
		}
	}
	return len(shares) - 1
}
