package stats

import (
	"math"
	"slices"
	"testing"
)

func prats(t testing.TB) BetaBin {
	var m BetaBin
	for _, r := range readCSV(t, "prats.csv") {
		if n := whole(t, r["litter.size"]); n > 1 {
			m.X = append(m.X, []float64{1, float64(whole(t, r["treatment"]))})
			m.Hits = append(m.Hits, whole(t, r["alive"]))
			m.Of = append(m.Of, n)
		}
	}
	return m
}

// Source: prats_betabinomial.json (R 4.2.2, VGAM 1.1-7 betabinomial, whose second intercept is the
// logit of rho; data Weil 1970).
func TestPratsAsPublished(t *testing.T) {
	var want struct {
		Vglm struct {
			Coef   map[string]published `json:"coef"`
			LogLik float64              `json:"logLik"`
		} `json:"vglm"`
	}
	readJSON(t, "prats_betabinomial.json", &want)
	fit := mustFitBetaBin(t, prats(t))
	if !fit.Converged || len(fit.NoMaximum) > 0 {
		t.Fatalf("converged %v, no maximum %v", fit.Converged, fit.NoMaximum)
	}
	coef := want.Vglm.Coef
	near(t, "intercept", fit.Coef[0], coef["(Intercept):1"].Est, 1e-5)
	near(t, "treatment", fit.Coef[1], coef["treatment"].Est, 1e-5)
	near(t, "logit of rho", math.Log(fit.Rho/(1-fit.Rho)), coef["(Intercept):2"].Est, 1e-5)
	near(t, "log-likelihood", fit.LogLik, want.Vglm.LogLik, 1e-6)
	// VGAM gives the expected information; observed and expected agree to order 1/sqrt(n), here 32.
	for j, name := range []string{"(Intercept):1", "treatment", "(Intercept):2"} {
		near(t, "se of "+name, math.Sqrt(fit.Cov.At(j, j)), coef[name].SE, 0.18*coef[name].SE)
	}
}

// Where rho goes to 0 the share is the pooled one, with the binomial's standard error.
func TestEvenSharesLeaveTheBinomial(t *testing.T) {
	fit := mustFitBetaBin(t, BetaBin{X: ones(4), Hits: []int{6, 6, 6, 6}, Of: []int{10, 10, 10, 10}})
	if !slices.Equal(fit.NoMaximum, []int{1}) {
		t.Fatalf("no maximum: %v, want the logit of rho alone", fit.NoMaximum)
	}
	near(t, "share", Logistic(fit.Coef[0]), 0.6, 1e-5)
	near(t, "se of its logit", math.Sqrt(fit.Cov.At(0, 0)), 1/math.Sqrt(40*0.6*0.4), 1e-5)
}

func TestBetaBinSaysWhatHasNoMaximum(t *testing.T) {
	cases := map[string]struct {
		hits, of []int
		want     []int // coefficient, then logit of rho
	}{
		"nothing at all":           {nil, nil, nil},
		"rows of nothing":          {[]int{0, 0}, []int{0, 0}, []int{0, 1}},
		"one unit":                 {[]int{1}, []int{1}, []int{0, 1}},
		"every unit a hit":         {[]int{9, 4}, []int{9, 4}, []int{0, 1}},
		"no unit a hit":            {[]int{0, 0}, []int{9, 4}, []int{0, 1}},
		"each row all or nothing":  {[]int{9, 0, 5, 0}, []int{9, 5, 5, 7}, []int{1}},
		"one row":                  {[]int{4}, []int{9}, []int{1}},
		"single units, both kinds": {[]int{1, 0, 1}, []int{1, 1, 1}, []int{1}},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			if c.hits != nil {
				flat := mustFitBetaBin(t, BetaBin{X: ones(len(c.hits)), Hits: c.hits, Of: c.of})
				if !slices.Equal(flat.NoMaximum, c.want) {
					t.Errorf("no maximum: %v, want %v (coef %v, rho %v)", flat.NoMaximum, c.want, flat.Coef, flat.Rho)
				}
			}
			prior := []Normal{{Mean: 1, SD: 1.5}, {Mean: -2, SD: 1}}
			if c.hits == nil {
				prior = prior[1:]
			}
			kept := mustFitBetaBin(t, BetaBin{X: ones(len(c.hits)), Hits: c.hits, Of: c.of, Prior: prior})
			if !kept.Converged || len(kept.NoMaximum) > 0 {
				t.Errorf("under priors: converged %v, no maximum %v", kept.Converged, kept.NoMaximum)
			}
			for j, p := range prior {
				if v := kept.Cov.At(j, j); !(v > 0 && v < 1.5*p.SD*p.SD) {
					t.Errorf("variance %d under a prior of %g is %g", j, p.SD*p.SD, v)
				}
			}
		})
	}
}

func TestBetaBinRefusesBadInput(t *testing.T) {
	cases := map[string]BetaBin{
		"more hits than units": {X: ones(1), Hits: []int{3}, Of: []int{2}},
		"negative hits":        {X: ones(1), Hits: []int{-1}, Of: []int{2}},
		"too few rows":         {X: ones(1), Hits: []int{1, 2}, Of: []int{2, 2}},
		"too few wholes":       {X: ones(2), Hits: []int{1, 2}, Of: []int{2}},
		"not a number":         {X: [][]float64{{math.NaN()}}, Hits: []int{1}, Of: []int{2}},
		"too few priors":       {X: ones(1), Hits: []int{1}, Of: []int{2}, Prior: []Normal{Flat}},
	}
	for name, m := range cases {
		if _, err := m.Fit(); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func mustFitBetaBin(t testing.TB, m BetaBin) BetaBinFit {
	t.Helper()
	fit, err := m.Fit()
	if err != nil {
		t.Fatal(err)
	}
	return fit
}
