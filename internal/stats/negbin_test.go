package stats

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
)

type glmNB struct {
	Coef    map[string]published `json:"coef"`
	Theta   float64              `json:"theta"`
	SETheta float64              `json:"se_theta"`
	LogLik  float64              `json:"logLik"`
}

// quineTerms are R's columns by name, with its treatment contrasts.
var quineTerms = map[string]func(r map[string]string) float64{
	"(Intercept)":     func(map[string]string) float64 { return 1 },
	"EthN":            func(r map[string]string) float64 { return is(r["Eth"] == "N") },
	"SexM":            func(r map[string]string) float64 { return is(r["Sex"] == "M") },
	"AgeF1":           func(r map[string]string) float64 { return is(r["Age"] == "F1") },
	"AgeF2":           func(r map[string]string) float64 { return is(r["Age"] == "F2") },
	"AgeF3":           func(r map[string]string) float64 { return is(r["Age"] == "F3") },
	"LrnSL":           func(r map[string]string) float64 { return is(r["Lrn"] == "SL") },
	"SexF:AgeF1":      func(r map[string]string) float64 { return is(r["Sex"] == "F" && r["Age"] == "F1") },
	"SexF:AgeF2":      func(r map[string]string) float64 { return is(r["Sex"] == "F" && r["Age"] == "F2") },
	"SexF:AgeF3":      func(r map[string]string) float64 { return is(r["Sex"] == "F" && r["Age"] == "F3") },
	"SexM:AgeF1":      func(r map[string]string) float64 { return is(r["Sex"] == "M" && r["Age"] == "F1") },
	"SexM:AgeF2":      func(r map[string]string) float64 { return is(r["Sex"] == "M" && r["Age"] == "F2") },
	"SexM:AgeF3":      func(r map[string]string) float64 { return is(r["Sex"] == "M" && r["Age"] == "F3") },
	"SexF:EthN":       func(r map[string]string) float64 { return is(r["Sex"] == "F" && r["Eth"] == "N") },
	"SexM:EthN":       func(r map[string]string) float64 { return is(r["Sex"] == "M" && r["Eth"] == "N") },
	"SexF:LrnSL":      func(r map[string]string) float64 { return is(r["Sex"] == "F" && r["Lrn"] == "SL") },
	"SexM:LrnSL":      func(r map[string]string) float64 { return is(r["Sex"] == "M" && r["Lrn"] == "SL") },
	"SexF:EthN:LrnSL": func(r map[string]string) float64 { return is(r["Sex"] == "F" && r["Eth"] == "N" && r["Lrn"] == "SL") },
	"SexM:EthN:LrnSL": func(r map[string]string) float64 { return is(r["Sex"] == "M" && r["Eth"] == "N" && r["Lrn"] == "SL") },
}

func quine(t testing.TB, terms []string) NegBin {
	var m NegBin
	for _, r := range readCSV(t, "quine.csv") {
		row := make([]float64, len(terms))
		for j, name := range terms {
			row[j] = quineTerms[name](r)
		}
		m.X = append(m.X, row)
		m.Counts = append(m.Counts, whole(t, r["Days"]))
	}
	return m
}

