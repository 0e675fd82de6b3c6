package forecast

import (
	"math"

	"corymb/internal/crop"
)

// curves are the curves of all flushes, and how near they are kept to.
type curves struct {
	logPrecision float64
	step         float64
	flushes      [2]flushCurve
}

// flushCurve is one flush over stocks and seasons.
type flushCurve struct {
	usual       usualCurve
	steps       struct{ onset, wait, length, a, b float64 }
	logSeasonSD [2]float64 // of seasons by their own days, and of those by warmth
	seasons     map[crop.Season]*seasonShift
	stocks      map[crop.StockID]*stockShift
	processes   []*process
	// inOrder are the seasons, and stocksInOrder the stocks: every sweep goes through them several times.
	inOrder       []*seasonShift
	stocksInOrder []*stockShift
	bodies        bodies
}

// usualCurve is that of the usual season; length, a and b are logarithms. In seasons in which plants were cut back, the flush
// begins so long a wait after that day and does not hang on the usual onset.
type usualCurve struct{ onset, wait, length, a, b float64 }

// shift is how a season differs from the usual one: its onset in days, its length on the log scale.
type shift struct{ onset, length float64 }

type seasonShift struct {
	shift
	seasonKind
	steps     struct{ onset, length, tilt, stretch float64 }
	processes []*process
}

// seasonKind is what a season's onset goes by.
type seasonKind struct {
	byWarmth int  // 1 where it goes by warmth, 0 where by its own days
	cutBack  bool // whether its flush hangs on the day of cutting back
}

// stockShift is how many days later a stock blooms.
type stockShift struct {
	onset, step float64
	processes   []*process
}

func newCurves(processes []*process, timing timing) curves {
	c := curves{logPrecision: precisionPrior.Mean, step: 0.3}
	for f, flush := range flushes {
		prior, of := priorsOf[flush], &c.flushes[f]
		of.usual = usualCurve{prior.onset.Mean, waitPrior.Mean, prior.length.Mean, prior.a.Mean, prior.b.Mean}
		of.steps.onset, of.steps.wait, of.steps.length, of.steps.a, of.steps.b = 1, 1, 0.05, 0.1, 0.1
		of.logSeasonSD = [2]float64{seasonOnsetPrior.Mean, seasonOnsetPrior.Mean}
		of.seasons, of.stocks = map[crop.Season]*seasonShift{}, map[crop.StockID]*stockShift{}
	}
	for _, p := range processes {
		f := &c.flushes[p.flush]
		f.processes = append(f.processes, p)
		season, stock := f.seasons[p.season], f.stocks[p.stock]
		if season == nil {
			season = &seasonShift{seasonKind: timing.kind(p.season, p.flush)}
			season.steps.onset, season.steps.length, season.steps.tilt, season.steps.stretch = 1, 0.05, 2, 0.1
			f.seasons[p.season] = season
		}
		if stock == nil {
			stock = &stockShift{step: 1}
			f.stocks[p.stock] = stock
		}
		season.processes, stock.processes = append(season.processes, p), append(stock.processes, p)
	}
	for f := range c.flushes {
		of := &c.flushes[f]
		for _, season := range sortedKeys(of.seasons) {
			of.inOrder = append(of.inOrder, of.seasons[season])
		}
		for _, stock := range sortedKeys(of.stocks) {
			of.stocksInOrder = append(of.stocksInOrder, of.stocks[stock])
		}
	}
	return c
}

func (c *curves) precision() float64 { return math.Exp(c.logPrecision) }

// of is the curve of a process.
func (c *curves) of(p *process) curve {
	f := &c.flushes[p.flush]
	by := f.seasons[p.season].shift
	by.onset += f.stocks[p.stock].onset
	return f.usual.shifted(p.cutBack, by)
}

// shifted is the curve of a season that differs so much from the usual one, and of plants cut back on a day.
func (u usualCurve) shifted(cutBack float64, by shift) curve {
	onset := u.onset
	if !math.IsNaN(cutBack) {
		onset = cutBack + u.wait
	}
	return curve{onset: onset + by.onset, length: math.Exp(u.length + by.length), a: math.Exp(u.a), b: math.Exp(u.b)}
}

func (f *flushCurve) seasonSD(kind seasonKind) float64 { return math.Exp(f.logSeasonSD[kind.byWarmth]) }

// density is the log density of a process's stems.
func (c *curves) density(p *process) float64 {
	precision := c.precision()
	logPrecision := c.logPrecision
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
	const few = 8 // as a product, in less time than two gamma functions take
	if n <= few {
		product := 1.0
		for i := 0.0; i < n; i++ {
			product *= shape + i
		}
		return math.Log(product)
	}
	all, _ := math.Lgamma(shape + n)
	first, _ := math.Lgamma(shape)
	return all - first
}
