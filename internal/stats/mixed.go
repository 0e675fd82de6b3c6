package stats

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Mixed is a regression whose observations share, within a group, one normal effect that is
// integrated out by adaptive Gauss-Hermite quadrature (Pinheiro and Bates 1995, Journal of
// Computational and Graphical Statistics 4:12-35):
//
//	log-likelihood = sum over groups of log of the integral over z of
//	                 phi(z) times the product over the group's cells of p(cell | eta_row + scale sd z)
//
// It is also a plain regression, where there is no Effect.
type Mixed struct {
	Parameters int
	// Rows are the linear predictors; cells that share one share its row.
	Rows []Row
	// Cells lie group by group; an observation's number is its cell's.
	Cells []Cell
	// Groups end before these cells: group g holds the cells from Groups[g-1].End to its own.
	Groups []Group
	Family Family
	Effect Effect
	// Nodes of the quadrature of each group, 1 (Laplace's method) or more.
	Nodes int
	// Worth is how many independent draws those of Posterior have to be worth; 0 is 1000.
	Worth float64
	// Work is how many cells times nodes times draws Posterior evaluates at most before it takes the normal at the mode;
	// 0 is a hundred million.
	Work float64
}

// Row is a linear predictor: an offset and the terms to add.
type Row struct {
	Offset float64
	Terms  []Coef
}

// Coef multiplies one parameter.
type Coef struct {
	Parameter int
	Value     float64
}

// Cell is one observation's row.
type Cell struct {
	Row int
}

// Group shares one effect.
type Group struct {
	End int
	// Scale multiplies the effect's standard deviation: 1 for a plant, 1/sqrt(N) where the effect is the
	// mean of N plants'.
	Scale float64
}

// maxAux is the most auxiliary parameters that one observation may depend on.
const maxAux = 5

// Family is the distribution of observations, given their linear predictors. It is not safe for
// concurrent use; a Clone shares the observations and may be used beside it.
type Family interface {
	// Set tells the parameters in force.
	Set(x []float64)
	// LogDensity of observation i at eta.
	LogDensity(i int, eta float64) float64
	// Slope is the first and the second derivative of LogDensity by eta.
	Slope(i int, eta float64) (first, second float64)
	// Derivatives overwrites d with those by eta (0) and the auxiliary parameters (1 and on).
	Derivatives(i int, eta float64, d *Derivatives)
	// Aux lists the auxiliary parameters of observation i.
	Aux(i int) []int
	Clone() Family
}

// Derivatives of one log density; Hess is filled above and on its diagonal.
type Derivatives struct {
	Grad [1 + maxAux]float64
	Hess [1 + maxAux][1 + maxAux]float64
}

// check refuses a model that cannot be evaluated.
func (m *Mixed) check(family Family) error {
	if m.Nodes < 1 {
		return fmt.Errorf("%d quadrature nodes: give 1 or more", m.Nodes)
	}
	for _, p := range m.Effect.parameters() {
		if p < 0 || p >= m.Parameters {
			return fmt.Errorf("effect's parameter %d of %d: parameters count from 0", p, m.Parameters)
		}
	}
	for r, row := range m.Rows {
		for _, t := range row.Terms {
			if t.Parameter < 0 || t.Parameter >= m.Parameters || math.IsNaN(t.Value) || math.IsInf(t.Value, 0) {
				return fmt.Errorf("row %d holds parameter %d times %g: parameters run from 0 to %d and values are finite", r, t.Parameter, t.Value, m.Parameters-1)
			}
		}
	}
	last := 0
	for g, group := range m.Groups {
		if group.End < last || group.End > len(m.Cells) || !(group.Scale >= 0) {
			return fmt.Errorf("group %d ends before cell %d of %d with scale %g: groups follow one another and scales are not below 0", g, group.End, len(m.Cells), group.Scale)
		}
		last = group.End
	}
	if last != len(m.Cells) {
		return fmt.Errorf("the last group ends before cell %d of %d", last, len(m.Cells))
	}
	for c, cell := range m.Cells {
		if cell.Row < 0 || cell.Row >= len(m.Rows) {
			return fmt.Errorf("cell %d has row %d of %d", c, cell.Row, len(m.Rows))
		}
		if len(family.Aux(c)) > maxAux {
			return fmt.Errorf("cell %d has %d auxiliary parameters: %d at most", c, len(family.Aux(c)), maxAux)
		}
	}
	return nil
}

// Likelihood evaluates a Mixed, remembering where each group's integrand lies.
type Likelihood struct {
	model *Mixed
	// centre and spread of each group's integrand, in units of its effect's standard deviation.
	centre, spread []float64
	home           []float64 // where Fresh begins to look for them
	touched        [][]int32 // by group, the parameters on which it depends, ascending
	rule           rule
	workers        []*worker
	shards         *[shards]shard
}

// NewLikelihood prepares the evaluation of a model on so many workers; the result is the same to the
// last bit on any number of them.
func NewLikelihood(m *Mixed, workers int) (*Likelihood, error) {
	family := m.Family.Clone() // whose working space is not shared
	if err := m.check(family); err != nil {
		return nil, fmt.Errorf("evaluate a mixed model: %w", err)
	}
	l := &Likelihood{
		model: m, centre: make([]float64, len(m.Groups)), spread: make([]float64, len(m.Groups)),
		touched: make([][]int32, len(m.Groups)), rule: newRule(m.Effect, m.Nodes), shards: new([shards]shard),
	}
	for g := range l.spread {
		l.spread[g] = 1
		l.touched[g] = m.touchedBy(g, family)
	}
	for s := range l.shards {
		l.shards[s].grad = make([]float64, m.Parameters)
		l.shards[s].hess = mat.NewSymDense(max(1, m.Parameters), nil)
	}
	for range max(1, min(workers, shards)) {
		l.workers = append(l.workers, newWorker(l))
	}
	return l, nil
}

// Beside is an evaluation of the same model that may run at the same time, with centres of its own. Fresh starts
// from those that l has now, and l may not move them meanwhile.
func (l *Likelihood) Beside() *Likelihood {
	other := *l
	other.home = l.centre
	other.centre, other.spread = slices.Clone(l.centre), slices.Clone(l.spread)
	other.shards = new([shards]shard)
	other.workers = []*worker{newWorker(&other)}
	return &other
}

// withNodes is an evaluation of the same model by so many nodes, which moves the same centres.
func (l *Likelihood) withNodes(nodes int) *Likelihood {
	other := *l
	other.rule = newRule(l.model.Effect, nodes)
	other.workers = nil
	for range l.workers {
		other.workers = append(other.workers, newWorker(&other))
	}
	return &other
}

func (m *Mixed) begin(g int) int {
	if g == 0 {
		return 0
	}
	return m.Groups[g-1].End
}

func (m *Mixed) touchedBy(g int, family Family) []int32 {
	var list []int32
	seen := map[int]bool{}
	add := func(p int) {
		if !seen[p] {
			seen[p] = true
			list = append(list, int32(p))
		}
	}
	for c := m.begin(g); c < m.Groups[g].End; c++ {
		for _, t := range m.Rows[m.Cells[c].Row].Terms {
			add(t.Parameter)
		}
		for _, a := range family.Aux(c) {
			add(a)
		}
	}
	for _, p := range m.Effect.parameters() {
		add(p)
	}
	slices.Sort(list)
	return list
}

// symAdd adds v to an upper-triangle element given in either order.
func symAdd(h *mat.SymDense, i, j int, v float64) { h.SetSym(i, j, h.At(i, j)+v) }
