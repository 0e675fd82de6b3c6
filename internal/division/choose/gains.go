package choose

import "slices"

// gainsWork is up to how many takers are served to find what every option gains. A thing is a small part of what many things
// give together, and for more of them the tangent, which costs nothing more, says about the same.
const gainsWork = 120_000_000

// gains are by thing and option what that option is worth beside those that all other things take, its use of scarce means paid.
//
// The tangent alone would promise too much of whatever the choice does not hold: it pays for a fourth division what the first
// stem too many brings.
func (s *search) gains(worth [2]float64) [][]float64 {
	t, exact := s.last, s.gainsTake() <= gainsWork
	swaps := s.swapsFrom(s.best, exact)
	all := make([][]float64, len(t.gains))
	for i, held := range s.best {
		all[i] = make([]float64, len(t.gains[i]))
		for o := range all[i] {
			gain := t.gains[i][o]
			if exact && o != held {
				gain = t.gains[i][held] + swaps.gain(i, held, o)
			}
			uses := &s.p.Things[i][o].Uses
			all[i][o] = gain - worth[0]*uses[0] - worth[1]*uses[1]
		}
	}
	return all
}

// gainsTake is about how many takers are served to try each other option of each thing.
func (s *search) gainsTake() int {
	steps := 0
	for i, options := range s.p.Things {
		for o := range options {
			if o != s.best[i] {
				steps += s.p.servedFor(&options[o]) + s.p.servedFor(&options[s.best[i]])
			}
		}
	}
	return steps
}

// servedFor is how many takers are served where what an option gives is there.
func (p *Problem) servedFor(o *Option) int {
	steps := 0
	for g := range o.Gives {
		each := p.Markets[o.Gives[g].Market].steps()
		for _, n := range o.Gives[g].Stems {
			if n > 0 {
				steps += each
			}
		}
	}
	return steps
}

// marketsOf are those to which either of two options gives.
func marketsOf(a, b *Option) []int {
	var list []int
	for _, gives := range [][]Give{a.Gives, b.Gives} {
		for g := range gives {
			if m := gives[g].Market; !slices.Contains(list, m) {
				list = append(list, m)
			}
		}
	}
	return list
}

// swaps are a choice's supply and what each market pays for it in each draw.
type swaps struct {
	p    *Problem
	held *held
	paid [][]float64 // by market and draw
}

func (s *search) swapsFrom(chosen []int, exact bool) *swaps {
	if !exact {
		return nil
	}
	w := &swaps{p: s.p, held: s.hold(chosen), paid: make([][]float64, len(s.p.Markets))}
	for m := range w.paid {
		w.paid[m] = make([]float64, s.p.Draws)
		for k := range w.paid[m] {
			w.paid[m][k] = s.p.Markets[m].revenue(&w.held.supply[m][k])
		}
	}
	return w
}

// gain is what the choice is worth more where a thing takes another option.
func (w *swaps) gain(thing, from, to int) float64 {
	was, is := &w.p.Things[thing][from], &w.p.Things[thing][to]
	sum := was.Cost - is.Cost
	for _, m := range marketsOf(was, is) {
		market, more := &w.p.Markets[m], 0.0
		for k := range w.p.Draws {
			supply := w.held.supply[m][k]
			left, came := w.p.give(&supply, was, m, k, -1), w.p.give(&supply, is, m, k, 1)
			if left || came {
				more += market.revenue(&supply) - w.paid[m][k]
			}
		}
		sum += market.Weight * more / float64(w.p.Draws)
	}
	return sum
}

// give adds a part of what an option gives to a market in a draw, and tells whether it gives any.
func (p *Problem) give(supply *Qualities, o *Option, market, draw int, part float64) (any bool) {
	for g := range o.Gives {
		give := &o.Gives[g]
		if give.Market != market || give.Stems[draw] == 0 {
			continue
		}
		any = true
		for q, share := range &p.Kinds[give.Kind][draw] {
			supply[q] += part * float64(give.Stems[draw]) * share
		}
	}
	return any
}
