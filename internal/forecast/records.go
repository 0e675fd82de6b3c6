package forecast

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
)

// records is a farm as it was known on the evening of a day, laid out by cohort.
type records struct {
	farm   crop.Farm
	asOf   crop.Date
	season crop.Season // of asOf

	cohorts []cohort
	// cutDays are the days on which a bed was cut, by bed and season; under the empty bed those of the whole farm.
	cutDays map[bedSeason][]int
	// told are the stems told of single plants, by plant and day.
	told map[plantDay]*onePlant
	// totals are those of whole beds, by bed and day.
	totals   map[bedDay][]*total
	fallFrom map[crop.Season]int // the first day of the fall flush; none where nobody told of one
	silence  int                 // so many days without a cut tell that one was gone for in vain
	between  int                 // days that usually lie between a cut and the next
	classes  *classes
	timing   timing
}

type bedSeason struct {
	bed    crop.BedID
	season crop.Season
}

type plantDay struct {
	plant crop.PlantID
	day   crop.Date
}

type bedDay struct {
	bed crop.BedID
	day crop.Date
}

// onePlant is what was cut of one plant on one day.
type onePlant struct {
	stems   int
	fall    bool
	toOrder bool
}

// total is what was cut of a bed on one day, as far as a bench total or a bed cut tells.
type total struct {
	planting crop.PlantingID // empty for all
	age      int             // 0 for all
	bench    bool
	stems    int
	colours  map[crop.ColourID]int // of the stems whose class was told
	fall     bool
}

// A farm that cuts every third day and told of nothing for a week found nothing to cut: after so many days of silence as
// nine in ten of its cuts come within, but at least and at most these, somebody went and found nothing. Before a cut that
// was as long ago as usual: were it taken to be all of the silence, flushes would seem to begin days before they do.
const leastSilence, mostSilence = 3, 7

// read lays a farm out. Nothing that happened after the day is looked at.
func read(farm crop.Farm, asOf crop.Date) *records {
	farm = known(farm, asOf)
	r := &records{
		farm: farm, asOf: asOf, season: farm.Calendar.SeasonOf(asOf),
		cutDays: map[bedSeason][]int{}, told: map[plantDay]*onePlant{}, totals: map[bedDay][]*total{},
		fallFrom: map[crop.Season]int{},
	}
	r.readVisits()
	r.between, r.silence = r.usualGaps()
	r.readTiming()
	r.layCohorts()
	return r
}

// usualGaps are within how many days of one cut of a bed half of the next come, and nine in ten.
func (r *records) usualGaps() (half, most int) {
	var gaps []int
	for key, days := range r.cutDays {
		for i := 1; i < len(days) && key.bed != ""; i++ {
			if gap := days[i] - days[i-1]; gap <= 2*mostSilence { // a longer one lies between two flushes
				gaps = append(gaps, gap)
			}
		}
	}
	if len(gaps) == 0 {
		return leastSilence, mostSilence
	}
	slices.Sort(gaps)
	most = min(max(gaps[len(gaps)*9/10], leastSilence), mostSilence)
	return min(gaps[len(gaps)/2], most), most
}

// known is a farm as it was known on the evening of a day.
func known(farm crop.Farm, asOf crop.Date) crop.Farm {
	visits, plants := farm.Visits, farm.Plants
	farm.Visits = make(map[crop.VisitID]crop.Visit, len(visits))
	for id, v := range visits {
		if v.Date <= asOf {
			farm.Visits[id] = v
		}
	}
	farm.Plants = make(map[crop.PlantID]crop.Plant, len(plants))
	for id, p := range plants {
		if farm.Plantings[p.Planting].Planted > asOf {
			continue
		}
		if p.Removed > asOf {
			p.Removed = ""
		}
		farm.Plants[id] = p
	}
	return farm
}

// day is counted from the spring of the season.
func (r *records) day(d crop.Date) int {
	return r.farm.Calendar.Spring(r.farm.Calendar.SeasonOf(d)).DaysTo(d)
}

func (r *records) readVisits() {
	visits := make([]crop.Visit, 0, len(r.farm.Visits))
	for _, v := range r.farm.Visits {
		cuts := v.Purpose == crop.PurposeCut || v.Purpose == crop.PurposeBedCut || v.Purpose == crop.PurposeBench ||
			v.Purpose == crop.PurposeNothingHere
		if cuts {
			visits = append(visits, v)
		}
	}
	slices.SortFunc(visits, func(a, b crop.Visit) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.ID, b.ID))
	})
	for _, v := range visits {
		if v.Flush == crop.FlushFall && v.Stems() > 0 {
			season := r.farm.Calendar.SeasonOf(v.Date)
			if _, known := r.fallFrom[season]; !known {
				r.fallFrom[season] = r.day(v.Date)
			}
		}
	}
	r.classes = r.newClasses(visits)
	for _, v := range visits {
		r.readVisit(v)
	}
	for key, days := range r.cutDays {
		slices.Sort(days)
		r.cutDays[key] = slices.Compact(days)
	}
}

