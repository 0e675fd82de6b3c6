package division

import (
	"maps"
	"slices"

	"corymb/internal/crop"
)

// layColours lists the colour classes that plants are of or prices name, and says what part of each stock is of which.
func (s *stand) layColours(prices []Price) {
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
	for _, p := range prices {
		if p.Colour != "" {
			named[p.Colour] = true
		}
	}
	s.colours = slices.Sorted(maps.Keys(named))
	if len(all) == 0 { // nobody saw any plant in bloom
		s.colours = append([]crop.ColourID{""}, s.colours...)
		all[""] = 1
	}
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

func (s *stand) colourOf(p crop.Plant) int {
	if p.Colour == "" {
		return -1
	}
	return slices.Index(s.colours, p.Colour)
}
