package yield

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
)

// plantSeasons lists the exposed plant-seasons: those of counted plants that were in the ground,
// alive and watched while the season's cutting went on. A plant that nobody counted never enters, not
// even as zero.
func (r *records) plantSeasons() []PlantSeason {
	var exposed []PlantSeason
	for _, id := range r.plants {
		plant := r.farm.Plants[id]
		planting, known := r.farm.Plantings[plant.Planting]
		if !known || !r.wanted(planting) {
			continue
		}
		for _, season := range slices.Sorted(maps.Keys(plant.Counted)) {
			if r.exposed(plant, planting, season) {
				exposed = append(exposed, r.plantSeason(plant, planting, season))
			}
		}
	}
	slices.SortStableFunc(exposed, func(a, b PlantSeason) int {
		return cmp.Or(cmp.Compare(a.Season, b.Season), cmp.Compare(a.Code, b.Code))
	})
	return exposed
}

// exposed tells whether a plant could have given stems in a season and was watched while its bed was
// cut. A window that holds no day of the cutting saw nothing, and silence in it is no zero; such
// plant-seasons are counted for the notes, unless their window still runs.
func (r *records) exposed(plant crop.Plant, planting crop.Planting, season crop.Season) bool {
	cutting, begun := r.cuttingAround(planting.Bed, season)
	gone := plant.Removed != "" && plant.Removed < cutting.From
	if !begun || gone || planting.AgeIn(season) < 1 {
		return false
	}
	watched := r.watched(plant, season)
	running := r.running(watched)
	if plant.Removed != "" {
		watched.To = min(watched.To, plant.Removed)
	}
	if watched.From <= watched.To && watched.Overlaps(cutting) {
		return true
	}
	if !running {
		r.missed++
	}
	return false
}

// cuttingAround is the span in which the plant's bed was cut that season. A bed that was not cut at
// all while others were gave nothing in all that time, so there the farm's span stands in; without
// one the season has not begun.
func (r *records) cuttingAround(bed crop.BedID, season crop.Season) (span crop.Window, begun bool) {
	if span, begun = r.cutting[bedSeason{bed, season}]; begun {
		return span, true
	}
	span, begun = r.cutting[bedSeason{"", season}]
	return span, begun
}

// watched is the part of the plant's window that lies in the season: a window may span several.
// From is after To where there is none.
func (r *records) watched(plant crop.Plant, season crop.Season) crop.Window {
	window, span := plant.Counted[season], r.farm.Calendar.Span(season)
	if r.lifted[plant.ID] { // of where it stands now nothing counts
		window.To = min(window.To, plant.Removed)
	}
	return crop.Window{From: max(window.From, span.From), To: min(window.To, span.To)}
}

// running tells whether a window is still open on the day of the question.
func (r *records) running(w crop.Window) bool {
	return r.options.AsOf != "" && w.To >= r.options.AsOf
}

// plantSeason sums the cuts that lie in both the window and the season.
func (r *records) plantSeason(plant crop.Plant, planting crop.Planting, season crop.Season) PlantSeason {
	watched := r.watched(plant, season)
	s := PlantSeason{Plant: plant.ID, Code: plant.Code, Season: season, age: planting.AgeIn(season)}
	for _, v := range r.cutsOf[plant.ID] {
		if watched.Holds(v.Date) {
			s.Stems += v.Stems()
			s.toOrder = s.toOrder || v.ToOrder
		}
	}
	s.Open = r.running(watched)
	cutting, cut := r.cutting[bedSeason{planting.Bed, season}]
	s.partSeen = cut && (watched.From > cutting.From || watched.To < cutting.To)
	return s
}