func (r *records) readVisit(v crop.Visit) {
	bed := v.Bed
	if v.Plant != "" {
		plant, known := r.farm.Plants[v.Plant]
		if !known {
			return
		}
		bed = r.farm.BedOn(plant, v.Date)
	}
	fall := r.isFall(v, bed)
	zeroTold := v.Purpose == crop.PurposeBench || v.Purpose == crop.PurposeNothingHere
	if v.Stems() > 0 || zeroTold {
		season := r.farm.Calendar.SeasonOf(v.Date)
		for _, key := range []bedSeason{{bed, season}, {"", season}} {
			r.cutDays[key] = append(r.cutDays[key], r.day(v.Date))
		}
		r.classes.note(v, season, r.gradedAs(v, season), flushPlace(fall))
	}
	switch v.Purpose {
	case crop.PurposeCut:
		key := plantDay{v.Plant, v.Date}
		if r.told[key] == nil {
			r.told[key] = &onePlant{}
		}
		one := r.told[key]
		one.stems, one.fall, one.toOrder = one.stems+v.Stems(), fall, one.toOrder || v.ToOrder
	case crop.PurposeBench, crop.PurposeBedCut:
		key := bedDay{bed, v.Date}
		r.totals[key] = append(r.totals[key], &total{
			planting: v.Planting, age: v.Age, bench: v.Purpose == crop.PurposeBench, stems: v.Stems(), colours: coloursOf(v), fall: fall,
		})
	}
}

// gradedAs is the kind of plants whose grades a visit tells of; 0 where it may be of several.
func (r *records) gradedAs(v crop.Visit, season crop.Season) int {
	planting := v.Planting
	if v.Plant != "" {
		planting = r.farm.Plants[v.Plant].Planting
	}
	if p, known := r.farm.Plantings[planting]; known {
		return r.classes.gradeKind(r.farm.Stocks[p.Stock].Species, p.AgeIn(season))
	}
	only := 0
	for _, p := range r.farm.Plantings {
		age := p.AgeIn(season)
		if p.Bed != v.Bed || age < 1 || v.Age > 0 && v.Age != age {
			continue
		}
		kind := r.classes.gradeKind(r.farm.Stocks[p.Stock].Species, age)
		if only != 0 && only != kind {
			return 0
		}
		only = kind
	}
	return only
}

// coloursOf are a visit's stems by class, where that was told.
func coloursOf(v crop.Visit) map[crop.ColourID]int {
	var of map[crop.ColourID]int
	for _, count := range v.Counts {
		if count.Colour == "" {
			continue
		}
		if of == nil {
			of = map[crop.ColourID]int{}
		}
		of[count.Colour] += count.Stems
	}
	return of
}

// isFall tells of which flush a visit was: as told, else by the day on which the bed was cut back, or on which the fall
// flush was first told of.
func (r *records) isFall(v crop.Visit, bed crop.BedID) bool {
	if v.Flush != "" {
		return v.Flush == crop.FlushFall
	}
	season := r.farm.Calendar.SeasonOf(v.Date)
	if cutBack := r.farm.Beds[bed].CutBack[season]; cutBack != "" {
		return v.Date >= cutBack
	}
	from, known := r.fallFrom[season]
	return known && r.day(v.Date) >= from
}

// whose tells the plants that were watched alike: of one planting, over the same part of a season.
type whose struct {
	planting crop.PlantingID
	colour   crop.ColourID // in the season asked about alone: others say nothing of a colour that is not in the total
	season   crop.Season
	counted  bool
	from, to int // the first and the last day watched
}

// always is a day before and after all of a season, for those who were watched from before its first cut to behind its last.
const always = 1 << 20

// layCohorts groups the plants that stood in each season, and gives each group what it gave on each day.
func (r *records) layCohorts() {
	groups := map[whose][]crop.PlantID{}
	for _, id := range slices.Sorted(maps.Keys(r.farm.Plants)) {
		plant := r.farm.Plants[id]
		planting, known := r.farm.Plantings[plant.Planting]
		if !known {
			continue
		}
		for season := planting.FirstSeason; season <= r.season; season++ {
			if key, stood := r.whose(plant, planting, season); stood {
				groups[key] = append(groups[key], id)
			}
		}
	}
	keys := slices.SortedFunc(maps.Keys(groups), func(a, b whose) int {
		return cmp.Or(cmp.Compare(a.season, b.season), cmp.Compare(a.planting, b.planting), compareBool(a.counted, b.counted),
			cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to), cmp.Compare(a.colour, b.colour))
	})
	for _, key := range keys {
		r.cohorts = append(r.cohorts, r.cohort(key, groups[key]))
	}
	r.shareTotals(keys, groups)
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	default:
		return 1
	}
}

