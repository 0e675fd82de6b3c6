package money

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// Side is what the plants of one class of age gave and brought in a season, to stand beside the others.
type Side struct {
	Age    string // "1", "2" or "3+"
	Plants int    // that stood when the season's cutting began
	// Cut are stems that came off them and Saleable those of a grade that is sold, in thousandths: a bed's stems are shared
	// among its plants. Ungraded are those of which nobody told the grade; they are in neither share.
	Cut, Saleable, Ungraded int64
	Sums                    // of its sales; costs and work are of no age
	// Minutes and Work of cutting, bunching, packing, bringing and selling go by the stems sold; all other work by the plants
	// that stood in its bed, or on the farm.
	WorkMinutes int64
	WorkCents   crop.Cents
}

// SaleableShare is of the stems that were graded; false where none was.
func (s Side) SaleableShare() (float64, bool) {
	graded := s.Cut - s.Ungraded
	return float64(s.Saleable) / float64(graded), graded > 0
}

// ageClasses are those that stand side by side.
var ageClasses = []string{"1", "2", "3+"}

// Sides sets first-, second- and later-season plants side by side. Stems, money and work of nobody knows which age are on
// none of them.
func (b *Books) Sides() []Side {
	sides := make([]Side, len(ageClasses))
	view := b.By(ByAgeClass, Filter{})
	for i, age := range ageClasses {
		sides[i] = Side{Age: age, Cut: b.came[age].all, Saleable: b.came[age].saleable, Ungraded: b.came[age].ungraded}
		for _, row := range view.Rows {
			if row.Key == age {
				sides[i].Sums = row.Sums
				if row.Ground != nil {
					sides[i].Plants = row.Ground.Plants
				}
			}
		}
	}
	b.shareWork(sides)
	return sides
}

// byStems are the kinds of work that more stems make more of.
var byStems = []crop.WorkKind{crop.WorkCut, crop.WorkBunch, crop.WorkPack, crop.WorkDeliver, crop.WorkSell}

// shareWork gives each side its part of the season's work. Each piece is split to the cent and the minute among the sides and
// what is of no known age.
func (b *Books) shareWork(sides []Side) {
	stems, plants := b.stemsByAge(), map[crop.BedID]map[string]int64{}
	for _, plant := range b.ground.plants {
		for _, bed := range []crop.BedID{"", plant.Bed} {
			if plants[bed] == nil {
				plants[bed] = map[string]int64{}
			}
			plants[bed][ageClassKey(plant.Age)]++
		}
	}
	for _, e := range b.Entries {
		if e.Kind != Worked {
			continue
		}
		of := plants[e.Bed]
		if slices.Contains(byStems, crop.WorkKind(e.What)) {
			of = stems[e.Bed]
		}
		weights := []int64{of[""]}
		for _, age := range ageClasses {
			weights = append(weights, of[age])
		}
		cents, minutes := selling.PartsOf(int64(-e.Cents), weights), selling.PartsOf(int64(e.Minutes), weights)
		for i := range sides {
			sides[i].WorkCents += crop.Cents(cents[i+1])
			sides[i].WorkMinutes += minutes[i+1]
		}
	}
}

// stemsByAge are those sold by bed, under the empty bed all, and class of age.
func (b *Books) stemsByAge() map[crop.BedID]map[string]int64 {
	stems := map[crop.BedID]map[string]int64{"": {}}
	for _, e := range b.Entries {
		if e.Kind != Sold || e.Stems < 0 {
			continue
		}
		if stems[e.Bed] == nil {
			stems[e.Bed] = map[string]int64{}
		}
		age := ageClassKey(e.Age)
		stems[""][age] += int64(e.Stems)
		if e.Bed != "" {
			stems[e.Bed][age] += int64(e.Stems)
		}
	}
	return stems
}

// came is what came off plants of a class of age, in thousandths of stems.
type came struct{ all, saleable, ungraded int64 }

// cameBy adds up a season's stems by class of age: over the bench where a bed's day has a bench total, else as told in the
// row, else of single plants.
func (s *sources) cameBy(span crop.Window) map[string]came {
	all := map[string]came{}
	days := map[bedDay]bool{}
	for _, visits := range []map[bedDay][]crop.Visit{s.benches, s.rows, s.cuts} {
		for at := range visits {
			if span.Holds(at.day) {
				days[at] = true
			}
		}
	}
	for _, at := range slices.SortedFunc(maps.Keys(days), func(a, b bedDay) int {
		return cmp.Or(cmp.Compare(a.day, b.day), cmp.Compare(a.bed, b.bed))
	}) {
		s.addCame(at, all)
	}
	return all
}

func (s *sources) addCame(at bedDay, all map[string]came) {
	d := s.on(at)
	visits := d.benches
	if len(visits) == 0 {
		visits = d.rows
	}
	lots := map[crop.LotID]bool{}
	for _, v := range visits {
		for _, c := range v.Counts {
			lots[crop.LotID{Bed: at.bed, Cut: at.day, Colour: c.Colour, Grade: c.Grade, Length: c.Length}] = true
		}
	}
	for lot := range lots { // sums of whole numbers, whatever the order
		of := d.sharedAll(lot, visits, func(c crop.Count) bool {
			return c.Colour == lot.Colour && c.Grade == lot.Grade && c.Length == lot.Length
		})
		for from, stems := range of {
			all[ageClassKey(from.age)] = all[ageClassKey(from.age)].plus(lot.Grade, stems)
		}
	}
	for _, v := range d.cuts {
		d.addCutAlone(v, visits, all)
	}
}

// addCutAlone adds what was cut of a single plant, unless a total of its bed or part of the bed holds it.
func (d *day) addCutAlone(v crop.Visit, totals []crop.Visit, all map[string]came) {
	of := standing{}
	if i, stood := d.places[v.Plant]; stood {
		of = d.standing[i]
	}
	if slices.ContainsFunc(totals, func(t crop.Visit) bool { return scopeOf(t).holds(of) }) {
		return
	}
	age := ageClassKey(of.age)
	for _, c := range v.Counts {
		all[age] = all[age].plus(c.Grade, int64(max(0, c.Stems))*scale)
	}
}

func (c came) plus(grade crop.Grade, stems int64) came {
	c.all += stems
	switch grade {
	case "":
		c.ungraded += stems
	case crop.GradeOut:
	default:
		c.saleable += stems
	}
	return c
}
