package yield

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// standing is one planting in one season in the ground: how many of its listed plants stood when the
// season began, and what became of them.
//
// A plant that was taken out on the day on which a season begins stood at its start. The first season
// of plants that were set within it begins with the day on which they were set.
type standing struct {
	planting crop.PlantingID
	season   crop.Season
	age      int

	setOut int // plants listed, less those divided before this season
	before int // of them, gone before the season began
	start  int // stood when it began
	lost   int // of them, gone before the next season began, and not divided
	// divided were taken out to be divided: they did not live to the next season, and did not die.
	divided int
	// cleared says that the planting was ended that season, by the rule at clearedIn: who would have
	// lived is not known.
	cleared bool
	open    bool // the season still runs, so who lives through it is not known

	cutFrom        int // plants with at least one stem recorded as theirs
	counted        int // plants that were counted that season
	countedCutFrom int
}

// told tells whether the planting-season says anything of survival.
func (s standing) told() bool { return !s.cleared && !s.open && s.start > s.divided }

// lasted is how many stood at the next season's start, of those that were not divided.
func (s standing) lasted() stats.Share {
	of := s.start - s.divided
	return stats.Share{Hits: of - s.lost, Of: of}
}

// replantDays is how long before a plant was written down as taken out its divisions may have been set
// (common practice, no source: they are replanted within days, and lists are tidied within weeks).
const replantDays = 30

// mostSeasons in the ground are more than any cut flower lives: a first season so long ago is a slip, or
// has not been told.
const mostSeasons = 100

// roll is who stood where, laid out for walking through the seasons.
type roll struct {
	*records
	asOf     crop.Date
	plantsOf map[crop.PlantingID][]crop.Plant
	// childSet is the last day on which a plant's divisions were set.
	childSet map[crop.PlantID]crop.Date
	firstCut map[plantingIn]crop.Date
	cutFrom  map[plantIn]bool

	unlisted int // plantings of which no plant is listed
	misdated int // plantings whose first season is mostSeasons or more ago
	homeless int // plants whose planting is not known
}

type plantingIn struct {
	planting crop.PlantingID
	season   crop.Season
}

type plantIn struct {
	plant  crop.PlantID
	season crop.Season
}

func newRoll(r *records) *roll {
	l := &roll{
		records: r, asOf: r.options.AsOf,
		plantsOf: map[crop.PlantingID][]crop.Plant{}, childSet: map[crop.PlantID]crop.Date{},
		firstCut: map[plantingIn]crop.Date{}, cutFrom: map[plantIn]bool{},
	}
	if l.asOf == "" {
		l.asOf = r.lastTold()
	}
	for _, id := range r.plants {
		l.enter(r.farm.Plants[id])
	}
	for i := range r.visits {
		l.noteCut(&r.visits[i])
	}
	return l
}

// lastTold is the last day of which files tell anything: of what came later they do not know.
func (r *records) lastTold() crop.Date {
	last := crop.Date("")
	for _, v := range r.farm.Visits {
		last = max(last, v.Date)
	}
	for _, p := range r.farm.Plants {
		last = max(last, p.Removed)
	}
	for _, p := range r.farm.Plantings {
		last = max(last, p.Planted)
	}
	return last
}

func (l *roll) enter(p crop.Plant) {
	planting, known := l.farm.Plantings[p.Planting]
	if !known {
		l.homeless++
		return
	}
	for _, parent := range p.Parents {
		l.childSet[parent] = max(l.childSet[parent], planting.Planted)
	}
	l.plantsOf[p.Planting] = append(l.plantsOf[p.Planting], p)
}

// noteCut remembers from which plants stems came, and from which plantings as far as anyone can tell:
// a bed's total is a planting's where it names it, or where the bed has no other.
func (l *roll) noteCut(v *crop.Visit) {
	if v.Stems() == 0 {
		return
	}
	season, planting := l.seasonOf(v.Date), v.Planting
	if v.Purpose == crop.PurposeCut {
		l.cutFrom[plantIn{v.Plant, season}] = true
		planting = l.farm.Plants[v.Plant].Planting
	}
	if in := l.plantingsIn[v.Bed]; planting == "" && len(in) == 1 {
		planting = in[0].ID
	}
	k := plantingIn{planting, season}
	if _, known := l.firstCut[k]; !known { // visits come by date
		l.firstCut[k] = v.Date
	}
}

