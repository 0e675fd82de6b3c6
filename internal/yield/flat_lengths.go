package yield

import (
	"maps"
	"math"
	"slices"
	"strconv"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// flatLengths fits the measured stems, each once; parameters are the mean of the reference, the effects and
// the log sd.
func flatLengths(d *data, report *Report) error {
	if len(d.measured) == 0 {
		return nil
	}
	ages, flushes := map[int]bool{}, map[crop.Flush]bool{}
	for _, s := range d.measured {
		ages[s.age], flushes[s.flush] = true, true
	}
	e := effects{ages: slices.Sorted(maps.Keys(ages)), flushes: slices.SortedFunc(maps.Keys(flushes), compareFlush), first: 1}
	logSD := 1 + e.count()
	f := &stats.Intervals{LogSD: logSD, Ratio: -1}
	m := &stats.Mixed{Nodes: 1, Parameters: 1 + logSD, Family: f}
	rowTerms := func(age int, flush crop.Flush) []stats.Coef {
		return append([]stats.Coef{{Parameter: 0, Value: 1}}, e.terms(age, flush)...)
	}
	middle, all := 0.0, 0.0
	for _, s := range d.measured {
		lo, hi := bounds(s.classes)
		m.Rows = append(m.Rows, stats.Row{Terms: rowTerms(s.age, s.flush)})
		m.Cells = append(m.Cells, stats.Cell{Row: len(m.Rows) - 1})
		m.Groups = append(m.Groups, stats.Group{End: len(m.Cells), Scale: 1})
		f.Lo, f.Hi, f.Count = append(f.Lo, lo), append(f.Hi, hi), append(f.Count, s.stems)
		for c, n := range s.stems {
			middle, all = middle+n*lo[c], all+n
		}
	}
	start := make([]float64, m.Parameters)
	start[0], start[logSD] = middle/all, math.Log(10)
	fit, err := m.Fit(nil, start)
	if err != nil {
		return err
	}
	out := &FlatLengths{SD: Figure(math.Exp(fit.X[logSD])), LogLik: fit.LogLik}
	out.Age, out.Flush = e.write(fit, report, "lengths")
	if isFlat(fit, logSD) {
		out.SD = None
		report.Notes = append(report.Notes, note(NoteNoSpread, "The lengths of each age and flush lie in one class: "+
			"how far they spread within it has no finite maximum."))
	}
	report.LengthModel = out
	report.Notes = append(report.Notes, strayNote(fit, "lengths")...)
	for i := range report.Ages {
		a := &report.Ages[i]
		for _, s := range d.measured {
			if _, done := a.LengthCM[s.flush]; done || s.age != a.Age {
				continue
			}
			if a.LengthCM == nil {
				a.LengthCM = map[crop.Flush]Interval{}
			}
			a.LengthCM[s.flush] = flatMean(fit, rowTerms(s.age, s.flush), s, report)
		}
	}
	return nil
}

// flatMean is a mean length with its interval; None and a note where a parameter of it has no maximum.
func flatMean(fit stats.MixedFit, terms []stats.Coef, of measured, report *Report) Interval {
	for _, t := range terms {
		if isFlat(fit, t.Parameter) {
			age := strconv.Itoa(of.age)
			report.Notes = append(report.Notes, note(NoteNoMean, "The mean length of season "+age+" in the ground, "+string(of.flush)+
				", has no finite maximum, since a parameter that it is the sum of has none.", "age", age, "flush", string(of.flush)))
			return Interval{Mean: None, Lo: None, Hi: None}
		}
	}
	mean, se := linear(fit, terms)
	return Interval{Mean: Figure(mean), Lo: Figure(mean - wald*se), Hi: Figure(mean + wald*se)}
}

func whole(stems float64) string { return strconv.Itoa(int(stems)) }
