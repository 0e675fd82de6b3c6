package sheets

import (
	"strconv"

	"corymb/internal/crop"
)

// visitBook gathers the rows of cuts into visits.
type visitBook struct {
	visits []*crop.Visit // in the order of their first rows
	days   map[placeDay]*dayRows
	cells  map[cellKey]int // where in its visit each cell of counts stands
	summed int
}

// placeDay is one plant, or one bed with what narrows it, on one day.
type placeDay struct {
	plant    *plantRow
	bed      crop.BedID
	planting crop.PlantingID
	age      int
	date     crop.Date
}

// dayRows is what one place gave on one day: a visit for each grader.
type dayRows struct {
	flush  *cut // the first row that tells a flush
	visits []*crop.Visit
}

// cellKey tells one count of one visit from all others.
type cellKey struct {
	visit  *crop.Visit
	colour crop.ColourID
	grade  crop.Grade
	length crop.LengthClass
}

// gatherVisits makes one visit of the rows that share plant (or bed and what narrows it), date and
// grader. Rows of one cell are added up; summed says how many there were beyond the first.
func gatherVisits(cuts []*cut) *visitBook {
	b := &visitBook{days: map[placeDay]*dayRows{}, cells: make(map[cellKey]int, len(cuts))}
	for _, c := range cuts {
		if c.date == "" || len(c.plantings) == 0 {
			continue // refused already
		}
		day := b.dayOf(c)
		day.checkFlush(c)
		b.add(c, day.visitOf(c, b))
	}
	return b
}

func (b *visitBook) dayOf(c *cut) *dayRows {
	key := placeDay{plant: c.plant, bed: c.bed, date: c.date}
	if c.bench {
		key.planting, key.age = c.narrowing()
	}
	day := b.days[key]
	if day == nil {
		day = &dayRows{}
		b.days[key] = day
	}
	return day
}

// id names what was cut (a plant, or a bed with what narrows it), the day and the grader. It must
// stay as it is, or a second import of the same file would double every visit.
func (c *cut) id() crop.VisitID {
	place := []string{string(crop.PurposeCut), string(c.bed)}
	if c.bench {
		planting, age := c.narrowing()
		place = []string{string(crop.PurposeBench), string(c.bed), string(planting), strconv.Itoa(age)}
	} else {
		place = append(place, string(c.plant.id))
	}
	return crop.VisitID(join(append(place, string(c.date), string(c.grader))...))
}

// narrowing is the planting and age of a bench total; empty and 0 where it is of the whole bed. One
// that can be of several plantings of one age is narrowed by that age alone.
func (c *cut) narrowing() (crop.PlantingID, int) {
	if c.narrowedBy() == "" || len(c.plantings) > 1 {
		return "", c.age
	}
	return c.plantings[0].ID, c.age
}

// checkFlush reports a second flush for one place on one day, whoever graded: a plant is in one wave
// of bloom at a time, and a visit has room for one.
func (day *dayRows) checkFlush(c *cut) {
	switch {
	case c.flush == "":
	case day.flush == nil:
		day.flush = c
	case day.flush.flush != c.flush:
		c.row.refuse("flush", "%s contradicts line %d, which says %s for the same day and the same plant "+
			"or bed: correct one of the two", c.flush, day.flush.row.line, day.flush.flush)
	}
}

// visitOf is the visit of the row's grader, made where it is not there yet.
func (day *dayRows) visitOf(c *cut, b *visitBook) *crop.Visit {
	for _, v := range day.visits {
		if v.Person == c.grader {
			return v
		}
	}
	v := c.newVisit(c.id())
	day.visits = append(day.visits, v)
	b.visits = append(b.visits, v)
	return v
}

// add puts a row into its visit. Counts keep the order of the rows.
func (b *visitBook) add(c *cut, v *crop.Visit) {
	key := cellKey{visit: v, colour: c.count.Colour, grade: c.count.Grade, length: c.count.Length}
	at, repeated := b.cells[key]
	if !repeated {
		b.cells[key] = len(v.Counts)
		v.Counts = append(v.Counts, c.count)
		return
	}
	b.summed++
	v.Counts[at].Stems += c.count.Stems
	c.checkSum(v.Counts[at].Stems)
}

// newVisit is the visit of a row, still without counts.
func (c *cut) newVisit(id crop.VisitID) *crop.Visit {
	v := &crop.Visit{ID: id, Bed: c.bed, Date: c.date, Person: c.grader, Flush: c.flush}
	if c.bench {
		v.Purpose = crop.PurposeBench
		v.Planting, v.Age = c.narrowing()
		return v
	}
	v.Purpose, v.Plant = crop.PurposeCut, c.plant.id
	return v
}

// checkSum holds what several rows give together to the limit of one, since they become one cell,
// which the rest of Corymb would refuse.
func (c *cut) checkSum(stems int) {
	most := crop.MostStems
	if c.bench {
		most = crop.MostBenchStems
	}
	if stems > most {
		c.row.refuse("stems", "with earlier rows of the same day, plant or bed, grade and length this "+
			"makes %d, which looks like a slip: the largest number taken is %d", stems, most)
	}
}
