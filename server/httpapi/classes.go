package httpapi

import (
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
		if !told && !drifts[id] || class.Sure && class.Colour == plant.Colour && !drifts[id] {
			continue
		}
		now := division.Class{Drifts: drifts[id]}
		switch {
		case told && class.Sure:
			now.Likely = []division.Likely{{Colour: class.Colour, Share: 1}}
		case told:
			for _, likely := range class.Likely {
				now.Likely = append(now.Likely, division.Likely(likely))
			}
		}
		classes[id] = now
	}
	return classes
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
