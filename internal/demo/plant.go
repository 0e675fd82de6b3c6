package demo

import (
	"fmt"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/tags"
)

func (g *grower) people() {
	g.farm.Name, g.farm.MadeUp = "Hedgelark Corner", true
	g.names = map[string]crop.PersonID{}
	for _, name := range people {
		id := crop.PersonID(g.id())
		g.names[name] = id
		g.farm.People[id] = crop.Person{ID: id, Name: name}
	}
	g.colours = map[string]crop.ColourID{}
	for _, c := range slices.Concat(yarrowColours, phloxColours) {
		id := crop.ColourID(g.id())
		g.colours[c.name] = id
		g.farm.Colours[id] = crop.Colour{ID: id, Name: c.name, Swatch: c.swatch}
	}
}

func (g *grower) plantAll() {
	g.vigour = map[crop.PlantID]float64{}
	n := 0
	for _, p := range plots {
		n += p.lines * p.number
	}
	g.codes = codes(n + seedlings)
	for i := range plots {
		g.plantPlot(&plots[i])
	}
}

func (g *grower) plantPlot(p *plot) {
	bed := g.bedNamed(p)
	stock := g.stockNamed(p)
	first := p.first + crop.Season(g.later)
	planting := crop.Planting{
		ID: crop.PlantingID(g.id()), Stock: stock, Bed: bed,
		Planted: yearsOn(p.planted, g.later), FirstSeason: first,
	}
	g.farm.Plantings[planting.ID] = planting
	mothers := g.standingOf(p.species, planting.Planted)
	counted := g.chosen(p.lines*p.number, p.counted)
	firstLine := g.farm.Beds[bed].Lines - p.lines
	for i := range p.lines * p.number {
		plant := crop.Plant{
			ID: crop.PlantID(g.id()), Code: g.codes[len(g.standing)], Planting: planting.ID,
			Line: firstLine + i/p.number + 1, Number: i%p.number + 1,
			Counted: map[crop.Season]crop.Window{},
		}
		plant.Colour = g.drawColour(p.habit.colours)
		g.vigour[plant.ID] = g.rnd.NormFloat64() * p.habit.spread
		if p.divided {
			mother := mothers[g.rnd.IntN(len(mothers))]
			plant.Parents = []crop.PlantID{mother}
			plant.Colour = g.farm.Plants[mother].Colour
			g.vigour[plant.ID] = .6*g.vigour[mother] + .8*g.vigour[plant.ID]
		}
		plant.Removed = g.drawRemoval(planting)
		if counted[i] {
			g.markCounted(&plant, first, p.habit)
		}
		g.farm.Plants[plant.ID] = plant
		g.standing = append(g.standing, plant.ID)
	}
}

// markCounted declares the windows of the seasons that are over, up to the end of October, and that
// of the next, which waits to be counted. The phlox of the last season stays open to the year's end,
// so that there is something to count in winter too.
func (g *grower) markCounted(p *crop.Plant, first crop.Season, h *habit) {
	last := lastSeason + crop.Season(g.later)
	for s := first; s <= last+1; s++ {
		end := "10-31"
		if s > last || s == last && h == &phlox {
			end = "12-31"
		}
		p.Counted[s] = crop.Window{
			From: crop.Date(fmt.Sprintf("%d-01-01", s)), To: crop.Date(fmt.Sprintf("%d-%s", s, end)),
		}
	}
}

func yearsOn(d crop.Date, years int) crop.Date {
	return crop.Date(fmt.Sprintf("%04d", d.Year()+years) + string(d)[4:])
}

func (g *grower) weather(s crop.Season) weather { return weathers[s-crop.Season(g.later)] }

func (g *grower) bedNamed(p *plot) crop.BedID {
	for id, bed := range g.farm.Beds {
		if bed.Name == p.bed {
			bed.Lines += p.lines
			g.farm.Beds[id] = bed
			return id
		}
	}
	id := crop.BedID(g.id())
	g.farm.Beds[id] = crop.Bed{
		ID: id, Name: p.bed, Length: p.length, Width: p.width, Lines: p.lines,
		CutBack: map[crop.Season]crop.Date{},
	}
	return id
}

func (g *grower) stockNamed(p *plot) crop.StockID {
	for id, stock := range g.farm.Stocks {
		if stock.Name == p.stock {
			return id
		}
	}
	id := crop.StockID(g.id())
	g.farm.Stocks[id] = crop.Stock{
		ID: id, Name: p.stock, Species: p.species, Origin: p.origin, Protected: p.protected,
	}
	return id
}

// standingOf lists the plants of a species that stood on a day and may be divided.
func (g *grower) standingOf(species string, day crop.Date) []crop.PlantID {
	var found []crop.PlantID
	for _, id := range g.standing {
		plant := g.farm.Plants[id]
		stock := g.farm.Stocks[g.farm.Plantings[plant.Planting].Stock]
		gone := plant.Removed != "" && plant.Removed <= day
		if stock.Species == species && !gone {
			found = append(found, id)
		}
	}
	return found
}

// chosen marks k of n at random.
func (g *grower) chosen(n, k int) []bool {
	marks := make([]bool, n)
	for _, i := range g.rnd.Perm(n)[:k] {
		marks[i] = true
	}
	return marks
}

func (g *grower) drawColour(colours []class) crop.ColourID {
	u := g.rnd.Float64()
	for _, c := range colours {
		if u < c.share {
			return g.colours[c.name]
		}
		u -= c.share
	}
	return g.colours[colours[len(colours)-1].name]
}

// drawRemoval lets a few plants die each winter, most of them in the first.
func (g *grower) drawRemoval(p crop.Planting) crop.Date {
	risk := .05
	for s := p.FirstSeason; s <= lastSeason+crop.Season(g.later); s++ {
		if g.rnd.Float64() < risk {
			day := crop.Date(fmt.Sprintf("%d-03-%02d", s, 1+g.rnd.IntN(28)))
			return max(day, p.Planted.Add(20))
		}
		risk = .025
	}
	return ""
}

// codes are those of the made-up farm's plants, in planting order: blocks that its server does not happen to
// give out first, and phones pass over codes that plants have.
func codes(n int) []string {
	var all []string
	for block := 0; len(all) < n; block++ {
		more, err := tags.Codes(block)
		if err != nil {
			panic(err) // there are six million codes
		}
		all = append(all, more...)
	}
	return all[:n]
}
