// Package forecast says how many stems of which grade will be cut in which week of a season, and how sure that is.
//
// It reads a farm as it was known on the evening of a day (records.go), draws from everything that is not known
// (sampler.go: each plant's own rate, the means by age, season and planting, the flush's onset, length and shape, and what
// the weather made of it), and from each such draw what is still to come (ahead.go).
package forecast

import (
	"fmt"
	"math"
	"slices"
	"sync"
	"time"

	"corymb/internal/crop"
	"corymb/internal/stats"
	"corymb/internal/yield"
)

// Forecast is what is still to come in a season, week by week.
type Forecast struct {
	AsOf  crop.Date `json:"asof"`
	Weeks []Week    `json:"weeks"`
}

// Week is the stems cut in one week after the day of the question; in that day's own week, in what is left of it.
type Week struct {
	Week   string               `json:"week"` // ISO 8601, 2025-W19
	First  crop.Date            `json:"-"`    // its Monday
	Total  Range                `json:"total"`
	Grades map[crop.Grade]Range `json:"grades"`
}

// Range is the mean of a number of stems, and the numbers below which it stays with so much probability.
type Range struct {
	Mean float64 `json:"mean"`
	Q05  float64 `json:"q05"`
	Q25  float64 `json:"q25"`
	Q50  float64 `json:"q50"`
	Q75  float64 `json:"q75"`
	Q95  float64 `json:"q95"`
}

// effort is how long each of some samplers runs side by side: until it has forgotten where it began, and for how many kept
// states, from each of which so many seasons to come are drawn.
type effort struct{ warmUp, kept, futures int }

var usualEffort = effort{warmUp: 150, kept: 150, futures: 6}

const chains = 2

// Of is the forecast for what is left of the season on the evening of a day. The same farm and day give the same forecast
// to the last bit, whatever the farm holds of later days. An error is a sentence for a person.
func Of(farm crop.Farm, asOf crop.Date) (Forecast, error) {
	if !asOf.Valid() {
		return Forecast{}, fmt.Errorf("forecasting: %q is no day: write year, month and day like 2026-05-28", asOf)
	}
	r := read(farm, asOf)
	f := Forecast{AsOf: asOf, Weeks: []Week{}}
	weeks := weeksLeft(farm.Calendar, asOf)
	if len(weeks) == 0 {
		return f, nil
	}
	d, err := r.draw(weeks)
	if err != nil {
		return Forecast{}, err
	}
	for w, first := range weeks {
		f.Weeks = append(f.Weeks, d.week(w, first))
	}
	return f, nil
}

// weeksLeft are the Mondays of the weeks of a season in which a day after one lies.
func weeksLeft(calendar crop.Calendar, asOf crop.Date) []crop.Date {
	var weeks []crop.Date
	last := calendar.Span(calendar.SeasonOf(asOf)).To
	for day := asOf.Add(1); day <= last; day = day.Monday().Add(7) {
		weeks = append(weeks, day.Monday())
	}
	return weeks
}

// draws are the stems by week and grade, each by draw.
type draws struct {
	total  [][]float64
	grades [][4][]float64
}

func (r *records) draw(weeks []crop.Date) (draws, error) {
	last := r.farm.Calendar.Span(r.season).To
	a := ahead{season: r.season, asOf: r.day(r.asOf)}
	a.fallWith, a.fallWithout = r.fallSeasons()
	for _, monday := range weeks {
		a.ends = append(a.ends, r.farm.Calendar.Spring(r.season).DaysTo(min(monday.Add(6), last)))
	}
	lasts, err := r.lasts()
	if err != nil {
		return draws{}, err
	}
	a.lasts = lasts
	var parts [chains]draws
	var running sync.WaitGroup
	for chain := range chains {
		running.Go(func() { parts[chain] = r.chain(a, uint64(chain)) })
	}
	running.Wait()
	all := newDraws(len(weeks))
	for _, part := range parts {
		for w := range weeks {
			all.total[w] = append(all.total[w], part.total[w]...)
			for g := range part.grades[w] {
				all.grades[w][g] = append(all.grades[w][g], part.grades[w][g]...)
			}
		}
	}
	return all, nil
}

