package choose

import (
	"cmp"
	"math"
	"slices"
)

// proof goes through all choices, thing by thing, leaving out those that some tangent or the aim rules out.
type proof struct {
	*search
	order  []int       // things, those whose options differ most first
	rest   [][]float64 // by tangent and place in the order: what the things from there on gain at most
	nodes  int
	held   *held
	chosen []int
	reach  [][]float64 // by place in the order and draw: stems towards the aim that the things from there on may give
	cuts   []*tangent
}

const (
	nodeWork   = 20
	newCuts    = 24 // tangents that a proof adds where they rule out most: at choices that came near
	roundingUp = 1e-6
)

// prove tells whether it came to its end: then nothing is better than the best.
func (s *search) prove() bool {
	if s.p.Aim.Share == 0 && s.cuts[0].bound <= s.value+roundingUp {
		return true
	}
	if s.work < 0 {
		return false
	}
	pr := &proof{search: s, held: newHeld(s.p), chosen: make([]int, len(s.p.Things))}
	pr.layOrder()
	pr.layReach()
	for _, t := range s.cuts {
		pr.add(t)
	}
	return pr.from(0)
}

func (pr *proof) layOrder() {
	for i := range pr.p.Things {
		pr.order = append(pr.order, i)
	}
	t := pr.search.cuts[0]
	spread := func(i int) float64 {
		lost := make([]float64, 0, len(t.gains[i]))
		for o := range t.gains[i] {
			lost = append(lost, t.best[i]-t.paid(pr.p, i, o, t.prices))
		}
		slices.Sort(lost)
		if len(lost) < 2 {
			return 1e300
		}
		return lost[1]
	}
	slices.SortStableFunc(pr.order, func(a, b int) int { return cmp.Compare(spread(b), spread(a)) })
}

// layReach is of farms that ask for an aim alone.
func (pr *proof) layReach() {
	if pr.p.Aim.Share == 0 {
		return
	}
	pr.reach = make([][]float64, len(pr.order)+1)
	pr.reach[len(pr.order)] = make([]float64, pr.p.Draws)
	for place := len(pr.order) - 1; place >= 0; place-- {
		most := make([]float64, pr.p.Draws)
		for _, o := range pr.p.Things[pr.order[place]] {
			given := make([]float64, pr.p.Draws)
			for _, g := range o.Gives {
				if !pr.held.aims[g.Market] {
					continue
				}
				for k, n := range g.Stems {
					given[k] += float64(n)
				}
			}
			for k := range most {
				most[k] = max(most[k], given[k])
			}
		}
		for k, behind := range pr.reach[place+1] {
			most[k] += behind
		}
		pr.reach[place] = most
	}
}

func (pr *proof) add(t *tangent) {
	rest := make([]float64, len(pr.order)+1)
	for place := len(pr.order) - 1; place >= 0; place-- {
		rest[place] = rest[place+1] + t.best[pr.order[place]]
	}
	pr.cuts, pr.rest = append(pr.cuts, t), append(pr.rest, rest)
}

// from goes through the choices of the things from a place on; false where the work is spent.
func (pr *proof) from(place int) bool {
	pr.work -= nodeWork * len(pr.cuts)
	if pr.reach != nil {
		pr.work -= pr.p.Draws / 4
	}
	if pr.work < 0 {
		return false
	}
	if pr.ruledOut(place) {
		return true
	}
	if place == len(pr.order) {
		pr.work -= pr.held.work()
		if !pr.offerHeld(pr.held, pr.chosen) && len(pr.cuts) < mostCuts+newCuts {
			pr.add(pr.tangentAt(pr.held, 0))
		}
		return true
	}
	thing := pr.order[place]
	for _, o := range pr.byPromise(thing) {
		pr.chosen[thing] = o
		pr.held.take(thing, o)
		pr.work -= pr.p.Draws / 2
		ended := pr.from(place + 1)
		pr.held.leave(thing, o)
		if !ended {
			return false
		}
	}
	return true
}

// byPromise are a thing's options, the best by the lowest tangent first.
func (pr *proof) byPromise(thing int) []int {
	t := pr.cuts[0]
	list := make([]int, len(t.gains[thing]))
	for o := range list {
		list[o] = o
	}
	slices.SortStableFunc(list, func(a, b int) int {
		return cmp.Compare(t.paid(pr.p, thing, b, t.prices), t.paid(pr.p, thing, a, t.prices))
	})
	return list
}

func (pr *proof) ruledOut(place int) bool {
	if pr.reach != nil && !pr.mayReach(place) {
		return true
	}
	if !pr.reached() {
		return false // whatever comes nearer is better
	}
	for c, t := range pr.cuts {
		bound := t.constant + t.prices[0]*finite(pr.p.Limits[0]) + t.prices[1]*finite(pr.p.Limits[1]) + pr.rest[c][place]
		for _, thing := range pr.order[:place] {
			bound += t.paid(pr.p, thing, pr.chosen[thing], t.prices)
		}
		if bound <= pr.value+roundingUp {
			return true
		}
	}
	return false
}

// finite takes means without a limit, which have no price, out of a sum.
func finite(limit float64) float64 {
	if math.IsInf(limit, 1) {
		return 0
	}
	return limit
}

// mayReach tells whether choices from here on may reach the aim as often as the best so far does, or is asked.
func (pr *proof) mayReach(place int) bool {
	n := 0
	for k, behind := range pr.reach[place] {
		if pr.held.aimed[k]+behind >= pr.p.Aim.Stems-roundingUp {
			n++
		}
	}
	return float64(n)/float64(pr.p.Draws) >= min(pr.share, pr.p.Aim.Share)
}
