package yield

import (
	"math"
	"strconv"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// FlatStems is the plain fit of stems: NB2, each age its own mean and size.
type FlatStems struct {
	LogLik float64 `json:"loglik"`
}

// FlatGrades is the plain fit of grades: logit P(Y <= j) = theta_j - eta, age 1 and spring the reference
// (else the youngest age, and the first flush, that has graded stems), one effect for each plant.
type FlatGrades struct {
	Thresholds map[string]Figure     `json:"thresholds"`
	Age        map[string]Figure     `json:"age"`
	Flush      map[crop.Flush]Figure `json:"flush"`
	PlantSD    Figure                `json:"plant_sd"`
	LogLik     float64               `json:"loglik"`
}

// FlatLengths is the plain fit of lengths in centimetres: interval-censored normal, without plants' effects.
type FlatLengths struct {
	Age    map[string]Figure     `json:"age"`
	Flush  map[crop.Flush]Figure `json:"flush"`
	SD     Figure                `json:"sd"`
	LogLik float64               `json:"loglik"`
}

// wald is the normal's point that leaves the tail.
var wald = math.Sqrt2 * math.Erfinv(Level)

// fitFlat fits by plain maximum likelihood. A parameter without a finite maximum is None, and a note says
// why.
func fitFlat(d *data, report *Report) error {
	if err := wrap("stems", flatStems(d, report)); err != nil {
		return err
	}
	if err := wrap("grades", flatGrades(d, report)); err != nil {
		return err
	}
	return wrap("lengths", flatLengths(d, report))
}

// flatStems fits mean and size of each age; parameters are the log means and then the log sizes.
func flatStems(d *data, report *Report) error {
	ages := report.Ages
	f := &stats.Counts{}
	m := &stats.Mixed{Nodes: 1, Parameters: 2 * len(ages), Family: f}
	start := make([]float64, m.Parameters)
	for i, a := range ages {
		m.Rows = append(m.Rows, stats.Row{Terms: []stats.Coef{{Parameter: i, Value: 1}}})
		for _, s := range a.Plants {
			if s.Open {
				continue
			}
			f.Count, f.LogSize = append(f.Count, s.Stems), append(f.LogSize, len(ages)+i)
			m.Cells = append(m.Cells, stats.Cell{Row: i})
			m.Groups = append(m.Groups, stats.Group{End: len(m.Cells), Scale: 1})
		}
		if mean := plainMean(a.Plants); mean != nil && *mean > 0 {
			start[i] = math.Log(*mean)
		}
	}
	if len(m.Cells) == 0 {
		for i := range ages {
			ages[i].Stems = Stems{Mean: None, Lo: None, Hi: None, Size: None}
		}
		return nil
	}
	fit, err := m.Fit(nil, start)
	if err != nil {
		return err
	}
	report.StemsModel = &FlatStems{LogLik: fit.LogLik}
	report.Notes = append(report.Notes, strayNote(fit, "stems")...)
	for i := range ages {
		ages[i].Stems = flatAge(fit, i, len(ages)+i, &ages[i], report)
	}
	return nil
}

func flatAge(fit stats.MixedFit, mean, size int, a *Age, report *Report) Stems {
	s := Stems{Mean: None, Lo: None, Hi: None, Size: None}
	age := strconv.Itoa(a.Age)
	if a.PlantSeasons == 0 {
		return s
	}
	if a.Zero == a.PlantSeasons {
		s.Mean, s.Lo = 0, 0
		report.Notes = append(report.Notes, note(NoteAllZero, "No stem was cut from any counted plant of season "+age+
			" in the ground: the likelihood grows as the mean nears 0, and says nothing of a size or of an upper end.", "age", age))
		return s
	}
	m, se := fit.X[mean], math.Sqrt(fit.Cov.At(mean, mean))
	s.Mean = Figure(math.Exp(m))
	s.Lo, s.Hi = Figure(math.Exp(m-wald*se)), Figure(math.Exp(m+wald*se))
	if isFlat(fit, size) {
		report.Notes = append(report.Notes, note(NoteNoSize, "The stems of season "+age+
			" in the ground spread no more than chance alone would: their size has no finite maximum.", "age", age))
		return s
	}
	s.Size = Figure(math.Exp(fit.X[size]))
	s.NewLo, s.NewHi = countRange(float64(s.Mean), float64(s.Size))
	return s
}

// strayNote says that a search ended elsewhere than at a maximum.
func strayNote(fit stats.MixedFit, of string) []Note {
	if fit.Converged {
		return nil
	}
	return []Note{note(NoteNotConverged, "The search for the plain fit of "+of+" ended before it came to a maximum: its numbers are "+
		"those of where it stopped, and its intervals say nothing. Do not compare them with another program's.", "of", of)}
}

func isFlat(fit stats.MixedFit, parameter int) bool {
	for _, p := range fit.NoMaximum {
		if p == parameter {
			return true
		}
	}
	return false
}

// mostStems ends the search for a range: no plant gives so many, so what asks for more went astray.
const mostStems = 10_000_000

// countRange holds a negative binomial count: the least counts that are not exceeded with the probability
// of either end. Both are 0 where the mean and size are those of no such count. Each probability is found
// from the one before:
//
//	P(0) = (r/(r+mu))^r,  P(y+1) = P(y) (y+r)/(y+1) mu/(r+mu)
func countRange(mean, size float64) (lo, hi int) {
	logP := -size * math.Log1p(mean/size)
	below := 0.0
	lo = -1
	for y := 0; y < mostStems && !math.IsNaN(logP) && !math.IsInf(logP, 0); y++ {
		below += math.Exp(logP)
		if lo < 0 && below >= tail {
			lo = y
		}
		if below >= 1-tail {
			return lo, y
		}
		n := float64(y)
		logP += math.Log((n + size) / (n + 1) * (mean / (size + mean)))
	}
	return 0, 0
}

// effects are the columns of ages and flushes of a plain model, beside its reference.
type effects struct {
	ages    []int
	flushes []crop.Flush
	first   int // the parameter of the first effect
}

func (e effects) count() int { return max(0, len(e.ages)-1) + max(0, len(e.flushes)-1) }

func (e effects) terms(age int, flush crop.Flush) []stats.Coef {
	var terms []stats.Coef
	for i, a := range e.ages {
		if i > 0 && a == age {
			terms = append(terms, stats.Coef{Parameter: e.first + i - 1, Value: 1})
		}
	}
	for i, f := range e.flushes {
		if i > 0 && f == flush {
			terms = append(terms, stats.Coef{Parameter: e.first + len(e.ages) - 1 + i - 1, Value: 1})
		}
	}
	return terms
}

// write names the effects; None and a note where one has no maximum.
func (e effects) write(fit stats.MixedFit, report *Report, of string) (ages map[string]Figure, flushes map[crop.Flush]Figure) {
	ages, flushes = map[string]Figure{}, map[crop.Flush]Figure{}
	value := func(parameter int, which string) Figure {
		if isFlat(fit, parameter) {
			report.Notes = append(report.Notes, note(NoteNoMaximum, "The effect of "+which+" on "+of+
				" has no finite maximum: the records part it wholly from the rest.", "effect", which, "of", of))
			return None
		}
		return Figure(fit.X[parameter])
	}
	for i := 1; i < len(e.ages); i++ {
		age := strconv.Itoa(e.ages[i])
		ages[age] = value(e.first+i-1, "season "+age)
	}
	for i := 1; i < len(e.flushes); i++ {
		flushes[e.flushes[i]] = value(e.first+len(e.ages)-1+i-1, string(e.flushes[i]))
	}
	return ages, flushes
}

// linear is an estimate with its Wald interval: the value of a row and its standard error.
func linear(fit stats.MixedFit, terms []stats.Coef) (value, se float64) {
	variance := 0.0
	for _, a := range terms {
		value += a.Value * fit.X[a.Parameter]
		for _, b := range terms {
			if a.Value != 0 && b.Value != 0 {
				variance += a.Value * b.Value * fit.Cov.At(a.Parameter, b.Parameter)
			}
		}
	}
	return value, math.Sqrt(variance)
}
