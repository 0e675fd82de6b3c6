package forecast

import (
	"math"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// tilt moves the last season's curve and its level together: that much has come so far may mean a good season or an early
// one, and neither could turn into the other alone.
func (c *curves) tilt(s *sampler, f *flushCurve) {
	season := s.cohorts[len(s.cohorts)-1].season
	of := f.seasons[season]
	if of == nil {
		return
	}
	c.tiltBy(s, f, season, &of.steps.tilt, later)
	far := tiltFar
	c.tiltBy(s, f, season, &far, later)
	c.tiltBy(s, f, season, &of.steps.stretch, func(v shift, by float64) shift { return shift{v.onset, v.length + by} })
}

// tiltFar is how many days a step is that is never fitted: stems before a flush may be its first or stragglers, and short steps
// do not lead from the one to the other.
const tiltFar = 12.0

func (c *curves) tiltBy(s *sampler, f *flushCurve, season crop.Season, step *float64, to func(shift, float64) shift) {
	of, level := f.seasons[season], &s.levels.at[s.levels.seasons[season]]
	all := append(append([]*process{}, of.processes...), c.processesOf(1-of.processes[0].flush, season)...)
	type both struct {
		shift
		level float64
	}
	at := both{of.shift, *level}
	stems := 0.0 // each as likely as its level, which a process's density leaves out
	for _, p := range all {
		for _, n := range p.stems {
			stems += n
		}
	}
	set := func(v both) {
		for _, p := range all {
			for k := range p.weight {
				p.weight[k] *= math.Exp(v.level - *level)
			}
		}
		of.shift, *level = v.shift, v.level
	}
	shifts, levels := f.priorOf(of.seasonKind), stats.Normal{SD: s.levels.sd(s.levels.seasons[season])}
	propose(c, s, at, step, func(v both, by float64) both {
		before := c.seen(of.processes)
		of.shift = to(v.shift, by)
		v.level += math.Log(before / c.seen(of.processes))
		of.shift, v.shift = v.shift, of.shift
		return v
	}, set, func(v both) float64 { return shifts(v.shift) + logOf(levels, v.level) + stems*v.level }, all)
}

// processesOf are those of a flush in a season.
func (c *curves) processesOf(flush int, season crop.Season) []*process {
	if of := c.flushes[flush].seasons[season]; of != nil {
		return of.processes
	}
	return nil
}

// seen is about which part of some processes was seen so far, as little as a twentieth: of less, nothing follows.
func (c *curves) seen(processes []*process) float64 {
	sum := 0.0
	for _, p := range processes {
		if n := len(p.at); n > 0 {
			sum += c.of(p).share(p.at[n-1])
		}
	}
	return 0.05 + sum/float64(len(processes))
}
