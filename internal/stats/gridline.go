package stats

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/interp"
)

// gridLine is one side of a box of evenly spaced nodes that is moved and stretched until it holds a
// density down to its tails.
type gridLine struct {
	nodes []float64
}

func newGridLine(lo, hi float64, nodes int) gridLine {
	l := gridLine{nodes: make([]float64, nodes)}
	l.lay(lo, hi)
	return l
}

func (l gridLine) lay(lo, hi float64) {
	last := float64(len(l.nodes) - 1)
	for i := range l.nodes {
		l.nodes[i] = lo + (hi-lo)*float64(i)/last
	}
}

// hug lays the line anew around the nodes whose log density is less than depth below top, and tells
// whether there was no need: no more than half of it is empty, and neither end carries any density.
func (l gridLine) hug(logDens []float64, top, depth float64) bool {
	last := len(l.nodes) - 1
	first, final := last, 0
	for i, d := range logDens {
		if d > top-depth {
			first, final = min(first, i), max(final, i)
		}
	}
	if first > 0 && final < last && 2*(final-first) >= last {
		return true
	}
	step := l.nodes[1] - l.nodes[0]
	below, above := step, step
	if first == 0 {
		below = step * float64(last) / 5
	}
	if final == last {
		above = step * float64(last) / 5
	}
	l.lay(l.nodes[first]-below, l.nodes[final]+above)
	return false
}

// perStep is how many pieces a step is cut into before a density is summed for a quantile.
const perStep = 8

// quantile inverts the integral of a density whose logarithm is taken as a cubic between nodes, and
// the density as straight within an eighth of a step.
func (l gridLine) quantile(density []float64, p float64) float64 {
	logDens := make([]float64, len(density))
	for i, d := range density {
		logDens[i] = math.Log(max(d, math.SmallestNonzeroFloat64))
	}
	var curve interp.NotAKnotCubic
	// The only errors are too few nodes or nodes out of order.
	if err := curve.Fit(l.nodes, logDens); err != nil {
		panic(err)
	}
	from, step := l.nodes[0], (l.nodes[1]-l.nodes[0])/perStep
	below := make([]float64, (len(density)-1)*perStep+1)
	last := density[0]
	for i := 1; i < len(below); i++ {
		next := math.Exp(curve.Predict(from + float64(i)*step))
		below[i] = below[i-1] + (last+next)/2
		last = next
	}
	want := p * below[len(below)-1]
	i := max(1, sort.SearchFloat64s(below, want))
	return from + step*(float64(i-1)+(want-below[i-1])/(below[i]-below[i-1]))
}
