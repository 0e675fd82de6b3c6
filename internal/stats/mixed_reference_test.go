package stats

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/mat"
)

type clmm struct {
	Coef    map[string]published `json:"coef"`
	LogLik  float64              `json:"logLik"`
	JudgeSD float64              `json:"judge_sd"`
}

// wine is rating ~ temp + contact, with judges as groups: parameters are the thresholds, the two
// coefficients and the judges' log sd.
func wine(t testing.TB, nodes int) *Mixed {
	t.Helper()
	m := &Mixed{Parameters: 7, Effect: LogSD(6), Nodes: nodes}
	f := &Ordered{First: 0}
	for _, temp := range []float64{0, 1} {
		for _, contact := range []float64{0, 1} {
			m.Rows = append(m.Rows, Row{Terms: []Coef{{4, temp}, {5, contact}}})
		}
	}
	rows := readCSV(t, "wine.csv")
	for judge := 1; judge <= 9; judge++ {
		for _, r := range rows {
			if r["judge"] != strconv.Itoa(judge) {
				continue
			}
			row := int(2*is(r["temp"] == "warm") + is(r["contact"] == "yes"))
			m.Cells = append(m.Cells, Cell{Row: row})
			count := make([]float64, 5)
			count[whole(t, r["rating"])-1] = 1
			f.Count = append(f.Count, count)
		}
		m.Groups = append(m.Groups, Group{End: len(m.Cells), Scale: 1})
	}
	m.Family = f
	return m
}

var wineStart = []float64{-1, 0.5, 0.5, 0.5, 0, 0, 0}

func checkWine(t *testing.T, x []float64, want clmm, tolerance float64) {
	t.Helper()
	theta := x[0]
	for j, name := range []string{"1|2", "2|3", "3|4", "4|5"} {
		if j > 0 {
			theta += math.Exp(x[j])
		}
		near(t, name, theta, want.Coef[name].Est, tolerance)
	}
	near(t, "tempwarm", x[4], want.Coef["tempwarm"].Est, tolerance)
	near(t, "contactyes", x[5], want.Coef["contactyes"].Est, tolerance)
}

// Source: wine_clmm.json (R 4.2.2, ordinal 2022.11-16; data Randall 1989, Biometrical Journal 31:781-793).
func TestWineAsPublished(t *testing.T) {
	var want struct {
		CLM     clmm `json:"clm"`
		Laplace clmm `json:"clmm_laplace"`
		AGQ10   clmm `json:"clmm_agq10"`
	}
	readJSON(t, "wine_clmm.json", &want)
	t.Run("without judges", func(t *testing.T) {
		m := wine(t, 1)
		m.Effect, m.Parameters = Effect{}, 6
		fit := mustFitMixed(t, m, wineStart[:6])
		checkWine(t, fit.X, want.CLM, 1e-5)
		near(t, "log-likelihood", fit.LogLik, want.CLM.LogLik, 1e-6)
	})
	t.Run("judges by ten nodes", func(t *testing.T) {
		fit := mustFitMixed(t, wine(t, 10), wineStart)
		checkWine(t, fit.X, want.AGQ10, 1e-4)
		near(t, "judges' sd", math.Exp(fit.X[6]), want.AGQ10.JudgeSD, 1e-4)
		near(t, "log-likelihood", fit.LogLik, want.AGQ10.LogLik, 1e-4)
	})
	t.Run("judges by Laplace's method", func(t *testing.T) {
		x, logLik := climbByDifferences(t, wine(t, 1), wineStart)
		checkWine(t, x, want.Laplace, 1e-4)
		near(t, "judges' sd", math.Exp(x[6]), want.Laplace.JudgeSD, 1e-4)
		near(t, "log-likelihood", logLik, want.Laplace.LogLik, 1e-4)
	})
}

func mustFitMixed(t testing.TB, m *Mixed, start []float64) MixedFit {
	t.Helper()
	fit, err := m.Fit(nil, start)
	if err != nil {
		t.Fatal(err)
	}
	if !fit.Converged || len(fit.NoMaximum) > 0 {
		t.Fatalf("converged %v, no maximum %v", fit.Converged, fit.NoMaximum)
	}
	return fit
}

// differenced is a surface of which only values are known. With one node the derivatives of a Likelihood
// leave out that the node moves, which is not small then.
type differenced struct{ likelihood *Likelihood }

