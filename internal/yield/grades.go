package yield

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// Weak priors of the grade model, on the logit scale. Equal shares of the four grades put the first
// threshold at logit(1/4) and the spacings at log 3; the spreads let any share be overruled by a
// score of stems, and keep a grade that was never seen possible.
var (
	firstThresholdPrior = stats.Normal{Mean: -math.Log(3), SD: 1.5}
	logSpacingPrior     = stats.Normal{Mean: math.Log(math.Log(3)), SD: 1}
	effectPrior         = stats.Normal{Mean: 0, SD: 2}
)

// 4,000 draws place an interval's end to about a thirtieth of a standard error. The seed is fixed, so
// that a page drawn twice shows the same digits.
const (
	gradeDraws    = 4000
	gradeDrawSeed = 1
)

// gradeModel is a cumulative logit with effects of age and flush; the youngest age and the first
// flush present are its reference.
type gradeModel struct {
	told    []toldCounts
	ages    []int
	flushes []crop.Flush
	working []float64
	draws   [][]float64 // deviations from working
}

// fitGrades fits all graded stems; without any it is an empty model.
func fitGrades(told []toldCounts) (gradeModel, error) {
	g := gradeModel{told: told}
	if len(told) == 0 {
		return g, nil
	}
	ages, flushes := map[int]bool{}, map[crop.Flush]bool{}
	for _, t := range told {
		ages[t.age], flushes[t.flush] = true, true
	}
	g.ages = slices.Sorted(maps.Keys(ages))
	g.flushes = slices.SortedFunc(maps.Keys(flushes), compareFlush)

	model, clusters := g.regression()
	fit, err := model.Fit()
	if err != nil {
		return g, err
	}
	if !fit.Converged {
		return g, fmt.Errorf("no maximum found from %d rows of graded stems", len(model.Category))
	}
	cov, err := coverBoth(fit, clusters)
	if err != nil {
		return g, err
	}
	g.working = fit.Working
	g.draws, err = stats.NormalDraws(cov, gradeDraws, gradeDrawSeed)
	return g, err
}

// compareFlush puts spring first, then fall, then any others by name.
func compareFlush(a, b crop.Flush) int {
	return cmp.Or(cmp.Compare(flushRank(a), flushRank(b)), cmp.Compare(a, b))
}

func flushRank(f crop.Flush) int {
	switch f {
	case crop.FlushSpring:
		return 0
	case crop.FlushFall:
		return 1
	}
	return 2
}

// regression lays the graded stems out, a row for each cluster, age, flush and grade.
func (g gradeModel) regression() (model stats.CumLogit, clusters []int) {
	model.Categories = len(crop.GradesLowToHigh)
	number := map[cluster]int{}
	for _, t := range g.told {
		if _, seen := number[t.cluster]; !seen {
			number[t.cluster] = len(number)
		}
		for rank, stems := range t.stems {
			if stems > 0 {
				model.X = append(model.X, g.covariates(t.age, t.flush))
				model.Category = append(model.Category, rank)
				model.Weight = append(model.Weight, float64(stems))
				clusters = append(clusters, number[t.cluster])
			}
		}
	}
	model.Prior = []stats.Normal{firstThresholdPrior, logSpacingPrior, logSpacingPrior}
	for range len(g.ages) + len(g.flushes) - 2 {
		model.Prior = append(model.Prior, effectPrior)
	}
	return model, clusters
}

// covariates are 1 for the age and for the flush, the reference of either being all zeros.
func (g gradeModel) covariates(age int, flush crop.Flush) []float64 {
	x := make([]float64, len(g.ages)+len(g.flushes)-2)
	if i := slices.Index(g.ages, age); i > 0 {
		x[i-1] = 1
	}
	if i := slices.Index(g.flushes, flush); i > 0 {
		x[len(g.ages)-1+i-1] = 1
	}
	return x
}

// coverBoth is the covariance that is no narrower than the model says (stems are independent) nor
// than the clusters say (a plant's stems are alike). One cluster alone leaves only the model's.
func coverBoth(fit stats.CumLogitFit, clusters []int) (*mat.SymDense, error) {
	if slices.Max(clusters) == 0 {
		return fit.Cov, nil
	}
	robust, err := stats.Sandwich(fit.Cov, fit.Scores(), clusters)
	if err != nil {
		return nil, err
	}
	return stats.WiderCov(fit.Cov, robust)
}
