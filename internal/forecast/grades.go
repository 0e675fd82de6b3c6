package forecast

import (
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
)

// graded are the stems of one age, flush and season by grade, from the worst to the best.
type graded struct {
	age, flush int
	season     crop.Season
	stems      [4]float64
}

// How many stems' worth one thing says of another: shares of grades vary from season to season (and from age to age, and
// from week to week) as those of so many stems drawn at random would (common practice, no source: a rainy week spoils a
// quarter of the heads).
const (
	alikeAges    = 10
	alikeSeasons = 40
	alikeWeeks   = 60
	evenGrades   = 4 // before anything was graded: every grade alike, and little said
)

// grade notes a visit's graded stems.
func (r *records) grade(v crop.Visit, fall bool) {
	planting := v.Planting
	if v.Plant != "" {
		planting = r.farm.Plants[v.Plant].Planting
	}
	season := r.farm.Calendar.SeasonOf(v.Date)
	age := v.Age
	if p, known := r.farm.Plantings[planting]; known {
		age = p.AgeIn(season)
	}
	if age < 1 {
		return
	}
	g := r.gradedOf(age, flushPlace(fall), season)
	for _, count := range v.Counts {
		if rank := count.Grade.Rank(); rank >= 0 {
			g.stems[rank] += float64(count.Stems)
		}
	}
}

func (r *records) gradedOf(age, flush int, season crop.Season) *graded {
	for i := range r.graded {
		g := &r.graded[i]
		if g.age == age && g.flush == flush && g.season == season {
			return g
		}
	}
	r.graded = append(r.graded, graded{age: age, flush: flush, season: season})
	return &r.graded[len(r.graded)-1]
}

// gradeShares draws the shares of grades of an age and flush in the season asked about.
type gradeShares struct {
	usual   [4]float64 // as Dirichlet counts: what other seasons and ages say
	present [4]float64 // what this season says
}

// shares gathers what is known of an age and flush. Other ages of the flush stand behind it, and the other flush behind
// those.
func (r *records) shares(age, flush int) gradeShares {
	var s gradeShares
	even := [4]float64{evenGrades / 4.0, evenGrades / 4.0, evenGrades / 4.0, evenGrades / 4.0}
	behind := pooled(even, r.graded, func(g graded) bool { return g.flush != flush })
	behind = pooled(limited(behind, alikeAges), r.graded, func(g graded) bool { return g.flush == flush && g.age != age })
	s.usual = pooled(limited(behind, alikeAges), r.graded, func(g graded) bool {
		return g.flush == flush && g.age == age && g.season != r.season
	})
	for _, g := range r.graded {
		if g.flush == flush && g.age == age && g.season == r.season {
			s.present = limited(g.stems, 2*alikeWeeks)
		}
	}
	return s
}

// pooled adds some seasons' shares to what stands behind them, each season for as much as it says of another.
func pooled(behind [4]float64, all []graded, of func(graded) bool) [4]float64 {
	for _, g := range all {
		if !of(g) {
			continue
		}
		for k, stems := range limited(g.stems, alikeSeasons) {
			behind[k] += stems
		}
	}
	return behind
}

// limited is n stems' worth n/(1+n/most), the most that they can say.
func limited(stems [4]float64, most float64) [4]float64 {
	n := stems[0] + stems[1] + stems[2] + stems[3]
	for k := range stems {
		stems[k] /= 1 + n/most
	}
	return stems
}

// draw gives the season's shares.
func (s gradeShares) draw(src *rand.Rand) [4]float64 {
	usual := dirichlet(src, s.usual)
	var counts [4]float64
	for k := range counts {
		counts[k] = alikeSeasons*usual[k] + s.present[k]
	}
	return dirichlet(src, counts)
}

// split gives so many stems of one week to grades.
func split(src *rand.Rand, stems float64, shares [4]float64) (out [4]float64) {
	if stems == 0 {
		return out
	}
	var counts [4]float64
	for k := range counts {
		counts[k] = alikeWeeks * shares[k]
	}
	week := dirichlet(src, counts)
	rest := 1.0
	for k := range 3 {
		chance := min(week[k]/rest, 1)
		if chance > 0 {
			out[k] = distuv.Binomial{N: stems, P: chance, Src: src}.Rand()
		}
		stems -= out[k]
		rest -= week[k]
		if rest <= 0 {
			break
		}
	}
	out[3] = stems
	return out
}

// dirichlet draws shares.
func dirichlet(src *rand.Rand, counts [4]float64) [4]float64 {
	var out [4]float64
	sum := 0.0
	for k, n := range counts {
		out[k] = distuv.Gamma{Alpha: n + leastShape, Beta: 1, Src: src}.Rand()
		sum += out[k]
	}
	for k := range out {
		out[k] /= sum
	}
	return out
}
