package division

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
)

// graded are the stems of one species, age and season by grade, the lowest first.
type graded struct {
	gradedOf
	stems Shares
}

type gradedOf struct {
	species string
	known   bool // of which planting they were cut, and so the species
	age     int
	season  crop.Season
}

// How many stems' worth one thing says of another (common practice, no source): a season's shares of grades are as those of
// so many stems drawn from its age's, and other ages speak for so many.
const (
	alikeSeasons = 40
	alikeAges    = 10
	evenGrades   = 4 // before anything was graded
)

// mostAge by which grades are told apart: later seasons are alike (common practice, no source).
const mostAge = 5

func gradedOn(farm crop.Farm) []graded {
	sums := map[gradedOf]*Shares{}
	for _, v := range farm.Visits {
		if !isCut(v) {
			continue
		}
		planting := plantingCut(farm, v)
		k := gradedOf{age: v.Age, season: farm.Calendar.SeasonOf(v.Date)}
		if p, known := farm.Plantings[planting]; known {
			k.species, k.known, k.age = farm.Stocks[p.Stock].Species, true, p.AgeIn(k.season)
		}
		if k.age < 1 {
			continue
		}
		k.age = min(k.age, mostAge)
		if sums[k] == nil {
			sums[k] = &Shares{}
		}
		for _, c := range v.Counts {
			if rank := c.Grade.Rank(); rank >= 0 {
				sums[k][rank] += float64(c.Stems)
			}
		}
	}
	var list []graded
	for k, stems := range sums {
		list = append(list, graded{k, *stems})
	}
	slices.SortFunc(list, func(a, b graded) int {
		if a.known != b.known {
			if b.known {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(a.species, b.species), cmp.Compare(a.age, b.age), cmp.Compare(a.season, b.season))
	})
	return list
}

// usualGrades are by age Dirichlet counts of the shares of grades of a species. Other ages and other species speak for a few
// stems of it.
func usualGrades(all []graded, species string) (usual [mostAge]Shares) {
	for age := range usual {
		own := func(g graded) bool { return g.age == age+1 && (g.species == species || !g.known) }
		sum := Shares{evenGrades / 4.0, evenGrades / 4.0, evenGrades / 4.0, evenGrades / 4.0}
		for _, g := range all {
			if !own(g) {
				sum.add(limited(g.stems, alikeSeasons))
			}
		}
		sum = limited(sum, alikeAges)
		for _, g := range all {
			if own(g) {
				sum.add(limited(g.stems, alikeSeasons))
			}
		}
		usual[age] = sum
	}
	return usual
}

func (s *Shares) add(o Shares) {
	for g := range s {
		s[g] += o[g]
	}
}

// limited is n stems' worth n/(1+n/most), the most that they can say.
func limited(stems Shares, most float64) Shares {
	n := stems[0] + stems[1] + stems[2] + stems[3]
	for g := range stems {
		stems[g] /= 1 + n/most
	}
	return stems
}

// drawQuality draws the shares of grades of one season, by species and age.
func (p *planner) drawQuality(src *rand.Rand) []Shares {
	list := make([]Shares, len(p.usual))
	for kind := range list {
		usual := dirichlet(src, p.usual[kind])
		for g := range usual {
			usual[g] *= alikeSeasons
		}
		list[kind] = dirichlet(src, usual)
	}
	return list
}

// gradedAs is the place among a season's shares of grades of those of a plant's species at an age.
func (one *plant) gradedAs(age int) int { return one.species*mostAge + min(age, mostAge) - 1 }

func dirichlet(src *rand.Rand, counts Shares) (shares Shares) {
	const least = 1e-9
	sum := 0.0
	for g, n := range counts {
		shares[g] = distuv.Gamma{Alpha: n + least, Beta: 1, Src: src}.Rand()
		sum += shares[g]
	}
	for g := range shares {
		shares[g] /= sum
	}
	return shares
}
