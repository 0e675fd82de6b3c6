package forecast

import (
	"cmp"
	"fmt"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/yield"
)

// stand is the plants of one species. Nothing is learned of one from another: they bloom and bear each in its own way.
type stand struct {
	species string
	cohorts []cohort
	at      []int // where these stand among all cohorts
	plants  int   // in the season asked about
}

// stands are those of all species, that of which most plants stand first. There is one at least.
func (r *records) stands() []stand {
	var stands []stand
	for i, c := range r.cohorts {
		species := r.farm.Stocks[c.stock].Species
		k := slices.IndexFunc(stands, func(s stand) bool { return s.species == species })
		if k < 0 {
			k, stands = len(stands), append(stands, stand{species: species})
		}
		s := &stands[k]
		s.cohorts, s.at = append(s.cohorts, c), append(s.at, i)
		if c.season == r.season {
			s.plants += c.plants
		}
	}
	slices.SortFunc(stands, func(a, b stand) int {
		return cmp.Or(cmp.Compare(b.plants, a.plants), cmp.Compare(a.species, b.species))
	})
	if len(stands) == 0 {
		return []stand{{}}
	}
	return stands
}

// ahead is what is asked about some weeks, of each stand; the kinds of one come behind those of another.
func (r *records) ahead(weeks []crop.Date, stands []stand, leftOut func(i int) bool) ([]ahead, error) {
	last := r.farm.Calendar.Span(r.season).To
	spring := r.farm.Calendar.Spring(r.season)
	var all []ahead
	kinds := 0
	for _, of := range stands {
		a := ahead{season: r.season, asOf: r.day(r.asOf), firstKind: kinds}
		a.kinds = kindsOf(of.cohorts, r.season, func(i int) bool { return leftOut(of.at[i]) })
		kinds += len(a.kinds)
		a.monday = spring.DaysTo(r.asOf.Add(1).Monday())
		a.fallWith, a.fallWithout = of.fallSeasons(r.season)
		for _, monday := range weeks {
			a.ends = append(a.ends, spring.DaysTo(min(monday.Add(6), last)))
		}
		var err error
		if a.lasts, err = r.lasts(of.species); err != nil {
			return nil, err
		}
		all = append(all, a)
	}
	return all, nil
}

// lasts draws how plants last, until the season's stems show which stand: that nothing was found yet shows nothing.
func (r *records) lasts(species string) ([]yield.SurvivalDraw, error) {
	if len(r.begun()) > 0 {
		return nil, nil
	}
	oldest := 0
	for _, c := range r.cohorts {
		oldest = max(oldest, c.age-1)
	}
	// Which plants the winter left nobody knows yet: to take all that nobody told of for living would tell that it took none.
	before := r.farm.Calendar.Span(r.season).From.Add(-1)
	lasts, err := yield.DrawSurvival(r.farm, yield.Options{AsOf: before, Species: species}, oldest, survivalDraws)
	if err != nil {
		return nil, fmt.Errorf("forecasting how many plants stand: %w", err)
	}
	return lasts, nil
}

// survivalDraws are as many as futures.
const survivalDraws = 500

// fallSeasons are how many of the seasons gone by in which it was cut had a fall flush, and had none.
func (s *stand) fallSeasons(present crop.Season) (with, without float64) {
	fall := map[crop.Season]bool{}
	for _, c := range s.cohorts {
		for _, l := range c.looks {
			if c.season < present && l.stems[0]+l.stems[1] > 0 {
				fall[c.season] = fall[c.season] || l.stems[1] > 0
			}
		}
	}
	for _, had := range fall {
		if had {
			with++
		} else {
			without++
		}
	}
	return with, without
}
