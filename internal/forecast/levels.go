package forecast

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"corymb/internal/crop"
	"corymb/internal/yield"
)

// levels are the logarithms of means: a first season, steps between ages, effects of seasons and plantings, what nobody
// counts against what is counted, and the fall flush's part. They lie in one vector.
type levels struct {
	at       []float64
	prior    []normal
	rows     [][]int // by cohort: the places that are summed, without the fall's
	seasons  map[crop.Season]int
	fall     int
	scales   [2]scale // of seasons and of plantings
	members  [2][]int
	proposal *proposal // at the present point; nil where it is not known
}

// normal is a prior of one place; where scale is not negative, that scale is its standard deviation.
type normal struct {
	mean, sd float64
	scale    int
}

// scale is a standard deviation that is not known.
type scale struct {
	log      float64
	mean, sd float64 // of its logarithm, before anything is known
}

const (
	scaleSeasons = iota
	scalePlantings
)

func newLevels(cohorts []cohort) levels {
	practice := yield.Practice()
	l := levels{seasons: map[crop.Season]int{}}
	l.scales[scaleSeasons] = scale{practice.SeasonSD.Mean, practice.SeasonSD.Mean, practice.SeasonSD.SD}
	l.scales[scalePlantings] = scale{practice.PlantingSD.Mean, practice.PlantingSD.Mean, practice.PlantingSD.SD}
	add := func(mean, sd float64, scale int) int {
		l.at, l.prior = append(l.at, mean), append(l.prior, normal{mean, sd, scale})
		if scale >= 0 {
			l.members[scale] = append(l.members[scale], len(l.at)-1)
		}
		return len(l.at) - 1
	}
	first := add(practice.First.Mean, practice.First.SD, -1)
	fallPart := priorsOf[crop.FlushFall].part
	l.fall = add(fallPart.Mean, fallPart.SD, -1)
	uncounted := add(practice.Uncounted.Mean, practice.Uncounted.SD, -1)
	var steps []int
	plantings := map[crop.PlantingID]int{}
	for _, c := range cohorts {
		for age := len(steps) + 2; age <= c.age; age++ {
			prior := practice.LaterStep
			if age == 2 {
				prior = practice.SecondStep
			}
			steps = append(steps, add(prior.Mean, prior.SD, -1))
		}
		if _, known := l.seasons[c.season]; !known {
			l.seasons[c.season] = add(0, 0, scaleSeasons)
		}
		if _, known := plantings[c.planting]; !known {
			plantings[c.planting] = add(0, 0, scalePlantings)
		}
		row := append([]int{first, l.seasons[c.season], plantings[c.planting]}, steps[:max(0, c.age-1)]...)
		if c.uncounted {
			row = append(row, uncounted)
		}
		l.rows = append(l.rows, row)
	}
	return l
}

func (l *levels) sd(i int) float64 {
	if k := l.prior[i].scale; k >= 0 {
		return math.Exp(l.scales[k].log)
	}
	return l.prior[i].sd
}

// mean stems of a plant of a cohort in a flush, for one whose g is 1.
func (l *levels) mean(cohort, flush int) float64 {
	sum := float64(flush) * l.at[l.fall]
	for _, i := range l.rows[cohort] {
		sum += l.at[i]
	}
	return math.Exp(sum)
}

// draw draws the levels given G, with each plant's own g integrated out: a cohort's total of n plants is negative
// binomial with mean n sum of M G and size n times the plants', and binomial among its flushes. Proposals come from the
// normal that one step of Fisher scoring gives (Gamerman 1997, Statistics and Computing 7:57-68).
func (l *levels) draw(s *sampler) {
	here, ok := l.propose(s, l.at)
	if !ok {
		return
	}
	there := here.draw(s)
	back, ok := l.propose(s, there)
	if ok {
		ratio := back.density - here.density + back.log(l.at) - here.log(there)
		if math.Log(s.src.Float64()) < ratio {
			l.at = there
		}
	}
	for k := range l.scales {
		l.drawScale(s, k)
	}
}

// proposal is a normal about one step from a point.
type proposal struct {
	density  float64 // the log of the posterior density at the point
	mean     *mat.VecDense
	chol     mat.Cholesky // of the precision
	halfLogs float64
}

