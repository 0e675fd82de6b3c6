package forecast

import (
	"math"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// curves are the curves of all flushes, and how near they are kept to.
type curves struct {
	logPrecision free
	flushes      [2]flushCurve
}

// free is a number that is drawn by steps (Metropolis), each as long as a step should be.
type free struct {
	at, step float64
}

// flushCurve is one flush over stocks and seasons.
type flushCurve struct {
	onset, length, a, b free // the last three as logarithms
	// wait is for how long after cutting back it begins, in seasons in which that was done: these do not hang on onset.
	wait        free
	logSeasonSD [2]float64 // of seasons by their own days, and of those by warmth
	seasons     map[crop.Season]*seasonShift
	stocks      map[crop.StockID]*stockShift
	processes   []*process
}

// seasonShift is how a season differs from the usual one: in days, and on the log scale.
type seasonShift struct {
	onset, length free
	seasonKind
	processes []*process
}

// seasonKind is what a season's onset goes by.
type seasonKind struct {
	byWarmth int  // 1 where it goes by warmth, 0 where by its own days
	cutBack  bool // whether its flush hangs on the day of cutting back
}

// stockShift is how many days later a stock blooms.
type stockShift struct {
	onset     free
	processes []*process
}

func newCurves(processes []*process, timing timing) curves {
	c := curves{logPrecision: free{precisionPrior.Mean, 0.3}}
	for f, flush := range flushes {
		prior := priorsOf[flush]
		c.flushes[f] = flushCurve{
			onset: free{prior.onset.Mean, 1}, length: free{prior.length.Mean, 0.05},
			a: free{prior.a.Mean, 0.1}, b: free{prior.b.Mean, 0.1}, wait: free{waitPrior.Mean, 1},
			logSeasonSD: [2]float64{seasonOnsetPrior.Mean, seasonOnsetPrior.Mean},
			seasons:     map[crop.Season]*seasonShift{}, stocks: map[crop.StockID]*stockShift{},
		}
	}
	for _, p := range processes {
		f := &c.flushes[p.flush]
		f.processes = append(f.processes, p)
		if f.seasons[p.season] == nil {
			f.seasons[p.season] = &seasonShift{onset: free{0, 1}, length: free{0, 0.05}, seasonKind: timing.kind(p.season, p.flush)}
		}
		if f.stocks[p.stock] == nil {
			f.stocks[p.stock] = &stockShift{onset: free{0, 1}}
		}
		season, stock := f.seasons[p.season], f.stocks[p.stock]
		season.processes, stock.processes = append(season.processes, p), append(stock.processes, p)
	}
	return c
}

func (c *curves) precision() float64 { return math.Exp(c.logPrecision.at) }

// of is the curve of a process.
func (c *curves) of(p *process) curve {
	f := &c.flushes[p.flush]
	season, stock := f.seasons[p.season], f.stocks[p.stock]
	return f.curve(p.cutBack, season.onset.at+stock.onset.at, season.length.at)
}

// curve is that of a season that differs so much from the usual one.
func (f *flushCurve) curve(cutBack, onset, length float64) curve {
	usual := f.onset.at
	if !math.IsNaN(cutBack) {
		usual = cutBack + f.wait.at
	}
	return curve{
		onset: usual + onset, length: math.Exp(f.length.at + length),
		a: math.Exp(f.a.at), b: math.Exp(f.b.at),
	}
}

// draw draws all of them given the stems of each cell, with G integrated out: these are negative binomial with the
// precision times the cell's share as their size.
func (c *curves) draw(s *sampler) {
	for _, p := range s.processes {
		p.density = c.density(p)
	}
	for f := range c.flushes {
		c.drawFlush(s, f)
	}
	c.move(s, &c.logPrecision, precisionPrior, s.processes)
}

func (c *curves) drawFlush(s *sampler, flush int) {
	f, prior := &c.flushes[flush], priorsOf[flushes[flush]]
	if len(f.processes) == 0 {
		return
	}
	for _, season := range sortedKeys(f.seasons) {
		shift := f.seasons[season]
		c.move(s, &shift.onset, stats.Normal{SD: f.seasonSD(shift.seasonKind)}, shift.processes)
		c.move(s, &shift.length, stats.Normal{SD: seasonLengthSD}, shift.processes)
	}
	for _, stock := range sortedKeys(f.stocks) {
		if len(f.stocks) > 1 {
			c.move(s, &f.stocks[stock].onset, stockOnsetPrior, f.stocks[stock].processes)
		}
	}
	for _, start := range []struct {
		of      *free
		prior   stats.Normal
		cutBack bool
	}{{&f.onset, prior.onset, false}, {&f.wait, waitPrior, true}} {
		c.move(s, start.of, start.prior, f.that(start.cutBack))
		f.slide(s, start.of, start.prior, start.cutBack)
	}
	c.move(s, &f.length, prior.length, f.processes)
	c.move(s, &f.a, prior.a, f.processes)
	c.move(s, &f.b, prior.b, f.processes)
	for by := range f.logSeasonSD {
		f.drawSeasonSD(s, by)
	}
}

// that are its processes in seasons that hang on cutting back, or do not.
func (f *flushCurve) that(cutBack bool) (those []*process) {
	for _, p := range f.processes {
		if math.IsNaN(p.cutBack) != cutBack {
			those = append(those, p)
		}
	}
	return those
}

func (f *flushCurve) seasonSD(kind seasonKind) float64 { return math.Exp(f.logSeasonSD[kind.byWarmth]) }

// drawSeasonSD draws how far apart seasons lie that go by their own days, or by warmth.
func (f *flushCurve) drawSeasonSD(s *sampler, byWarmth int) {
	f.logSeasonSD[byWarmth] = slice(s.src, f.logSeasonSD[byWarmth], 0.5, func(log float64) float64 {
		d := (log - seasonOnsetPrior.Mean) / seasonOnsetPrior.SD
		sum := -d * d / 2
		for _, season := range sortedKeys(f.seasons) {
			if shift := f.seasons[season]; shift.byWarmth == byWarmth {
				z := shift.onset.at / math.Exp(log)
				sum -= z*z/2 + log
			}
		}
		return sum
	})
}

// slide moves where a flush usually begins against the shifts of all seasons that hang on that, which leaves every curve as
// it is.
func (f *flushCurve) slide(s *sampler, start *free, prior stats.Normal, cutBack bool) {
	by := slice(s.src, 0, 3, func(by float64) float64 {
		d := (start.at + by - prior.Mean) / prior.SD
		sum := -d * d / 2
		for _, season := range sortedKeys(f.seasons) {
			if shift := f.seasons[season]; shift.cutBack == cutBack {
				z := (shift.onset.at - by) / f.seasonSD(shift.seasonKind)
				sum -= z * z / 2
			}
		}
		return sum
	})
	start.at += by
	for _, shift := range f.seasons {
		if shift.cutBack == cutBack {
			shift.onset.at -= by
		}
	}
}

// wanted is how often a step should be taken (Roberts and Rosenthal 2001, Statistical Science 16:351-367).
const wanted = 0.44

// move draws one number that some processes hang on. While the sampler warms up its step becomes longer where it was
// taken and shorter where not.
func (c *curves) move(s *sampler, v *free, prior stats.Normal, processes []*process) {
	before := v.at
	v.at += v.step * s.src.NormFloat64()
	d, e := (v.at-prior.Mean)/prior.SD, (before-prior.Mean)/prior.SD
	gain := (e*e - d*d) / 2
	for _, p := range processes {
		p.proposed = c.density(p)
		gain += p.proposed - p.density
	}
	taken := -s.src.ExpFloat64() < gain
	if taken {
		for _, p := range processes {
			p.density = p.proposed
		}
	} else {
		v.at = before
	}
	if s.warming > 0 {
		longer := -wanted
		if taken {
			longer++
		}
		v.step *= math.Exp(longer * s.warming)
	}
}

// density is the log density of a process's stems.
func (c *curves) density(p *process) float64 {
	precision := c.precision()
	logPrecision := c.logPrecision.at
	sum := 0.0
	p.eachCell(c.of(p), func(k int, share float64) {
		shape := precision*max(share, 0) + leastShape
		sum += shape*logPrecision - (shape+p.stems[k])*math.Log(precision+p.weight[k])
		if p.stems[k] > 0 {
			sum += logRising(shape, p.stems[k])
		}
	})
	return sum
}

// logRising is the logarithm of shape (shape+1) ... (shape+n-1).
func logRising(shape, n float64) float64 {
	all, _ := math.Lgamma(shape + n)
	first, _ := math.Lgamma(shape)
	return all - first
}
