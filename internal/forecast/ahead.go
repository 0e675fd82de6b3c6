package forecast

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
	"corymb/internal/stats"
	"corymb/internal/yield"
)

// ahead is what is asked about: one season from a day on.
type ahead struct {
	season crop.Season
	asOf   int   // stems cut after this day count
	ends   []int // the last day of each week asked about
	monday int   // of the first of them
	// kinds are the season's plants by what their stems will be, in the order in which they are drawn.
	kinds     []kind
	firstKind int // the place of the first of them among those of all species
	// fallWith and fallWithout are how many seasons gone by had a fall flush, and had none.
	fallWith, fallWithout float64
	// lasts are draws of how plants last; none where the season's stems have shown which stand.
	lasts []yield.SurvivalDraw
}

// kind is a stock's plants whose stems are drawn as one.
type kind struct {
	stock   crop.StockID
	colour  crop.ColourID
	age     int
	cohorts []int
}

// kindsOf lays out the plants of a season, but for those that are left out.
func kindsOf(cohorts []cohort, season crop.Season, leftOut func(i int) bool) []kind {
	var kinds []kind
	for i := range cohorts {
		c := &cohorts[i]
		if c.season != season || leftOut(i) {
			continue
		}
		k := slices.IndexFunc(kinds, func(k kind) bool { return k.stock == c.stock && k.colour == c.colour && k.age == c.age })
		if k < 0 {
			k, kinds = len(kinds), append(kinds, kind{stock: c.stock, colour: c.colour, age: c.age})
		}
		kinds[k].cohorts = append(kinds[k].cohorts, i)
	}
	slices.SortFunc(kinds, func(a, b kind) int {
		return cmp.Or(cmp.Compare(a.stock, b.stock), cmp.Compare(a.age, b.age), cmp.Compare(a.colour, b.colour))
	})
	return kinds
}

// ahead draws what is still to come, given everything as it stands.
func (s *sampler) ahead(a ahead, f *future) drawnTiming {
	alive := s.alive(a)
	timing := s.timingAhead(a)
	for flush := range flushes {
		if timing.curves[flush] == nil {
			continue
		}
		for from := 0; from < len(a.kinds); {
			to := from
			for to < len(a.kinds) && a.kinds[to].stock == a.kinds[from].stock {
				to++
			}
			s.comingOf(a, f, flush, from, to, alive, timing)
			from = to
		}
	}
	return timing
}

// alive draws which part of each cohort stands: what befalls one plant of a planting befalls its neighbours, and how plants of
// an age last is the same for all plantings.
func (s *sampler) alive(a ahead) []float64 {
	alive := make([]float64, len(s.cohorts))
	for i := range alive {
		alive[i] = 1
	}
	if len(a.lasts) == 0 {
		return alive
	}
	of := a.lasts[s.src.IntN(len(a.lasts))]
	chances := map[crop.PlantingID]float64{}
	for i, c := range s.cohorts {
		if c.age < 2 || c.season != a.season {
			continue
		}
		chance, drawn := chances[c.planting]
		if !drawn {
			chance = s.lasting(stats.Logistic(of.Lasts[c.age-2]), math.Exp(-of.Alike))
			chances[c.planting] = chance
		}
		alive[i] = s.binomial(c.plants, chance) / float64(c.plants)
	}
	return alive
}

// lasting draws a planting's chance: beta with a mean and a likeness rho, given as (1-rho)/rho.
func (s *sampler) lasting(mean, size float64) float64 {
	const least = 1e-6 // of which a beta can still be drawn
	return distuv.Beta{Alpha: max(mean*size, least), Beta: max((1-mean)*size, least), Src: s.src}.Rand()
}

// coming is G of one stock's flush over cells that nobody saw: up to the day of the question, and week by week.
type coming struct {
	known *process // its cells that were seen by some cohort; nil for none
	since float64  // from the last of these, or else the last cut, up to the day of the question
	weeks []float64
	share func(day int) float64 // of the flush that has opened by a day
}

// standsFor is for how many days an open stem may still be cut (common practice, no source).
const standsFor = 21

