package division

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
)

// stand is a farm on the evening of the question.
type stand struct {
	farm   crop.Farm
	asOf   crop.Date
	season crop.Season // after which is divided
	// over says that the season has ended, or that hardly anything of it is to come: its counts are whole.
	over   bool
	plants []plant // that stand, by id
	// colours are the classes that stems may be of, the untold one first where any may be of none.
	colours []crop.ColourID
	// mixes are by stock what part of its plants, as far as seen, is of each colour class.
	mixes map[crop.StockID][]float64
	notes []Note
}

// plant stands, or waits for its first season.
type plant struct {
	crop.Plant
	planting crop.Planting
	stock    crop.Stock
	species  int       // place among those that stand
	age      int       // in the season after which is divided
	colour   int       // place among the colours; -1 where it is not sure
	mix      []float64 // what its readings leave open of that, by colour; nil where nothing was read
	mayBe    []int     // the colours of which mix holds a part
	left     bool      // the colour class that it was told to be of
	drifts   bool
	open     bool
	counted  bool // in any season that is over
	// now is what it gave in this season, -1 where that season runs or nobody counted it.
	now int
}

// leastToDivide is the age from which a clump is large enough (two- to three-year-old plants give many divisions: Armitage
// and Laushman 2003).
const leastToDivide = 2

// springDays is how long into spring plants may be divided for the same season's flush (early spring or right after bloom:
// Armitage and Laushman 2003).
const springDays = 31

func standingOn(farm crop.Farm, q Question) (*stand, error) {
	s := &stand{farm: farm, asOf: q.AsOf, mixes: map[crop.StockID][]float64{}}
	if err := s.findSeason(); err != nil {
		return nil, err
	}
	if q.AsOf != "" { // files that are asked about as a whole tell of nothing later
		s.forgetLater()
	}
	s.over = s.isOver()
	s.layColours(q)
	given := s.givenNow()
	for _, id := range slices.Sorted(maps.Keys(s.farm.Plants)) {
		p := s.farm.Plants[id]
		planting, known := s.farm.Plantings[p.Planting]
		if !known || p.Removed != "" {
			continue
		}
		one := plant{
			Plant: p, planting: planting, stock: s.farm.Stocks[planting.Stock], age: planting.AgeIn(s.season),
			open: q.OpenCentre[id], counted: s.countedBefore(p), now: -1,
		}
		s.colourOf(&one, q.Classes)
		if stems, told := given[id]; told {
			one.now = stems
		}
		s.plants = append(s.plants, one)
	}
	species := s.species()
	for i := range s.plants {
		s.plants[i].species = slices.Index(species, s.plants[i].stock.Species)
	}
	if len(s.plants) == 0 {
		return nil, refused(RefusedPlants, "No plant stands on %s: enter the plants first.", s.asOf)
	}
	s.noteUnseen()
	return s, nil
}

// SeasonPlanned is the season after which plants are planned on a day, the only one for which a plan can be asked: until its
// spring has well begun, that before the day's.
func SeasonPlanned(farm crop.Farm, day crop.Date) crop.Season {
	s := stand{farm: farm, asOf: day}
	s.seasonOfDay()
	return s.season
}

// findSeason finds the season after which is divided: that of the day, or the one before until its spring has well begun.
func (s *stand) findSeason() error {
	if s.asOf == "" {
		last := s.lastCut()
		if last == "" {
			return refused(RefusedCuts, "No cut is recorded, so nobody can tell after which season to plan: say it with a day, -asof 2026-10-01.")
		}
		if err := s.refuseHalfSeason(last); err != nil {
			return err
		}
		s.season = s.farm.Calendar.SeasonOf(last)
		s.asOf = s.farm.Calendar.Span(s.season).To
		return nil
	}
	s.seasonOfDay()
	return nil
}

func (s *stand) seasonOfDay() {
	calendar, last := s.farm.Calendar, s.lastCut()
	s.season = calendar.SeasonOf(s.asOf)
	if s.asOf < calendar.Spring(s.season).Add(springDays) && (last == "" || calendar.SeasonOf(last) < s.season) {
		s.season--
	}
}

// lastCut is the last day, up to that of the question, on which stems were cut.
func (s *stand) lastCut() (last crop.Date) {
	for _, v := range s.farm.Visits {
		if isCut(v) && v.Stems() > 0 && (s.asOf == "" || v.Date <= s.asOf) {
			last = max(last, v.Date)
		}
	}
	return last
}

func isCut(v crop.Visit) bool {
	return v.Purpose == crop.PurposeCut || v.Purpose == crop.PurposeBedCut || v.Purpose == crop.PurposeBench
}

// halfSeason is the part of other seasons' stems that came later in the year than the last cut of one that cannot be whole.
const halfSeason = 0.4

