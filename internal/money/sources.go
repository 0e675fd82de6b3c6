package money

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// sources say which plants the stems of lots came of, by what their bed gave on their cut day: what was told of single
// plants; the rest of a bench total by the plants that stood there and were not counted one by one. What a bed's records
// cannot tell is of nobody.
type sources struct {
	farm     crop.Farm
	benches  map[bedDay][]crop.Visit
	rows     map[bedDay][]crop.Visit // bed cuts
	cuts     map[bedDay][]crop.Visit // of single plants
	plantsIn map[crop.BedID][]planted
	unlisted map[crop.BedID][]crop.Planting // none of whose plants was ever listed
	days     map[bedDay]*day
	found    map[crop.LotID]weights
	urns     map[crop.LotID]*urn
}

type bedDay struct {
	bed crop.BedID
	day crop.Date
}

// planted is a plant whose planting is known.
type planted struct {
	crop.Plant
	planting crop.Planting
}

// source is plants that stems came of; the zero one is nobody knows which.
type source struct {
	stock crop.StockID
	age   int
	plant crop.PlantID // where it was counted by itself
}

// unlistedPlants stand for a planting whose plants nobody listed, as package yield has it.
const unlistedPlants = 10

// scale is in how many parts a stem is split where it may be of several plants or lots.
const scale = 1000

func newSources(farm crop.Farm) *sources {
	s := &sources{
		farm: farm, benches: map[bedDay][]crop.Visit{}, rows: map[bedDay][]crop.Visit{}, cuts: map[bedDay][]crop.Visit{},
		plantsIn: map[crop.BedID][]planted{}, unlisted: map[crop.BedID][]crop.Planting{},
		days: map[bedDay]*day{}, found: map[crop.LotID]weights{}, urns: map[crop.LotID]*urn{},
	}
	s.layPlants()
	s.layVisits()
	return s
}

func (s *sources) layPlants() {
	listed := map[crop.PlantingID]bool{}
	for _, id := range slices.Sorted(maps.Keys(s.farm.Plants)) {
		plant := s.farm.Plants[id]
		listed[plant.Planting] = true
		planting, known := s.farm.Plantings[plant.Planting]
		if !known {
			continue
		}
		beds := []crop.BedID{s.farm.BedOf(plant)}
		for _, stay := range plant.Stood {
			if !slices.Contains(beds, stay.Bed) {
				beds = append(beds, stay.Bed)
			}
		}
		for _, bed := range beds {
			s.plantsIn[bed] = append(s.plantsIn[bed], planted{plant, planting})
		}
	}
	for _, id := range slices.Sorted(maps.Keys(s.farm.Plantings)) {
		if p := s.farm.Plantings[id]; !listed[id] {
			s.unlisted[p.Bed] = append(s.unlisted[p.Bed], p)
		}
	}
}

func (s *sources) layVisits() {
	for _, v := range s.farm.Visits {
		bed := v.Bed
		if plant, known := s.farm.Plants[v.Plant]; known {
			bed = s.farm.BedOn(plant, v.Date)
		}
		at := bedDay{bed, v.Date}
		switch v.Purpose {
		case crop.PurposeBench:
			s.benches[at] = append(s.benches[at], v)
		case crop.PurposeBedCut:
			s.rows[at] = append(s.rows[at], v)
		case crop.PurposeCut:
			s.cuts[at] = append(s.cuts[at], v)
		}
	}
	for _, of := range []map[bedDay][]crop.Visit{s.benches, s.rows, s.cuts} {
		for _, visits := range of {
			slices.SortFunc(visits, func(a, b crop.Visit) int { return cmp.Compare(a.ID, b.ID) })
		}
	}
}

// day is a bed on a day of cutting.
type day struct {
	benches, rows, cuts []crop.Visit
	standing            []standing
	places              map[crop.PlantID]int // of listed plants, in standing
	alike               []standing           // those that differ in nothing but their plant are one
}

// standing is one plant, or several of a planting whose plants were never listed.
type standing struct {
	source
	planting crop.PlantingID
	colour   crop.ColourID
	number   int
	watched  bool // it was counted that day, or something was told of it: the rest is not its
}

