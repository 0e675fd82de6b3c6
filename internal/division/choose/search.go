package choose

import (
	"cmp"
	"math"
	"slices"
)

// search is a problem with what is known of it so far.
type search struct {
	p       *Problem
	work    int
	options int
	gives   [][]givenBy // by market, ordered by kind
	aimed   [][]float64 // by thing and option, the mean stems towards the aim
	cuts    []*tangent  // the lowest first
	last    *tangent    // where the best choice lies
	best    []int       // the best choice that reaches the aim as often as asked, or comes nearest
	value   float64     // of it
	share   float64     // of it
	before  float64     // the lowest bound some tangents ago
}

type givenBy struct {
	thing, option int
	give          *Give
}

func newSearch(p *Problem, work int) *search {
	s := &search{p: p, work: work, gives: make([][]givenBy, len(p.Markets)), aimed: make([][]float64, len(p.Things))}
	aims := make([]bool, len(p.Markets))
	for _, m := range p.Aim.Markets {
		aims[m] = true
	}
	for i, options := range p.Things {
		s.options += len(options)
		s.aimed[i] = make([]float64, len(options))
		for o := range options {
			for g := range options[o].Gives {
				give := &options[o].Gives[g]
				s.gives[give.Market] = append(s.gives[give.Market], givenBy{i, o, give})
				if aims[give.Market] {
					s.aimed[i][o] += mean(give.Stems)
				}
			}
		}
	}
	for m := range s.gives {
		slices.SortStableFunc(s.gives[m], func(a, b givenBy) int { return cmp.Compare(a.give.Kind, b.give.Kind) })
	}
	s.best = make([]int, len(p.Things))
	s.value, s.share = p.Worth(s.best)
	return s
}

func mean(stems []uint16) float64 {
	sum := 0
	for _, n := range stems {
		sum += int(n)
	}
	return float64(sum) / float64(max(1, len(stems)))
}

const (
	mostTangents = 24   // of the relaxation
	mostCuts     = 8    // kept for the proof
	closeEnough  = 1e-5 // of the bound
	slow         = 2e-4 // of the bound, in so many tangents as patience
	patience     = 4
)

// relax moves a mixture of choices to where no tangent is lower, by steps towards each tangent's own best (Frank and Wolfe
// 1956, Naval Research Logistics 3:95-110), and keeps every tangent's bound and every choice on the way. It tells whether
// one of them reaches the aim as often as asked.
func (s *search) relax(reward float64) (reached bool) {
	mixture := s.hold(s.best)
	for n := range mostTangents {
		if s.work < 0 && n > 3 {
			break
		}
		t := s.tangentAt(mixture, reward)
		if reward == 0 {
			s.keep(t)
		}
		chosen := s.feasible(t)
		reached = s.offer(chosen) >= s.p.Aim.Share || reached
		if reward == 0 && s.near(n) {
			break
		}
		mixture.mix(s.p, chosen, 2/float64(n+2))
	}
	return reached
}

// near tells whether the bound is near to the best choice, or comes no nearer.
func (s *search) near(n int) bool {
	bound := s.cuts[0].bound
	if n%patience == 0 {
		defer func() { s.before = bound }()
		if n > 0 && s.before-bound <= slow*math.Abs(bound) {
			return true
		}
	}
	return bound-s.value <= closeEnough*math.Abs(s.value)
}

// mix moves towards a choice.
func (h *held) mix(p *Problem, chosen []int, part float64) {
	for m := range h.supply {
		h.stale[m] = true
		for k := range h.supply[m] {
			for q := range h.supply[m][k] {
				h.supply[m][k][q] *= 1 - part
			}
		}
	}
	for thing, option := range chosen {
		h.add(&p.Things[thing][option], part)
	}
}

func (s *search) hold(chosen []int) *held {
	h := newHeld(s.p)
	for thing, option := range chosen {
		h.take(thing, option)
	}
	return h
}

// keep keeps a bound among the lowest.
func (s *search) keep(t *tangent) {
	at, _ := slices.BinarySearchFunc(s.cuts, t, func(a, b *tangent) int { return cmp.Compare(a.bound, b.bound) })
	s.cuts = slices.Insert(s.cuts, at, t)
	if len(s.cuts) > mostCuts {
		s.cuts = s.cuts[:mostCuts]
	}
}

// offer takes a choice that is better than the best, and tells in what share of the draws it reaches the aim.
func (s *search) offer(chosen []int) (share float64) {
	if slices.Equal(chosen, s.best) {
		return s.share
	}
	h := s.hold(chosen)
	s.work -= h.work() + len(chosen)*s.p.Draws/4
	s.offerHeld(h, chosen)
	return h.share()
}

// offerHeld does so with what is held, and tells whether it is better.
func (s *search) offerHeld(h *held, chosen []int) bool {
	value, share := h.value(), h.share()
	if !s.p.fits(h.uses) || !s.better(value, share) {
		return false
	}
	s.best, s.value, s.share, s.last = slices.Clone(chosen), value, share, nil
	return true
}

// better than the best: what reaches the aim as often as asked before what does not.
func (s *search) better(value, share float64) bool {
	const rounding = 1e-7
	asked := s.p.Aim.Share
	if here, there := min(share, asked), min(s.share, asked); here != there {
		return here > there
	}
	return value > s.value+rounding
}

func (s *search) reached() bool { return s.share >= s.p.Aim.Share }

// solution tells what was found; proven says that nothing is better.
func (s *search) solution(proven bool) Solution {
	if s.last == nil {
		s.last = s.tangentAt(s.hold(s.best), 0)
		s.keep(s.last)
	}
	sol := Solution{
		Chosen: s.best, Value: s.value, Bound: max(s.value, s.cuts[0].bound), Worth: s.cuts[0].prices,
		Share: s.share, Missed: !s.reached(),
	}
	if proven {
		sol.Bound = s.value
	}
	sol.Gains = s.gains(sol.Worth)
	return sol
}
