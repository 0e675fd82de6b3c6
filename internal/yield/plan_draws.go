package yield

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// PlanDraw is one way in which the season totals of an age's plants may be spread, as far as is known:
// negative binomial (NB2) with Mean and Size, times a lognormal effect of the plant with mean 1 and
// PlantSD on the log scale.
type PlanDraw struct {
	Mean, Size, PlantSD float64
}

// planDraws tell a chance of a half to 1.6 points and one of 4 in 5 to 1.3 (one standard error), of which a plan
// shows whole points. They stay in the shed: a phone is sent what they come to.
const planDraws = 1000

// PlanDraws are equally likely draws for an age in a season to come, and the age whose plants they rest on:
// the age itself where any of its plants was counted through a season, else the nearest that was; 0 where none
// was, or where the report has no fit by common practice to draw from (an empty Report, or one with a flat
// prior): then the draws are what practice says before anything is counted.
func PlanDraws(report Report, age int) (draws []PlanDraw, from int, err error) {
	model, from := report.stems, nearestSeen(report, age)
	if model == nil {
		from = 0
		model = newStemsModel(nil, nil, nil, nothing)
		if err := model.fit(); err != nil {
			return nil, 0, fmt.Errorf("drawing for a plan of age %d: %w", age, err)
		}
	}
	source := rand.New(rand.NewPCG(drawSeed, 6))
	for _, point := range model.draws.Thin(planDraws).Points {
		draws = append(draws, PlanDraw{
			Mean: math.Exp(model.unknown(point, age, source)), Size: model.sizeAt(point, age, source),
			PlantSD: model.effect.SD(point),
		})
	}
	return draws, from, nil
}

// nearestSeen is the age nearest to the one asked about of which a plant was counted through a season,
// the older of two as near; 0 where there is none.
func nearestSeen(report Report, age int) int {
	nearest := 0
	for _, a := range report.Ages {
		if a.PlantSeasons == 0 {
			continue
		}
		away, before := abs(a.Age-age), abs(nearest-age)
		if nearest == 0 || away < before || away == before && a.Age > nearest {
			nearest = a.Age
		}
	}
	return nearest
}

func abs(n int) int { return max(n, -n) }
