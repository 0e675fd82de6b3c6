package choose

import (
	"cmp"
	"math"
	"slices"
)

const (
	mostChanges = 60 // looked at together in pairs
	mostTries   = 40 // of changes and pairs under one tangent
)

// improve changes one thing, or two at once, as long as that makes the choice better. A tangent says at most what a change
// gains, so that only few have to be tried.
func (s *search) improve() {
	for s.work > 0 {
		if s.last == nil {
			s.last = s.tangentAt(s.hold(s.best), 0)
			s.keep(s.last)
		}
		if !s.step() {
			return
		}
	}
}

// move is one or two changes.
type move struct {
	gain    float64
	changes []change
}

func (s *search) step() bool {
	h := s.hold(s.best)
	for n, m := range s.moves(h.uses) {
		if n == mostTries || s.work < 0 {
			return false
		}
		chosen := slices.Clone(s.best)
		for _, c := range m.changes {
			h.leave(c.thing, c.from)
			h.take(c.thing, c.to)
			chosen[c.thing] = c.to
		}
		s.work -= h.work()
		if s.offerHeld(h, chosen) {
			return true
		}
		for _, c := range m.changes {
			h.leave(c.thing, c.to)
			h.take(c.thing, c.from)
		}
	}
	return false
}

// moves that fit and might gain, the most promising first.
func (s *search) moves(uses [2]float64) []move {
	t := s.last
	paid := func(c change) float64 {
		return t.paid(s.p, c.thing, c.to, t.prices) - t.paid(s.p, c.thing, c.from, t.prices)
	}
	all := s.changes(t, s.best, func(change) bool { return true })
	slices.SortStableFunc(all, func(a, b change) int { return cmp.Compare(paid(b), paid(a)) })
	var list []move
	for _, c := range all {
		if c.gain > 0 && s.p.fits(s.changed(uses, c.thing, c.from, c.to)) {
			list = append(list, move{c.gain, []change{c}})
		}
	}
	few := all[:min(len(all), mostChanges)]
	for i, a := range few {
		for _, b := range few[i+1:] {
			if a.thing == b.thing || a.gain+b.gain <= 0 {
				continue
			}
			both := s.changed(s.changed(uses, a.thing, a.from, a.to), b.thing, b.from, b.to)
			if s.p.fits(both) {
				list = append(list, move{a.gain + b.gain, []change{a, b}})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b move) int { return cmp.Compare(b.gain, a.gain) })
	return list
}

// Rewards are tried until one is enough, each three times the one before, and then halfway between that and one that is not.
const (
	mostRewards = 12
	halvings    = 6
)

// strive looks for choices that reach the aim as often as asked, by paying for every stem towards it, as little as is enough.
func (s *search) strive() {
	low, high := 0.0, s.firstReward()
	for n := 0; n < mostRewards && s.work > 0 && !s.relax(high); n++ {
		low, high = high, 3*high
	}
	for n := 0; n < halvings && s.work > 0; n++ {
		if middle := (low + high) / 2; s.relax(middle) {
			high = middle
		} else {
			low = middle
		}
	}
	s.last = nil
	s.improve()
}

// firstReward is small beside what a stem brings.
func (s *search) firstReward() float64 {
	stems := 0.0
	for i, o := range s.best {
		stems += s.aimed[i][o]
	}
	return max(1, math.Abs(s.value)) / max(1, stems) / 20
}
