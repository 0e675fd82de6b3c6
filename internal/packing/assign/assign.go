// Package assign finds the whole numbers of bunches, line by line, that are worth most when all lines draw on the same
// classes of stems, and proves that none are worth more.
package assign

import (
	"cmp"
	"math/bits"
	"slices"
)

// Line asks for between Least and Most lots of Lot stems each, any of which may come from any class in From.
// Each lot is worth Worth.
type Line struct {
	Lot, Worth  int64
	Least, Most int64
	From        []int
}

// Problem is classes of stems and the lines that draw on them. A caller keeps the sum of Worth times Most within
// MaxWorth and that of the stems within MaxStems, so that no sum here can overflow.
type Problem struct {
	Stems []int64
	Lines []Line
}

// What sums may come to: whole numbers that a float64 and so JSON in a browser keep exactly, and a wider one within
// which a caller may weigh some lots above all others.
const (
	MaxStems = 1 << 53
	MaxWorth = 1 << 61
)

// network is a problem with its neighbourhoods as sets.
type network struct {
	stems []int64
	lines []Line
	from  []set       // classes that a line may draw on
	order []int       // lines by worth a stem, the dearest first
	unit  []float64   // worth of a stem on a line
	below []dominated // for the search
	gcd   int64       // of what lots are worth, so of every total
}

func newNetwork(p Problem) *network {
	n := &network{stems: p.Stems, lines: slices.Clone(p.Lines)}
	for l := range n.lines {
		line := &n.lines[l]
		from, reach := newSet(len(p.Stems)), int64(0)
		for _, c := range line.From {
			from.add(c)
			reach += p.Stems[c]
		}
		line.Most = min(line.Most, reach/line.Lot) // more than there is to draw on can never be
		n.from = append(n.from, from)
		n.order = append(n.order, l)
		n.unit = append(n.unit, float64(line.Worth)/float64(line.Lot))
		if line.Most > 0 {
			n.gcd = gcd(n.gcd, line.Worth)
		}
	}
	n.gcd = max(n.gcd, 1)
	slices.SortStableFunc(n.order, func(a, b int) int { return n.dearer(a, b) })
	return n
}

// dearer compares what a stem brings on two lines, exactly, the dearer first. Among equals the larger lot comes first:
// small ones fill what is left more easily.
func (n *network) dearer(a, b int) int {
	x, y := n.lines[a], n.lines[b]
	xHigh, xLow := bits.Mul64(uint64(x.Worth), uint64(y.Lot))
	yHigh, yLow := bits.Mul64(uint64(y.Worth), uint64(x.Lot))
	return cmp.Or(cmp.Compare(yHigh, xHigh), cmp.Compare(yLow, xLow), cmp.Compare(y.Lot, x.Lot))
}

func (n *network) least() []int64 {
	var all []int64
	for _, line := range n.lines {
		all = append(all, line.Least)
	}
	return all
}

func (n *network) most() []int64 {
	var all []int64
	for _, line := range n.lines {
		all = append(all, line.Most)
	}
	return all
}

func (n *network) worth(lots []int64) int64 {
	sum := int64(0)
	for l, k := range lots {
		sum += n.lines[l].Worth * k
	}
	return sum
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
