package yield

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
)

// records is a farm laid out for reading, in an order that does not depend on its maps.
type records struct {
	farm    crop.Farm
	options Options
	plants  []crop.PlantID
	visits  []crop.Visit // those that took stems, by date and then id
	// firstCut is the day on which a season's cutting began, anywhere on the farm.
	firstCut map[crop.Season]crop.Date
	// cutting is the span of days in which a bed was cut in a season.
	cutting map[bedSeason]crop.Window
	cutsOf  map[crop.PlantID][]crop.Visit
	// plantingsIn lists a bed's plantings in order of their ids.
	plantingsIn map[crop.BedID][]crop.Planting
	plantsOf    map[crop.PlantingID][]crop.Plant

	unplaced unusable // cuts of plants that are not known or not yet in their first season
	ageless  unusable // bed cuts and bench totals whose age nobody can tell
}

type bedSeason struct {
	bed    crop.BedID
	season crop.Season
}

// unusable counts what could not be put to use, for the notes.
type unusable struct {
	visits, stems int
}

func (u *unusable) add(v *crop.Visit) {
	u.visits++
	u.stems += v.Stems()
}

// read sorts the farm once; everything after walks slices, so that no map order shows in a report.
func read(farm crop.Farm, options Options) *records {
	r := &records{
		farm: farm, options: options,
		plants:      slices.Sorted(maps.Keys(farm.Plants)),
		firstCut:    map[crop.Season]crop.Date{},
		cutting:     map[bedSeason]crop.Window{},
		cutsOf:      map[crop.PlantID][]crop.Visit{},
		plantingsIn: map[crop.BedID][]crop.Planting{},
		plantsOf:    map[crop.PlantingID][]crop.Plant{},
	}
	for _, id := range slices.Sorted(maps.Keys(farm.Plantings)) {
		p := farm.Plantings[id]
		r.plantingsIn[p.Bed] = append(r.plantingsIn[p.Bed], p)
	}
	for _, id := range r.plants {
		p := farm.Plants[id]
		r.plantsOf[p.Planting] = append(r.plantsOf[p.Planting], p)
	}
	r.readVisits()
	return r
}

// readVisits keeps the visits that took stems. A standing count is a snapshot and "nothing here" a
// zero: neither adds a stem.
func (r *records) readVisits() {
	for _, v := range r.farm.Visits {
		if v.Purpose == crop.PurposeCut || v.Purpose == crop.PurposeBedCut || v.Purpose == crop.PurposeBench {
			r.visits = append(r.visits, v)
		}
	}
	slices.SortFunc(r.visits, func(a, b crop.Visit) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.ID, b.ID))
	})
	for _, v := range r.visits {
		s := r.farm.Calendar.SeasonOf(v.Date)
		if _, begun := r.firstCut[s]; !begun {
			r.firstCut[s] = v.Date
		}
		r.noteCutting(v, s)
		if v.Purpose == crop.PurposeCut {
			r.cutsOf[v.Plant] = append(r.cutsOf[v.Plant], v)
		}
	}
}

// noteCutting widens the days of a bed's cutting; visits come by date.
func (r *records) noteCutting(v crop.Visit, s crop.Season) {
	key := bedSeason{v.Bed, s}
	if v.Plant != "" {
		key.bed = r.farm.Plantings[r.farm.Plants[v.Plant].Planting].Bed
	}
	span, begun := r.cutting[key]
	if !begun {
		span.From = v.Date
	}
	span.To = v.Date
	r.cutting[key] = span
}

// wanted tells whether the planting is of the species asked about.
func (r *records) wanted(p crop.Planting) bool {
	return r.options.Species == "" || r.farm.Stocks[p.Stock].Species == r.options.Species
}

// plantSeasons lists the exposed plant-seasons: those of counted plants that were in the ground and
// alive when the season's cutting began. A plant that nobody counted never enters, not even as zero.
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

// exposed tells whether a plant could have given stems in a season and was watched. A season in
// which nothing was cut on the whole farm has not begun; a window that misses its season watches
// nothing.
func (r *records) exposed(plant crop.Plant, planting crop.Planting, season crop.Season) bool {
	first, begun := r.firstCut[season]
	standing := plant.Removed == "" || plant.Removed >= first
	counted := plant.Counted[season].Overlaps(r.farm.Calendar.Span(season))
	return begun && standing && counted && planting.AgeIn(season) >= 1
}

// plantSeason sums the cuts that lie in both the window and the season.
func (r *records) plantSeason(plant crop.Plant, planting crop.Planting, season crop.Season) PlantSeason {
	window := plant.Counted[season]
	s := PlantSeason{Plant: plant.ID, Code: plant.Code, Season: season, age: planting.AgeIn(season)}
	for _, v := range r.cutsOf[plant.ID] {
		if window.Holds(v.Date) && r.farm.Calendar.SeasonOf(v.Date) == season {
			s.Stems += v.Stems()
			s.toOrder = s.toOrder || v.ToOrder
		}
	}
	// A window may span several seasons; within this one it ends with the season.
	end := min(window.To, r.farm.Calendar.Span(season).To)
	s.Open = r.options.AsOf != "" && end >= r.options.AsOf
	cutting := r.cutting[bedSeason{planting.Bed, season}]
	s.partSeen = cutting.From != "" && (window.From > cutting.From || end < cutting.To)
	return s
}