func (s *sampler) coming(a ahead, stock crop.StockID, flush int, t drawnTiming) *coming {
	c := &coming{known: s.processOf(stock, a.season, flush), weeks: make([]float64, 0, len(a.ends))}
	seenDay := s.lastCut(stock, a.season)
	if c.known != nil {
		seenDay = -1
		if n := len(c.known.ends); n > 0 {
			seenDay = c.known.ends[n-1]
		}
	}
	if seenDay < 0 { // nobody cut or looked: not all that ever opened stands
		seenDay = max(seenDay, a.asOf-standsFor)
	}
	curve := t.curves[flush][stock]
	c.share = func(day int) float64 { return curve.share(t.clock.of(day)) }
	seenTo := c.share(seenDay)
	precision := s.curves.precision()
	next := func(day int) float64 {
		upTo := max(c.share(day), seenTo)
		grown := s.gamma(precision*(upTo-seenTo)+leastShape, precision)
		seenTo = upTo
		return grown
	}
	c.since = next(a.asOf)
	for _, end := range a.ends {
		c.weeks = append(c.weeks, next(end))
	}
	return c
}

func (s *sampler) processOf(stock crop.StockID, season crop.Season, flush int) *process {
	for _, p := range s.processes {
		if p.stock == stock && p.season == season && p.flush == flush {
			return p
		}
	}
	return nil
}

// lastCut is the last day on which any of a stock's plants were cut, negative for none.
func (s *sampler) lastCut(stock crop.StockID, season crop.Season) int {
	last := -1
	for _, c := range s.cohorts {
		if c.stock == stock && c.season == season {
			last = max(last, c.cutTo)
		}
	}
	return last
}

// comingOf draws the stems of a stock's flush, of the kinds from one to before another. What opened since plants were last cut
// is cut on the first day.
func (s *sampler) comingOf(a ahead, f *future, flush, from, to int, alive []float64, t drawnTiming) {
	g := s.coming(a, a.kinds[from].stock, flush, t)
	rates, standing := make([]float64, to-from), make([]float64, to-from)
	rate, stands := 0.0, 0.0
	for k, kind := range a.kinds[from:to] {
		for _, i := range kind.cohorts {
			of := s.levels.mean(i, flush) * s.sum[i] * alive[i]
			rates[k] += of
			standing[k] += of * (g.since + g.seenSince(s.cohorts[i].cutTo))
		}
		rate, stands = rate+rates[k], stands+standing[k]
	}
	for k := range rates {
		rates[k], standing[k] = rates[k]/rate, standing[k]/stands
	}
	put := func(week, stems int, parts []float64) {
		placed(s.src, stems, parts, func(k, stems int) { f.add(flush, a.firstKind+from+k, week, stems) })
	}
	if stems := int(s.poisson(stands)); stems > 0 {
		put(0, stems, standing)
		f.days[0][weekday(a, a.asOf+1)] += stems
	}
	for week, grown := range g.weeks {
		if stems := int(s.poisson(rate * grown)); stems > 0 {
			put(week, stems, rates)
			s.spread(a, g, week, stems, &f.days[week])
		}
	}
}

// seenSince is G over the cells behind the last day on which some plants were cut, as others showed it.
func (g *coming) seenSince(cutTo int) float64 {
	sum := 0.0
	if g.known == nil {
		return 0
	}
	for k := len(g.known.grown) - 1; k >= 0; k-- {
		if k > 0 && g.known.ends[k-1] < cutTo || k == 0 && cutTo >= 0 {
			break
		}
		sum += g.known.grown[k]
	}
	return sum
}

// weekday is the place of a day from asOf on in its week, 0 for Monday.
func weekday(a ahead, day int) int { return (day - a.monday) % 7 }

// spread gives the stems of a week to its days: G over these, given what it is over the week, is shared out as Dirichlet.
func (s *sampler) spread(a ahead, g *coming, week, stems int, days *[7]int) {
	first := a.asOf + 1
	if week > 0 {
		first = a.ends[week-1] + 1
	}
	last := a.ends[week]
	opened := make([]float64, last-first+1)
	before, precision := g.share(first-1), s.curves.precision()
	for d := range opened {
		upTo := g.share(first + d)
		opened[d], before = precision*max(upTo-before, 0), upTo
	}
	placed(s.src, stems, dirichlet(s.src, opened), func(d, stems int) { days[weekday(a, first+d)] += stems })
}
