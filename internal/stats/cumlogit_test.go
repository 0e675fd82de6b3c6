package stats

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
)

type polr struct {
	Coef   map[string]published `json:"coef"`
	LogLik float64              `json:"logLik"`
}

var housingTerms = []string{"InflMedium", "InflHigh", "TypeApartment", "TypeAtrium", "TypeTerrace", "ContHigh"}

func housing(t testing.TB) CumLogit {
	m := CumLogit{Categories: 3}
	for _, r := range readCSV(t, "housing.csv") {
		var row []float64
		for _, term := range housingTerms {
			row = append(row, is("Infl"+r["Infl"] == term || "Type"+r["Type"] == term || "Cont"+r["Cont"] == term))
		}
		m.X = append(m.X, row)
		m.Category = append(m.Category, slices.Index([]string{"Low", "Medium", "High"}, r["Sat"]))
		m.Weight = append(m.Weight, float64(whole(t, r["Freq"])))
	}
	return m
}

// Source: housing_polr.json (R 4.2.2, MASS 7.3-58.2 polr and ordinal 2022.11-16 clm; Venables and
// Ripley 2002, section 7.3; data Madsen 1976).
func TestHousingAsPublished(t *testing.T) {
	var want struct {
		Polr  polr               `json:"polr"`
		Clm   polr               `json:"clm"`
		First map[string]float64 `json:"predicted_first_row"`
	}
	readJSON(t, "housing_polr.json", &want)
	fit := mustFitLogit(t, housing(t))
	if !fit.Converged || len(fit.NoMaximum) > 0 {
		t.Fatalf("converged %v, no maximum %v", fit.Converged, fit.NoMaximum)
	}
	names := append([]string{"Low|Medium", "Medium|High"}, housingTerms...)
	values := append(slices.Clone(fit.Thresholds), fit.Coef...)
	cov := fit.ThresholdCov()
	for j, name := range names {
		near(t, "polr "+name, values[j], want.Polr.Coef[name].Est, 1e-5)
		// clm maximises by Newton to a gradient of 4e-14 and its observed information is exact, so
		// estimates and errors are held to what it prints.
		near(t, "clm "+name, values[j], want.Clm.Coef[name].Est, 1e-9)
		near(t, "clm se of "+name, math.Sqrt(cov.At(j, j)), want.Clm.Coef[name].SE, 1e-9)
		// polr's Hessian is a difference of gradients at a point 4e-8 off.
		near(t, "polr se of "+name, math.Sqrt(cov.At(j, j)), want.Polr.Coef[name].SE, 1e-6)
	}
	near(t, "polr log-likelihood", fit.LogLik, want.Polr.LogLik, 1e-6)
	near(t, "clm log-likelihood", fit.LogLik, want.Clm.LogLik, 1e-6)

	p := make([]float64, 3)
	CategoryProbs(p, fit.Working, make([]float64, len(housingTerms)))
	for j, name := range []string{"Low", "Medium", "High"} {
		near(t, "P("+name+") of the first row", p[j], want.First[name], 1e-6)
	}
}

func TestCumLogitSaysWhatHasNoMaximum(t *testing.T) {
	cases := map[string]struct {
		model CumLogit
		want  []int // first threshold, log spacings, coefficients
	}{
		"a middle category never seen": {CumLogit{X: none(6), Category: []int{0, 0, 1, 1, 3, 3}, Categories: 4}, []int{2}},
		"the best never seen":          {CumLogit{X: none(6), Category: []int{0, 0, 1, 1, 2, 2}, Categories: 4}, []int{2}},
		"the worst never seen":         {CumLogit{X: none(6), Category: []int{1, 1, 2, 2, 3, 3}, Categories: 4}, []int{0, 1}},
		"one category only":            {CumLogit{X: none(3), Category: []int{0, 0, 0}, Categories: 3}, []int{0, 1}},
		"perfect separation":           {CumLogit{X: [][]float64{{0}, {0}, {0}, {1}, {1}}, Category: []int{0, 1, 0, 2, 2}, Categories: 3}, []int{1, 2}},
		"nothing seen at all":          {CumLogit{X: nil, Category: nil, Categories: 3}, []int{0, 1}},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			flat := mustFitLogit(t, c.model)
			if !slices.Equal(flat.NoMaximum, c.want) {
				t.Errorf("no maximum: %v, want %v (at %v)", flat.NoMaximum, c.want, flat.Working)
			}
			m := c.model
			m.Prior = make([]Normal, len(flat.Working))
			for i := range m.Prior {
				m.Prior[i] = Normal{SD: 2}
			}
			checkFinite(t, m)
		})
	}
}

