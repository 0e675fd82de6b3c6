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
	seasons map[crop.Date]crop.Season
	// cutting is the span of days in which stems of the species asked about were cut, by season: in
	// one bed, and under the empty bed anywhere on the farm.
	cutting map[bedSeason]crop.Window
	cutsOf  map[crop.PlantID][]*crop.Visit
	// plantingsIn lists a bed's plantings in order of their ids.
	plantingsIn map[crop.BedID][]crop.Planting
	// lastDay is the last day on which a plant of the planting stood, of those whose plants are listed.
	lastDay map[crop.PlantingID]crop.Date
	// plantsOf lists a planting's plants in order of their ids.
	plantsOf map[crop.PlantingID][]crop.Plant

	// toldAlone is how many plants have stems of their own whose grade or length was told.
	toldAlone map[plantingSeason]int

	unplaced unusable // cuts of plants that are not known or not yet in their first season
	ageless  unusable // bed cuts and bench totals whose age nobody can tell
	// overdrawn are totals of a day from which more was told of single plants than they hold, and several of
	// which any may hold those.
	overdrawn unusable
	bare      unusable              // bed cuts and bench totals that no plant standing in the bed can have given
	missed    int                   // counted plant-seasons whose window saw none of the cutting
	unsummed  int                   // totals of a bed and season that say nothing of its uncounted plants
	lifted    map[crop.PlantID]bool // plants that were moved
	moved     unusable              // visits to them since
	// surplus is the totals of a bed and season that hold more than its plants gave, all of them counted.
	surplus struct{ totals, stems int }
}

// stillStanding is the last day of what was not removed.
const stillStanding crop.Date = "9999-12-31"

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
		seasons:     map[crop.Date]crop.Season{},
		cutting:     map[bedSeason]crop.Window{},
		cutsOf:      map[crop.PlantID][]*crop.Visit{},
		plantingsIn: map[crop.BedID][]crop.Planting{},
		lastDay:     map[crop.PlantingID]crop.Date{},
		plantsOf:    map[crop.PlantingID][]crop.Plant{},
	}
	r.lift()
	for _, id := range slices.Sorted(maps.Keys(farm.Plantings)) {
		p := farm.Plantings[id]
		r.plantingsIn[p.Bed] = append(r.plantingsIn[p.Bed], p)
	}
	for _, id := range r.plants {
		p := farm.Plants[id]
		last := p.Removed
		if last == "" {
			last = stillStanding
		}
		r.lastDay[p.Planting] = max(r.lastDay[p.Planting], last)
		r.plantsOf[p.Planting] = append(r.plantsOf[p.Planting], p)
	}
	r.readVisits()
	return r
}

// readVisits keeps the visits that took stems. A standing count is a snapshot and "nothing here" a
// zero: neither adds a stem.
func (r *records) readVisits() {
	r.visits = make([]crop.Visit, 0, len(r.farm.Visits))
	for _, v := range r.farm.Visits {
		if r.cutSinceLifted(v) {
			r.moved.add(&v)
			continue
		}
		if v.Purpose == crop.PurposeCut || v.Purpose == crop.PurposeBedCut || v.Purpose == crop.PurposeBench {
			r.visits = append(r.visits, v)
		}
	}
	slices.SortFunc(r.visits, func(a, b crop.Visit) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.ID, b.ID))
	})
	for i := range r.visits {
		v := &r.visits[i]
		r.noteCutting(v)
		if v.Purpose == crop.PurposeCut {
			r.cutsOf[v.Plant] = append(r.cutsOf[v.Plant], v)
		}
	}
}

// noteCutting widens the days of cutting of the bed and of the farm; visits come by date. A row of no
// stems opens no season, nor does another species.
func (r *records) noteCutting(v *crop.Visit) {
	season := r.seasonOf(v.Date)
	if v.Stems() == 0 || !r.ours(v, season) {
		return
	}
	bed := v.Bed
	if v.Plant != "" {
		bed = r.farm.Plantings[r.farm.Plants[v.Plant].Planting].Bed
	}
	for _, key := range []bedSeason{{bed, season}, {"", season}} {
		span, begun := r.cutting[key]
		if !begun {
			span.From = v.Date
		}
		span.To = v.Date
		r.cutting[key] = span
	}
}

// ours tells whether a visit's stems are surely of the species asked about.
func (r *records) ours(v *crop.Visit, season crop.Season) bool {
	if r.options.Species == "" {
		return true
	}
	if v.Plant != "" {
		return r.wanted(r.farm.Plantings[r.farm.Plants[v.Plant].Planting])
	}
	ours, mixed := r.oneSpecies(r.candidates(v, season))
	return ours && !mixed
}

// seasonOf asks the calendar once for each day: a large farm has many visits on few days.
func (r *records) seasonOf(day crop.Date) crop.Season {
	season, known := r.seasons[day]
	if !known {
		season = r.farm.Calendar.SeasonOf(day)
		r.seasons[day] = season
	}
	return season
}

// wanted tells whether the planting is of the species asked about.
func (r *records) wanted(p crop.Planting) bool {
	return r.options.Species == "" || r.farm.Stocks[p.Stock].Species == r.options.Species
}
