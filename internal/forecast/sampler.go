package forecast

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
)

// The model. A plant's stems of a flush open as a Poisson process of rate M g G(t):
//
//   - M is the mean of its planting, age and season: level.go;
//   - g is its own, gamma with mean 1 and the size as its shape: so totals of plants are negative binomial (NB2);
//   - G is a gamma process that all plants of the stock share, with the flush's curve as its mean (curve.go) and a
//     precision: what the weather does to a week it does to every plant, and weeks to come owe nothing to those gone.
//
// Sums over a cohort's plants of g are gamma again, and G over the days between looks is gamma, given the rest: so all
// of it is drawn in turns (Gibbs), the curves with G integrated out, the means with g integrated out.

// process is one flush of one stock in one season: its days, cut where any of its cohorts was looked at.
type process struct {
	stock  crop.StockID
	season crop.Season
	flush  int
	ends   []int     // the last day of each cell; the first begins with the season
	at     []float64 // these by the season's clock
	// cutBack is the day on which its plants were cut back, by the season's clock; not a number where it does not hang on one.
	cutBack float64
	grown   []float64 // G over each cell
	stems   []float64 // of all cohorts that saw the cell, as shared out
	weight  []float64 // the sum of M g over those cohorts
	// density is the log density of the stems under the curve as it stands, and proposed under that proposed.
	density, proposed float64
	shared            [2]curve // the curves last asked for, and their shares
	shares            [2][]float64
}

// cell is the one that holds a day, len(ends) behind all.
func (p *process) cell(day int) int {
	i, _ := slices.BinarySearch(p.ends, day)
	return i
}

// sampler draws from all that is not known, given the records.
type sampler struct {
	cohorts   []cohort
	stocks    int // how many the cohorts are of
	processes []*process
	of        [][2]*process // by cohort and flush
	looks     [][2][]seen   // likewise
	levels    levels
	curves    curves
	timing    timing
	size      float64      // NB2 size within planting and season
	sum       []float64    // by cohort: the sum of its plants' g
	stems     [][2]float64 // by cohort: stems by flush, as shared out
	// warming is how fast steps are still fitted; 0 once draws are kept.
	warming float64
	src     *rand.Rand
}

func newSampler(cohorts []cohort, timing timing, source rand.Source) *sampler {
	s := &sampler{cohorts: cohorts, timing: timing, size: math.Exp(sizePrior.Mean), src: rand.New(source)}
	s.stocks = stocksOf(cohorts)
	s.layProcesses()
	s.looks = make([][2][]seen, len(cohorts))
	for i := range cohorts {
		s.looks[i] = [2][]seen{s.layLooks(i, 0), s.layLooks(i, 1)}
	}
	s.levels = newLevels(cohorts)
	s.curves = newCurves(s.processes, timing)
	s.sum = make([]float64, len(cohorts))
	for i, c := range cohorts {
		s.sum[i] = float64(c.plants)
	}
	s.stems = make([][2]float64, len(cohorts))
	s.start()
	return s
}

func stocksOf(cohorts []cohort) int {
	stocks := map[crop.StockID]bool{}
	for i := range cohorts {
		stocks[cohorts[i].stock] = true
	}
	return len(stocks)
}