// Source: quine_glmnb.json (R 4.2.2, MASS 7.3-58.2 glm.nb; Venables and Ripley 2002, section 7.4).
func TestQuineAsPublished(t *testing.T) {
	var want struct {
		Full glmNB `json:"full"`
		Main glmNB `json:"main_effects"`
	}
	readJSON(t, "quine_glmnb.json", &want)
	for name, fit := range map[string]glmNB{"full": want.Full, "main effects": want.Main} {
		t.Run(name, func(t *testing.T) {
			var terms []string
			for term := range fit.Coef {
				terms = append(terms, term)
			}
			slices.Sort(terms)
			m := quine(t, terms)
			got, err := m.Fit()
			if err != nil {
				t.Fatal(err)
			}
			if !got.Converged || len(got.NoMaximum) > 0 {
				t.Fatalf("converged %v, no maximum %v", got.Converged, got.NoMaximum)
			}
			expected := expectedErrors(m, got)
			for j, term := range terms {
				near(t, term, got.Coef[j], fit.Coef[term].Est, 1e-5)
				// R's glm.nb gives the expected information, which is checked to its 1e-4 (it stops its
				// alternation at 1e-8 in the deviance, so its weights hold five digits or so).
				near(t, "expected se of "+term, expected[j], fit.Coef[term].SE, 1e-4)
				// Observed and expected information agree only to order 1/sqrt(n), here 146: 15 %.
				se := math.Sqrt(got.Cov.At(j, j))
				near(t, "se of "+term, se, fit.Coef[term].SE, 0.15*fit.Coef[term].SE)
			}
			near(t, "size", got.Size[0], fit.Theta, 1e-5*fit.Theta)
			near(t, "log-likelihood", got.LogLik, fit.LogLik, 1e-6)
			near(t, "se of size, coefficients held", sizeErrorAlone(t, m, got), fit.SETheta, 1e-4*fit.SETheta)
		})
	}
}

// expectedErrors are standard errors from X'WX with W = mu/(1+mu/size), as R's glm reports.
func expectedErrors(m NegBin, fit NegBinFit) []float64 {
	p := len(fit.Coef)
	info := mat.NewSymDense(p, nil)
	for _, row := range m.X {
		mu := math.Exp(dot(row, fit.Coef))
		info.SymRankOne(info, mu/(1+mu/fit.Size[0]), mat.NewVecDense(p, row))
	}
	inverse, _ := invert(info)
	se := make([]float64, p)
	for j := range se {
		se[j] = math.Sqrt(inverse.At(j, j))
	}
	return se
}

// sizeErrorAlone is size/sqrt(information of the log size), coefficients held, as MASS reports.
func sizeErrorAlone(t *testing.T, m NegBin, fit NegBinFit) float64 {
	s, err := m.surface()
	if err != nil {
		t.Fatal(err)
	}
	x := append(slices.Clone(fit.Coef), math.Log(fit.Size[0]))
	hess := mat.NewSymDense(len(x), nil)
	s.at(x, make([]float64, len(x)), hess)
	last := len(x) - 1
	return fit.Size[0] / math.Sqrt(-hess.At(last, last))
}

// A size for each group, with a mean for each group, is the same as fitting each group alone.
func TestEachGroupItsOwnSize(t *testing.T) {
	young, old := []int{3, 0, 7, 12, 5, 9, 1, 4}, []int{30, 2, 18, 60, 25, 7, 41}
	var both NegBin
	for g, counts := range [][]int{young, old} {
		for _, y := range counts {
			both.X = append(both.X, []float64{is(g == 0), is(g == 1)})
			both.Counts = append(both.Counts, y)
			both.Group = append(both.Group, g)
		}
	}
	joint := mustFit(t, both)
	logLik := 0.0
	for g, counts := range [][]int{young, old} {
		alone := mustFit(t, NegBin{X: ones(len(counts)), Counts: counts})
		near(t, "coefficient", joint.Coef[g], alone.Coef[0], 1e-8)
		near(t, "size", joint.Size[g], alone.Size[0], 1e-7)
		logLik += alone.LogLik
	}
	near(t, "log-likelihood", joint.LogLik, logLik, 1e-9)
}

// An offset of log 2 on every row takes log 2 from the intercept and changes nothing else.
func TestOffsetShiftsTheIntercept(t *testing.T) {
	counts := []int{3, 0, 7, 12, 5, 9, 1, 4}
	m := NegBin{X: ones(len(counts)), Counts: counts}
	plain := mustFit(t, m)
	m.Offset = make([]float64, len(counts))
	for i := range m.Offset {
		m.Offset[i] = math.Log(2)
	}
	shifted := mustFit(t, m)
	near(t, "intercept", shifted.Coef[0], plain.Coef[0]-math.Log(2), 1e-9)
	near(t, "log-likelihood", shifted.LogLik, plain.LogLik, 1e-9)
}

