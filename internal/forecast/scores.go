package forecast

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"corymb/internal/crop"
)

// Scores say how good forecasts were, beside plain ones: means in stems over the weeks that have them; 0 is best.
type Scores struct {
	Weeks  []Scored `json:"weeks"`
	CRPS   float64  `json:"crps"`   // 0 where no week was scored
	Again  *float64 `json:"again"`  // of "last week again"
	Year   *float64 `json:"year"`   // of "same week last year"
	Pooled *float64 `json:"pooled"` // of a negative binomial of all earlier weeks
	Inside int      `json:"inside"` // weeks that came between q05 and q95, of n
	N      int      `json:"n"`
	// Left is how many weeks are still to be scored: at a large farm they are scored some at a time.
	Left int `json:"left"`
	// Waiting are the Mondays of these; they are not kept, since where any are left scores are worked out again.
	Waiting []crop.Date `json:"-"`
}

// Scored is a past week as it would have been forecast on the evening before it, and what came. Plants of which nobody
// told what they gave are in neither.
type Scored struct {
	Week    string    `json:"week"`
	First   crop.Date `json:"first"`
	Came    int       `json:"came"`
	Mean    float64   `json:"mean"`
	Q05     float64   `json:"q05"`
	Q95     float64   `json:"q95"`
	CRPS    float64   `json:"crps"`
	Again   *float64  `json:"again"` // the scores of the plain ones; none where there was nothing to go by
	Year    *float64  `json:"year"`
	Pooled  *float64  `json:"pooled"`
	Unknown int       `json:"unknown"` // plants left out
}

// ofThePast is how much is drawn for a week that is over: the score needs less than phones do.
var ofThePast = effort{chains: 1, warmUp: 100, kept: 75, apart: 1, futures: 4}

// leastForecast stems a week make a week worth scoring in which nothing was cut.
const leastForecast = 0.5

// reach is within how many weeks of any cut a week may have been forecast to have some.
const reach = 6

// Score scores the weeks of a day's season and the one before that are over. kept are weeks scored before, by what they
// rest on; a week that rests on the same is not forecast again. It returns those that are still of use, the new ones too.
func Score(farm crop.Farm, asOf crop.Date, kept map[string]Scored) (Scores, map[string]Scored, error) {
	farm = colourless(farm)
	all := read(farm, asOf)
	came := all.came()
	names, err := newRests(all.farm)
	if err != nil {
		return Scores{}, nil, err
	}
	inUse := map[string]Scored{}
	scores := Scores{Weeks: []Scored{}}
	most := weeksAtOnce(len(farm.Plants))
	for _, monday := range pastWeeks(all, came) {
		name := names.upTo(monday)
		one, known := kept[name]
		switch {
		case !known && most == 0:
			scores.Left, scores.Waiting = scores.Left+1, append(scores.Waiting, monday)
			continue
		case !known:
			most--
			if one, err = scoreWeek(farm, came, monday); err != nil {
				return Scores{}, nil, fmt.Errorf("scoring the week of %s: %w", monday, err)
			}
		}
		inUse[name] = one
		if one.Came > 0 || one.Mean >= leastForecast {
			scores.Weeks = append(scores.Weeks, one)
		}
	}
	scores.sum()
	return scores, inUse, nil
}

// weeksAtOnce are as many as take some seconds.
func weeksAtOnce(plants int) int { return min(max(40_000/max(plants, 1), 8), 120) }

// pastWeeks are the Mondays of weeks that may be scored: over, of this season or the last, and not far from every cut.
func pastWeeks(r *records, came *came) []crop.Date {
	var weeks []crop.Date
	for monday := r.farm.Calendar.Span(r.season - 1).From.Add(6).Monday(); monday.Add(6) <= r.asOf; monday = monday.Add(7) {
		evening := monday.Add(-1)
		_, known := came.in(evening.Monday(), nil)
		within := r.farm.Calendar.SeasonOf(evening) == r.farm.Calendar.SeasonOf(monday.Add(6))
		if known && within && came.nearACut(monday, reach) {
			weeks = append(weeks, monday)
		}
	}
	return weeks
}

// scoreWeek forecasts a week on the evening before it.
func scoreWeek(farm crop.Farm, came *came, monday crop.Date) (Scored, error) {
	r := read(farm, monday.Add(-1))
	s := Scored{Week: isoWeek(monday), First: monday}
	leftOut, countedOnly := make([]bool, len(r.cohorts)), map[crop.BedID]bool{}
	for i := range r.cohorts {
		c := &r.cohorts[i]
		if c.season == r.season && !came.tells(c, monday) {
			leftOut[i] = true
			countedOnly[r.farm.Plantings[c.planting].Bed] = true
			s.Unknown += c.plants
		}
	}
	d, err := r.drawSome([]crop.Date{monday}, ofThePast, func(i int) bool { return leftOut[i] })
	if err != nil {
		return Scored{}, err
	}
	of := rangeOf(d.total[0])
	s.Came, _ = came.in(monday, countedOnly)
	s.Mean, s.Q05, s.Q95, s.CRPS = of.Mean, of.Q05, of.Q95, CRPS(d.total[0], float64(s.Came))
	s.beside(came, countedOnly)
	return s, nil
}

