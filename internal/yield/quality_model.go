package yield

import (
	"math"

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
	groups map[cluster]int // by cluster, its group
	cells  []whence        // by cell
	ranks  []int           // by cell, as given to lay
	rows   map[rowOf]int
	pooled []float64 // by cell
	draws  stats.Draws
}

// rowOf is what a row hangs on: a whence without its plant, and for lengths a grade.
type rowOf struct {
	whence
	rank int
}

// typical is a whence without what its row does not hang on: the plant, and the season where a planting is
// told.
func (w whence) typical() whence {
	w.plant = ""
	if w.planting != "" {
		w.season = 0
	}
	return w
}

func newQualityModel(nodes int, priors qualityPriors, poolOf func(whence) pool) *qualityModel {
	return &qualityModel{
		p: newParameters(), priors: priors, poolOf: poolOf, mixed: &stats.Mixed{Nodes: nodes},
		groups: map[cluster]int{}, rows: map[rowOf]int{},
	}
}

// lay adds a cell. Cells of one cluster must come one after another.
func (m *qualityModel) lay(w whence, rank int, extra []stats.Coef) {
	c, units := w.cluster(), m.poolOf(w).worth()
	if _, known := m.groups[c]; !known {
		m.groups[c] = len(m.mixed.Groups)
		scale := 1.0
		if w.plant == "" {
			scale = 1 / math.Sqrt(units)
		}
		m.mixed.Groups = append(m.mixed.Groups, stats.Group{Scale: scale})
	}
	pooled := 0.0
	if w.plant == "" {
		pooled = math.Sqrt(1 - 1/units)
	}
	m.mixed.Cells = append(m.mixed.Cells, stats.Cell{Row: m.row(w, rank, extra)})
	m.mixed.Groups[m.groups[c]].End = len(m.mixed.Cells)
	m.cells = append(m.cells, w)
	m.ranks = append(m.ranks, rank)
	m.pooled = append(m.pooled, pooled)
}

func (m *qualityModel) row(w whence, rank int, extra []stats.Coef) int {
	pool := m.poolOf(w)
	w = w.typical()
	key := rowOf{w, rank}
	if i, known := m.rows[key]; known {
		return i
	}
	row := qualityRow(m.p, w, m.priors, pool)
	row.Terms = append(row.Terms, extra...)
	m.rows[key] = len(m.mixed.Rows)
	m.mixed.Rows = append(m.mixed.Rows, row)
	return m.rows[key]
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
func (m *qualityModel) parts(stems func(cell int) float64, extra func(cell int) []stats.Coef, age int, flush crop.Flush) []part {
	at := map[rowOf]int{}
	var list []part
	all := 0.0
	for c, w := range m.cells {
		if w.age != age || w.flush != flush || stems(c) == 0 {
			continue
		}
		pool := m.poolOf(w)
		w = w.typical()
		w.grader = ""
		key := rowOf{whence: w}
		if extra != nil {
			key.rank = m.ranks[c]
		}
		i, known := at[key]
		if !known {
			i = len(list)
			at[key] = i
			row := qualityRow(m.p, w, m.priors, pool)
			if extra != nil {
				row.Terms = append(row.Terms, extra(c)...)
			}
			list = append(list, part{row: row})
		}
		list[i].weight += stems(c)
		all += stems(c)
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
