package choose

import (
	"cmp"
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

var (
	problems = flag.Int("choose.problems", 80, "how many made-up problems are solved and enumerated")
	firstOne = flag.Uint64("choose.seed", 1, "the first problem's seed")
)

// made is a small problem drawn by chance.
func made(src *rand.Rand, things, draws int) *Problem {
	p := &Problem{Draws: draws}
	for range 2 {
		kind := make([]Qualities, draws)
		for k := range kind {
			sum := 0.0
			for q := range kind[k] {
				kind[k][q] = src.ExpFloat64()
				sum += kind[k][q]
			}
			for q := range kind[k] {
				kind[k][q] /= sum
			}
		}
		p.Kinds = append(p.Kinds, kind)
	}
	for range 3 {
		p.Markets = append(p.Markets, madeMarket(src))
	}
	for range things {
		options := []Option{{Gives: []Give{madeGive(src, draws, 10)}}}
		for n := range 1 + src.IntN(4) {
			o := Option{
				Cost: 400 * src.Float64(), Uses: [2]float64{float64(n), src.Float64()},
				Gives: []Give{madeGive(src, draws, 10*(n+1)), madeGive(src, draws, 8)},
			}
			if src.IntN(4) == 0 {
				o.Uses[0], o.Gives = -1, nil
			}
			options = append(options, o)
		}
		p.Things = append(p.Things, options)
	}
	p.Limits = [2]float64{float64(src.IntN(things + 2)), src.Float64() * float64(things) / 2}
	if src.IntN(4) == 0 {
		p.Limits[1] = math.Inf(1)
	}
	if src.IntN(3) == 0 {
		p.Aim = Aim{Markets: []int{0, 2}, Stems: float64(10 * things), Share: 0.2 + 0.7*src.Float64()}
	}
	return p
}

func madeMarket(src *rand.Rand) Market {
	m := Market{Weight: 0.5 + src.Float64()/2}
	for range 1 + src.IntN(2) {
		w := Week{Share: 0.2 + 0.3*src.Float64()}
		for range 1 + src.IntN(4) {
			taker := Taker{Price: 10 + 90*src.Float64(), Least: src.IntN(4), Most: float64(src.IntN(25))}
			if src.IntN(6) == 0 {
				taker.Most = math.Inf(1)
			}
			w.Takers = append(w.Takers, taker)
		}
		slices.SortFunc(w.Takers, func(a, b Taker) int { return cmp.Compare(b.Price, a.Price) })
		m.Weeks = append(m.Weeks, w)
	}
	return m
}

func madeGive(src *rand.Rand, draws, most int) Give {
	g := Give{Market: src.IntN(3), Kind: src.IntN(2), Stems: make([]uint16, draws)}
	for k := range g.Stems {
		g.Stems[k] = uint16(src.IntN(most + 1))
	}
	return g
}

// enumerate tries every choice.
func enumerate(p *Problem) (value, share float64) {
	chosen := make([]int, len(p.Things))
	value, share = math.Inf(-1), -1
	for {
		var uses [2]float64
		for i, o := range chosen {
			for k, use := range p.Things[i][o].Uses {
				uses[k] += use
			}
		}
		if p.fits(uses) {
			v, s := p.Worth(chosen)
			here, there := min(s, p.Aim.Share), min(share, p.Aim.Share)
			if here > there || here == there && v > value {
				value, share = v, s
			}
		}
		i := 0
		for i < len(chosen) && chosen[i] == len(p.Things[i])-1 {
			chosen[i] = 0
			i++
		}
		if i == len(chosen) {
			return value, share
		}
		chosen[i]++
	}
}

func TestTheChoiceIsTheBestOfAllThereAre(t *testing.T) {
	for seed := *firstOne; seed < *firstOne+uint64(*problems); seed++ {
		src := rand.New(rand.NewPCG(seed, 1))
		p := made(src, 2+src.IntN(4), 5+src.IntN(20))
		sol := Solve(p, 1<<30)
		value, share := enumerate(p)
		if math.Abs(sol.Value-value) > 1e-6*(1+math.Abs(value)) || sol.Bound != sol.Value || min(sol.Share, p.Aim.Share) != min(share, p.Aim.Share) {
			t.Errorf("seed %d: value %v in %v of draws, bound %v; the best of all is %v in %v", seed, sol.Value, sol.Share, sol.Bound, value, share)
		}
	}
}

func TestGainsAreWhatEachOtherOptionWouldBringInstead(t *testing.T) {
	for seed := *firstOne; seed < *firstOne+uint64(*problems)/4; seed++ {
		src := rand.New(rand.NewPCG(seed, 5))
		p := made(src, 2+src.IntN(4), 5+src.IntN(20))
		sol := Solve(p, 1<<30)
		for i, held := range sol.Chosen {
			for o, gain := range sol.Gains[i] {
				other := slices.Clone(sol.Chosen)
				other[i] = o
				value, _ := p.Worth(other)
				want := value - sol.Value
				for k, worth := range sol.Worth {
					want -= worth * (p.Things[i][o].Uses[k] - p.Things[i][held].Uses[k])
				}
				if got := gain - sol.Gains[i][held]; math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
					t.Errorf("seed %d: option %d for %d instead of %d gains %v, want %v", seed, o, i, held, got, want)
				}
			}
		}
	}
}

