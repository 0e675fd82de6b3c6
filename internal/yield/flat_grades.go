package yield

import (
	"maps"
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// flatNodes of the quadrature over a plant's effect.
const flatNodes = 21

// flatGradeFit is the plain grade model over those grades that were seen at all: a grade that never was has
// probability 0, and leaves the likelihood of the others as it is.
type flatGradeFit struct {
	seen    []int // ranks
	effects effects
	family  *stats.Ordered
	fit     stats.MixedFit
	plantSD int  // negative for none
	endless bool // plants differ without a finite maximum
}

func flatGrades(d *data, report *Report) error {
	rows := flatRows(d, report)
	if len(rows) == 0 {
		return nil
	}
	g := &flatGradeFit{seen: ranksSeen(rows), effects: effectsOfGrades(rows)}
	cuts := len(g.seen) - 1
	g.effects.first = cuts
	if cuts == 0 {
		report.GradeModel = g.single(report, rows)
		return nil
	}
	byPlants := rows[0].plant != ""
	if err := g.maximise(rows, byPlants); err != nil {
		return err
	}
	report.Notes = append(report.Notes, strayNote(g.fit, "grades")...)
	report.GradeModel = g.write(report)
	for i := range report.Ages {
		g.fill(&report.Ages[i], rows)
	}
	return nil
}

// flatRows are the plants' own graded stems; bench totals alone where no plant's are graded, since the
// plants behind them are not known.
func flatRows(d *data, report *Report) []graded {
	var plants, pools []graded
	stems := 0.0
	for _, s := range d.graded {
		if s.plant != "" {
			plants = append(plants, s)
			continue
		}
		pools = append(pools, s)
		for _, n := range s.stems {
			stems += n
		}
	}
	if len(plants) == 0 {
		return pools
	}
	if len(pools) > 0 {
		report.Notes = append(report.Notes, note(NoteBenchUngraded, "Graded stems of bench totals and bed cuts are left out of "+
			"the plain grade model, which needs to know the plant: "+whole(stems)+".", "stems", whole(stems)))
	}
	return plants
}

func ranksSeen(rows []graded) []int {
	seen := map[int]bool{}
	for _, r := range rows {
		for rank, n := range r.stems {
			if n > 0 {
				seen[rank] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(seen))
}

func effectsOfGrades(rows []graded) effects {
	ages, flushes := map[int]bool{}, map[crop.Flush]bool{}
	for _, r := range rows {
		ages[r.age], flushes[r.flush] = true, true
	}
	return effects{ages: slices.Sorted(maps.Keys(ages)), flushes: slices.SortedFunc(maps.Keys(flushes), compareFlush)}
}

// maximise fits with a plant effect, and without where its standard deviation runs to 0 or without end.
func (g *flatGradeFit) maximise(rows []graded, byPlants bool) error {
	cuts := len(g.seen) - 1
	g.plantSD = -1
	if byPlants {
		m := g.model(rows, true)
		start := append(g.start(rows), -1)
		fit, err := m.Fit(nil, start)
		if err != nil {
			return err
		}
		sd := cuts + g.effects.count()
		if math.Exp(fit.X[sd]) > leastPlantSD && !isFlat(fit, sd) {
			g.fit, g.plantSD = fit, sd
			return nil
		}
		g.endless = isFlat(fit, sd) && math.Exp(fit.X[sd]) > 1
	}
	m := g.model(rows, false)
	fit, err := m.Fit(nil, g.start(rows))
	g.fit = fit
	return err
}

// leastPlantSD is a standard deviation that is 0 for every purpose.
const leastPlantSD = 1e-3

// model has the thresholds, the effects and, last, the plants' log sd if wanted.
func (g *flatGradeFit) model(rows []graded, plants bool) *stats.Mixed {
	cuts := len(g.seen) - 1
	f := &stats.Ordered{First: 0}
	m := &stats.Mixed{Nodes: flatNodes, Parameters: cuts + g.effects.count(), Family: f}
	if plants {
		m.Effect = stats.LogSD(m.Parameters)
		m.Parameters++
	}
	at := map[[2]int]int{}
	for i, r := range rows {
		key := [2]int{r.age, slices.Index(g.effects.flushes, r.flush)}
		if _, known := at[key]; !known {
			at[key] = len(m.Rows)
			m.Rows = append(m.Rows, stats.Row{Terms: g.effects.terms(r.age, r.flush)})
		}
		m.Cells = append(m.Cells, stats.Cell{Row: at[key]})
		count := make([]float64, len(g.seen))
		for k, rank := range g.seen {
			count[k] = r.stems[rank]
		}
		f.Count = append(f.Count, count)
		if i == len(rows)-1 || rows[i+1].cluster() != r.cluster() {
			m.Groups = append(m.Groups, stats.Group{End: len(m.Cells), Scale: 1})
		}
	}
	g.family = f
	return m
}

// start takes the thresholds from the shares of the grades.
func (g *flatGradeFit) start(rows []graded) []float64 {
	n := make([]float64, len(g.seen))
	all := 0.0
	for _, r := range rows {
		for k, rank := range g.seen {
			n[k] += r.stems[rank]
			all += r.stems[rank]
		}
	}
	x := make([]float64, len(g.seen)-1+g.effects.count())
	below, last := 0.0, 0.0
	for k := range len(n) - 1 {
		below += n[k]
		at := math.Log(below / (all - below))
		if x[k] = at; k > 0 {
			x[k] = math.Log(at - last)
		}
		last = at
	}
	return x
}

// write names the parameters. Between two grades that were seen, thresholds on either side of one that was
// not are the same; outside of all that were seen there is none.
func (g *flatGradeFit) write(report *Report) *FlatGrades {
	out := &FlatGrades{Thresholds: map[string]Figure{}, LogLik: g.fit.LogLik}
	theta := make([]float64, len(g.seen)-1)
	for k := range theta {
		theta[k] = g.fit.X[k]
		if k > 0 {
			theta[k] = theta[k-1] + math.Exp(g.fit.X[k])
		}
	}
	for j := range len(crop.GradesLowToHigh) - 1 {
		out.Thresholds[thresholdName(j)] = g.threshold(j, theta, report)
	}
	out.Age, out.Flush = g.effects.write(g.fit, report, "grades")
	if g.plantSD >= 0 {
		out.PlantSD = Figure(math.Exp(g.fit.X[g.plantSD]))
	}
	if g.endless {
		out.PlantSD = None
		report.Notes = append(report.Notes, note(NoteNoPlantSD, "How far plants differ in grades has no finite maximum: hardly one "+
			"gave stems of several grades. The other numbers on grades are those of plants that are alike."))
	}
	return out
}

func thresholdName(j int) string {
	return string(crop.GradesLowToHigh[j]) + "|" + string(crop.GradesLowToHigh[j+1])
}

// threshold is None outside of all grades that were seen, and where the search ran away with it.
func (g *flatGradeFit) threshold(j int, theta []float64, report *Report) Figure {
	below := 0 // grades seen at or under j
	for _, rank := range g.seen {
		if rank <= j {
			below++
		}
	}
	if below == 0 || below == len(g.seen) {
		name := thresholdName(j)
		report.Notes = append(report.Notes, note(NoteNoThreshold, "The threshold "+name+
			" has no finite maximum: no stem was graded on one side of it.", "threshold", name))
		return None
	}
	for parameter := range below {
		if isFlat(g.fit, parameter) {
			name := thresholdName(j)
			report.Notes = append(report.Notes, note(NoteParted, "The threshold "+name+
				" has no finite maximum: the records part the grades on its two sides wholly by age, flush or plant.", "threshold", name))
			return None
		}
	}
	return Figure(theta[below-1])
}

// single is the fit where every stem was of one grade.
func (g *flatGradeFit) single(report *Report, rows []graded) *FlatGrades {
	out := &FlatGrades{Thresholds: map[string]Figure{}, Age: map[string]Figure{}, Flush: map[crop.Flush]Figure{}, PlantSD: None}
	for j := range len(crop.GradesLowToHigh) - 1 {
		out.Thresholds[thresholdName(j)] = g.threshold(j, nil, report)
	}
	for i := range report.Ages {
		g.fill(&report.Ages[i], rows)
	}
	return out
}

// fill writes the probabilities of the flushes of an age that have graded stems.
func (g *flatGradeFit) fill(a *Age, rows []graded) {
	for _, flush := range g.effects.flushes {
		cell := GradeCell{Flush: flush}
		behind := map[cluster]bool{}
		for _, r := range rows {
			if r.age != a.Age || r.flush != flush {
				continue
			}
			behind[r.cluster()] = true
			for _, n := range r.stems {
				cell.Stems += int(n)
			}
		}
		if cell.Stems == 0 {
			continue
		}
		cell.Plants = len(behind)
		g.fillCell(&cell, g.effects.terms(a.Age, flush))
		a.Grades = append(a.Grades, cell)
	}
}

// fillCell writes probabilities over plants, with Wald intervals on the logit scale.
func (g *flatGradeFit) fillCell(cell *GradeCell, terms []stats.Coef) {
	grades := len(crop.GradesLowToHigh)
	p, lo, hi := make([]float64, grades), make([]float64, grades), make([]float64, grades)
	if len(g.seen) == 1 {
		p[g.seen[0]], lo[g.seen[0]] = 1, math.NaN()
		hi[g.seen[0]] = 1
		cell.P, cell.Lo, cell.Hi = byGrade(p), byGrade(lo), byGrade(hi)
		return
	}
	at := g.probs(g.fit.X, terms)
	for k, rank := range g.seen {
		p[rank] = at[k]
		se := g.logitError(k, at[k], terms)
		centre := math.Log(at[k] / (1 - at[k]))
		lo[rank], hi[rank] = stats.Logistic(centre-wald*se), stats.Logistic(centre+wald*se)
	}
	cell.P, cell.Lo, cell.Hi = byGrade(p), byGrade(lo), byGrade(hi)
}

// probs integrates the plant effect over its normal.
func (g *flatGradeFit) probs(x []float64, terms []stats.Coef) []float64 {
	f := *g.family
	f.Set(x)
	eta, sd := 0.0, 0.0
	for _, t := range terms {
		eta += t.Value * x[t.Parameter]
	}
	if g.plantSD >= 0 {
		sd = math.Exp(x[g.plantSD])
	}
	p, single := make([]float64, len(g.seen)), make([]float64, len(g.seen))
	for q, z := range flatRule.At {
		f.Probs(single, eta+sd*z)
		for k, v := range single {
			p[k] += flatRule.Weight[q] * v
		}
	}
	return p
}

var flatRule = stats.NormalRule(41)

// logitError is the standard error of a probability's logit, by the delta method with differences.
func (g *flatGradeFit) logitError(k int, p float64, terms []stats.Coef) float64 {
	const h = 1e-5
	x := slices.Clone(g.fit.X)
	slope := make([]stats.Coef, len(x))
	for j := range x {
		x[j] += h
		up := g.probs(x, terms)[k]
		x[j] -= 2 * h
		down := g.probs(x, terms)[k]
		x[j] += h
		slope[j] = stats.Coef{Parameter: j, Value: (up - down) / (2 * h) / (p * (1 - p))}
	}
	_, se := linear(g.fit, slope)
	return se
}