// layProcesses cuts the days of each stock's flushes of a season where any cohort was looked at, or first seen. A fall
// flush of which no stem was seen has no process: perhaps there is none (ahead.go).
func (s *sampler) layProcesses() {
	type key struct {
		stock  crop.StockID
		season crop.Season
		flush  int
	}
	fall := map[crop.Season]bool{}
	for _, c := range s.cohorts {
		for _, l := range c.looks {
			fall[c.season] = fall[c.season] || l.stems[1] > 0
		}
	}
	byKey := map[key]*process{}
	s.of = make([][2]*process, len(s.cohorts))
	for i, c := range s.cohorts {
		for f := range flushes {
			if f == 1 && !fall[c.season] {
				continue
			}
			k := key{c.stock, c.season, f}
			if byKey[k] == nil {
				byKey[k] = &process{stock: c.stock, season: c.season, flush: f}
				s.processes = append(s.processes, byKey[k])
			}
			p := byKey[k]
			s.of[i][f] = p
			if c.from > 0 {
				p.ends = append(p.ends, c.from-1)
			}
			for _, l := range c.looks {
				p.ends = append(p.ends, l.day)
			}
		}
	}
	for _, p := range s.processes {
		slices.Sort(p.ends)
		p.ends = slices.Compact(p.ends)
		p.at = make([]float64, len(p.ends))
		for k, end := range p.ends {
			p.at[k] = s.timing.clocks[p.season].of(end)
		}
		p.cutBack = s.timing.cutBackOf(p.stock, p.season, p.flush)
		p.grown = make([]float64, len(p.ends))
		p.stems = make([]float64, len(p.ends))
		p.weight = make([]float64, len(p.ends))
	}
}

// eachCell tells the share of a flush that a curve puts in each cell.
func (p *process) eachCell(c curve, tell func(k int, share float64)) {
	for k, share := range p.sharesOf(c) {
		tell(k, share)
	}
}

// sharesOf are kept of two curves, the one that stands and the one last tried: most are asked for many times.
func (p *process) sharesOf(c curve) []float64 {
	if p.shares[0] == nil {
		p.shares = [2][]float64{make([]float64, len(p.ends)), make([]float64, len(p.ends))}
	}
	if c == p.shared[1] {
		p.shared[0], p.shared[1] = p.shared[1], p.shared[0]
		p.shares[0], p.shares[1] = p.shares[1], p.shares[0]
	}
	if c == p.shared[0] {
		return p.shares[0]
	}
	p.shared[0], p.shared[1] = c, p.shared[0]
	p.shares[0], p.shares[1] = p.shares[1], p.shares[0]
	before := 0.0
	for k, at := range p.at {
		upTo := c.share(at)
		p.shares[0][k], before = upTo-before, upTo
	}
	return p.shares[0]
}

// seen is a look and the cells of a flush that it saw, from and to; where some were left standing, also which part was taken.
type seen struct {
	look     *look
	from, to int
	taken    float64
}

// layLooks finds the cells of a flush that each look of a cohort saw.
func (s *sampler) layLooks(i, flush int) (looks []seen) {
	c, p := &s.cohorts[i], s.of[i][flush]
	if p == nil {
		return nil
	}
	from := 0
	if c.from > 0 {
		from = p.cell(c.from-1) + 1
	}
	for k := range c.looks {
		l := &c.looks[k]
		to := p.cell(l.day) + 1
		if !l.blind {
			looks = append(looks, seen{l, from, to, takenPrior.mean()})
		}
		from = to
	}
	return looks
}

// eachLook tells the cells of a flush that each look of a cohort saw, from and to.
func (s *sampler) eachLook(i, flush int, tell func(l *look, from, to int)) {
	for _, l := range s.looks[i][flush] {
		tell(l.look, l.from, l.to)
	}
}

// warmUp leaves where the sampler began, and fits its steps.
func (s *sampler) warmUp(sweeps int) {
	for k := range sweeps {
		s.warming = 1 / math.Sqrt(float64(k+1))
		s.sweep()
	}
	s.warming = 0
}

// sweep draws everything once.
func (s *sampler) sweep() {
	s.levels.draw(s)
	s.drawSize()
	s.drawSums()
	s.shareOut()
	s.curves.draw(s)
	s.drawGrown()
	s.levels.slide(s)
}

// grownSeen is G over all cells that a cohort saw, by flush.
func (s *sampler) grownSeen(i int) (grown [2]float64) {
	for f := range flushes {
		s.eachLook(i, f, func(_ *look, from, to int) {
			for _, g := range s.of[i][f].grown[from:to] {
				grown[f] += g
			}
		})
	}
	return grown
}

