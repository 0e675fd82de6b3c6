package division

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"corymb/internal/crop"
)

var (
	divisionFarms = flag.Int("division.farms", 24, "how many made-up farms are planned; 2000 is the long proof")
	divisionFirst = flag.Uint64("division.first", 1, "the first made-up farm's seed")
)

// comes draws what a plan's plants give so many seasons ahead, by the truth.
func (t *truth) comes(farm crop.Farm, plan Plan, ahead int) (stems int) {
	for _, a := range plan.Actions {
		p := farm.Plants[a.Plant]
		planting := farm.Plantings[p.Planting]
		switch a.Do {
		case Keep:
			if t.stands(string(planting.ID), planting.AgeIn(plan.Season), plan.Season, ahead) {
				age := planting.AgeIn(plan.Season) + ahead
				stems += t.count(t.mean(p, planting.ID, age, plan.Season+crop.Season(ahead)), t.sizes[age-1])
			}
		case Divide:
			for range a.Into {
				if t.src.Float64() < divisionTakes && t.stands("divided", 2, plan.Season+1, ahead-1) {
					stems += t.divided(p, plan.Season, ahead)
				}
			}
		case Replace:
			// Each plug makes a planting, as the model has it.
			id := crop.PlantingID("plug for " + p.ID)
			if t.src.Float64() < plugTakes && t.stands("plugs of "+string(planting.ID), 1, plan.Season+1, ahead-1) {
				plug := crop.Plant{ID: "plug for " + p.ID}
				stems += t.count(t.mean(plug, id, ahead, plan.Season+crop.Season(ahead)), t.sizes[ahead-1])
			}
		}
	}
	return stems
}

// divided draws one division's stems: a clump in its second season, but for its first.
func (t *truth) divided(p crop.Plant, season crop.Season, ahead int) int {
	age := max(2, ahead)
	log := t.mean(p, "divided", age, season+crop.Season(ahead))
	if ahead == 1 {
		log += t.child
	}
	return t.count(log, t.sizes[age-1])
}

// stands draws whether a plant of a group that stands in a season, of an age, stands so many seasons later.
func (t *truth) stands(group string, age int, season crop.Season, later int) bool {
	for n := range later {
		if !t.lastsThrough(group, age+n, season+crop.Season(n)) {
			return false
		}
	}
	return true
}

func TestTheStatedChanceIsWhatHappens(t *testing.T) {
	var stated, happened, n [5]float64
	inside, all := 0, 0.0
	for seed := *divisionFirst; seed < *divisionFirst+uint64(*divisionFarms); seed++ {
		src := rand.New(rand.NewPCG(seed, 20))
		truth := newTruth(src)
		farm := madeFarm(truth, 6+src.IntN(15), 1+src.IntN(4), 1+src.IntN(3))
		q := Question{
			Places: src.IntN(20), Hours: float64(src.IntN(8)), Goal: 0.6 + 1.6*src.Float64(), Seasons: 1 + src.IntN(3), Most: 4,
			Costs: crop.UsualDivisionCosts, Prices: madePrices(float64(5 + src.IntN(60))), AsOf: "2026-12-31",
		}
		if src.IntN(3) == 0 {
			q.Chance = 0.5 + 0.4*src.Float64()
		}
		plan, err := Of(farm, q)
		if err != nil {
			if len(farm.Plants) > 0 && anyStands(farm) {
				t.Errorf("seed %d: %v", seed, err)
			}
			continue
		}
		came := float64(truth.comes(farm, plan, q.Seasons))
		bin := min(4, int(5*plan.Goal.Chance))
		stated[bin] += plan.Goal.Chance
		n[bin]++
		all++
		if came >= plan.Goal.Wanted {
			happened[bin]++
		}
		if came >= plan.Goal.Stems.Lo && came <= plan.Goal.Stems.Hi {
			inside++
		}
	}
	t.Logf("sums by fifths of the stated chance: stated %v, happened %v, farms %v; inside %d", stated, happened, n, inside)
	sumStated, sumHappened := 0.0, 0.0
	for bin := range n {
		sumStated, sumHappened = sumStated+stated[bin], sumHappened+happened[bin]
		if n[bin] == 0 {
			continue
		}
		s, h := stated[bin]/n[bin], happened[bin]/n[bin]
		t.Logf("stated %.3f, happened %.3f, of %v farms", s, h, n[bin])
		if slack := 0.03 + 3*math.Sqrt(s*(1-s)/n[bin]); math.Abs(s-h) > slack {
			t.Errorf("of %v farms with a stated chance of %.3f the goal was reached by %.3f, want it within %.3f", n[bin], s, h, slack)
		}
	}
	s, h := sumStated/all, sumHappened/all
	t.Logf("farms from seed %d: %v planned; stated %.4f, happened %.4f; the 90 %% range held %.3f", *divisionFirst, all, s, h, float64(inside)/all)
	if slack := 0.03 + 3*math.Sqrt(s*(1-s)/all)*shortRun(); math.Abs(s-h) > slack {
		t.Errorf("stated %.4f, happened %.4f, want it within %.4f", s, h, slack)
	}
	if share := float64(inside) / all; math.Abs(share-0.9) > 0.02+3*math.Sqrt(0.09/all) {
		t.Errorf("the 90 %% range held %.3f", share)
	}
}

// shortRun lets short runs stray; the long proof is held to three points alone.
func shortRun() float64 {
	if *divisionFarms >= 2000 {
		return 0
	}
	return 1
}

func anyStands(farm crop.Farm) bool {
	for _, p := range farm.Plants {
		if p.Removed == "" {
			return true
		}
	}
	return false
}
