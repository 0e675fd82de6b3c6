package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// BetaBin is a regression of shares, y of n, whose units are alike within a row: beta-binomial,
// logit link,
//
//	logit mu = x'b,  variance of y = n mu (1-mu) (1 + (n-1) rho)
//
// with rho, the correlation of two units of one row, the same for all rows (Williams 1975, Biometrics
// 31:949-952; Prentice 1986, Journal of the American Statistical Association 81:321-327). A row's own
// share has the beta distribution with parameters mu (1-rho)/rho and (1-mu) (1-rho)/rho.
type BetaBin struct {
	X    [][]float64 // one row of covariates for each share
	Hits []int       // y
	Of   []int       // n; a row of 0 tells nothing
	// Prior is on the coefficients and then on the logit of rho; nil is flat.
	Prior []Normal
}

// BetaBinFit is the mode of a BetaBin.
type BetaBinFit struct {
	Coef []float64
	Rho  float64
	// Cov is the inverse of the observed information of the coefficients and then the logit of rho.
	Cov *mat.SymDense
	// LogLik is the log-likelihood at the mode, binomial coefficients included, without the prior.
	LogLik    float64
	Converged bool
	// NoMaximum lists the parameters (coefficients, then the logit of rho) that have no finite maximum:
	// their values are only where the search stopped. The logit of rho among them means that the rows
	// spread no more than binomial shares do, or that every row is all or nothing.
	NoMaximum []int
}

// Fit finds the mode. An error is about the input; a search that failed says Converged false.
func (m BetaBin) Fit() (BetaBinFit, error) {
	s, err := m.surface()
	if err != nil {
		return BetaBinFit{}, fmt.Errorf("fit beta-binomial: %w", err)
	}
	top := climb(s, s.start())
	return BetaBinFit{
		Coef: top.x[:s.columns], Rho: Logistic(top.x[s.columns]), Cov: top.covariance(),
		LogLik: top.value - s.priorAt(top.x), Converged: top.converged, NoMaximum: top.flat,
	}, nil
}

func (m BetaBin) surface() (*betaBinSurface, error) {
	columns, err := checkRows(m.X, len(m.Hits))
	if err != nil {
		return nil, err
	}
	if len(m.Of) != len(m.Hits) {
		return nil, fmt.Errorf("%d wholes for %d shares: give one for each", len(m.Of), len(m.Hits))
	}
	prior, err := priorsFor(m.Prior, columns+1)
	if err != nil {
		return nil, err
	}
	s := &betaBinSurface{model: m, columns: columns, priors: prior}
	for i, y := range m.Hits {
		share := Share{Hits: y, Of: m.Of[i]}
		if err := share.check(); err != nil {
			return nil, fmt.Errorf("row %d: %w", i, err)
		}
		s.choices += share.logChoices()
	}
	return s, nil
}

// Share is y of n.
type Share struct {
	Hits, Of int
}

func (s Share) check() error {
	if s.Hits < 0 || s.Hits > s.Of {
		return fmt.Errorf("a share of %d of %d: a part is 0 or more and no larger than its whole", s.Hits, s.Of)
	}
	return nil
}

// logChoices is the logarithm of the number of ways to choose the hits.
func (s Share) logChoices() float64 {
	all, _ := math.Lgamma(float64(s.Of) + 1)
	hits, _ := math.Lgamma(float64(s.Hits) + 1)
	misses, _ := math.Lgamma(float64(s.Of-s.Hits) + 1)
	return all - hits - misses
}
