package tags

import "corymb/internal/crop"

// Of is the tags of some plants of a farm, in their order, and those plants that it does not know.
func Of(f crop.Farm, plants []crop.PlantID) (known []Tag, unknown []crop.PlantID) {
	for _, id := range plants {
		plant, ok := f.Plants[id]
		if !ok {
			unknown = append(unknown, id)
			continue
		}
		planting := f.Plantings[plant.Planting]
		known = append(known, Tag{
			Code: plant.Code, Stock: f.Stocks[planting.Stock].Name, Bed: f.Beds[f.BedOf(plant)].Name,
			Line: plant.Line, Number: plant.Number,
		})
	}
	return known, unknown
}
