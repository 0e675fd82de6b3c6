package selling

import (
	"cmp"
	"slices"

	"corymb/internal/crop"
)

// Lot is what is left of the stems of a bed, a cut day, a colour class, a grade and a length class.
type Lot struct {
	ID       crop.LotID
	Came     int // over the bench
	Packed   int
	Shrink   int
	DaysLeft int // of vase life on the day asked about: 0 is the last, below it is past
}

// Left is how many of its stems are still there. Below zero more was taken out than came, which needs a look.
func (l Lot) Left() int { return l.Came - l.Packed - l.Shrink }

// Cooler lists the lots that came over the bench up to a day and are not used up, and those of which more was taken than
// came: the oldest first. What cannot be sold is no lot.
func Cooler(f crop.Farm, day crop.Date) []Lot {
	all := lotsUntil(f, day)
	var kept []Lot
	for _, lot := range all {
		if lot.Left() != 0 && lot.ID.Cut <= day {
			lot.DaysLeft = coolerDays(f.Sales.Terms) - lot.ID.Cut.DaysTo(day)
			kept = append(kept, *lot)
		}
	}
	slices.SortFunc(kept, func(a, b Lot) int { return compareLots(a.ID, b.ID) })
	return kept
}

func coolerDays(t crop.SaleTerms) int { return cmp.Or(t.CoolerDays, crop.UsualCoolerDays) }

func lotsUntil(f crop.Farm, day crop.Date) map[crop.LotID]*Lot {
	lots := map[crop.LotID]*Lot{}
	at := func(id crop.LotID) *Lot {
		if lots[id] == nil {
			lots[id] = &Lot{ID: id}
		}
		return lots[id]
	}
	for _, v := range f.Visits {
		if v.Purpose != crop.PurposeBench || v.Date > day {
			continue
		}
		for _, c := range v.Counts {
			if c.Grade != crop.GradeOut {
				at(crop.LotID{Bed: v.Bed, Cut: v.Date, Colour: c.Colour, Grade: c.Grade, Length: c.Length}).Came += c.Stems
			}
		}
	}
	for _, p := range f.Sales.Packed {
		for id, stems := range p.Stems {
			at(id).Packed += stems
		}
	}
	for _, s := range f.Sales.Shrink {
		at(s.Lot).Shrink += s.Stems
	}
	return lots
}

// compareLots orders lots by age, and those of a day by what they are.
func compareLots(a, b crop.LotID) int {
	return cmp.Or(
		cmp.Compare(a.Cut, b.Cut), cmp.Compare(a.Bed, b.Bed), cmp.Compare(a.Colour, b.Colour),
		cmp.Compare(b.Grade.Rank(), a.Grade.Rank()), cmp.Compare(a.Length.Lo, b.Length.Lo), cmp.Compare(a.Length.Hi, b.Length.Hi),
	)
}