// lasts is by age the chance that a plant stands in the next season, until that season's cuts show which do.
func (r *records) lasts() (map[int]stats.Normal, error) {
	if len(r.cutDays[bedSeason{"", r.season}]) > 0 {
		return nil, nil
	}
	survival, err := yield.FitSurvival(r.farm, yield.Options{AsOf: r.asOf})
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

func newDraws(weeks int) draws {
	return draws{total: make([][]float64, weeks), grades: make([][4][]float64, weeks)}
}

// chain draws by one sampler.
func (r *records) chain(a ahead, seed uint64) draws {
	s := newSampler(r.cohorts, r.timing, seed)
	d := newDraws(len(a.ends))
	shares := map[[2]int]gradeShares{}
	s.warmUp(r.effort.warmUp)
	for range r.effort.kept {
		s.sweep()
		for range r.effort.futures {
			d.add(r, s, s.ahead(a), shares)
		}
	}
	return d
}

// fallSeasons are how many of the seasons gone by had a fall flush, and had none.
func (r *records) fallSeasons() (with, without float64) {
	for key := range r.cutDays {
		if key.bed != "" || key.season >= r.season {
			continue
		}
		if _, fall := r.fallFrom[key.season]; fall {
			with++
		} else {
			without++
		}
	}
	return with, without
}

// add adds one draw.
func (d *draws) add(r *records, s *sampler, drawn drawn, known map[[2]int]gradeShares) {
	type kind struct{ age, flush int }
	sums := map[kind][]float64{}
	for i, of := range drawn.stems {
		for f := range flushes {
			if of[f] == nil {
				continue
			}
			k := kind{s.cohorts[i].age, f}
			if sums[k] == nil {
				sums[k] = make([]float64, len(d.total))
			}
			for w, stems := range of[f] {
				sums[k][w] += stems
			}
		}
	}
	total, grades := make([]float64, len(d.total)), make([][4]float64, len(d.total))
	kinds := make([]kind, 0, len(sums))
	for k := range sums {
		kinds = append(kinds, k)
	}
	slices.SortFunc(kinds, func(a, b kind) int { return (a.age-b.age)*2 + a.flush - b.flush })
	for _, k := range kinds {
		key := [2]int{k.age, k.flush}
		if _, there := known[key]; !there {
			known[key] = r.shares(k.age, k.flush)
		}
		shares := known[key].draw(s.src)
		for w, stems := range sums[k] {
			total[w] += stems
			for g, n := range split(s.src, stems, shares) {
				grades[w][g] += n
			}
		}
	}
	for w := range total {
		d.total[w] = append(d.total[w], total[w])
		for g := range grades[w] {
			d.grades[w][g] = append(d.grades[w][g], grades[w][g])
		}
	}
}

func (d *draws) week(w int, monday crop.Date) Week {
	week := Week{Week: isoWeek(monday), First: monday, Total: rangeOf(d.total[w]), Grades: map[crop.Grade]Range{}}
	for g, grade := range crop.GradesLowToHigh {
		week.Grades[grade] = rangeOf(d.grades[w][g])
	}
	return week
}

func rangeOf(draws []float64) Range {
	sum := 0.0
	for _, v := range draws {
		sum += v
	}
	at := func(p float64) float64 { return stats.Quantile(draws, p) }
	return Range{Mean: sum / float64(len(draws)), Q05: at(0.05), Q25: at(0.25), Q50: at(0.5), Q75: at(0.75), Q95: at(0.95)}
}

// isoWeek names the week of a day.
func isoWeek(d crop.Date) string {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return ""
	}
	year, week := t.ISOWeek()
	return fmt.Sprintf("%04d-W%02d", year, week)
}