// standings walks every planting of the species asked about through the seasons that have begun, up to
// the one in which it was cleared. It goes on where no plant is left, since plants set out still count
// among those set out.
func (l *roll) standings() []standing {
	var all []standing
	last := l.farm.Calendar.SeasonOf(l.asOf)
	for _, id := range slices.Sorted(maps.Keys(l.farm.Plantings)) {
		planting := l.farm.Plantings[id]
		if !l.wanted(planting) {
			continue
		}
		switch {
		case len(l.plantsOf[id]) == 0:
			l.unlisted++
		case int(last-planting.FirstSeason) >= mostSeasons:
			l.misdated++
		default:
			all = append(all, l.walk(planting, last)...)
		}
	}
	slices.SortStableFunc(all, func(a, b standing) int {
		return cmp.Or(cmp.Compare(a.age, b.age), cmp.Compare(a.season, b.season))
	})
	return all
}

func (l *roll) walk(planting crop.Planting, last crop.Season) []standing {
	var rows []standing
	first := max(planting.FirstSeason, l.farm.Calendar.SeasonOf(planting.Planted))
	for s := first; s <= last && l.startOf(planting, s) <= l.asOf; s++ {
		row := l.standing(planting, s)
		rows = append(rows, row)
		if row.cleared {
			break
		}
	}
	return rows
}

func (l *roll) startOf(p crop.Planting, s crop.Season) crop.Date {
	return max(l.farm.Calendar.Span(s).From, p.Planted)
}

func (l *roll) standing(planting crop.Planting, season crop.Season) standing {
	from, next := l.startOf(planting, season), l.startOf(planting, season+1)
	row := standing{
		planting: planting.ID, season: season, age: planting.AgeIn(season),
		open: l.asOf < next, cleared: l.clearedIn(planting, season),
	}
	for _, plant := range l.plantsOf[planting.ID] {
		switch {
		case stood(plant, from):
			row.setOut++
			row.start++
			l.addStanding(&row, plant, next)
		case !l.wasDivided(plant):
			row.setOut++
			row.before++
		}
	}
	return row
}

func stood(p crop.Plant, day crop.Date) bool { return p.Removed == "" || p.Removed >= day }

func (l *roll) addStanding(row *standing, plant crop.Plant, next crop.Date) {
	if !stood(plant, next) {
		if l.wasDivided(plant) {
			row.divided++
		} else {
			row.lost++
		}
	}
	_, counted := plant.Counted[row.season]
	cut := l.cutFrom[plantIn{plant.ID, row.season}]
	if cut {
		row.cutFrom++
	}
	if counted {
		row.counted++
	}
	if cut && counted {
		row.countedCutFrom++
	}
}

// wasDivided tells whether a plant that is gone was taken out to be divided, its divisions being set at
// about that time or later, or lives elsewhere.
func (l *roll) wasDivided(p crop.Plant) bool {
	if l.lifted[p.ID] {
		return true
	}
	set, has := l.childSet[p.ID]
	return has && p.Removed != "" && set >= p.Removed.Add(-replantDays)
}

// clearedIn tells whether a planting of two plants or more was ended by hand that season. Records say
// when a plant went and not why, so this is read off them: nothing is left, and either some of it was
// divided, or the last two plants or more went on one day on or before which stems had been cut from the
// planting that season. Plants that a winter killed give no stems before they are dug out.
func (l *roll) clearedIn(planting crop.Planting, season crop.Season) bool {
	from, next := l.startOf(planting, season), l.startOf(planting, season+1)
	last, onLast, divided := crop.Date(""), 0, 0
	for _, p := range l.plantsOf[planting.ID] {
		if stood(p, next) {
			return false
		}
		if !stood(p, from) {
			continue
		}
		if l.wasDivided(p) {
			divided++
		}
		if p.Removed > last {
			last, onLast = p.Removed, 0
		}
		if p.Removed == last {
			onLast++
		}
	}
	cut, any := l.firstCut[plantingIn{planting.ID, season}]
	return divided > 0 || onLast > 1 && any && cut <= last
}
