package division

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/division/choose"
)

var smallFarms = flag.Int("division.small", 20, "how many small farms' plans are held against all plans there are; hundreds are the long proof")

// everyPlan tries all plans of a problem, and returns the best that reaches the aim as often as asked, or comes nearest.
func everyPlan(p *choose.Problem) (value, share float64) {
	chosen := make([]int, len(p.Things))
	value, share = math.Inf(-1), -1
	for at := 0; at < len(chosen); {
		uses := [2]float64{}
		for i, o := range chosen {
			for k, use := range p.Things[i][o].Uses {
				uses[k] += use
			}
		}
		if uses[0] <= p.Limits[0]+1e-9 && uses[1] <= p.Limits[1]+1e-9 {
			v, s := p.Worth(chosen)
			s = min(s, p.Aim.Share)
			if s > share || s == share && v > value {
				value, share = v, s
			}
		}
		for at = 0; at < len(chosen); at++ {
			if chosen[at]++; chosen[at] < len(p.Things[at]) {
				break
			}
			chosen[at] = 0
		}
	}
	return value, share
}

func TestThePlanOfASmallFarmIsTheBestOfAll(t *testing.T) {
	for seed := uint64(1); seed <= uint64(*smallFarms); seed++ {
		src := rand.New(rand.NewPCG(seed, 30))
		farm := madeFarm(newTruth(src), 2+src.IntN(4), 1+src.IntN(2), 1+src.IntN(3))
		if !anyStands(farm) {
			continue
		}
		q := Question{
			Places: src.IntN(6), Hours: 1.5 * src.Float64(), Goal: 1 + src.Float64(), Seasons: 1 + src.IntN(2), Most: 3,
			Costs: crop.UsualDivisionCosts, Prices: madePrices(float64(3 + src.IntN(20))), AsOf: "2026-12-31",
		}
		if src.IntN(3) == 0 {
			q.Chance = 0.3 + 0.5*src.Float64()
		}
		s, err := standingOn(farm, q)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		p, err := newPlanner(s, q)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		p.posterior.draws = 90 // of which 30 choose: a plan is tried in no time
		problem := p.problem()
		sol := choose.Solve(problem, chooseWork*10)
		value, share := everyPlan(problem)
		if math.Abs(sol.Value-value) > 1e-4 || sol.Bound > sol.Value+1e-4 || min(sol.Share, q.Chance) != share {
			t.Errorf("seed %d: %v (bound %v) in %v of draws; the best of all plans is %v in %v", seed, sol.Value, sol.Bound, sol.Share, value, share)
		}
	}
}
