package choose

import (
	"cmp"
	"slices"
)

// feasible is the tangent's best choice, brought within the limits: options give way where that costs least for what it
// frees, and others come where something is left.
func (s *search) feasible(t *tangent) []int {
	chosen := make([]int, len(s.p.Things))
	var uses [2]float64
	for i := range chosen {
		chosen[i] = t.chosen(s.p, i, t.prices)
		uses = s.changed(uses, i, -1, chosen[i])
	}
	for !s.p.fits(uses) {
		changes := s.changes(t, chosen, func(c change) bool { return s.frees(uses, c) > 0 })
		if len(changes) == 0 {
			clear(chosen)
			return chosen
		}
		slices.SortStableFunc(changes, func(a, b change) int {
			return cmp.Compare(-b.gain*s.frees(uses, a), -a.gain*s.frees(uses, b))
		})
		for _, c := range changes {
			if s.p.fits(uses) || chosen[c.thing] != c.from {
				continue
			}
			chosen[c.thing], uses = c.to, s.changed(uses, c.thing, c.from, c.to)
		}
	}
	s.fill(t, chosen, uses)
	return chosen
}

// fill takes whatever still fits and gains, the greatest gain first.
func (s *search) fill(t *tangent, chosen []int, uses [2]float64) {
	changes := s.changes(t, chosen, func(c change) bool { return c.gain > 0 })
	slices.SortStableFunc(changes, func(a, b change) int { return cmp.Compare(b.gain, a.gain) })
	for _, c := range changes {
		if chosen[c.thing] != c.from {
			continue
		}
		if more := s.changed(uses, c.thing, c.from, c.to); s.p.fits(more) {
			chosen[c.thing], uses = c.to, more
		}
	}
}

// change of one thing from an option to another, with what it gains by a tangent.
type change struct {
	thing, from, to int
	gain            float64
}

func (s *search) changes(t *tangent, chosen []int, wanted func(change) bool) []change {
	var list []change
	for i, from := range chosen {
		for to := range t.gains[i] {
			c := change{i, from, to, t.gains[i][to] - t.gains[i][from]}
			if to != from && wanted(c) {
				list = append(list, c)
			}
		}
	}
	return list
}

// frees is how much of what is used too much a change frees, as parts of the limits.
func (s *search) frees(uses [2]float64, c change) float64 {
	sum := 0.0
	for k, limit := range s.p.Limits {
		if uses[k] > limit {
			sum += (s.p.Things[c.thing][c.from].Uses[k] - s.p.Things[c.thing][c.to].Uses[k]) / (uses[k] - limit)
		}
	}
	return sum
}

func (s *search) changed(uses [2]float64, thing, from, to int) [2]float64 {
	for k := range uses {
		uses[k] += s.p.Things[thing][to].Uses[k]
		if from >= 0 {
			uses[k] -= s.p.Things[thing][from].Uses[k]
		}
	}
	return uses
}
