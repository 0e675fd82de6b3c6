package forecast

import (
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// FirstCut is when a flush that has not begun will be worth going out for: when one in a hundred of its stems has opened. Its
// days are those by which it comes with so much probability, if it comes.
type FirstCut struct {
	Stock  crop.StockID `json:"stock"`
	Flush  crop.Flush   `json:"flush"`
	Q05    crop.Date    `json:"q05"`
	Q50    crop.Date    `json:"q50"`
	Q95    crop.Date    `json:"q95"`
	Chance float64      `json:"chance"` // that any stem of it comes in what is left of the season
}

// SeasonShift is how many days later this season's spring flush begins, earlier below 0: of the species of which most plants stand.
type SeasonShift struct {
	Usual    Days `json:"usual"`    // than in the farm's usual season
	Practice Days `json:"practice"` // than in common practice
}

// Days are numbers of days below which something stays with so much probability.
type Days struct {
	Q05 float64 `json:"q05"`
	Q50 float64 `json:"q50"`
	Q95 float64 `json:"q95"`
}

// Warmth is what the weather says.
type Warmth struct {
	// Ahead is how many days before a usual year as much warmth as this season's has come; behind it below 0.
	Ahead   float64 `json:"ahead"`
	Seasons int     `json:"seasons"` // that the usual year is the mean of
	// Filled are the days without weather, in seasons that have enough of it: the usual warmth stands in. Days later in the
	// year than any weather is of are not among them: nobody there measures in winter.
	Filled []Stretch `json:"filled"`
}

// Stretch is days one after the other.
type Stretch struct {
	First crop.Date `json:"first"`
	Last  crop.Date `json:"last"`
}

// timings are when flushes come, draw by draw.
type timings struct {
	begins        map[stockFlush][]float64 // days from the season's spring, of draws in which it comes
	spring, later []float64
	draws         int
}

type stockFlush struct {
	stock crop.StockID
	flush int
}

func (t *timings) add(a ahead, f *future, drawn drawnTiming) {
	if t.begins == nil {
		t.begins = map[stockFlush][]float64{}
	}
	if a.firstKind == 0 {
		t.draws++
		t.spring, t.later = append(t.spring, drawn.spring), append(t.later, drawn.later)
	}
	for flush := range flushes {
		came := map[crop.StockID]bool{}
		for k, kind := range a.kinds {
			if came[kind.stock] || !f.comes(flush, a.firstKind+k) {
				continue
			}
			came[kind.stock] = true
			// One that began so long ago with nobody telling of it has no first cut to come.
			if begins := drawn.clock.day(drawn.curves[flush][kind.stock].begins()); begins >= float64(a.asOf-standsFor) {
				key := stockFlush{kind.stock, flush}
				t.begins[key] = append(t.begins[key], begins)
			}
		}
	}
}

// comes says whether any stem of a kind comes in a flush.
func (f *future) comes(flush, kind int) bool {
	at := (flush*len(f.age) + kind) * f.weeks
	return slices.ContainsFunc(f.kinds[at:at+f.weeks], func(stems int) bool { return stems > 0 })
}

func (t *timings) join(other timings) {
	t.draws += other.draws
	t.spring, t.later = append(t.spring, other.spring...), append(t.later, other.later...)
	if t.begins == nil {
		t.begins = map[stockFlush][]float64{}
	}
	for key, days := range other.begins {
		t.begins[key] = append(t.begins[key], days...)
	}
}

// firstCuts are those of all stocks' flushes that have not begun, but for those that hardly will in this season.
func (r *records) firstCuts(t timings) []FirstCut {
	cuts, begun, stocks := []FirstCut{}, r.begun(), map[crop.StockID]bool{}
	for _, c := range r.cohorts {
		if c.season == r.season {
			stocks[c.stock] = true
		}
	}
	for _, stock := range sortedKeys(stocks) {
		for f, flush := range flushes {
			key := stockFlush{stock, f}
			if days := t.begins[key]; !begun[key] && len(days) >= leastDraws {
				cut := r.firstCut(days)
				cut.Stock, cut.Flush, cut.Chance = stock, flush, float64(len(days))/float64(t.draws)
				cuts = append(cuts, cut)
			}
		}
	}
	return cuts
}

// begun are the flushes of this season of which stems were told.
func (r *records) begun() map[stockFlush]bool {
	begun := map[stockFlush]bool{}
	for _, c := range r.cohorts {
		for _, l := range c.looks {
			for f, stems := range l.stems {
				if c.season == r.season && stems > 0 {
					begun[stockFlush{c.stock, f}] = true
				}
			}
		}
	}
	return begun
}

// leastDraws are too few for odds.
const leastDraws = 10

func (r *records) firstCut(days []float64) FirstCut {
	spring := r.farm.Calendar.Spring(r.season)
	at := func(p float64) crop.Date {
		return max(spring.Add(int(math.Ceil(stats.Quantile(days, p)))), r.asOf.Add(1))
	}
	return FirstCut{Q05: at(0.05), Q50: at(0.5), Q95: at(0.95)}
}

// seasonShift is nil where nothing was drawn.
func (t *timings) seasonShift() *SeasonShift {
	if t.draws == 0 {
		return nil
	}
	practice := make([]float64, len(t.spring))
	for k, day := range t.spring {
		practice[k] = day - priorsOf[crop.FlushSpring].onset.Mean
	}
	return &SeasonShift{Usual: daysOf(t.later), Practice: daysOf(practice)}
}

func daysOf(draws []float64) Days {
	tenth := func(p float64) float64 { return math.Round(10*stats.Quantile(draws, p)) / 10 }
	return Days{tenth(0.05), tenth(0.5), tenth(0.95)}
}

// saidByWeather is nil where this season does not go by warmth.
func (r *records) saidByWeather() *Warmth {
	t := &r.timing
	if t.present == nil {
		return nil
	}
	day := r.day(r.asOf)
	w := &Warmth{
		Ahead:   math.Round(10*(t.clocks[r.season].of(day)-float64(day))) / 10,
		Seasons: len(t.warmths.past), Filled: []Stretch{},
	}
	for _, day := range t.filled {
		if n := len(w.Filled); n > 0 && w.Filled[n-1].Last.Add(1) == day {
			w.Filled[n-1].Last = day
		} else {
			w.Filled = append(w.Filled, Stretch{day, day})
		}
	}
	return w
}