func (s *sources) on(at bedDay) *day {
	if d, known := s.days[at]; known {
		return d
	}
	d := &day{benches: s.benches[at], rows: s.rows[at], cuts: s.cuts[at], places: map[crop.PlantID]int{}}
	s.days[at] = d
	cut := map[crop.PlantID]bool{}
	for _, v := range d.cuts {
		cut[v.Plant] = true
	}
	season := s.farm.Calendar.SeasonOf(at.day)
	for _, p := range s.plantsIn[at.bed] {
		plant, planting, id := p.Plant, p.planting, p.ID
		gone := plant.Removed != "" && plant.Removed < at.day
		moved := len(plant.Stood) > 0 && s.farm.BedOn(plant, at.day) != at.bed
		if gone || moved || planting.Planted > at.day || planting.AgeIn(season) < 1 {
			continue
		}
		window, counted := plant.Counted[season]
		d.places[id] = len(d.standing)
		d.standing = append(d.standing, standing{
			source: source{planting.Stock, planting.AgeIn(season), id}, planting: planting.ID, colour: plant.Colour, number: 1,
			watched: counted && window.Holds(at.day) || cut[id],
		})
	}
	for _, p := range s.unlisted[at.bed] {
		if p.Planted <= at.day && p.AgeIn(season) >= 1 {
			d.standing = append(d.standing, standing{source: source{p.Stock, p.AgeIn(season), ""}, planting: p.ID, number: unlistedPlants})
		}
	}
	d.alike = together(d.standing)
	return d
}

// together counts plants that differ in nothing but which one they are: a bed of thousands is a few dozen of them.
func together(all []standing) (few []standing) {
	at := map[standing]int{}
	for _, p := range all {
		number := p.number
		p.plant, p.number = "", 0
		i, known := at[p]
		if !known {
			i = len(few)
			at[p] = i
			few = append(few, p)
		}
		few[i].number += number
	}
	return few
}

// scope is what a bench total or bed cut is of: a planting, an age, or the whole bed where both are empty.
type scope struct {
	planting crop.PlantingID
	age      int
}

func scopeOf(v crop.Visit) scope { return scope{v.Planting, v.Age} }

func (c scope) holds(p standing) bool {
	return (c.planting == "" || c.planting == p.planting) && (c.age == 0 || c.age == p.age)
}

// mayBe tells whether stems that were counted so may lie in a lot: what was told of neither or only of one is no hindrance.
func mayBe(c crop.Count, plant crop.ColourID, lot crop.LotID) bool {
	return mayBeOf(cmp.Or(c.Colour, plant), lot.Colour) && mayBeOf(c.Grade, lot.Grade) &&
		(c.Length == lot.Length || !c.Length.Told() || !lot.Length.Told())
}

func mayBeOf[T ~string](a, b T) bool { return a == b || a == "" || b == "" }

// weights are how many thousandths of a lot's stems came of each source.
type weights map[source]int64

func (w weights) sum() (all int64) {
	for _, n := range w {
		all += n
	}
	return all
}

// of gives the sources of a lot, with weights that add up to what is known of its stems.
func (s *sources) of(lot crop.LotID) weights {
	if all, known := s.found[lot]; known {
		return all
	}
	d := s.on(bedDay{lot.Bed, lot.Cut})
	all := d.sharedAll(lot, d.benches, lotOf(lot))
	if len(all) == 0 {
		all = d.unbenched(lot)
	}
	s.found[lot] = all
	return all
}

// lotOf tells whether stems were counted as just those of a lot.
func lotOf(lot crop.LotID) func(crop.Count) bool {
	return func(c crop.Count) bool {
		return c.Colour == lot.Colour && c.Grade == lot.Grade && c.Length == lot.Length
	}
}

// sharedAll shares what visits to a bed have of a lot, those of one part of the bed together.
func (d *day) sharedAll(lot crop.LotID, visits []crop.Visit, of func(crop.Count) bool) weights {
	stems := map[scope]int64{}
	for _, v := range visits {
		for _, c := range v.Counts {
			if of(c) && c.Stems > 0 {
				stems[scopeOf(v)] += int64(c.Stems)
			}
		}
	}
	all := weights{}
	for part, n := range stems {
		all.add(d.shared(lot, part, n*scale))
	}
	return all
}

func (w weights) add(o weights) {
	for of, n := range o {
		w[of] += n
	}
}

