package assign

import "cmp"

// dominated tells that a lot of one line can always go to another instead: so many lots of that take no more stems, may
// have all of its stems, and are worth no less. So among the best there are lots where the one has more than it must only
// if the other has no room left for so many.
type dominated struct {
	line, over int
	lots       int64 // of over, for one of line
}

func (n *network) dominance() (all []dominated) {
	for b := range n.lines {
		for a := range n.lines {
			if lots, yes := n.dominates(a, b); yes {
				all = append(all, dominated{line: b, over: a, lots: lots})
			}
		}
	}
	return all
}

// dominates says whether lots of line a can stand in for one of b. Where they are worth the same they must take fewer
// stems or come earlier, so that lots cannot be sent round in a circle.
func (n *network) dominates(a, b int) (lots int64, yes bool) {
	x, y := n.lines[a], n.lines[b]
	if a == b || x.Worth == 0 || !n.from[b].within(n.from[a]) {
		return 0, false
	}
	lots = max(1, (y.Worth+x.Worth-1)/x.Worth)
	if lots > y.Lot/x.Lot || lots > x.Most {
		return 0, false
	}
	return lots, cmp.Or(cmp.Compare(lots*x.Worth, y.Worth), cmp.Compare(y.Lot, lots*x.Lot), cmp.Compare(b, a)) > 0
}

// infer narrows bounds by dominance. It is false where nothing is left.
func (n *network) infer(least, most []int64) bool {
	for l := range least {
		if least[l] > most[l] {
			return false
		}
	}
	for again := true; again; {
		again = false
		for _, d := range n.below {
			full := n.lines[d.over].Most - d.lots + 1
			if least[d.line] > n.lines[d.line].Least && least[d.over] < full {
				least[d.over], again = full, true
			}
			if most[d.over] < full && most[d.line] > n.lines[d.line].Least {
				most[d.line], again = n.lines[d.line].Least, true
			}
			if least[d.over] > most[d.over] || least[d.line] > most[d.line] {
				return false
			}
		}
	}
	return true
}
