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
	logSeasonSD         float64
	seasons             map[crop.Season]*seasonShift
	stocks              map[crop.StockID]*stockShift
	processes           []*process
}

// seasonShift is how a season differs from the usual one: in days, and on the log scale.
type seasonShift struct {
	onset, length free
	processes     []*process
}

// stockShift is how many days later a stock blooms.
type stockShift struct {
	onset     free
	processes []*process
}

func newCurves(processes []*process) curves {
	c := curves{logPrecision: free{precisionPrior.Mean, 0.3}}
	for f, flush := range flushes {
		prior := priorsOf[flush]
		c.flushes[f] = flushCurve{
			onset: free{prior.onset.Mean, 1}, length: free{prior.length.Mean, 0.05},
			a: free{prior.a.Mean, 0.1}, b: free{prior.b.Mean, 0.1},
			logSeasonSD: seasonOnsetPrior.Mean, seasons: map[crop.Season]*seasonShift{}, stocks: map[crop.StockID]*stockShift{},
		}
	}
	for _, p := range processes {
		f := &c.flushes[p.flush]
		f.processes = append(f.processes, p)
		if f.seasons[p.season] == nil {
			f.seasons[p.season] = &seasonShift{onset: free{0, 1}, length: free{0, 0.05}}
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
	return curve{
		onset: f.onset.at + season.onset.at + stock.onset.at, length: math.Exp(f.length.at + season.length.at),
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
	seasonSD := math.Exp(f.logSeasonSD)
	for _, season := range sortedKeys(f.seasons) {
		shift := f.seasons[season]
		c.move(s, &shift.onset, stats.Normal{SD: seasonSD}, shift.processes)
		c.move(s, &shift.length, stats.Normal{SD: seasonLengthSD}, shift.processes)
	}
	for _, stock := range sortedKeys(f.stocks) {
		if len(f.stocks) > 1 {
			c.move(s, &f.stocks[stock].onset, stockOnsetPrior, f.stocks[stock].processes)
		}
	}
	c.move(s, &f.onset, prior.onset, f.processes)
	c.move(s, &f.length, prior.length, f.processes)
	c.move(s, &f.a, prior.a, f.processes)
	c.move(s, &f.b, prior.b, f.processes)
	f.slide(s, prior.onset)
	f.logSeasonSD = slice(s.src, f.logSeasonSD, 0.5, func(log float64) float64 {
		d := (log - seasonOnsetPrior.Mean) / seasonOnsetPrior.SD
		sum := -d * d / 2
		for _, season := range sortedKeys(f.seasons) {
			z := f.seasons[season].onset.at / math.Exp(log)
			sum -= z*z/2 + log
		}
		return sum
	})
}

// slide moves the usual onset against those of all seasons, which leaves every curve as it is.
func (f *flushCurve) slide(s *sampler, prior stats.Normal) {
	sd := math.Exp(f.logSeasonSD)
	by := slice(s.src, 0, 3, func(by float64) float64 {
		d := (f.onset.at + by - prior.Mean) / prior.SD
		sum := -d * d / 2
		for _, season := range sortedKeys(f.seasons) {
			z := (f.seasons[season].onset.at - by) / sd
			sum -= z * z / 2
		}
		return sum
	})
	f.onset.at += by
	for _, shift := range f.seasons {
		shift.onset.at -= by
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
