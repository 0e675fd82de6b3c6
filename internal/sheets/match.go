package sheets

import (
	"maps"
	"slices"

	"corymb/internal/crop"
)

// match finds the plant or the plantings that a row of cuts is of, and reports what disagrees. Where
// rows of the plants were lost, an unknown plant or bed is not the cut's fault and is passed over.
func (l *plantList) match(c *cut) {
	if c.bench {
		l.matchBench(c)
		return
	}
	id := crop.PlantID(c.row.cell("plant"))
	c.plant = l.byID[id]
	if c.plant == nil && l.complete {
		c.row.refuse("plant", "plant %s is not in %s: add it there, or correct this row",
			quote(string(id)), l.name)
	}
	if c.plant == nil {
		return
	}
	if c.plant.planting != nil {
		c.plantings = []*planting{c.plant.planting}
	}
	l.agree(c, "stock", string(c.stock), string(c.plant.stock))
	l.agree(c, "bed", string(c.bed), string(c.plant.bed))
	l.agree(c, "planted", string(c.planted), string(c.plant.planted))
}

// agree compares what a plant's two rows say; what either leaves out was reported by its reader.
func (l *plantList) agree(c *cut, column, here, there string) {
	if here == "" || there == "" || here == there {
		return
	}
	c.row.refuse(column, "%s is not what %s line %d says of plant %s (%s): make the two agree",
		quote(here), l.name, c.plant.row.line, quote(string(c.plant.id)), quote(there))
}

// matchBench keeps the plantings of the bed that have the stock and date of planting, where told. A
// bed of which no plant is known is refused: more likely its name is misspelt than that all of it
// was forgotten, and stems without plants behind them would say nothing.
func (l *plantList) matchBench(c *cut) {
	if c.bed == "" {
		return
	}
	inBed := l.byBed[c.bed]
	if len(inBed) == 0 && l.complete {
		c.row.refuse("bed", "bed %s has no plant in %s, where the beds are %s: correct the bed, or add "+
			"its plants there", quote(string(c.bed)), l.name, someOf(slices.Sorted(maps.Keys(l.byBed))))
	}
	if len(inBed) == 0 {
		return
	}
	for _, g := range inBed {
		if (c.stock == "" || c.stock == g.Stock) && (c.planted == "" || c.planted == g.Planted) {
			c.plantings = append(c.plantings, g)
		}
	}
	if len(c.plantings) == 0 {
		c.row.refuse(c.narrowedBy(), "bed %s has no such planting in %s: correct stock and planted, or "+
			"leave them empty for the whole bed", quote(string(c.bed)), l.name)
		return
	}
	// A later planting cannot have given these stems, so it does not make the row ambiguous.
	c.keep(func(g *planting) bool { return g.Planted <= c.date })
	if len(c.plantings) == 0 && c.date != "" {
		c.row.refuse("date", "%s is before anything was planted there: correct the date or the bed", c.date)
	}
}

// keep drops the plantings of which the stems cannot be.
func (c *cut) keep(fits func(*planting) bool) {
	c.plantings = slices.DeleteFunc(c.plantings, func(g *planting) bool { return !fits(g) })
}

// narrowedBy is the column that says of which planting a bench total is, or empty.
func (c *cut) narrowedBy() string {
	switch {
	case c.stock != "":
		return "stock"
	case c.planted != "":
		return "planted"
	}
	return ""
}

// checkTimes reports a row whose date or age cannot be, once the first seasons are known.
func (l *plantList) checkTimes(c *cut) {
	switch {
	case c.date == "" || len(c.plantings) == 0:
	case c.bench:
		l.checkBenchTimes(c)
	default:
		l.checkPlantTimes(c)
	}
}

// checkPlantTimes reports one thing a row: an age says nothing where the date is wrong already.
func (l *plantList) checkPlantTimes(c *cut) {
	g := c.plant.planting
	if c.date < g.Planted {
		c.row.refuse("date", "%s is before plant %s was planted (%s): correct one of the two",
			c.date, quote(string(c.plant.id)), g.Planted)
		return
	}
	if c.plant.removed != "" && c.date > c.plant.removed {
		c.row.refuse("date", "%s is after plant %s was removed (%s): correct one of the two",
			c.date, quote(string(c.plant.id)), c.plant.removed)
		return
	}
	if right := g.AgeIn(c.season); c.age != 0 && c.age != right && !g.unsure {
		c.refuseAge(g, right)
	}
}

// refuseAge names the column first_season as the way out, since the first season is often only
// derived and then the age may be what is right.
func (c *cut) refuseAge(g *planting, right int) {
	if right < 1 {
		c.row.refuse("age", "season %d is before the first season of this planting, %d: if it was in "+
			"bloom already, say so in a column first_season of the plants", c.season, g.FirstSeason)
		return
	}
	c.row.refuse("age", "%d should be %d, since the first season of this planting is %d: correct the "+
		"age, or say otherwise in a column first_season of the plants", c.age, right, g.FirstSeason)
}

// checkBenchTimes narrows the plantings to those that have had their first season and are of the
// age told. A row that names stock or planted must come down to one age, which it takes.
func (l *plantList) checkBenchTimes(c *cut) {
	if slices.ContainsFunc(c.plantings, func(g *planting) bool { return g.unsure }) {
		return
	}
	one, only := c.plantings[0], len(c.plantings) == 1
	c.keep(func(g *planting) bool {
		age := g.AgeIn(c.season)
		return age >= 1 && (c.age == 0 || c.age == age)
	})
	switch {
	case len(c.plantings) == 0 && only:
		c.refuseAge(one, one.AgeIn(c.season))
	case len(c.plantings) == 0 && c.age == 0:
		c.row.refuse("date", "season %d is before the first season of all plantings of bed %s: say "+
			"otherwise in a column first_season of the plants", c.season, quote(string(c.bed)))
	case len(c.plantings) == 0:
		c.row.refuse("age", "no planting of bed %s is of age %d in season %d: correct the age, or leave "+
			"it empty for the whole bed", quote(string(c.bed)), c.age, c.season)
	case c.narrowedBy() == "":
	case c.shareAge():
		c.age = c.plantings[0].AgeIn(c.season)
	default:
		c.row.refuse(c.narrowedBy(), "bed %s has %d plantings of different ages that fit this row: fill in "+
			"the age, or both stock and planted, or none of them for the whole bed", quote(string(c.bed)), len(c.plantings))
	}
}

// shareAge tells whether all plantings that the row can be of are of one age.
func (c *cut) shareAge() bool {
	return !slices.ContainsFunc(c.plantings, func(g *planting) bool {
		return g.FirstSeason != c.plantings[0].FirstSeason
	})
}