// propose is the step from a point; not ok where the numbers break down.
func (l *levels) propose(s *sampler, at []float64) (*proposal, bool) {
	n := len(at)
	grad := mat.NewVecDense(n, nil)
	info := mat.NewSymDense(n, nil)
	p := &proposal{}
	for i, v := range at {
		d, sd := v-l.prior[i].mean, l.sd(i)
		p.density -= d * d / (2 * sd * sd)
		grad.SetVec(i, -d/(sd*sd))
		info.SetSym(i, i, 1/(sd*sd))
	}
	for i, row := range l.rows {
		grown := s.grownSeen(i)
		sum := 0.0
		for _, k := range row {
			sum += at[k]
		}
		spring, fall := math.Exp(sum)*grown[0], math.Exp(sum+at[l.fall])*grown[1]
		if spring+fall <= 0 {
			continue
		}
		plants := float64(s.cohorts[i].plants)
		stems := s.stems[i][0] + s.stems[i][1]
		mean, size, part := plants*(spring+fall), plants*s.size, fall/(spring+fall)
		p.density += stems*math.Log(mean) - (stems+size)*math.Log(size+mean)
		slope, weight := size*(stems-mean)/(size+mean), size*mean/(size+mean)
		for a, k := range row {
			grad.SetVec(k, grad.AtVec(k)+slope)
			for _, m := range row[:a+1] {
				info.SetSym(k, m, info.At(k, m)+weight)
			}
		}
		if part == 0 {
			continue
		}
		for _, k := range row {
			info.SetSym(k, l.fall, info.At(k, l.fall)+weight*part)
		}
		p.density += s.stems[i][1]*math.Log(part) + s.stems[i][0]*math.Log1p(-part)
		grad.SetVec(l.fall, grad.AtVec(l.fall)+slope*part+s.stems[i][1]-stems*part)
		info.SetSym(l.fall, l.fall, info.At(l.fall, l.fall)+weight*part*part+stems*part*(1-part))
	}
	if !p.chol.Factorize(info) {
		return nil, false
	}
	step := mat.NewVecDense(n, nil)
	if err := p.chol.SolveVecTo(step, grad); err != nil {
		return nil, false
	}
	p.mean = mat.NewVecDense(n, slices.Clone(at))
	p.mean.AddVec(p.mean, step)
	p.halfLogs = p.chol.LogDet() / 2
	return p, true
}

// draw draws from the normal.
func (p *proposal) draw(s *sampler) []float64 {
	n := p.mean.Len()
	z := mat.NewVecDense(n, nil)
	for i := range n {
		z.SetVec(i, s.src.NormFloat64())
	}
	var upper mat.TriDense
	p.chol.UTo(&upper)
	var away mat.VecDense
	if err := away.SolveVec(&upper, z); err != nil {
		return slices.Clone(p.mean.RawVector().Data)
	}
	away.AddVec(&away, p.mean)
	return away.RawVector().Data
}

// log is the log density of a point, up to a constant.
func (p *proposal) log(at []float64) float64 {
	away := mat.NewVecDense(len(at), slices.Clone(at))
	away.SubVec(away, p.mean)
	var upper mat.TriDense
	p.chol.UTo(&upper)
	var scaled mat.VecDense
	scaled.MulVec(&upper, away)
	return p.halfLogs - mat.Dot(&scaled, &scaled)/2
}

// drawScale moves a standard deviation, given the effects that have it.
func (l *levels) drawScale(s *sampler, k int) {
	density := func(log float64) float64 {
		d := (log - l.scales[k].mean) / l.scales[k].sd
		sum := -d * d / 2
		for _, i := range l.members[k] {
			z := l.at[i] / math.Exp(log)
			sum -= z*z/2 + log
		}
		return sum
	}
	l.scales[k].log = slice(s.src, l.scales[k].log, 0.5, density)
}

// slide moves a season's effect against G of all that season's cells: only their product is seen, so that neither could
// move far alone.
func (l *levels) slide(s *sampler) {
	precision := s.curves.precision()
	for _, season := range sortedKeys(l.seasons) {
		i := l.seasons[season]
		shapes, grown := 0.0, 0.0
		for _, p := range s.processes {
			if p.season != season {
				continue
			}
			p.eachCell(s.curves.of(p), func(k int, share float64) {
				shapes += precision*max(share, 0) + leastShape
				grown += p.grown[k]
			})
		}
		sd := l.sd(i)
		by := slice(s.src, 0, 0.1, func(by float64) float64 {
			z := (l.at[i] + by) / sd
			return -z*z/2 - shapes*by - precision*grown*math.Exp(-by)
		})
		l.at[i] += by
		for _, p := range s.processes {
			if p.season != season {
				continue
			}
			for k := range p.grown {
				p.grown[k] *= math.Exp(-by)
			}
		}
	}
}
