package packing

import "fmt"

// part is lines and the supply that they draw on, which no other line can: it is planned by itself.
type part struct {
	supply, lines []int
}

// allowance tells for each line which supply may go there.
type allowance [][]int

func (d *Day) allowance() allowance {
	a := make(allowance, len(d.Demand))
	for l, line := range d.Demand {
		for s, supply := range d.Supply {
			if !line.Refused && d.allowed(supply, line) {
				a[l] = append(a[l], s)
			}
		}
	}
	return a
}

// parts divides the day. Lines for which there is no supply, and supply for no line, are in none.
func (d *Day) parts(a allowance) []part {
	group := make([]int, len(d.Supply)) // the part of a supply, counted from 1
	var groups []part
	for l := range a {
		if len(a[l]) == 0 {
			continue
		}
		joined := part{lines: []int{l}}
		for _, s := range a[l] {
			switch g := group[s]; {
			case g == 0:
				joined.supply = append(joined.supply, s)
			case groups[g-1].lines != nil:
				joined.supply = append(joined.supply, groups[g-1].supply...)
				joined.lines = append(joined.lines, groups[g-1].lines...)
				groups[g-1] = part{}
			}
		}
		groups = append(groups, joined)
		for _, s := range joined.supply {
			group[s] = len(groups)
		}
	}
	kept := groups[:0]
	for _, g := range groups {
		if g.lines != nil {
			kept = append(kept, g)
		}
	}
	return kept
}

// classes puts supply that may go to the same lines together. It gives the class of each supply of the part too.
func (d *Day) classes(a allowance, p part) (stems []int64, of map[int]int) {
	lines := map[int][]byte{}
	for _, l := range p.lines {
		for _, s := range a[l] {
			lines[s] = fmt.Appendf(lines[s], "%d ", l)
		}
	}
	of = map[int]int{}
	known := map[string]int{}
	for _, s := range p.supply {
		class, seen := known[string(lines[s])]
		if !seen {
			class = len(stems)
			known[string(lines[s])] = class
			stems = append(stems, 0)
		}
		of[s] = class
		stems[class] += d.Supply[s].Stems
	}
	return stems, of
}
