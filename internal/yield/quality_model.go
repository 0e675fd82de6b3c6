package yield

import (
	"corymb/internal/crop"
	"corymb/internal/stats"
)

// Nodes of the quadrature over a plant's effect. Given lengths it is all but normal, where few are exact.
const (
	gradeNodes  = 11
	lengthNodes = 7
)

// qualityModel is what the models of grades and of lengths share: effects of age, flush, week of the
// flush, planting, bed and grader, and of each plant. Stems of a bench total come from a pool of plants:
// their mean effect varies less, the more plants there are, and single stems differ by the rest.
type qualityModel struct {
	p      *parameters
	priors qualityPriors
	mixed  *stats.Mixed
	poolOf func(whence) pool
	extra  func(rank int) []stats.Coef // of lengths: the first season's and the grade's
	groups map[cluster]int             // by cluster, its group
	pools  []pool                      // by group
	spread []int                       // by cell, the parameter of its pool's spread, negative for a plant's own stems
	at     map[rowOf]int               // by row's key, its row
	rows   []laidRow
	pooled []float64 // by cell
	draws  stats.Draws
}

// laidRow is what a row hangs on, the plants behind it and how many stems.
type laidRow struct {
	rowOf
	pool  pool
	stems float64
}

// rowOf is what a row hangs on: a whence without its plant, and for lengths a grade.
type rowOf struct {
	whence
	rank int
}

// typical is a whence without what its row does not hang on: the plant, and where a planting is told, the
// season and which of its plants.
func (w whence) typical() whence {
	w.plant = ""
	if w.planting != "" {
		w.season, w.rest = 0, false
	}
	return w
}

func newQualityModel(nodes int, priors qualityPriors, poolOf func(whence) pool) *qualityModel {
	return &qualityModel{
		p: newParameters(), priors: priors, poolOf: poolOf, mixed: &stats.Mixed{Nodes: nodes},
		extra: func(int) []stats.Coef { return nil }, groups: map[cluster]int{}, at: map[rowOf]int{},
	}
}

// lay adds a cell of so many stems. Cells of one cluster must come one after another.
func (m *qualityModel) lay(w whence, rank int, stems []float64) {
	g, known := m.groups[w.cluster()]
	if !known {
		g = len(m.pools)
		m.groups[w.cluster()] = g
		m.pools = append(m.pools, m.poolOf(w))
		m.mixed.Groups = append(m.mixed.Groups, stats.Group{Scale: m.pools[g].scale()})
	}
	from := m.pools[g]
	row := m.row(rowOf{w.typical(), rank}, from)
	m.rows[row].stems += sumOf(stems)
	m.mixed.Cells = append(m.mixed.Cells, stats.Cell{Row: row})
	m.mixed.Groups[g].End = len(m.mixed.Cells)
	m.pooled = append(m.pooled, from.apart())
	m.spread = append(m.spread, m.spreadOf(w.cluster(), from))
}

// spreadOf a pool is how much its few plants happen to differ, against what plants do.
func (m *qualityModel) spreadOf(of cluster, from pool) int {
	if from.apart() == 0 {
		return -1
	}
	return m.p.own(name("spread", of), from.spreadPrior())
}

func sumOf(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += v
	}
	return sum
}

func (m *qualityModel) row(key rowOf, from pool) int {
	if i, known := m.at[key]; known {
		return i
	}
	m.at[key] = len(m.rows)
	m.rows = append(m.rows, laidRow{rowOf: key, pool: from})
	m.mixed.Rows = append(m.mixed.Rows, m.predictor(key, from))
	return m.at[key]
}

func (m *qualityModel) predictor(key rowOf, from pool) stats.Row {
	row := qualityRow(m.p, key.whence, m.priors, from)
	row.Terms = append(row.Terms, m.extra(key.rank)...)
	return row
}

// fit draws from the posterior; the model is whole by then.
func (m *qualityModel) fit(family stats.Family, start []float64) error {
	m.mixed.Family = family
	m.mixed.Parameters = len(m.p.names)
	draws, err := m.mixed.Posterior(m.p.h, nil, start, drawSeed)
	m.draws = draws
	return err
}

// part is one row of a cell of the report, without its grader, and how many of the cell's stems it has.
type part struct {
	row    stats.Row
	weight float64 // sums to 1
}

// parts are those of an age and flush, each by its stems: planting, bed and week as they fell, graded by
// nobody in particular.
func (m *qualityModel) parts(age int, flush crop.Flush) []part {
	at := map[rowOf]int{}
	var list []part
	all := 0.0
	for _, r := range m.rows {
		if r.age != age || r.flush != flush || r.stems == 0 {
			continue
		}
		key := r.rowOf
		key.grader = ""
		i, known := at[key]
		if !known {
			i = len(list)
			at[key] = i
			list = append(list, part{row: m.predictor(key, r.pool)})
		}
		list[i].weight += r.stems
		all += r.stems
	}
	for i := range list {
		list[i].weight /= all
	}
	return list
}

// eta of a part at a point of the posterior.
func (t part) eta(point []float64) float64 {
	sum := t.row.Offset
	for _, term := range t.row.Terms {
		sum += term.Value * point[term.Parameter]
	}
	return sum
}

// sdAt is the standard deviation of plants' effects at a point.
func (m *qualityModel) sdAt(point []float64) float64 { return m.mixed.Effect.SD(point) }
