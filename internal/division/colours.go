package division

import (
	"maps"
	"slices"

	"corymb/internal/crop"
)

// layColours lists the colour classes that plants are of or prices name, and says what part of each stock is of which.
func (s *stand) layColours(q Question) {
	seen := map[crop.StockID]map[crop.ColourID]float64{}
	all := map[crop.ColourID]float64{}
	for _, p := range s.farm.Plants {
		colour := p.Colour
		if colour == "" {
			continue
		}
		stock := s.farm.Plantings[p.Planting].Stock
		if seen[stock] == nil {
			seen[stock] = map[crop.ColourID]float64{}
		}
		seen[stock][colour]++
		all[colour]++
	}
	named := map[crop.ColourID]bool{}
	for colour := range all {
		named[colour] = true
	}
	for _, p := range q.Prices {
		if p.Colour != "" {
			named[p.Colour] = true
		}
	}
	for _, class := range q.Classes {
		for _, likely := range class.Likely {
			named[likely.Colour] = true
		}
	}
	if len(all) == 0 { // nobody saw any plant in bloom
		named[""], all[""] = true, 1
	}
	s.colours = slices.Sorted(maps.Keys(named))
	for _, planting := range s.farm.Plantings { // whose stock may have been told to another device, and not have come yet
		of := seen[planting.Stock]
		if len(of) == 0 {
			of = all
		}
		s.mixes[planting.Stock] = s.parts(of)
	}
}

// parts are what part of a whole each colour class is.
func (s *stand) parts(of map[crop.ColourID]float64) []float64 {
	parts, sum := make([]float64, len(s.colours)), 0.0
	for i, colour := range s.colours {
		parts[i] = of[colour]
		sum += of[colour]
	}
	for i := range parts {
		parts[i] /= sum
	}
	return parts
}

// colourOf says of which colour class a plant is: by now, or as whoever saw it in bloom told.
func (s *stand) colourOf(one *plant, now map[crop.PlantID]Class) {
	one.colour = -1
	if one.Colour != "" {
		one.colour = slices.Index(s.colours, one.Colour)
	}
	class, told := now[one.ID]
	one.drifts = class.Drifts
	switch {
	case !told || len(class.Likely) == 0:
	case len(class.Likely) == 1:
		one.colour = slices.Index(s.colours, class.Likely[0].Colour)
		one.left = one.Colour != "" && class.Likely[0].Colour != one.Colour
	default:
		shares := map[crop.ColourID]float64{}
		for _, likely := range class.Likely {
			shares[likely.Colour] += likely.Share
		}
		one.colour, one.mix = -1, s.parts(shares)
		one.mayBe = someOf(one.mix)
	}
}

// mixOf is of which colour classes a plant may be that is not told to be of one: what its readings leave open, or else
// those of its stock.
func (s *stand) mixOf(one *plant) []float64 {
	if one.mix != nil {
		return one.mix
	}
	return s.mixes[one.planting.Stock]
}

// someOf are the places of the parts that are not nothing.
func someOf(mix []float64) (some []int) {
	for colour, part := range mix {
		if part > 0 {
			some = append(some, colour)
		}
	}
	return some
}