// refuseHalfSeason refuses a last season that ends where others were in full flush.
func (s *stand) refuseHalfSeason(last crop.Date) error {
	season := s.farm.Calendar.SeasonOf(last)
	later, told := s.partAfter(season, last)
	if !told || later < halfSeason {
		return nil
	}
	return refused(RefusedHalf, "Season %d looks half entered: its last cut is of %s, and in the seasons before %.0f of 100 stems came later in the year. Enter the rest of it, or plan as of that evening with -asof %s, which leaves its counts out.",
		season, last, 100*later, last)
}

// partAfter is what part of the stems of seasons before one came later in the year than a day of it; not told where there are
// none.
func (s *stand) partAfter(season crop.Season, day crop.Date) (part float64, told bool) {
	calendar := s.farm.Calendar
	after := calendar.Spring(season).DaysTo(day)
	before, later := 0, 0
	for _, v := range s.farm.Visits {
		of := calendar.SeasonOf(v.Date)
		if !isCut(v) || of >= season {
			continue
		}
		before += v.Stems()
		if calendar.Spring(of).DaysTo(v.Date) > after {
			later += v.Stems()
		}
	}
	return float64(later) / float64(max(before, 1)), before > 0
}

// forgetLater leaves out what came after the day of the question.
func (s *stand) forgetLater() {
	visits, plants := s.farm.Visits, s.farm.Plants
	s.farm.Visits = make(map[crop.VisitID]crop.Visit, len(visits))
	for id, v := range visits {
		if v.Date <= s.asOf {
			s.farm.Visits[id] = v
		}
	}
	s.farm.Plants = make(map[crop.PlantID]crop.Plant, len(plants))
	for id, p := range plants {
		if s.farm.Plantings[p.Planting].Planted > s.asOf {
			continue
		}
		if p.Removed > s.asOf {
			p.Removed = ""
		}
		s.farm.Plants[id] = p
	}
}

// hardlyAny is the part of other seasons' stems that came later in the year than a day from which on a season counts as over
// (this program's choice): plants are divided in fall, long before the year ends, by what this season told.
const hardlyAny = 0.03

// isOver tells whether the season after which is divided has ended, or is whole but for so little; not where it looks half
// entered, or no season before tells how long one lasts.
func (s *stand) isOver() bool {
	if s.asOf >= s.farm.Calendar.Span(s.season).To {
		return true
	}
	last := s.lastCut()
	if last == "" || s.farm.Calendar.SeasonOf(last) != s.season || s.refuseHalfSeason(last) != nil {
		return false
	}
	later, told := s.partAfter(s.season, s.asOf)
	return told && later <= hardlyAny
}

// givenNow is what counted plants gave in the season, once it is over.
func (s *stand) givenNow() map[crop.PlantID]int {
	given := map[crop.PlantID]int{}
	if !s.over {
		return given
	}
	for id, p := range s.farm.Plants {
		if _, counted := p.Counted[s.season]; counted {
			given[id] = 0
		}
	}
	for _, v := range s.farm.Visits {
		if _, counted := given[v.Plant]; counted && v.Purpose == crop.PurposeCut && s.farm.Calendar.SeasonOf(v.Date) == s.season {
			given[v.Plant] += v.Stems()
		}
	}
	return given
}

// countedBefore tells whether a plant was counted in a season that is over.
func (s *stand) countedBefore(p crop.Plant) bool {
	for season := range p.Counted {
		if season < s.season || season == s.season && s.over {
			return true
		}
	}
	return false
}

// noteUnseen notes stocks of which no plant was ever counted: nothing of the farm stands behind their plan.
func (s *stand) noteUnseen() {
	counted := map[crop.StockID]bool{}
	for _, p := range s.farm.Plants {
		if planting := s.farm.Plantings[p.Planting]; s.countedBefore(p) {
			counted[planting.Stock] = true
		}
	}
	plants := map[crop.StockID]int{}
	for _, p := range s.plants {
		if !counted[p.planting.Stock] {
			plants[p.planting.Stock]++
		}
	}
	for _, stock := range slices.Sorted(maps.Keys(plants)) {
		s.notes = append(s.notes, Note{Code: NoteStockUnseen, Stock: stock, Plants: plants[stock]})
	}
}

// species are those of the plants that stand, in order.
func (s *stand) species() []string {
	var list []string
	for _, p := range s.plants {
		list = append(list, p.stock.Species)
	}
	slices.SortFunc(list, cmp.Compare)
	return slices.Compact(list)
}

// oldest is the greatest age that any plant may reach in so many seasons.
func (s *stand) oldest(seasons int) int {
	age := 2
	for _, p := range s.plants {
		age = max(age, p.age)
	}
	return age + seasons
}