// shared gives so many thousandths of stems of a part of a bed to the plants of which stems were told, and the rest to those
// that nobody counted one by one. Where all were counted, what is beyond their stems is shared as these are.
func (d *day) shared(lot crop.LotID, of scope, all int64) weights {
	told := d.told(lot, of)
	if sum := told.sum(); sum > 0 && (sum >= all || !d.hasUncounted(of)) {
		return told.scaledTo(all)
	}
	told.add(d.byPlants(lot, of, all-told.sum()))
	return told
}

func (w weights) scaledTo(all int64) weights {
	order := slices.SortedFunc(maps.Keys(w), compareSources)
	by := make([]int64, len(order))
	for i, of := range order {
		by[i] = w[of]
	}
	scaled := weights{}
	for i, part := range selling.PartsOf(all, by) {
		scaled[order[i]] = part
	}
	return scaled
}

func compareSources(a, b source) int {
	return cmp.Or(cmp.Compare(a.stock, b.stock), cmp.Compare(a.age, b.age), cmp.Compare(a.plant, b.plant))
}

// told are the stems of single plants that lie in a lot. Those that may lie in several lots are shared among them by what
// came over the bench of each.
func (d *day) told(lot crop.LotID, of scope) weights {
	found := weights{}
	for _, v := range d.cuts {
		at, stood := d.places[v.Plant]
		if !stood || !of.holds(d.standing[at]) {
			continue
		}
		plant := d.standing[at]
		for _, c := range v.Counts {
			if c.Stems > 0 && mayBe(c, plant.colour, lot) {
				if part := d.partIn(c, plant, lot, of); part > 0 {
					found[plant.source] += part
				}
			}
		}
	}
	return found
}

// partIn is how many thousandths of a plant's stems lie in a lot, of all on the bench in which they may lie.
func (d *day) partIn(c crop.Count, plant standing, lot crop.LotID, of scope) int64 {
	here, all := int64(0), int64(0)
	for _, v := range d.benches {
		if !scopeOf(v).holds(plant) {
			continue
		}
		for _, on := range v.Counts {
			cell := crop.LotID{Bed: lot.Bed, Cut: lot.Cut, Colour: on.Colour, Grade: on.Grade, Length: on.Length}
			if on.Stems <= 0 || !mayBe(c, plant.colour, cell) {
				continue
			}
			all += int64(on.Stems)
			if cell == lot && scopeOf(v) == of {
				here += int64(on.Stems)
			}
		}
	}
	if all == 0 { // nothing came over the bench: it lies wherever it may
		return int64(c.Stems) * scale
	}
	part, _ := selling.MulDiv(int64(c.Stems)*scale, here, all)
	return part
}

func (d *day) hasUncounted(of scope) bool {
	return slices.ContainsFunc(d.alike, func(p standing) bool { return !p.watched && of.holds(p) })
}

// byPlants shares thousandths of stems by the plants that stood there: those of the lot's colour class that nobody counted;
// where there are none, any that nobody counted; else all.
func (d *day) byPlants(lot crop.LotID, of scope, all int64) weights {
	if all <= 0 {
		return weights{}
	}
	for _, fits := range []func(standing) bool{
		func(p standing) bool { return !p.watched && mayBeOf(p.colour, lot.Colour) },
		func(p standing) bool { return !p.watched },
		func(standing) bool { return true },
	} {
		number := weights{}
		for _, p := range d.alike {
			if of.holds(p) && fits(p) {
				number[p.source] += int64(p.number)
			}
		}
		if len(number) > 0 {
			return number.scaledTo(all)
		}
	}
	return weights{source{}: all}
}

// unbenched are the sources of a lot that no bench total has: by what was told in the row.
func (d *day) unbenched(lot crop.LotID) weights {
	all := d.sharedAll(lot, d.rows, func(c crop.Count) bool { return mayBe(c, "", lot) })
	if len(all) > 0 {
		return all
	}
	told := d.told(lot, scope{})
	watched, others := int64(0), int64(0)
	for _, p := range d.alike {
		if p.watched {
			watched += int64(p.number)
		} else if mayBeOf(p.colour, lot.Colour) {
			others += int64(p.number)
		}
	}
	if sum := told.sum(); sum > 0 { // those that nobody counted gave as many each
		told.add(d.byPlants(lot, scope{}, sum*others/watched))
		return told
	}
	return d.byPlants(lot, scope{}, scale)
}
