package division

import (
	"math"
	"math/rand/v2"

	"corymb/internal/crop"
)

// withoutFirstOfDivisions is a farm in which nobody counted divisions in their first season: they are no plugs in theirs.
func withoutFirstOfDivisions(farm crop.Farm) crop.Farm {
	plants := farm.Plants
	farm.Plants = make(map[crop.PlantID]crop.Plant, len(plants))
	for id, p := range plants {
		first := farm.Plantings[p.Planting].FirstSeason
		if _, counted := p.Counted[first]; counted && len(p.Parents) > 0 {
			left := map[crop.Season]crop.Window{}
			for season, window := range p.Counted {
				if season != first {
					left[season] = window
				}
			}
			p.Counted = left
		}
		farm.Plants[id] = p
	}
	return farm
}

// learnChild draws what divisions give in their first season, as the farm's own did: their sum against what as many clumps
// in their second season would have given, both on the logarithm. That is near to normal about the truth, with the variance
// of plants, of their single counts, and of the places they were set in.
func (p *posterior) learnChild(s *stand) {
	firsts := s.firstOfDivisions()
	p.own = len(firsts)
	src := rand.New(rand.NewPCG(seed, 1))
	places := map[crop.PlantingID]float64{}
	for _, f := range firsts {
		places[f.planting.ID]++
	}
	alike := 0.0 // the sum of squares of the plantings' parts
	for _, n := range places {
		alike += (n / float64(len(firsts))) * (n / float64(len(firsts)))
	}
	for k := range p.draws {
		mean, precision := childPrior.Mean, 1/(childPrior.SD*childPrior.SD)
		if len(firsts) > 0 {
			came, expected, variance := p.seenOfChildren(k, firsts)
			draw := &p.species[firsts[0].species].Draws[k]
			variance += alike * (draw.PlantingSD*draw.PlantingSD + draw.BedSD*draw.BedSD)
			mean = (mean*precision + math.Log((came+0.5)/expected)/variance) / (precision + 1/variance)
			precision += 1 / variance
		}
		p.child = append(p.child, mean+src.NormFloat64()/math.Sqrt(precision))
	}
}

// first is a division that was counted in its first season.
type first struct {
	planting crop.Planting
	species  string
	parent   crop.PlantID
	stems    int
}

func (s *stand) firstOfDivisions() []first {
	var list []first
	stems := map[crop.PlantID]int{}
	for _, v := range s.farm.Visits {
		if p, known := s.farm.Plants[v.Plant]; known && v.Purpose == crop.PurposeCut && len(p.Parents) > 0 {
			if s.farm.Calendar.SeasonOf(v.Date) == s.farm.Plantings[p.Planting].FirstSeason {
				stems[v.Plant] += v.Stems()
			}
		}
	}
	for _, id := range sortedPlants(s.farm) {
		p := s.farm.Plants[id]
		planting := s.farm.Plantings[p.Planting]
		_, counted := p.Counted[planting.FirstSeason]
		over := planting.FirstSeason < s.season || planting.FirstSeason == s.season && s.over
		if counted && over && len(p.Parents) > 0 {
			list = append(list, first{planting, s.farm.Stocks[planting.Stock].Species, p.Parents[0], stems[id]})
		}
	}
	return list
}

// seenOfChildren is what divisions gave, what clumps in their second season would have given in their stead, and the
// variance of the logarithm of the ratio by plants and chance.
func (p *posterior) seenOfChildren(k int, firsts []first) (came, expected, variance float64) {
	apart := 0.0
	for _, f := range firsts {
		draws := p.species[f.species]
		if draws == nil {
			continue
		}
		draw := &draws.Draws[k]
		log := draw.Ages[1]
		if effect, known := draws.Season(k, f.planting.FirstSeason); known {
			log += effect
		} else {
			log += draw.SeasonSD * draw.SeasonSD / 2
		}
		own := draw.PlantSD * draw.PlantSD
		if effect, counted := draws.Plant(k, f.parent); counted {
			log, own = log+effect, 0
		}
		mean := math.Exp(log + own/2)
		came, expected = came+float64(f.stems), expected+mean
		apart += mean * mean * (1/draw.Sizes[0] + math.Expm1(own))
	}
	return came, expected, apart/(expected*expected) + 1/(came+0.5)
}
