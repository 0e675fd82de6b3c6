package choose

// held is options that are held, and what they bring together.
type held struct {
	p      *Problem
	supply [][]Qualities // by market and draw
	worth  []float64     // by market, where it is not stale
	stale  []bool
	aimed  []float64 // by draw, stems towards the aim
	aims   []bool    // by market
	cost   float64
	uses   [2]float64
}

func newHeld(p *Problem) *held {
	h := &held{
		p: p, supply: make([][]Qualities, len(p.Markets)), worth: make([]float64, len(p.Markets)), stale: make([]bool, len(p.Markets)),
		aimed: make([]float64, p.Draws), aims: make([]bool, len(p.Markets)),
	}
	for m := range h.supply {
		h.supply[m] = make([]Qualities, p.Draws)
	}
	for _, m := range p.Aim.Markets {
		h.aims[m] = true
	}
	return h
}

func (h *held) take(thing, option int)  { h.add(&h.p.Things[thing][option], 1) }
func (h *held) leave(thing, option int) { h.add(&h.p.Things[thing][option], -1) }

// add adds a part of an option.
func (h *held) add(o *Option, part float64) {
	h.cost += part * o.Cost
	for i := range h.uses {
		h.uses[i] += part * o.Uses[i]
	}
	for g := range o.Gives {
		give := &o.Gives[g]
		supply, kinds := h.supply[give.Market], h.p.Kinds[give.Kind]
		h.stale[give.Market] = true
		for k, n := range give.Stems {
			if n == 0 {
				continue
			}
			stems := part * float64(n)
			for q, share := range &kinds[k] {
				supply[k][q] += stems * share
			}
			if h.aims[give.Market] {
				h.aimed[k] += stems
			}
		}
	}
}

// value is what all of it is worth.
func (h *held) value() float64 {
	sum := -h.cost
	for m := range h.worth {
		if h.stale[m] {
			market, all := &h.p.Markets[m], 0.0
			for k := range h.supply[m] {
				all += market.revenue(&h.supply[m][k])
			}
			h.worth[m], h.stale[m] = market.Weight*all/float64(h.p.Draws), false
		}
		sum += h.worth[m]
	}
	return sum
}

// work is what looking at the stale markets costs.
func (h *held) work() int {
	steps := 0
	for m, stale := range h.stale {
		if stale {
			steps += h.p.Draws * h.p.Markets[m].steps()
		}
	}
	return steps
}

// steps are how many takers are served for one supply.
func (m *Market) steps() int {
	steps := 1
	for _, w := range m.Weeks {
		steps += 1 + len(w.Takers)
	}
	return steps
}

// share of the draws that reach the aim.
func (h *held) share() float64 {
	const none = 1e-6 // stems: sums of floating numbers
	n := 0
	for _, stems := range h.aimed {
		if stems >= h.p.Aim.Stems-none {
			n++
		}
	}
	return float64(n) / float64(h.p.Draws)
}

// fits tells whether no more is used than there is.
func (p *Problem) fits(uses [2]float64) bool {
	const rounding = 1e-9
	for i, limit := range p.Limits {
		if uses[i] > limit+rounding {
			return false
		}
	}
	return true
}