// drawSize draws the size of plants' totals, from those of counted plants.
func (s *sampler) drawSize() {
	expected := make([]float64, len(s.cohorts))
	for i := range s.cohorts {
		grown := s.grownSeen(i)
		expected[i] = s.levels.mean(i, 0)*grown[0] + s.levels.mean(i, 1)*grown[1]
	}
	s.size = math.Exp(slice(s.src, math.Log(s.size), 0.3, func(log float64) float64 {
		d, size := (log-sizePrior.Mean)/sizePrior.SD, math.Exp(log)
		sum := -d * d / 2
		for i, c := range s.cohorts {
			if expected[i] <= 0 {
				continue
			}
			for _, t := range c.totals {
				stems := float64(t.stems)
				sum += float64(t.plants) * (logRising(size, stems) + size*log - (size+stems)*math.Log(size+expected[i]))
			}
		}
		return sum
	}))
}

// drawSums draws each cohort's sum of g: that of n gammas which have all seen the same.
func (s *sampler) drawSums() {
	for i, c := range s.cohorts {
		grown := s.grownSeen(i)
		expected := s.levels.mean(i, 0)*grown[0] + s.levels.mean(i, 1)*grown[1]
		s.sum[i] = s.gamma(float64(c.plants)*s.size+s.stems[i][0]+s.stems[i][1], s.size+expected)
	}
}

func (s *sampler) gamma(shape, rate float64) float64 {
	return distuv.Gamma{Alpha: shape, Beta: rate, Src: s.src}.Rand()
}

// poisson of large means is as good as normal, and far quicker so.
func (s *sampler) poisson(mean float64) float64 {
	if !(mean > 0) {
		return 0
	}
	return distuv.Poisson{Lambda: mean, Src: s.src}.Rand()
}

// shareOut gives each look's stems to the cells that they opened in.
func (s *sampler) shareOut() {
	for _, p := range s.processes {
		clear(p.stems)
		clear(p.weight)
	}
	for i := range s.cohorts {
		for f := range flushes {
			s.stems[i][f] = s.shareOutOf(i, f)
		}
	}
}

// shareOutOf shares out what a cohort gave in a flush, and says how much that is.
func (s *sampler) shareOutOf(i, f int) (all float64) {
	rate := s.levels.mean(i, f) * s.sum[i]
	p := s.of[i][f]
	for n := range s.looks[i][f] {
		l := &s.looks[i][f][n]
		grown := 0.0
		for k := l.from; k < l.to; k++ {
			grown += p.grown[k]
			p.weight[k] += rate
		}
		stems := float64(l.look.stems[f])
		if l.look.atLeast {
			stems += s.left(l, stems, rate*grown)
		}
		all += stems
		s.place(p, l.from, l.to, stems, grown)
	}
	return all
}

// left draws how many stems were left standing by a cut to order that took some, and then which part it took.
func (s *sampler) left(l *seen, took, mean float64) float64 {
	left := s.poisson((1 - l.taken) * mean)
	l.taken = distuv.Beta{Alpha: takenPrior.took + took, Beta: takenPrior.left + left, Src: s.src}.Rand()
	return left
}

// place puts stems into cells by how much grew in each.
func (s *sampler) place(p *process, from, to int, stems, grown float64) {
	for k := from; k < to && stems > 0; k++ {
		here := stems
		if k < to-1 {
			here = s.binomial(int(stems), p.grown[k]/grown)
		}
		p.stems[k] += here
		stems -= here
		grown -= p.grown[k]
	}
}

func (s *sampler) binomial(n int, chance float64) float64 {
	if n == 0 || !(chance > 0) {
		return 0
	}
	if chance >= 1 {
		return float64(n)
	}
	return distuv.Binomial{N: float64(n), P: chance, Src: s.src}.Rand()
}

// drawGrown draws G over each cell.
func (s *sampler) drawGrown() {
	precision := s.curves.precision()
	for _, p := range s.processes {
		p.eachCell(s.curves.of(p), func(k int, share float64) {
			p.grown[k] = s.gamma(precision*max(share, 0)+p.stems[k]+leastShape, precision+p.weight[k])
		})
	}
}

// leastShape keeps a cell in which nothing opens from having no distribution at all.
const leastShape = 1e-9
