package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// NegBin is a regression of counts: negative binomial in its second form (NB2), log link,
//
//	log mu = x'b + offset,  variance = mu + mu^2/size
//
// (Lawless 1987, Canadian Journal of Statistics 15:209-225; Venables and Ripley 2002, Modern Applied
// Statistics with S, section 7.4, whose theta is size).
type NegBin struct {
	X      [][]float64 // one row of covariates for each count
	Offset []float64   // added to the log mean; nil is zero
	Counts []int
	// Group says which size a row has, from 0 without a gap; nil is one size for all.
	Group []int
	// Prior is on the coefficients and then on the log sizes; nil is flat.
	Prior []Normal
}

// NegBinFit is the mode of a NegBin.
type NegBinFit struct {
	Coef []float64
	Size []float64
	// Cov is the inverse of the observed information of the coefficients and then the log sizes.
	Cov *mat.SymDense
	// LogLik is the log-likelihood at the mode, without the prior.
	LogLik    float64
	Converged bool
	// NoMaximum lists the parameters (coefficients, then log sizes) that have no finite maximum:
	// their values are only where the search stopped. A log size among them means that the counts
	// spread no more than Poisson counts do.
	NoMaximum []int
}

// Fit finds the mode. An error is about the input; a search that failed says Converged false.
func (m NegBin) Fit() (NegBinFit, error) {
	s, err := m.surface()
	if err != nil {
		return NegBinFit{}, fmt.Errorf("fit negative binomial: %w", err)
	}
	top := climb(s, s.start())
	fit := NegBinFit{
		Coef: top.x[:s.columns], Size: make([]float64, s.groups), Cov: top.covariance(),
		LogLik: top.value - s.prior(top.x), Converged: top.converged, NoMaximum: top.flat,
	}
	for g, a := range top.x[s.columns:] {
		fit.Size[g] = math.Exp(a)
	}
	return fit, nil
}

func (m NegBin) surface() (*negBinSurface, error) {
	columns, err := checkRows(m.X, len(m.Counts))
	if err != nil {
		return nil, err
	}
	if m.Offset != nil && len(m.Offset) != len(m.Counts) {
		return nil, fmt.Errorf("%d offsets for %d counts: give one for each, or none", len(m.Offset), len(m.Counts))
	}
	group, groups, err := m.sizeGroups()
	if err != nil {
		return nil, err
	}
	prior, err := priorsFor(m.Prior, columns+groups)
	if err != nil {
		return nil, err
	}
	tallies := make([]Tally, groups)
	for i, y := range m.Counts {
		if err := tallies[group[i]].Add(y); err != nil {
			return nil, err
		}
	}
	return &negBinSurface{model: m, group: group, groups: groups, columns: columns, priors: prior, tallies: tallies}, nil
}

func (m NegBin) sizeGroups() (group []int, groups int, err error) {
	if m.Group == nil {
		return make([]int, len(m.Counts)), 1, nil
	}
	if len(m.Group) != len(m.Counts) {
		return nil, 0, fmt.Errorf("%d size groups for %d counts: give one for each, or none", len(m.Group), len(m.Counts))
	}
	for i, g := range m.Group {
		if g < 0 {
			return nil, 0, fmt.Errorf("row %d has size group %d: groups start at 0", i, g)
		}
		groups = max(groups, g+1)
	}
	return m.Group, max(groups, 1), nil
}
