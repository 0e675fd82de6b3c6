// Package forecast says how many stems of which grade will be cut in which week of a season, and how sure that is.
//
// It reads a farm as it was known on the evening of a day (records.go), draws from everything that is not known
// (sampler.go: each plant's own rate, the means by age, season and planting, the flush's onset, length and shape, and what
// the weather made of it), and from each such draw what is still to come (ahead.go).
package forecast

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// Forecast is what is still to come in a season, week by week.
type Forecast struct {
	AsOf  crop.Date `json:"asof"`
	Weeks []Week    `json:"weeks"`
	// FirstCuts are of flushes that have not begun.
	FirstCuts []FirstCut `json:"first_cuts"`
	// Shift is nil when nothing is left of the season, and Warmth where the season does not go by it.
	Shift  *SeasonShift `json:"season_shift,omitempty"`
	Warmth *Warmth      `json:"warmth,omitempty"`
}

// Week is the stems cut in one week after the day of the question; in that day's own week, in what is left of it.
type Week struct {
	Week   string               `json:"week"` // ISO 8601, 2025-W19
	First  crop.Date            `json:"-"`    // its Monday
	Total  Range                `json:"total"`
	Grades map[crop.Grade]Range `json:"grades"`
	// Colours are by class; under the empty one the stems of plants of which no class is known.
	Colours map[crop.ColourID]Range `json:"colours"`
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
// states, so many sweeps apart, from each of which so many seasons to come are drawn.
type effort struct{ chains, warmUp, kept, apart, futures int }

// apartUncut is how many sweeps lie between kept states with nothing cut: they cost little, and much is left to chance.
const apartUncut = 5

// usual gives the 500 draws that phones get. What is still to come in a flush is worth one independent draw in some seven
// sweeps: each draw is of a state of its own, and these lie apart, or ranges would be a point too narrow.
var usual = effort{chains: 2, warmUp: 150, kept: 250, apart: 2, futures: 1}

// Of is the forecast for what is left of the season on the evening of a day. The same farm and day give the same forecast
// to the last bit, whatever the farm holds of later days. An error is a sentence for a person.
func Of(farm crop.Farm, asOf crop.Date) (Forecast, error) {
	f, _, err := of(farm, asOf)
	return f, err
}

func of(farm crop.Farm, asOf crop.Date) (Forecast, draws, error) {
	if !asOf.Valid() {
		return Forecast{}, draws{}, fmt.Errorf("forecasting: %q is no day: write year, month and day like 2026-05-28", asOf)
	}
	r := read(farm, asOf)
	weeks := weeksLeft(farm.Calendar, asOf)
	d, err := r.draw(weeks)
	if err != nil {
		return Forecast{}, draws{}, err
	}
	f := Forecast{AsOf: asOf, Weeks: []Week{}, FirstCuts: r.firstCuts(d.timings), Shift: d.seasonShift(), Warmth: r.saidByWeather()}
	for w, first := range weeks {
		f.Weeks = append(f.Weeks, d.week(w, first))
	}
	return f, d, nil
}

func (d *draws) week(w int, monday crop.Date) Week {
	week := Week{
		Week: isoWeek(monday), First: monday, Total: rangeOf(d.total[w]),
		Grades: map[crop.Grade]Range{}, Colours: map[crop.ColourID]Range{},
	}
	for g, grade := range crop.GradesLowToHigh {
		week.Grades[grade] = rangeOf(d.grade[g][w])
	}
	for c, colour := range d.colours {
		week.Colours[colour] = rangeOf(d.colour[c][w])
	}
	return week
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

// draws are joint draws of what is still to come.
type draws struct {
	layout
	sums
	stems [][]uint32 // by draw, as the layout has them
	days  [][][7]int // by draw and week: all stems by weekday
	timings
}

func (r *records) draw(weeks []crop.Date) (draws, error) {
	return r.drawSome(weeks, usual, func(int) bool { return false })
}

// drawSome draws with so much effort, but for the stems of cohorts that are left out.
func (r *records) drawSome(weeks []crop.Date, e effort, leftOut func(i int) bool) (draws, error) {
	stands := r.stands()
	asked, err := r.ahead(weeks, stands, leftOut)
	if err != nil {
		return draws{}, err
	}
	known := r.kindShares(asked)
	if len(weeks) == 0 {
		return draws{layout: known.layout}, nil
	}
	parts := make([]draws, e.chains)
	var running sync.WaitGroup
	for chain := range parts {
		running.Go(func() { parts[chain] = r.chain(stands, asked, known, e, uint64(chain)) })
	}
	running.Wait()
	all := draws{layout: known.layout}
	for _, part := range parts {
		all.stems, all.days = append(all.stems, part.stems...), append(all.days, part.days...)
		all.timings.join(part.timings)
	}
	all.sums = all.added()
	return all, nil
}

// chain draws by one sampler of each stand.
func (r *records) chain(stands []stand, asked []ahead, known *kindShares, e effort, seed uint64) draws {
	var samplers []*sampler
	for k, of := range stands {
		s := newSampler(of.cohorts, r.timing, rand.NewPCG(seed, uint64(k+1)))
		s.warmUp(e.warmUp)
		samplers = append(samplers, s)
	}
	f := newFuture(known, samplers[0].src)
	apart := e.apart
	if len(r.cutDays) == 0 {
		apart = apartUncut
	}
	var d draws
	for range e.kept {
		for _, s := range samplers {
			for range apart {
				s.sweep()
			}
		}
		for range e.futures {
			f.clear()
			for k, s := range samplers {
				d.timings.add(asked[k], f, s.ahead(asked[k], f))
			}
			f.tellApart()
			d.stems, d.days = append(d.stems, slices.Clone(f.stems)), append(d.days, slices.Clone(f.days))
		}
	}
	return d
}

// sums are stems by week and draw, also by grade and by colour.
type sums struct {
	total  [][]float64
	grade  [grades][][]float64
	colour [][][]float64
}

func (d *draws) added() sums {
	byWeek := func() [][]float64 {
		of := make([][]float64, d.weeks)
		for w := range of {
			of[w] = make([]float64, len(d.stems))
		}
		return of
	}
	s := sums{total: byWeek(), colour: make([][][]float64, len(d.colours))}
	for grade := range s.grade {
		s.grade[grade] = byWeek()
	}
	for colour := range s.colour {
		s.colour[colour] = byWeek()
	}
	for i, stems := range d.stems {
		for at, n := range stems {
			if n == 0 {
				continue
			}
			week, colour, grade, _ := d.of(at)
			s.total[week][i] += float64(n)
			s.grade[grade][week][i] += float64(n)
			s.colour[colour][week][i] += float64(n)
		}
	}
	return s
}

func rangeOf(draws []float64) Range {
	draws = slices.Clone(draws) // which quantiles sort
	sum := 0.0
	for _, v := range draws {
		sum += v
	}
	at := func(p float64) float64 { return stats.Quantile(draws, p) }
	return Range{Mean: sum / float64(len(draws)), Q05: at(0.05), Q25: at(0.25), Q50: at(0.5), Q75: at(0.75), Q95: at(0.95)}
}

// isoWeek names the week of a day.
func isoWeek(d crop.Date) string {
	year, week := d.ISOWeek()
	return fmt.Sprintf("%04d-W%02d", year, week)
}
