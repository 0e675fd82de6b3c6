package stats

import (
	"math"
	"math/rand/v2"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"
)

const (
	chains      = 4
	warmUp      = 50
	chainRounds = 150
	mostRounds  = 8
	leastRounds = 10
	sliceWork   = 10 * mostWork
	mostShrinks = 100
	mostSteps   = 20 // of the width of a coordinate's slice
)

// sliced draws by slice sampling in the proposal's standard coordinates: in turn a move on an ellipse about
// the proposal's t (Nishihara, Murray and Adams 2014, Journal of Machine Learning Research 15:2087-2112), which
// goes far where the t is right, and one along each coordinate (Neal 2003, Annals of Statistics 31:705-767,
// stepping out and shrinking), which fits itself where it is not. Four chains begin at draws that their
// weights chose, until the slowest coordinate is worth enough draws or the rounds end; Effective then says
// less.
func (s *sampler) sliced(weighted Draws, standard [][]float64, work float64) Draws {
	rounds := s.affordedRounds(work)
	d := Draws{Basis: BasisSampled, KHat: weighted.KHat, Mode: weighted.Mode}
	list := make([]*chain, chains)
	for c := range list {
		source := rand.New(rand.NewPCG(s.source.Uint64(), uint64(c)))
		at := standard[pick(weighted.Weight, (float64(c)+0.5)/chains)]
		list[c] = &chain{e: s.evaluator(), source: source, w: append([]float64(nil), at...), t: standardT(len(at))}
		list[c].point, list[c].density = list[c].e.at(list[c].w)
	}
	inParallel(list, func(c *chain) { c.walk(min(warmUp, rounds)); c.kept = nil })
	for range mostRounds {
		inParallel(list, func(c *chain) { c.walk(rounds) })
		if d.Effective = worth(list); d.Effective >= leastWorth {
			break
		}
	}
	for _, c := range list {
		d.Points = append(d.Points, c.kept...)
	}
	d.Weight = equalWeights(len(d.Points))
	return d
}

// affordedRounds at a time: a coordinate's slice costs some seven evaluations.
func (s *sampler) affordedRounds(work float64) int {
	const slice = 7
	return max(leastRounds, min(chainRounds, int(sliceWork/(work*float64(s.dimensions)*slice*chains*mostRounds))))
}

func inParallel(list []*chain, do func(*chain)) {
	var running sync.WaitGroup
	for _, c := range list {
		running.Go(func() { do(c) })
	}
	running.Wait()
}

// pick is the draw at which the running sum of the weights passes p.
func pick(weights []float64, p float64) int {
	sum := 0.0
	for i, w := range weights {
		if sum += w; sum >= p {
			return i
		}
	}
	return len(weights) - 1
}

// chain is one walk over standard draws.
type chain struct {
	e       *evaluator
	source  *rand.Rand
	t       multivariateT
	w       []float64
	point   []float64
	density float64
	kept    [][]float64
}

func (c *chain) walk(rounds int) {
	for range rounds {
		c.onEllipse()
		for k := range c.w {
			c.along(k)
		}
		c.kept = append(c.kept, c.point)
	}
}

// onEllipse draws the t's own scale given the place, then moves on the ellipse through the place and a normal
// draw of that scale, shrinking towards the place until the ratio to the t lies above the slice's level.
func (c *chain) onEllipse() {
	d := float64(len(c.w))
	square := 0.0
	for _, v := range c.w {
		square += v * v
	}
	gamma := distuv.Gamma{Alpha: (proposalDF + d) / 2, Beta: (proposalDF + square) / 2, Src: c.source}.Rand()
	other := make([]float64, len(c.w))
	for k := range other {
		other[k] = c.source.NormFloat64() / math.Sqrt(gamma)
	}
	level := c.density - c.t.logDensity(c.w) + math.Log(1-c.source.Float64())
	angle := 2 * math.Pi * c.source.Float64()
	lo, hi := angle-2*math.Pi, angle
	trial := make([]float64, len(c.w))
	for range mostShrinks {
		cos, sin := math.Cos(angle), math.Sin(angle)
		for k := range trial {
			trial[k] = c.w[k]*cos + other[k]*sin
		}
		point, density := c.e.at(trial)
		if density-c.t.logDensity(trial) > level {
			c.w, c.point, c.density = trial, point, density
			return
		}
		if angle < 0 {
			lo = angle
		} else {
			hi = angle
		}
		angle = lo + (hi-lo)*c.source.Float64()
	}
}

// along moves one coordinate: the slice is stepped out from a width of 1 about the place, then shrunk.
func (c *chain) along(k int) {
	level := c.density + math.Log(1-c.source.Float64())
	trial := append([]float64(nil), c.w...)
	at := func(v float64) (point []float64, density float64) {
		trial[k] = v
		return c.e.at(trial)
	}
	lo := c.w[k] - c.source.Float64()
	hi := lo + 1
	for range mostSteps {
		if _, density := at(lo); density <= level {
			break
		}
		lo--
	}
	for range mostSteps {
		if _, density := at(hi); density <= level {
			break
		}
		hi++
	}
	for range mostShrinks {
		v := lo + (hi-lo)*c.source.Float64()
		if point, density := at(v); density > level {
			c.w[k], c.point, c.density = v, point, density
			return
		}
		if v < c.w[k] {
			lo = v
		} else {
			hi = v
		}
	}
}

// worth is the least effective number of draws over the coordinates (Geyer 1992, Statistical Science
// 7:473-483: autocorrelations are summed in pairs while a pair's sum stays positive; over several chains as
// in Gelman et al. 2013, Bayesian Data Analysis, section 11.5).
func worth(list []*chain) float64 {
	least := math.Inf(1)
	for k := range list[0].w {
		series := make([][]float64, len(list))
		for c, one := range list {
			for _, point := range one.kept {
				series[c] = append(series[c], point[k])
			}
		}
		least = min(least, effectiveOf(series))
	}
	return least
}

func effectiveOf(series [][]float64) float64 {
	n, m := len(series[0]), float64(len(series))
	within, between, grand := 0.0, 0.0, 0.0
	means := make([]float64, len(series))
	for c, s := range series {
		means[c] = meanOf(s)
		grand += means[c] / m
	}
	for c, s := range series {
		for _, v := range s {
			within += (v - means[c]) * (v - means[c]) / (float64(n-1) * m)
		}
		between += float64(n) / (m - 1) * (means[c] - grand) * (means[c] - grand)
	}
	whole := within*float64(n-1)/float64(n) + between/float64(n)
	if whole == 0 {
		return float64(n) * m
	}
	correlation := func(lag int) float64 {
		sum := 0.0
		for _, s := range series {
			part := 0.0
			for i := lag; i < n; i++ {
				part += (s[i] - s[i-lag]) * (s[i] - s[i-lag])
			}
			sum += part / float64(n-lag) / m
		}
		return 1 - sum/(2*whole)
	}
	sum := 0.0
	for lag := 1; lag+1 < n; lag += 2 {
		pair := correlation(lag) + correlation(lag+1)
		if pair < 0 {
			break
		}
		sum += pair
	}
	return float64(n) * m / (1 + 2*sum)
}

func meanOf(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}
