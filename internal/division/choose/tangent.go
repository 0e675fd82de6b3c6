package choose

import "math"

// tangent is what each option is worth at prices that do not change with what is supplied, once scarce means are paid for:
// an upper bound of what every choice is worth.
type tangent struct {
	constant float64
	gains    [][]float64 // by thing and option, scarce means not paid
	prices   [2]float64  // of scarce means
	best     []float64   // by thing, the greatest gain with its means paid
	bound    float64
}

// priceWork is what it takes to price scarce means, an option.
const priceWork = 150

// tangentAt prices stems at a supply. Each stem towards the aim is worth reward more, which is no part of a bound.
func (s *search) tangentAt(h *held, reward float64) *tangent {
	p, t := s.p, &tangent{gains: make([][]float64, len(s.p.Things)), best: make([]float64, len(s.p.Things))}
	all := make([]float64, s.options)
	rest := all
	for i, options := range p.Things {
		t.gains[i], rest = rest[:len(options):len(options)], rest[len(options):]
		for o := range options {
			t.gains[i][o] = -options[o].Cost
		}
	}
	prices, byKind := make([]Qualities, p.Draws), make([]float64, p.Draws)
	for m := range p.Markets {
		t.addMarket(s, h, m, prices, byKind)
	}
	if reward > 0 {
		for i := range t.gains {
			for o := range t.gains[i] {
				t.gains[i][o] += reward * s.aimed[i][o]
			}
		}
	}
	t.price(p)
	if t.prices != [2]float64{} {
		s.work -= s.options * priceWork
	}
	return t
}

func (t *tangent) addMarket(s *search, h *held, m int, prices []Qualities, byKind []float64) {
	market := &s.p.Markets[m]
	weight := market.Weight / float64(s.p.Draws)
	for k := range prices {
		prices[k] = Qualities{}
		t.constant += weight * market.worth(&h.supply[m][k], &prices[k])
	}
	s.work -= s.p.Draws * market.steps() * 2
	kind := -1
	for _, of := range s.gives[m] { // ordered by kind
		if of.give.Kind != kind {
			kind = of.give.Kind
			for k := range byKind {
				sum := 0.0
				for q, share := range &s.p.Kinds[kind][k] {
					sum += share * prices[k][q]
				}
				byKind[k] = weight * sum
			}
		}
		sum := 0.0
		for k, n := range of.give.Stems {
			sum += float64(n) * byKind[k]
		}
		t.gains[of.thing][of.option] += sum
		s.work -= s.p.Draws / 8
	}
}

// price finds the prices of scarce means at which the bound is least: a convex function of both.
func (t *tangent) price(p *Problem) {
	most := t.dearest(p)
	if _, uses := t.at(p, [2]float64{}); p.fits(uses) {
		most = [2]float64{}
	}
	lo, hi := 0.0, most[0]
	second := func(first float64) float64 { return t.second(p, first, most[1]) }
	for range 30 {
		if hi-lo < 1e-3 {
			break
		}
		a, b := lo+(hi-lo)*0.45, lo+(hi-lo)*0.55
		atA, _ := t.at(p, [2]float64{a, second(a)})
		atB, _ := t.at(p, [2]float64{b, second(b)})
		if atA <= atB {
			hi = b
		} else {
			lo = a
		}
	}
	best := math.Inf(1)
	for _, first := range []float64{0, lo, (lo + hi) / 2, hi} {
		prices := [2]float64{first, second(first)}
		if bound, _ := t.at(p, prices); bound < best {
			best, t.prices = bound, prices
		}
	}
	t.bound, _ = t.at(p, t.prices)
	for i := range t.best {
		t.best[i] = t.paid(p, i, t.chosen(p, i, t.prices), t.prices)
	}
}

// second is the best price of the second means for a price of the first: where what is used falls to what there is.
func (t *tangent) second(p *Problem, first, most float64) float64 {
	lo, hi := 0.0, most
	if _, uses := t.at(p, [2]float64{first, 0}); hi == 0 || uses[1] <= p.Limits[1] {
		return 0
	}
	for range 30 {
		if hi-lo < 1e-4 {
			break
		}
		mid := (lo + hi) / 2
		if _, uses := t.at(p, [2]float64{first, mid}); uses[1] > p.Limits[1] {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// at is the bound at prices, and what is used by options that are best there.
func (t *tangent) at(p *Problem, prices [2]float64) (bound float64, uses [2]float64) {
	bound = t.constant
	for i, price := range prices {
		if price > 0 {
			bound += price * p.Limits[i]
		}
	}
	for i := range t.gains {
		o := t.chosen(p, i, prices)
		bound += t.paid(p, i, o, prices)
		for k, use := range p.Things[i][o].Uses {
			uses[k] += use
		}
	}
	return bound, uses
}

func (t *tangent) paid(p *Problem, thing, option int, prices [2]float64) float64 {
	uses := &p.Things[thing][option].Uses
	return t.gains[thing][option] - prices[0]*uses[0] - prices[1]*uses[1]
}

func (t *tangent) chosen(p *Problem, thing int, prices [2]float64) int {
	best, most := 0, math.Inf(-1)
	for o := range t.gains[thing] {
		if paid := t.paid(p, thing, o, prices); paid > most {
			best, most = o, paid
		}
	}
	return best
}

// dearest are prices at which nobody would use any.
func (t *tangent) dearest(p *Problem) (most [2]float64) {
	for i, gains := range t.gains {
		for o, gain := range gains {
			for k, use := range p.Things[i][o].Uses {
				for other, otherGain := range gains {
					if more := use - p.Things[i][other].Uses[k]; more > 0 {
						most[k] = max(most[k], (gain-otherGain)/more)
					}
				}
			}
		}
	}
	for k := range most {
		if math.IsInf(p.Limits[k], 1) {
			most[k] = 0
		}
		most[k] *= 1.01
	}
	return most
}
