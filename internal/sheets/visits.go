package sheets

import (
	"strconv"

	"corymb/internal/crop"
)

// visitBook gathers the rows of cuts into visits.
type visitBook struct {
	visits  map[crop.VisitID]*crop.Visit
	cells   map[cellKey]int // where in its visit each cell of counts stands
	flushes map[string]*cut // the first row of each plant-day or bed-day
	summed  int
}

// cellKey tells one count of one visit from all others.
type cellKey struct {
	visit  crop.VisitID
	colour crop.ColourID
	grade  crop.Grade
	length crop.LengthClass
}

// gatherVisits makes one visit of the rows that share plant (or bed and what narrows it), date and
// grader. Rows of one cell are added up; summed says how many there were beyond the first.
func gatherVisits(cuts []*cut) (visits map[crop.VisitID]*crop.Visit, summed int) {
	b := visitBook{
		visits:  map[crop.VisitID]*crop.Visit{},
		cells:   map[cellKey]int{},
		flushes: map[string]*cut{},
	}
	for _, c := range cuts {
		if c.date == "" || len(c.plantings) == 0 {
			continue // refused already
		}
		b.checkFlush(c)
		b.add(c)
	}
	return b.visits, b.summed
}

// place names what was cut: a plant, or a bed with what narrows it. Visit ids begin with it; they
// must stay as they are, or a second import of the same file would double every visit.
func (c *cut) place() []string {
	if !c.bench {
		return []string{string(crop.PurposeCut), string(c.bed), string(c.plant.id)}
	}
	id, age := c.narrowing()
	return []string{string(crop.PurposeBench), string(c.bed), string(id), strconv.Itoa(age)}
}

// narrowing is the planting and age of a bench total; empty and 0 where it is of the whole bed.
func (c *cut) narrowing() (crop.PlantingID, int) {
	if c.narrowedBy() == "" {
		return "", c.age
	}
	return c.plantings[0].ID, c.age
}

// checkFlush reports a second flush for one place on one day, whoever graded: a plant is in one wave
// of bloom at a time, and a visit has room for one.
func (b *visitBook) checkFlush(c *cut) {
	day := join(append(c.place(), string(c.date))...)
	first := b.flushes[day]
	switch {
	case c.flush == "":
	case first == nil:
		b.flushes[day] = c
	case first.flush != c.flush:
		c.row.refuse("flush", "%s contradicts line %d, which says %s for the same day and the same plant "+
			"or bed: correct one of the two", c.flush, first.row.line, first.flush)
	}
}

// add puts a row into its visit. Counts keep the order of the rows.
func (b *visitBook) add(c *cut) {
	id := crop.VisitID(join(append(c.place(), string(c.date), string(c.grader))...))
	v := b.visits[id]
	if v == nil {
		v = c.newVisit(id)
		b.visits[id] = v
	}
	key := cellKey{visit: id, colour: c.count.Colour, grade: c.count.Grade, length: c.count.Length}
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
