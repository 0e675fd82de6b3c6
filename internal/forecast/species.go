package forecast

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/stats"
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

// lasts is by age the chance that a plant stands in the next season, until that season's cuts show which do.
func (r *records) lasts(species string) (map[int]stats.Normal, error) {
	if len(r.cutDays[bedSeason{"", r.season}]) > 0 {
		return nil, nil
	}
	survival, err := yield.FitSurvival(r.farm, yield.Options{AsOf: r.asOf, Species: species})
	if err != nil {
		return nil, fmt.Errorf("forecasting how many plants stand: %w", err)
	}
	lasts := map[int]stats.Normal{}
	for _, age := range survival.Ages {
		logit := func(p float64) float64 { return math.Log(p / (1 - p)) }
		// A 90 % interval is 3.29 standard deviations of a normal wide.
		lasts[age.Age] = stats.Normal{Mean: logit(age.P), SD: (logit(age.NewHi) - logit(age.NewLo)) / 3.29}
	}
	return lasts, nil
}

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