// checkFinite says that under priors the mode is sound and every category keeps a chance.
func checkFinite(t *testing.T, m CumLogit) {
	t.Helper()
	fit := mustFitLogit(t, m)
	if !fit.Converged || len(fit.NoMaximum) > 0 {
		t.Errorf("under priors: converged %v, no maximum %v", fit.Converged, fit.NoMaximum)
	}
	for j := range fit.Working {
		if v := fit.Cov.At(j, j); !isFinite(v) || v <= 0 {
			t.Errorf("variance %d under priors is %g", j, v)
		}
	}
	p := make([]float64, m.Categories)
	CategoryProbs(p, fit.Working, make([]float64, len(fit.Coef)))
	for j, v := range p {
		if !(v > 1e-4 && v < 1) {
			t.Errorf("category %d has probability %g under priors", j, v)
		}
	}
}

// The scores sum to zero at a maximum, and their sum by differences is the gradient elsewhere.
func TestScoresSumToZeroAtTheMaximum(t *testing.T) {
	fit := mustFitLogit(t, housing(t))
	sum := make([]float64, len(fit.Working))
	for _, s := range fit.Scores() {
		for j, v := range s {
			sum[j] += v
		}
	}
	for j, v := range sum {
		near(t, "sum of scores", v, 0, 1e-9*float64(j+1))
	}
}

// With k draws of 0 or 1 in each of G clusters and no covariate, the logit's sandwich is known in
// closed form: sum of squared cluster residuals over (n p q)^2, times G/(G-1).
func TestSandwichOfAShareInClosedForm(t *testing.T) {
	m := CumLogit{Categories: 2}
	var cluster []int
	ups := []int{0, 1, 4, 4, 2}
	for g, up := range ups {
		for k := range 4 {
			m.X = append(m.X, nil)
			m.Category = append(m.Category, int(is(k < up)))
			cluster = append(cluster, g)
		}
	}
	fit := mustFitLogit(t, m)
	got, err := Sandwich(fit.Cov, fit.Scores(), cluster)
	if err != nil {
		t.Fatal(err)
	}
	p, squares := 11.0/20, 0.0
	for _, up := range ups {
		squares += (float64(up) - 4*p) * (float64(up) - 4*p)
	}
	near(t, "sandwich", got.At(0, 0), 5.0/4*squares/math.Pow(20*p*(1-p), 2), 1e-10)
	if _, err := Sandwich(fit.Cov, fit.Scores(), make([]int, len(cluster))); err == nil {
		t.Error("one cluster: no error")
	}
}

func TestWiderCovIsNoSmallerThanEither(t *testing.T) {
	a := mat.NewSymDense(2, []float64{2, 0.5, 0.5, 1})
	b := mat.NewSymDense(2, []float64{1, -0.8, -0.8, 3})
	wide, err := WiderCov(a, b)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range []*mat.SymDense{a, b} {
		var less mat.SymDense
		less.AddSym(wide, negative(m))
		var eig mat.EigenSym
		eig.Factorize(&less, false)
		if least := slices.Min(eig.Values(nil)); least < -1e-12 {
			t.Errorf("smaller by %g in some direction", -least)
		}
	}
	same, _ := WiderCov(a, mat.NewSymDense(2, nil))
	near(t, "wider of a and nothing", mat.Norm(same, 2), mat.Norm(a, 2), 1e-12)
}

func negative(m *mat.SymDense) *mat.SymDense {
	n := mat.NewSymDense(m.SymmetricDim(), nil)
	n.ScaleSym(-1, m)
	return n
}

func TestCumLogitRefusesBadInput(t *testing.T) {
	cases := map[string]CumLogit{
		"one category":        {X: none(1), Category: []int{0}, Categories: 1},
		"category too high":   {X: none(1), Category: []int{3}, Categories: 3},
		"negative weight":     {X: none(1), Category: []int{0}, Weight: []float64{-1}, Categories: 3},
		"too few weights":     {X: none(2), Category: []int{0, 1}, Weight: []float64{1}, Categories: 3},
		"weight not a number": {X: none(1), Category: []int{0}, Weight: []float64{math.NaN()}, Categories: 3},
		"too few priors":      {X: none(1), Category: []int{0}, Categories: 3, Prior: []Normal{Flat}},
	}
	for name, m := range cases {
		if _, err := m.Fit(); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func none(n int) [][]float64 { return make([][]float64, n) }

func mustFitLogit(t testing.TB, m CumLogit) CumLogitFit {
	t.Helper()
	fit, err := m.Fit()
	if err != nil {
		t.Fatal(err)
	}
	return fit
}

// In the far tails a category keeps a chance above 0, and all of them sum to 1.
func TestCategoryProbsKeepBothTails(t *testing.T) {
	for _, shift := range []float64{-60, -5, 0, 5, 60} {
		p := make([]float64, 4)
		CategoryProbs(p, []float64{-1, 0, 0.5, 1}, []float64{shift})
		sum := 0.0
		for j, v := range p {
			if !(v > 0) {
				t.Errorf("shift %g: category %d has probability %g", shift, j, v)
			}
			sum += v
		}
		near(t, "sum", sum, 1, 1e-14)
	}
}
