package forecast

import (
	"math"

	"corymb/internal/stats"
)

// draw draws all curves given the stems of each cell, with G integrated out: these are negative binomial with the precision
// times the cell's share as their size.
func (c *curves) draw(s *sampler) {
	for _, p := range s.processes {
		p.density = c.density(p)
	}
	for f := range c.flushes {
		c.drawFlush(s, f)
	}
	try(c, s, &c.logPrecision, &c.step, plus, density(precisionPrior), s.processes)
}

func (c *curves) drawFlush(s *sampler, flush int) {
	f, prior := &c.flushes[flush], priorsOf[flushes[flush]]
	if len(f.processes) == 0 {
		f.usual = prior.draw(s)
	}
	for _, season := range f.inOrder {
		c.drawSeason(s, f, season)
	}
	if flush == 0 && len(f.processes) > 0 {
		c.tilt(s, f)
	}
	for _, of := range f.stocksInOrder {
		if len(f.stocks) > 1 {
			try(c, s, &of.onset, &of.step, plus, density(stockOnsetPrior), of.processes)
		}
	}
	if len(f.processes) > 0 {
		c.drawUsual(s, f, prior)
	}
	for byWarmth := range f.logSeasonSD {
		f.drawSeasonSD(s, byWarmth)
	}
}

// drawSeason draws how a season differs from the usual one. Where it is longer or shorter it keeps its middle, which is what
// was seen best.
func (c *curves) drawSeason(s *sampler, f *flushCurve, season *seasonShift) {
	prior := f.priorOf(season.seasonKind)
	try(c, s, &season.shift, &season.steps.onset, later, prior, season.processes)
	try(c, s, &season.shift, &season.steps.length, f.longer, prior, season.processes)
}

// density is a normal's log density.
func density(n stats.Normal) func(float64) float64 {
	return func(v float64) float64 { return logOf(n, v) }
}

func plus(v, by float64) float64 { return v + by }

func later(v shift, by float64) shift { return shift{v.onset + by, v.length} }

func (f *flushCurve) longer(v shift, by float64) shift {
	middle := f.bodies.of(f.usual).middle
	was := math.Exp(f.usual.length + v.length)
	return shift{v.onset + middle*(was-was*math.Exp(by)), v.length + by}
}

// priorOf is the log density of the shifts of seasons of a kind.
func (f *flushCurve) priorOf(kind seasonKind) func(shift) float64 {
	onset, length := stats.Normal{SD: f.seasonSD(kind)}, stats.Normal{SD: seasonLengthSD}
	return func(v shift) float64 { return logOf(onset, v.onset) + logOf(length, v.length) }
}

// drawUsual draws the usual season's curve.
func (c *curves) drawUsual(s *sampler, f *flushCurve, prior flushPriors) {
	move := func(step *float64, processes []*process, to func(u *usualCurve, by float64)) {
		try(c, s, &f.usual, step, func(u usualCurve, by float64) usualCurve {
			was := u
			to(&u, by)
			return f.keeping(u, was)
		}, prior.log, processes)
	}
	hang, usual := f.byCuttingBack()
	try(c, s, &f.usual, &f.steps.onset, func(u usualCurve, by float64) usualCurve { u.onset += by; return u }, prior.log, usual)
	try(c, s, &f.usual, &f.steps.wait, func(u usualCurve, by float64) usualCurve { u.wait += by; return u }, prior.log, hang)
	move(&f.steps.length, f.processes, func(u *usualCurve, by float64) { u.length += by })
	move(&f.steps.a, f.processes, func(u *usualCurve, by float64) { u.a += by })
	move(&f.steps.b, f.processes, func(u *usualCurve, by float64) { u.b += by })
	f.slide(s, &f.usual.onset, prior.onset, false)
	f.slide(s, &f.usual.wait, waitPrior, true)
	f.slideLength(s, prior.length)
	f.slideStocks(s, prior.onset)
}

// keeping is a curve of another length or shape, with onset and length such that its stems open about the same day as before,
// and where only the shape is another, over as long: what was seen holds these two fast, and little else.
func (f *flushCurve) keeping(u, was usualCurve) usualCurve {
	before, after := f.bodies.of(was), f.bodies.of(u)
	u.length += math.Log(before.spread / after.spread)
	later := before.middle*math.Exp(was.length) - after.middle*math.Exp(u.length)
	u.onset, u.wait = u.onset+later, u.wait+later
	return u
}

// body is the mean and the standard deviation of a curve of length 1.
type body struct{ a, b, middle, spread float64 }

// bodies keeps those of the curve that stands and of the one last tried, which are asked for many times.
type bodies [2]body