func (d differenced) value(x []float64) float64 {
	d.likelihood.Recentre(x)
	return d.likelihood.Value(x)
}

// at takes steps of the fourth root of the machine's precision, as second differences want.
func (d differenced) at(x, grad []float64, hess *mat.SymDense) float64 {
	return differences(d.value, x, grad, hess, 1e-4)
}

func (d differenced) scales() []float64 {
	return (&mixedSurface{likelihood: d.likelihood}).scales()
}

func climbByDifferences(t testing.TB, m *Mixed, start []float64) (x []float64, logLik float64) {
	t.Helper()
	l, err := NewLikelihood(m, 1)
	if err != nil {
		t.Fatal(err)
	}
	top := climb(differenced{l}, start)
	return top.x, top.value
}

// Source: interval_survreg.json (R 4.2.2, survival 3.5-3 survreg; Tobin 1958, Econometrica 26:24-36).
func TestTobinAsPublished(t *testing.T) {
	want := survreg(t).Tobin
	f := &Intervals{LogSD: 3, Ratio: -1}
	m := &Mixed{Parameters: 4, Nodes: 1, Family: f}
	for _, r := range readCSV(t, "tobin.csv") {
		durable, age, quant := number(t, r["durable"]), number(t, r["age"]), number(t, r["quant"])
		lo := durable
		if durable == 0 {
			lo = math.Inf(-1)
		}
		// In hundreds, so that all columns weigh alike in Newton's steps.
		m.addPlain(f, []Coef{{0, 1}, {1, age / 100}, {2, quant / 100}}, lo, durable)
	}
	fit := mustFitMixed(t, m, []float64{0, 0, 0, 1})
	near(t, "(Intercept)", fit.X[0], want.Coef["(Intercept)"].Est, 1e-5)
	near(t, "age", fit.X[1]/100, want.Coef["age"].Est, 1e-6)
	near(t, "quant", fit.X[2]/100, want.Coef["quant"].Est, 1e-6)
	near(t, "Log(scale)", fit.X[3], want.Coef["Log(scale)"].Est, 1e-6)
	near(t, "log-likelihood", fit.LogLik, want.LogLik, 1e-6)
}

// Source: interval_survreg.json; the data are MASS::geyser (Azzalini and Bowman 1990, Applied Statistics
// 39:357-365), binned as its note says.
func TestBinnedGeyserAsPublished(t *testing.T) {
	want := survreg(t).Geyser
	f := &Intervals{LogSD: 2, Ratio: -1}
	m := &Mixed{Parameters: 3, Nodes: 1, Family: f}
	for _, r := range readCSV(t, "geyser_binned.csv") {
		m.addPlain(f, []Coef{{0, 1}, {1, number(t, r["duration"])}}, number(t, r["lower"]), number(t, r["upper"]))
	}
	fit := mustFitMixed(t, m, []float64{70, 0, 2})
	for j, name := range []string{"(Intercept)", "duration", "Log(scale)"} {
		near(t, name, fit.X[j], want.Coef[name].Est, 1e-6*(1+math.Abs(want.Coef[name].Est)))
		near(t, name+" se", math.Sqrt(fit.Cov.At(j, j)), want.Coef[name].SE, 1e-4)
	}
	near(t, "log-likelihood", fit.LogLik, want.LogLik, 1e-6)
}

type survregFit struct {
	Coef   map[string]published `json:"coef"`
	LogLik float64              `json:"logLik"`
}

func survreg(t testing.TB) (all struct {
	Tobin  survregFit `json:"tobin"`
	Geyser survregFit `json:"geyser_interval"`
}) {
	readJSON(t, "interval_survreg.json", &all)
	return all
}