func TestNegBinSaysWhatHasNoMaximum(t *testing.T) {
	cases := map[string]struct {
		x      [][]float64
		counts []int
		want   []int // coefficients, then log size
	}{
		"all zero counts: neither mean nor size": {ones(5), []int{0, 0, 0, 0, 0}, []int{0, 1}},
		"counts even closer than Poisson: size":  {ones(6), []int{5, 5, 5, 5, 6, 5}, []int{1}},
		"one count alone: size":                  {ones(1), []int{7}, []int{1}},
		"a group of zeros: its effect": {
			[][]float64{{1, 0}, {1, 0}, {1, 0}, {1, 0}, {1, 1}, {1, 1}}, []int{1, 9, 30, 4, 0, 0}, []int{1},
		},
		"two columns that say the same: both": {
			[][]float64{{1, 1}, {1, 1}, {1, 1}, {1, 1}}, []int{1, 9, 30, 4}, []int{0, 1},
		},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			flat := mustFit(t, NegBin{X: c.x, Counts: c.counts})
			if !slices.Equal(flat.NoMaximum, c.want) {
				t.Errorf("no maximum: %v, want %v (coef %v, size %v)", flat.NoMaximum, c.want, flat.Coef, flat.Size)
			}
			prior := make([]Normal, len(c.x[0])+1)
			for i := range prior {
				prior[i] = Normal{Mean: 1, SD: 2}
			}
			kept := mustFit(t, NegBin{X: c.x, Counts: c.counts, Prior: prior})
			if !kept.Converged || len(kept.NoMaximum) > 0 {
				t.Errorf("under priors: converged %v, no maximum %v", kept.Converged, kept.NoMaximum)
			}
			for j := range prior {
				// The likelihood is not concave in the log size, so a mode may be a little wider than its
				// prior's variance of 4.
				if v := kept.Cov.At(j, j); !(v > 0 && v < 6) {
					t.Errorf("variance %d under a prior of 4 is %g", j, v)
				}
			}
		})
	}
}

// Without spread beyond Poisson the mean is still the mean, with Poisson's standard error.
func TestLevelSizeLeavesThePoissonMean(t *testing.T) {
	fit := mustFit(t, NegBin{X: ones(6), Counts: []int{5, 5, 5, 5, 6, 5}})
	near(t, "mean", math.Exp(fit.Coef[0]), 31.0/6, 1e-5)
	near(t, "se of log mean", math.Sqrt(fit.Cov.At(0, 0)), 1/math.Sqrt(31), 1e-5)
	if !math.IsInf(fit.Cov.At(1, 1), 1) {
		t.Errorf("variance of the log size is %g, want +Inf", fit.Cov.At(1, 1))
	}
}

func TestNegBinRefusesBadInput(t *testing.T) {
	cases := map[string]NegBin{
		"negative count":     {X: ones(1), Counts: []int{-1}},
		"too few rows":       {X: ones(1), Counts: []int{1, 2}},
		"uneven rows":        {X: [][]float64{{1}, {1, 2}}, Counts: []int{1, 2}},
		"not a number":       {X: [][]float64{{math.NaN()}}, Counts: []int{1}},
		"too few priors":     {X: ones(1), Counts: []int{1}, Prior: []Normal{Flat}},
		"prior without room": {X: ones(1), Counts: []int{1}, Prior: []Normal{Flat, {}}},
		"negative group":     {X: ones(1), Counts: []int{1}, Group: []int{-1}},
		"too few offsets":    {X: ones(2), Counts: []int{1, 2}, Offset: []float64{0}},
	}
	for name, m := range cases {
		if _, err := m.Fit(); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func mustFit(t testing.TB, m NegBin) NegBinFit {
	t.Helper()
	fit, err := m.Fit()
	if err != nil {
		t.Fatal(err)
	}
	return fit
}

func ones(n int) [][]float64 {
	x := make([][]float64, n)
	for i := range x {
		x[i] = []float64{1}
	}
	return x
}