func (k *bodies) of(u usualCurve) body {
	for i, known := range k {
		if known.spread > 0 && known.a == u.a && known.b == u.b {
			k[0], k[i] = known, k[0]
			return known
		}
	}
	middle, spread := middleAndSpread(u.a, u.b)
	k[0], k[1] = body{u.a, u.b, middle, spread}, k[0]
	return k[0]
}

// middleAndSpread are the mean and the standard deviation of a curve of length 1, whose a and b are given as logarithms
// (Kumaraswamy 1980, where the n-th moment is b B(1+n/a, b)).
func middleAndSpread(logA, logB float64) (mean, sd float64) {
	a, b := math.Exp(logA), math.Exp(logB)
	whole, _ := math.Lgamma(b)
	moment := func(n float64) float64 {
		upper, _ := math.Lgamma(1 + n/a)
		lower, _ := math.Lgamma(1 + n/a + b)
		return b * math.Exp(upper+whole-lower)
	}
	mean = moment(1)
	return mean, math.Sqrt(max(moment(2)-mean*mean, 1e-12))
}

func (p flushPriors) log(u usualCurve) float64 {
	return logOf(p.onset, u.onset) + logOf(waitPrior, u.wait) + logOf(p.length, u.length) + logOf(p.a, u.a) + logOf(p.b, u.b)
}

// draw draws a flush of which nothing was ever seen.
func (p flushPriors) draw(s *sampler) usualCurve {
	of := func(n stats.Normal) float64 { return n.Mean + n.SD*s.src.NormFloat64() }
	return usualCurve{of(p.onset), of(waitPrior), of(p.length), of(p.a), of(p.b)}
}

// byCuttingBack are a flush's processes in seasons that hang on the day of cutting back, and those in others.
func (f *flushCurve) byCuttingBack() (hang, usual []*process) {
	for _, p := range f.processes {
		if math.IsNaN(p.cutBack) {
			usual = append(usual, p)
		} else {
			hang = append(hang, p)
		}
	}
	return hang, usual
}

// drawSeasonSD draws how far apart seasons lie that go by their own days, or by warmth.
func (f *flushCurve) drawSeasonSD(s *sampler, byWarmth int) {
	f.logSeasonSD[byWarmth] = slice(s.src, f.logSeasonSD[byWarmth], 0.5, func(log float64) float64 {
		sum := logOf(seasonOnsetPrior, log)
		for _, of := range f.inOrder {
			if of.byWarmth == byWarmth {
				sum += logOf(stats.Normal{SD: math.Exp(log)}, of.onset) - log
			}
		}
		return sum
	})
}

// slide moves where a flush usually begins against the shifts of all seasons that hang on that, which leaves every curve as
// it is.
func (f *flushCurve) slide(s *sampler, start *float64, prior stats.Normal, cutBack bool) {
	by := slice(s.src, 0, 3, func(by float64) float64 {
		sum := logOf(prior, *start+by)
		for _, of := range f.inOrder {
			if of.cutBack == cutBack {
				sum += logOf(stats.Normal{SD: f.seasonSD(of.seasonKind)}, of.onset-by)
			}
		}
		return sum
	})
	*start += by
	for _, of := range f.inOrder {
		if of.cutBack == cutBack {
			of.onset -= by
		}
	}
}

// slideLength moves how long a flush usually is against the shifts of all seasons. All is normal, so it is drawn as such.
func (f *flushCurve) slideLength(s *sampler, prior stats.Normal) {
	of := stats.Normal{SD: seasonLengthSD}
	precision, sum := 1/(prior.SD*prior.SD), (prior.Mean-f.usual.length)/(prior.SD*prior.SD)
	for _, season := range f.inOrder {
		precision += 1 / (of.SD * of.SD)
		sum += season.length / (of.SD * of.SD)
	}
	by := sum/precision + s.src.NormFloat64()/math.Sqrt(precision)
	f.usual.length += by
	for _, season := range f.inOrder {
		season.length -= by
	}
}

// slideStocks moves the onset and the wait against the shifts of all stocks.
func (f *flushCurve) slideStocks(s *sampler, prior stats.Normal) {
	if len(f.stocks) < 2 {
		return
	}
	by := 0.0
	precision, sum := 0.0, 0.0
	hold := func(of stats.Normal, at float64) {
		precision += 1 / (of.SD * of.SD)
		sum += (of.Mean - at) / (of.SD * of.SD)
	}
	hold(prior, f.usual.onset)
	hold(waitPrior, f.usual.wait)
	for _, stock := range f.stocksInOrder {
		hold(stockOnsetPrior, -stock.onset)
	}
	by = sum/precision + s.src.NormFloat64()/math.Sqrt(precision)
	f.usual.onset, f.usual.wait = f.usual.onset+by, f.usual.wait+by
	for _, stock := range f.stocksInOrder {
		stock.onset -= by
	}
}
