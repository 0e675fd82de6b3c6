package division

import (
	"math/rand/v2"
	"testing"
)

func TestTheBestOfFiftyPlansIsOverstatedByItsOwnDrawsAndNotByFreshOnes(t *testing.T) {
	const farms, plans = 3, 50
	own, fresh := 0.0, 0.0
	for seed := uint64(1); seed <= farms; seed++ {
		src := rand.New(rand.NewPCG(seed, 40))
		farm := madeFarm(newTruth(src), 12, 2, 2)
		if !anyStands(farm) {
			continue
		}
		q := usual()
		q.Prices, q.AsOf, q.Goal = madePrices(30), "2026-12-31", 1.2
		s, err := standingOn(farm, q)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		p, err := newPlanner(s, q)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		chance := func(chosen []int, seeds uint64) float64 { // of 200 draws that no other plan sees
			return chanceOf(p.play(chosen, seeds, p.telling()).goal[:200], q.Goal*p.now)
		}
		best, most := []int(nil), -1.0
		for n := range uint64(plans) {
			// Plans that are alike in the truth: each plant is divided in two or three, so that luck alone tells them apart.
			chosen := make([]int, len(p.plants))
			for i, options := range p.options {
				if len(options) > 3 {
					chosen[i] = 1 + src.IntN(2)
				}
			}
			if share := chance(chosen, 1_000_000*(n+10)); share > most {
				best, most = chosen, share
			}
		}
		told, after := 0.0, 0.0
		for n := range uint64(4) { // streams of each farm's own, or all farms would stray alike
			told += chanceOf(p.play(best, seed<<32+tellingSeeds+100_000*n, p.telling()).goal, q.Goal*p.now) / 4
			after += chanceOf(p.play(best, seed<<32+5_000_000+100_000*n, p.telling()).goal, q.Goal*p.now) / 4
		}
		own += (most - after) / farms
		fresh += (told - after) / farms
	}
	t.Logf("by its own draws the best of %d plans is overstated by %.3f, by fresh ones by %.3f", plans, own, fresh)
	if own < 0.02 {
		t.Errorf("the best of %d plans is overstated by %.3f on the draws on which it was chosen: this test would not see what it is for", plans, own)
	}
	if fresh > 0.015 || fresh < -0.015 {
		t.Errorf("fresh draws overstate by %.3f, want nothing but chance", fresh)
	}
}