// addPlain adds a group of one observation with a row of its own.
func (m *Mixed) addPlain(f *Intervals, terms []Coef, lo, hi float64) {
	m.Rows = append(m.Rows, Row{Terms: terms})
	m.Cells = append(m.Cells, Cell{Row: len(m.Rows) - 1})
	m.Groups = append(m.Groups, Group{End: len(m.Cells), Scale: 1})
	f.Lo = append(f.Lo, []float64{lo})
	f.Hi = append(f.Hi, []float64{hi})
	f.Count = append(f.Count, []float64{1})
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

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

// quine is the data as rows of covariates and counts.
func quine(t testing.TB, terms []string) (x [][]float64, counts []int) {
	for _, r := range readCSV(t, "quine.csv") {
		row := make([]float64, len(terms))
		for j, name := range terms {
			row[j] = quineTerms[name](r)
		}
		x, counts = append(x, row), append(counts, whole(t, r["Days"]))
	}
	return x, counts
}

// Source: quine_glmnb.json (R 4.2.2, MASS 7.3-58.2 glm.nb; Venables and Ripley 2002, section 7.4).
func TestQuineAsPublished(t *testing.T) {
	var want struct {
		Full glmNB `json:"full"`
		Main glmNB `json:"main_effects"`
	}
	readJSON(t, "quine_glmnb.json", &want)
	for name, published := range map[string]glmNB{"full": want.Full, "main effects": want.Main} {
		t.Run(name, func(t *testing.T) {
			var terms []string
			for term := range published.Coef {
				terms = append(terms, term)
			}
			slices.Sort(terms)
			rows, counts := quine(t, terms)
			f := &Counts{Count: counts}
			m := &Mixed{Parameters: len(terms) + 1, Nodes: 1, Family: f}
			for _, x := range rows {
				f.LogSize = append(f.LogSize, len(terms))
				m.addRow(x, 0)
			}
			start := make([]float64, m.Parameters)
			start[slices.Index(terms, "(Intercept)")] = 2
			fit := mustFitMixed(t, m, start)
			for j, term := range terms {
				near(t, term, fit.X[j], published.Coef[term].Est, 1e-5)
			}
			near(t, "size", math.Exp(fit.X[len(terms)])/published.Theta, 1, 1e-5)
			near(t, "log-likelihood", fit.LogLik, published.LogLik, 1e-6)
		})
	}
}

type polr struct {
	Coef   map[string]published `json:"coef"`
	LogLik float64              `json:"logLik"`
}

var housingTerms = []string{"InflMedium", "InflHigh", "TypeApartment", "TypeAtrium", "TypeTerrace", "ContHigh"}

// housing is the data as rows of covariates, the category of each and how often it was seen.
func housing(t testing.TB) (x [][]float64, category []int, seen []float64) {
	for _, r := range readCSV(t, "housing.csv") {
		var row []float64
		for _, term := range housingTerms {
			row = append(row, is("Infl"+r["Infl"] == term || "Type"+r["Type"] == term || "Cont"+r["Cont"] == term))
		}
		x = append(x, row)
		category = append(category, slices.Index([]string{"Low", "Medium", "High"}, r["Sat"]))
		seen = append(seen, float64(whole(t, r["Freq"])))
	}
	return x, category, seen
}

// Source: housing_polr.json (R 4.2.2, ordinal 2022.11-16 clm; Venables and Ripley 2002, section 7.3; data
// Madsen 1976).
func TestHousingAsPublished(t *testing.T) {
	var want struct {
		CLM polr `json:"clm"`
	}
	readJSON(t, "housing_polr.json", &want)
	rows, category, seen := housing(t)
	f := &Ordered{First: 0}
	m := &Mixed{Parameters: 2 + len(housingTerms), Nodes: 1, Family: f}
	for i, x := range rows {
		count := make([]float64, 3)
		count[category[i]] = seen[i]
		f.Count = append(f.Count, count)
		m.addRow(x, 2)
	}
	fit := mustFitMixed(t, m, make([]float64, m.Parameters))
	near(t, "Low|Medium", fit.X[0], want.CLM.Coef["Low|Medium"].Est, 1e-5)
	near(t, "Medium|High", fit.X[0]+math.Exp(fit.X[1]), want.CLM.Coef["Medium|High"].Est, 1e-5)
	for j, term := range housingTerms {
		near(t, term, fit.X[2+j], want.CLM.Coef[term].Est, 1e-5)
		near(t, "se of "+term, math.Sqrt(fit.Cov.At(2+j, 2+j)), want.CLM.Coef[term].SE, 1e-6)
	}
	near(t, "log-likelihood", fit.LogLik, want.CLM.LogLik, 1e-6)
}

// addRow adds a group of one cell whose row holds covariates of the parameters from first on.
func (m *Mixed) addRow(x []float64, first int) {
	var row Row
	for j, v := range x {
		row.Terms = append(row.Terms, Coef{first + j, v})
	}
	m.Rows = append(m.Rows, row)
	m.Cells = append(m.Cells, Cell{Row: len(m.Rows) - 1})
	m.Groups = append(m.Groups, Group{End: len(m.Cells), Scale: 1})
}
