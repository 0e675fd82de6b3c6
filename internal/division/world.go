package division

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
	"corymb/internal/stats"
	"corymb/internal/yield"
)

// What common practice says of divisions and plugs (no source for any of these).
var (
	// childPrior is of the logarithm of what a division gives in its first season, against a clump in its second: half to
	// two thirds, and wide enough to be overruled by a farm's own. It catches up in its second season.
	childPrior = stats.Normal{Mean: math.Log(0.58), SD: 0.3}
	// openPrior is of the logarithm of what a clump with an open centre gives in each further season undivided, against
	// one without.
	openPrior = stats.Normal{Mean: math.Log(0.75), SD: 0.15}
)

const (
	divisionTakes = 0.92 // of divisions that are set, so many stand in their first season
	plugTakes     = 0.95
)

// posterior is what the farm's counts say, as equally likely draws.
type posterior struct {
	species map[string]*yield.StemDraws
	lasts   []yield.SurvivalDraw
	child   []float64 // by draw
	own     int       // divisions of the farm that child rests on
	draws   int
}

// The numbers of draws of what the counts say: as many as a plan of so many plants has time for. The first third of them is
// for choosing.
const (
	drawsTimesPlants = 1_200_000
	leastDraws       = 240
	mostDraws        = 600
)

func posteriorOf(s *stand, seasons int) (*posterior, error) {
	most := min(max(drawsTimesPlants/len(s.plants), leastDraws), mostDraws)
	options := yield.Options{}
	if !s.over {
		options.AsOf = s.asOf
	}
	oldest := s.oldest(seasons)
	p := &posterior{species: map[string]*yield.StemDraws{}, draws: most}
	for _, species := range s.species() {
		options.Species = species
		draws, err := yield.DrawStems(withoutFirstOfDivisions(s.farm), options, oldest, most)
		if err != nil {
			return nil, fmt.Errorf("planning divisions: %w", err)
		}
		p.species[species] = draws
		p.draws = min(p.draws, len(draws.Draws))
	}
	options.Species = ""
	var err error
	if p.lasts, err = yield.DrawSurvival(s.farm, options, oldest, p.draws); err != nil {
		return nil, fmt.Errorf("planning divisions: %w", err)
	}
	p.learnChild(s)
	return p, nil
}

// world is all that plants share in one draw.
type world struct {
	*posterior
	draw     int
	src      *rand.Rand
	season   []float64 // by season ahead: a standard normal, for every species alike
	lasts    yield.SurvivalDraw
	child    float64
	open     float64
	ground   float64 // standard normal: where divisions are set
	quality  [][]Shares
	standing map[standingIn]float64
}

// Shares are those of a season's stems by grade, the lowest first.
type Shares [4]float64

// standingIn is plants of one planting at the start of one season ahead; divisions are together in a planting of their own.
type standingIn struct {
	planting crop.PlantingID
	new      Do
	age      int
	season   int
}

// newWorld draws one future of a draw of what the counts say.
func (p *planner) newWorld(draw int, src *rand.Rand) *world {
	w := &world{
		posterior: p.posterior, draw: draw, src: src, lasts: p.posterior.lasts[draw], child: p.posterior.child[draw],
		open: openPrior.Mean + openPrior.SD*src.NormFloat64(), ground: src.NormFloat64(), standing: map[standingIn]float64{},
	}
	for range p.ahead() {
		w.season = append(w.season, src.NormFloat64())
		w.quality = append(w.quality, p.drawQuality(src))
	}
	return w
}

// lastsThrough draws whether plants that stood in a season of an age stand in the next: how many of so many.
func (w *world) lastsThrough(in standingIn, n int) int {
	chance, drawn := w.standing[in]
	if !drawn {
		mean, f := stats.Logistic(w.lasts.Lasts[in.age-1]), math.Exp(-w.lasts.Alike)
		chance = mean
		if a, b := mean*f, (1-mean)*f; a > 1e-6 && b > 1e-6 {
			chance = distuv.Beta{Alpha: a, Beta: b, Src: w.src}.Rand()
		}
		w.standing[in] = chance
	}
	return w.binomial(n, chance)
}

func (w *world) binomial(n int, chance float64) int {
	left := 0
	for range n {
		if w.src.Float64() < chance {
			left++
		}
	}
	return left
}

// count draws the stems of n alike plants: a sum of negative binomials of one size.
func (w *world) count(n int, logMean, size float64) int {
	if n == 0 {
		return 0
	}
	const most = 20 // on the logarithm: beyond what any plant bears
	shape := float64(n) * size
	mean := math.Exp(min(logMean, most)) * distuv.Gamma{Alpha: shape, Beta: size, Src: w.src}.Rand()
	if mean > 1e-9 {
		return int(distuv.Poisson{Lambda: mean, Src: w.src}.Rand())
	}
	return 0
}
