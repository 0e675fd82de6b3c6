package drift

import (
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"
)

// Plants that truly drift must not pass for what plants ordinarily do, or nothing would ever stand out from it.
// So a plant-season that lies too far from its baseline is given a shift that nothing holds, and then tells
// neither of the wobble nor of its session or stand. That starts from the wobble of the priors, since from what all
// plants do a tenth that drift would hide one another, and goes on until no mark changes. Cutting off the far ones
// makes the rest look a little too still, which is made good by a factor.

// farOff is the squared distance beyond which 1 of 100 plant-seasons lie that only wobble.
var farOff = distuv.ChiSquared{K: 3}.Quantile(0.99)

// cutOff is how many times as large a covariance is as that of what is left when what lies beyond farOff is taken
// off: of a normal in three dimensions.
var cutOff = distuv.ChiSquared{K: 3}.CDF(farOff) / distuv.ChiSquared{K: 5}.CDF(farOff)

const (
	mostRounds = 12
	// mostSample is how many plants the covariances are estimated from. Of 400 plants they are known to a
	// twentieth, and what is left of that is in the degrees of freedom.
	mostSample = 400
	sampleSeed = 1
)

// sample is the plants that the covariances are estimated from: the references, and of the others a random
// choice, always the same, of those read in most seasons.
func (l *layout) sample() []*block {
	if len(l.blocks) <= mostSample {
		return l.blocks
	}
	var list []*block
	var others [][]*block // by number of seasons
	for _, b := range l.blocks {
		if b.reference {
			list = append(list, b)
			continue
		}
		for len(others) <= len(b.seasons) {
			others = append(others, nil)
		}
		others[len(b.seasons)] = append(others[len(b.seasons)], b)
	}
	source := rand.New(rand.NewPCG(sampleSeed, 0))
	for k := len(others) - 1; k >= 0; k-- {
		source.Shuffle(len(others[k]), func(i, j int) { others[k][i], others[k][j] = others[k][j], others[k][i] })
		list = append(list, others[k][:min(len(others[k]), max(0, mostSample-len(list)))]...)
	}
	return list
}

// fitRobustly estimates the covariances and marks what lies too far off, in the sample and then in the stand.
func (l *layout) fitRobustly(w *workspace) (*fitted, error) {
	prior := priors()
	theta := make([]float64, len(prior))
	for i, p := range prior {
		theta[i] = p.mean
	}
	sample := l.sample()
	sol, err := l.solve(sample, spreadsAt(theta), w)
	if err != nil {
		return nil, err
	}
	var f *fitted
	for range mostRounds {
		changed, err := l.mark(sample, sol, w)
		if err != nil {
			return nil, err
		}
		if f != nil && !changed {
			break
		}
		if f, err = l.fit(sample, prior, theta, smallStep, w); err != nil {
			return nil, err
		}
		theta, sol = f.theta, f.solution
	}
	if len(sample) == len(l.blocks) {
		return f, nil
	}
	for range 2 {
		if f.solution, err = l.solve(l.blocks, f.spreads, w); err != nil {
			return nil, err
		}
		if _, err = l.mark(l.blocks, f.solution, w); err != nil {
			return nil, err
		}
	}
	f.solution, err = l.solve(l.blocks, f.spreads, w)
	return f, err
}

// mark sets the marks of plants as a solution says, and tells whether any changed. They are set when all are
// known, since the solution stands on the former ones.
func (l *layout) mark(blocks []*block, sol *solution, w *workspace) (changed bool, err error) {
	marks := map[*block][]bool{}
	err = l.eachShift(blocks, sol, false, w, func(b *block, list []shift) {
		marks[b] = make([]bool, len(b.seasons))
		for _, s := range list {
			marks[b][s.season] = s.cov.scale(cutOff).inverse().within(s.by) > farOff
		}
	})
	if err != nil {
		return false, err
	}
	for b, of := range marks {
		for i, m := range of {
			changed = changed || b.free[i] != m
		}
		b.free = of
	}
	return changed, nil
}
