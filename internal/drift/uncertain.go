package drift

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"

	"corymb/internal/crop"
)

// The covariances are themselves estimated, of a few plants in few seasons badly. So the shifts are worked out
// again at draws of the covariances from the normal about their mode, and each is given the multivariate t whose
// mean covariance and degrees of freedom that spread says: with covariances that vary by the part r (variance over
// squared mean), 4 + 2/r degrees of freedom, as of a scaled inverse chi-square.

// difference is a plant-season's shift with all that is uncertain of it.
type difference struct {
	shift
	// restless is how many times as large the plant's covariances are as those of the stand; 0 of the stand itself.
	restless float64

	df    float64
	scale square  // of the t: the covariance is df/(df-2) times it
	wider float64 // how many times as wide, as a variance, that is as the shift's own covariance

	// sums over draws of covariances
	draws             int
	covs, moves       square // of the covariance, and of the shift's move from the mode squared
	ratios, ratiosSqu float64
}

const (
	mostDraws  = 30
	leastDraws = 8
	// drawnReadings is how many readings are worked through for draws altogether.
	drawnReadings = 100_000
	drawSeed      = 1 // fixed, so that the same readings give the same report
	leastDF       = 4.5
	// mostDF keeps tails where the covariances are known well: years are not normal, nor are plants equally restless in
	// them, and the model takes them to be. A guess of ours, with which simulated plants that differ so are still hardly
	// ever flagged.
	mostDF = 24
)

// uncertain is all that was found to shift, of plants by season and of the stand by season after its first.
type uncertain struct {
	differences map[*block][]difference
	stand       []difference
	firm        map[pairOfSeasons]int // plants that were firmly read in both
	df, wider   float64               // of the middle difference: degrees of freedom, and how many times as wide as at the mode
}

type pairOfSeasons struct {
	reference bool
	from, to  crop.Season
}

// beside counts the other plants that a plant is held against.
func (u *uncertain) beside(reference bool, from, to crop.Season) int {
	return u.firm[pairOfSeasons{reference, from, to}] - 1
}

// uncertain works out all shifts at the mode and at draws.
func (l *layout) uncertain(f *fitted, w *workspace) (*uncertain, error) {
	u := &uncertain{differences: map[*block][]difference{}, firm: map[pairOfSeasons]int{}}
	err := l.eachShift(l.blocks, f.solution, true, w, func(b *block, list []shift) {
		for _, s := range list {
			u.differences[b] = append(u.differences[b], difference{shift: s, restless: w.scatter.restless()})
			u.firm[pairOfSeasons{b.reference, b.seasons[b.baseline], b.seasons[s.season]}]++
		}
	})
	if err != nil {
		return nil, err
	}
	middle := l.middlePlant()
	_, at := l.standSeasons()
	for i := 1; i < len(at); i++ {
		u.stand = append(u.stand, difference{shift: l.standShift(f.solution, at[0], at[i], middle)})
	}
	draws, err := f.draws(min(mostDraws, max(leastDraws, drawnReadings/max(1, len(l.ordered)))))
	if err != nil {
		return nil, err
	}
	for _, theta := range draws {
		sol, err := l.solve(l.blocks, spreadsAt(theta), w)
		if err != nil {
			return nil, err
		}
		err = l.eachShift(l.blocks, sol, false, w, func(b *block, list []shift) {
			for i, s := range list {
				u.differences[b][i].draw(s)
			}
		})
		if err != nil {
			return nil, err
		}
		for i := range u.stand {
			u.stand[i].draw(l.standShift(sol, at[0], at[i+1], middle))
		}
	}
	var dfs, wider []float64
	for _, list := range u.differences {
		for i := range list {
			list[i].settle()
			dfs, wider = append(dfs, list[i].df), append(wider, list[i].wider/cutOff)
		}
	}
	for i := range u.stand {
		u.stand[i].settle()
	}
	u.df, u.wider = plannedDF, 1
	if len(dfs) > 0 {
		u.df, u.wider = median(dfs), median(wider)
	}
	return u, nil
}

// draws are pairs about the mode, of which one lies as far on one side as the other on the other.
func (f *fitted) draws(n int) ([][]float64, error) {
	var root mat.Cholesky
	if !root.Factorize(f.precision) {
		return nil, errNotPositive
	}
	var upper mat.TriDense
	root.UTo(&upper)
	source := rand.New(rand.NewPCG(drawSeed, 0))
	var list [][]float64
	z := mat.NewVecDense(parameterCount, nil)
	for len(list) < n {
		for i := range parameterCount {
			z.SetVec(i, source.NormFloat64())
		}
		var move mat.VecDense
		if err := move.SolveVec(&upper, z); err != nil {
			return nil, fmt.Errorf("draw variances of readings: %w", err)
		}
		for _, sign := range []float64{1, -1} {
			moved := make([]float64, parameterCount)
			for i := range moved {
				moved[i] = sign * move.AtVec(i)
			}
			list = append(list, f.bent(moved))
		}
	}
	return list, nil
}

// bent goes from the mode along a move, but not straight: of one photo a season readings tell how much wobble, day and
// head vary together, and not how much each does, so that what is likely is a bent ridge. Along each axis the
// logarithm of their joint standard deviation and of their ratios move straight, of which each variance follows.
// The determinant of that map is 1, so densities stay as they are.
func (f *fitted) bent(move []float64) []float64 {
	theta := make([]float64, parameterCount)
	for i := range theta {
		theta[i] = f.theta[i] + move[i]
	}
	for axis := range 3 {
		var at [3]int
		var variance, next [3]float64
		all, nextAll, joint := 0.0, 0.0, 0.0
		for k, c := range []int{atWobble, atPlantDay, atHead} {
			at[k] = components[c].first + axis
			variance[k], next[k] = math.Exp(2*f.theta[at[k]]), math.Exp(2*theta[at[k]])
			all, nextAll = all+variance[k], nextAll+next[k]
		}
		for k := range at {
			joint += variance[k] / all * move[at[k]]
		}
		for k := range at {
			theta[at[k]] += joint + math.Log(all/nextAll)/2
		}
	}
	return theta
}

func (d *difference) draw(s shift) {
	move := s.by.minus(d.by)
	d.draws++
	d.covs = d.covs.plus(s.cov)
	d.moves = d.moves.plus(outer(move, move))
	ratio := d.cov.inverse().product(s.cov) / 3
	d.ratios += ratio
	d.ratiosSqu += ratio * ratio
}

func (d *difference) settle() {
	n := float64(d.draws)
	mean := d.ratios / n
	part := max(0, d.ratiosSqu/n-mean*mean) / (mean * mean)
	d.df = min(mostDF, max(leastDF, 4+2/part))
	if math.IsNaN(d.df) || part == 0 {
		d.df = mostDF
	}
	cov := d.covs.plus(d.moves).scale(max(1, d.restless) * cutOff / n)
	d.scale = cov.scale((d.df - 2) / d.df)
	d.wider = cov.product(d.cov.inverse()) / 3
}
