package forecast

import (
	"math"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// ahead is what is asked about: one season from a day on.
type ahead struct {
	season crop.Season
	asOf   int   // stems cut after this day count
	ends   []int // the last day of each week asked about
	// fallWith and fallWithout are how many seasons gone by had a fall flush, and had none.
	fallWith, fallWithout float64
	// lasts is the chance that a plant of an age still stands, as a logit; nil where the season's cuts have shown it.
	lasts map[int]stats.Normal
}

// drawn is the stems of one draw: by cohort (in the sampler's order), flush and week.
type drawn struct {
	stems  [][2][]float64
	timing drawnTiming
}

// ahead draws what is still to come, given everything as it stands.
func (s *sampler) ahead(a ahead) drawn {
	d := drawn{stems: make([][2][]float64, len(s.cohorts)), timing: s.timingAhead(a)}
	alive := s.alive(a)
	for f := range flushes {
		byStock := map[crop.StockID]*coming{}
		for i := range s.cohorts {
			c := &s.cohorts[i]
			curve, comes := d.timing.curves[f][c.stock]
			if c.season != a.season || !comes {
				continue
			}
			if byStock[c.stock] == nil {
				byStock[c.stock] = s.coming(a, c.stock, f, curve, d.timing.clock)
			}
			d.stems[i][f] = s.comingOf(i, f, alive[i], byStock[c.stock])
		}
	}
	return d
}

// alive draws which part of each cohort stands: what befalls one plant of a planting befalls its neighbours.
func (s *sampler) alive(a ahead) []float64 {
	alive := make([]float64, len(s.cohorts))
	chances := map[crop.PlantingID]float64{}
	for i, c := range s.cohorts {
		alive[i] = 1
		lasts, told := a.lasts[c.age-1]
		if !told || c.season != a.season {
			continue
		}
		chance, drawn := chances[c.planting]
		if !drawn {
			chance = 1 / (1 + math.Exp(-lasts.Mean-lasts.SD*s.src.NormFloat64()))
			chances[c.planting] = chance
		}
		alive[i] = s.binomial(c.plants, chance) / float64(c.plants)
	}
	return alive
}

// coming is G of one stock's flush over cells that nobody saw: up to the day of the question, and week by week.
type coming struct {
	known *process // its cells that were seen by some cohort; nil for none
	since float64  // from the last of these, or else the last cut, up to the day of the question
	weeks []float64
}

func (s *sampler) coming(a ahead, stock crop.StockID, flush int, curve curve, clock clock) *coming {
	c := &coming{known: s.processOf(stock, a.season, flush)}
	seenDay := s.lastCut(stock, a.season)
	if c.known != nil {
		seenDay = -1
		if n := len(c.known.ends); n > 0 {
			seenDay = c.known.ends[n-1]
		}
	}
	seenTo := curve.share(clock.of(seenDay))
	precision := s.curves.precision()
	next := func(day int) float64 {
		upTo := max(curve.share(clock.of(day)), seenTo)
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

// comingOf draws a cohort's stems by week. What opened since its plants were last cut is cut in the first.
func (s *sampler) comingOf(i, flush int, alive float64, g *coming) []float64 {
	c := &s.cohorts[i]
	rate := s.levels.mean(i, flush) * s.sum[i] * alive
	standing := g.since
	if g.known != nil {
		for k, grown := range g.known.grown {
			if k > 0 && g.known.ends[k-1] >= c.cutTo || k == 0 && c.cutTo < 0 {
				standing += grown
			}
		}
	}
	weeks := make([]float64, len(g.weeks))
	for w, grown := range g.weeks {
		if w == 0 {
			grown += standing
		}
		weeks[w] = s.poisson(rate * grown)
	}
	return weeks
}