// whose a plant was in a season; false where it did not stand then, or nothing was cut in that season, which is past.
func (r *records) whose(plant crop.Plant, planting crop.Planting, season crop.Season) (whose, bool) {
	days := r.cutDays[bedSeason{r.farm.BedOf(plant), season}]
	if len(days) == 0 {
		days = r.cutDays[bedSeason{"", season}]
	}
	if len(days) == 0 && season < r.season {
		return whose{}, false
	}
	key := whose{planting: planting.ID, season: season, from: -1, to: always}
	if season == r.season {
		key.colour = r.classes.ofPlant[plant.ID]
	}
	first := r.farm.Calendar.Span(season).From
	if len(days) > 0 {
		first = r.farm.Calendar.Spring(season).Add(days[0])
	}
	if plant.Removed != "" && (plant.Removed < first || season == r.season) {
		return whose{}, false
	}
	window, counted := plant.Counted[season]
	if len(days) == 0 { // who was counted last season will be in this one too
		_, before := plant.Counted[season-1]
		key.counted = counted || before
		return key, true
	}
	if !counted || window.From > r.asOf {
		return key, true
	}
	key.counted = true
	from, to := r.day(window.From), r.day(min(window.To, r.asOf))
	if from > days[0] {
		key.from = from
	}
	if to < days[len(days)-1] {
		key.to = to
	}
	return key, true
}

// cohort gives a group of counted plants its looks: each day on which their bed was cut.
func (r *records) cohort(key whose, plants []crop.PlantID) cohort {
	planting := r.farm.Plantings[key.planting]
	c := cohort{
		stock: planting.Stock, planting: key.planting, colour: key.colour, age: planting.AgeIn(key.season), season: key.season,
		plants: len(plants), uncounted: !key.counted, from: key.from, to: key.to, cutTo: -1,
	}
	days := r.cutDays[bedSeason{planting.Bed, key.season}]
	if len(days) == 0 { // it gave nothing while other beds did
		days = r.cutDays[bedSeason{"", key.season}]
	}
	for _, day := range days {
		// Nobody tells of a day on which nothing was found: a cut after a long silence is of what opened in its last days.
		last := max(c.cutTo, key.from)
		if quiet := day - r.between; day-r.silence > last && quiet > last && quiet <= key.to {
			c.looks = append(c.looks, look{day: quiet, blind: c.uncounted})
		}
		if day >= key.from && day <= key.to {
			c.looks = append(c.looks, look{day: day, blind: c.uncounted})
		}
		c.cutTo = max(c.cutTo, day)
	}
	silent, quiet := r.quietUntil(key.season)
	quiet = min(quiet, key.to)
	if c.cutTo < min(silent, quiet) && (len(days) > 0 || key.counted) {
		c.looks = append(c.looks, look{day: quiet, blind: c.uncounted})
		c.cutTo = quiet
	}
	if key.counted {
		r.addTold(&c, plants)
	}
	return c
}

// quietUntil is the day of a season up to which silence since another says that nothing opened any more: its end, or in the
// present season the day on which somebody who goes as often as usual went last, half as long ago as lies between two cuts.
func (r *records) quietUntil(season crop.Season) (since, until int) {
	if season < r.season {
		end := r.day(r.farm.Calendar.Span(season).To)
		return end, end
	}
	today := r.day(r.asOf)
	return today - r.silence, today - r.between/2
}

// addTold adds what was told of each plant to its cohort's looks.
func (r *records) addTold(c *cohort, plants []crop.PlantID) {
	spring := r.farm.Calendar.Spring(c.season)
	given := map[int]int{}
	for _, id := range plants {
		all := 0
		for i := range c.looks {
			l := &c.looks[i]
			one := r.told[plantDay{id, spring.Add(l.day)}]
			if one == nil {
				continue
			}
			l.stems[flushPlace(one.fall)] += one.stems
			l.atLeast = l.atLeast || one.toOrder
			all += one.stems
		}
		given[all]++
	}
	for _, stems := range sortedKeys(given) {
		c.totals = append(c.totals, tally{stems, given[stems]})
	}
}
