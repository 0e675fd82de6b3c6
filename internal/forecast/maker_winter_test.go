package forecast

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
	"corymb/internal/stats"
	"corymb/internal/yield"
)

// lives draws how plants last on a farm.
func (m *maker) lives() yield.SurvivalDraw {
	prior := yield.Lives()
	of := yield.SurvivalDraw{Alike: m.normal(prior.Alike.Mean, prior.Alike.SD)}
	of.Lasts = []float64{m.normal(prior.First.Mean, prior.First.SD)}
	for len(of.Lasts) < madeSeasons {
		of.Lasts = append(of.Lasts, m.normal(prior.Later.Mean, prior.Later.SD))
	}
	return of
}

// winter lets plants die before a season; what befalls one of a planting befalls its neighbours. It gives those that did.
func (m *maker) winter(made *madeUp, season crop.Season) (died []crop.PlantID) {
	for b := range made.beds {
		bed := &made.beds[b]
		age := bed.planting.AgeIn(season)
		if age < 2 {
			continue
		}
		mean, alike := stats.Logistic(m.lasts.Lasts[age-2]), stats.Logistic(m.lasts.Alike)
		chance := distuv.Beta{Alpha: mean * (1/alike - 1), Beta: (1 - mean) * (1/alike - 1), Src: m.src}.Rand()
		for k, plant := range bed.plants {
			if !bed.dead[k] && m.src.Float64() >= chance {
				bed.dead[k], died = true, append(died, plant.ID)
			}
		}
	}
	return died
}

// blooms is the day on which the first stock's spring flush has begun.
func (s *madeSeason) blooms() int {
	day := madeDays
	for _, curve := range s.curves[0] {
		day = min(day, int(math.Ceil(s.clock.day(curve.begins()))))
	}
	return day
}

// tellDead tells of plants that died. Of the last winter's, nobody does before those that stand bloom.
func (made *madeUp) tellDead(died []crop.PlantID, day crop.Date) {
	for _, id := range died {
		plant := made.farm.Plants[id]
		plant.Removed = day
		made.farm.Plants[id] = plant
	}
}