func TestWithLittleWorkTheBoundStillHolds(t *testing.T) {
	gap := 0.0
	for seed := *firstOne; seed < *firstOne+uint64(*problems)/4; seed++ {
		src := rand.New(rand.NewPCG(seed, 2))
		p := made(src, 5, 12)
		p.Aim = Aim{}
		sol := Solve(p, 10)
		value, _ := enumerate(p)
		if sol.Bound < value-1e-6 || sol.Value > value+1e-6 {
			t.Errorf("seed %d: %v to %v, the best is %v", seed, sol.Value, sol.Bound, value)
		}
		var uses [2]float64
		for i, o := range sol.Chosen {
			for k, use := range p.Things[i][o].Uses {
				uses[k] += use
			}
		}
		if !p.fits(uses) {
			t.Errorf("seed %d: %v is used of %v", seed, uses, p.Limits)
		}
		gap += (sol.Bound - sol.Value) / math.Abs(value)
	}
	t.Logf("the bound is %.4f above the choice in the mean", gap/float64(*problems/4))
}

// sold tries every whole number of stems for every taker, of supplies that are whole.
func sold(w *Week, t int, left Qualities) float64 {
	if t == len(w.Takers) {
		return 0
	}
	taker, best := &w.Takers[t], 0.0
	for n := 0.0; n <= taker.Most; n++ {
		given := left
		if given.give(&Taker{Least: taker.Least, Most: n}) < n {
			break
		}
		best = max(best, n*taker.Price+sold(w, t+1, given))
	}
	return best
}

func TestAMarketBringsTheMostThatItCan(t *testing.T) {
	for seed := *firstOne; seed < *firstOne+uint64(*problems); seed++ {
		src := rand.New(rand.NewPCG(seed, 3))
		m := madeMarket(src)
		m.Weeks = m.Weeks[:1]
		m.Weeks[0].Share = 1
		for i := range m.Weeks[0].Takers {
			m.Weeks[0].Takers[i].Most = float64(src.IntN(5))
		}
		var s Qualities
		for q := range s {
			s[q] = float64(src.IntN(4))
		}
		want := sold(&m.Weeks[0], 0, m.Weeks[0].atLeast(&s))
		if got := m.revenue(&s); math.Abs(got-want) > 1e-9 {
			t.Errorf("seed %d: %v, want %v of %v on %+v", seed, got, want, s, m)
		}
	}
}

func TestATangentTouchesItsSupplyAndLiesAboveAllOthers(t *testing.T) {
	for seed := *firstOne; seed < *firstOne+uint64(*problems); seed++ {
		src := rand.New(rand.NewPCG(seed, 4))
		m := madeMarket(src)
		supply := func() (s Qualities) {
			for q := range s {
				s[q] = float64(src.IntN(40)) * float64(src.IntN(2))
			}
			return s
		}
		var prices Qualities
		here := supply()
		constant := m.worth(&here, &prices)
		at := func(s Qualities) float64 {
			sum := constant
			for q, n := range s {
				sum += n * prices[q]
			}
			return sum
		}
		if got, want := at(here), m.revenue(&here); math.Abs(got-want) > 1e-6 {
			t.Errorf("seed %d: the tangent is %v where revenue is %v", seed, got, want)
		}
		for range 20 {
			if there := supply(); at(there) < m.revenue(&there)-1e-6 {
				t.Errorf("seed %d: the tangent is %v below revenue %v", seed, at(there), m.revenue(&there))
			}
		}
	}
}
