package httpapi

import (
	"maps"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/internal/drift"
)

// classesNow are of which colour class plants are by a season, where that is another than they were told to be of, or not
// sure, and which of them drift.
func classesNow(f crop.Farm, seen map[crop.PlantID]map[crop.Season]crop.ColourID, judged []SpeciesColour, season crop.Season) map[crop.PlantID]division.Class {
	measured, drifts := map[crop.PlantID]map[crop.Season]drift.PlantColour{}, driftersIn(judged, season)
	for _, species := range judged {
		for _, colour := range species.Report.Colours {
			if measured[colour.Plant] == nil {
				measured[colour.Plant] = map[crop.Season]drift.PlantColour{}
			}
			measured[colour.Plant][colour.Season] = colour
		}
	}
	classes := map[crop.PlantID]division.Class{}
	for id, plant := range f.Plants {
		class, told := drift.ClassIn(f.Colours, drift.Told{Colour: plant.Colour, Seen: seen[id], Measured: measured[id]}, season)
		now := division.Class{Drifts: drifts[id]}
		if told {
			now.Likely = likelyOf(class, plant.Colour, now.Drifts)
		}
		as := len(now.Likely) == 1 && now.Likely[0].Colour == plant.Colour
		if now.Drifts || told && !as {
			classes[id] = now
		}
	}
	return classes
}

// likelyOf are the colour classes that a plant may be of, one where it is sure. What lies in none, and does not drift, goes on
// being sold as what people told it to be: it was cut as that all along.
func likelyOf(class drift.Class, name crop.ColourID, drifts bool) []division.Likely {
	shares := map[crop.ColourID]float64{}
	for _, likely := range class.Likely {
		if likely.Colour == "" && !drifts {
			likely.Colour = name
		}
		shares[likely.Colour] += likely.Share
	}
	var list []division.Likely
	for _, colour := range slices.Sorted(maps.Keys(shares)) {
		if shares[colour] >= drift.SureShare {
			return []division.Likely{{Colour: colour, Share: 1}}
		}
		list = append(list, division.Likely{Colour: colour, Share: shares[colour]})
	}
	return list
}

// driftersIn are the plants of which the last season that was judged, up to one, shows a drift.
func driftersIn(judged []SpeciesColour, season crop.Season) map[crop.PlantID]bool {
	last, drifts := map[crop.PlantID]crop.Season{}, map[crop.PlantID]bool{}
	for _, species := range judged {
		for _, one := range species.Report.PlantSeasons {
			if one.Season <= season && one.Shift != nil && one.Season >= last[one.Plant] {
				last[one.Plant], drifts[one.Plant] = one.Season, one.State == drift.StateDrift
			}
		}
	}
	return drifts
}