// beside adds the scores of plain forecasts.
func (s *Scored) beside(came *came, countedOnly map[crop.BedID]bool) {
	off := func(monday crop.Date) *float64 {
		before, known := came.in(monday, countedOnly)
		if !known {
			return nil
		}
		by := math.Abs(float64(before - s.Came))
		return &by
	}
	s.Again, s.Year = off(s.First.Add(-7)), off(s.First.Add(-364))
	if mean, size, ok := negativeBinomialOf(came.flushWeeks(s.First, countedOnly)); ok {
		score := NegativeBinomialCRPS(mean, size, s.Came)
		s.Pooled = &score
	}
}

// negativeBinomialOf fits one to counts by their mean and variance; two at least are needed.
func negativeBinomialOf(counts []float64) (mean, size float64, ok bool) {
	if len(counts) < 2 {
		return 0, 0, false
	}
	mean, variance := stat.MeanVariance(counts, nil)
	const nearlyPoisson = 1e4
	if variance <= mean {
		return mean, nearlyPoisson, true
	}
	return mean, min(mean*mean/(variance-mean), nearlyPoisson), true
}

// sum adds the means.
func (s *Scores) sum() {
	var crps, again, year, pooled []float64
	for _, w := range s.Weeks {
		crps = append(crps, w.CRPS)
		again, year, pooled = appendTold(again, w.Again), appendTold(year, w.Year), appendTold(pooled, w.Pooled)
		if came := float64(w.Came); came >= w.Q05 && came <= w.Q95 {
			s.Inside++
		}
	}
	if s.N = len(crps); s.N > 0 {
		s.CRPS = *meanOf(crps)
	}
	s.Again, s.Year, s.Pooled = meanOf(again), meanOf(year), meanOf(pooled)
}

func appendTold(to []float64, score *float64) []float64 {
	if score == nil {
		return to
	}
	return append(to, *score)
}

func meanOf(numbers []float64) *float64 {
	if len(numbers) == 0 {
		return nil
	}
	mean := stat.Mean(numbers, nil)
	return &mean
}

// colourless is a farm without colours, of which totals tell nothing: so that a class noted today changes no week gone by.
func colourless(farm crop.Farm) crop.Farm {
	plants, visits := farm.Plants, farm.Visits
	farm.Plants, farm.Visits = make(map[crop.PlantID]crop.Plant, len(plants)), make(map[crop.VisitID]crop.Visit, len(visits))
	for id, plant := range plants {
		plant.Colour = ""
		farm.Plants[id] = plant
	}
	for id, v := range visits {
		v.Counts = slices.Clone(v.Counts)
		for i := range v.Counts {
			v.Counts[i].Colour = ""
		}
		farm.Visits[id] = v
	}
	return farm
}

// rests names what a week's score rests on, from week to week.
type rests struct {
	farm   crop.Farm
	plants []crop.PlantID
	visits []crop.Visit // not named yet, by day
	sum    hash.Hash    // of those named
	fixed  []byte       // of what does not change with the day
}

func newRests(farm crop.Farm) (*rests, error) {
	r := &rests{farm: farm, plants: sortedKeys(farm.Plants), sum: sha256.New()}
	for _, id := range sortedKeys(farm.Visits) {
		r.visits = append(r.visits, farm.Visits[id])
	}
	slices.SortStableFunc(r.visits, func(a, b crop.Visit) int { return b.Date.DaysTo(a.Date) })
	fixed := crop.Farm{Calendar: farm.Calendar, Beds: farm.Beds, Stocks: farm.Stocks, Plantings: farm.Plantings}
	fixed.Ahead.Warmth = farm.Ahead.Warmth
	text, err := json.Marshal(fixed)
	if err != nil {
		return nil, fmt.Errorf("naming what scores rest on: %w", err)
	}
	r.fixed = text
	return r, nil
}

// upTo names what the score of a week rests on. Weeks come in order.
func (r *rests) upTo(monday crop.Date) string {
	for len(r.visits) > 0 && r.visits[0].Date <= monday.Add(6) {
		v := r.visits[0]
		fmt.Fprintf(r.sum, "%q %q %q %q %q %q %q %v %q %d %v\n", v.ID, v.Plant, v.Bed, v.Date, v.Purpose, v.Flush, v.Planting, v.ToOrder, v.Stage, v.Age, v.Counts)
		r.visits = r.visits[1:]
	}
	all := sha256.New()
	all.Write(r.sum.Sum(nil))
	fmt.Fprintln(all, monday)
	all.Write(r.fixed)
	evening := monday.Add(-1)
	for _, day := range sortedKeys(r.farm.Ahead.Weather) {
		if day <= evening {
			fmt.Fprintln(all, r.farm.Ahead.Weather[day])
		}
	}
	season := r.farm.Calendar.SeasonOf(evening)
	for _, id := range r.plants {
		p := r.farm.Plants[id]
		if r.farm.Plantings[p.Planting].Planted > evening {
			continue
		}
		if p.Removed > evening {
			p.Removed = ""
		}
		fmt.Fprintf(all, "%q %q %q %v %q", id, p.Planting, p.Bed, p.Stood, p.Removed)
		for _, s := range sortedKeys(p.Counted) {
			if s <= season {
				fmt.Fprint(all, " ", s, p.Counted[s])
			}
		}
	}
	return hex.EncodeToString(all.Sum(nil))
}
