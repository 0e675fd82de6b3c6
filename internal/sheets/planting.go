package sheets

import (
	"strings"

	"corymb/internal/crop"
)

// planting is the plants that share stock, bed and date of planting.
type planting struct {
	crop.Planting
	told     crop.Season // what the column first_season says, or 0
	toldLine int
	set      crop.Season // the season of planting
	unsure   bool        // its rows contradict each other, so that no age can be checked
	ageOne   bool        // cuts say age 1 in the season of planting
}

// addToPlanting puts a plant into its planting, and compares what both say of the first season. A
// row that does not tell it takes what its planting's other rows tell.
func (l *plantList) addToPlanting(p *plantRow) {
	if p.stock == "" || p.bed == "" || p.planted == "" {
		return
	}
	id := crop.PlantingID(join(string(p.stock), string(p.bed), string(p.planted)))
	g := l.plantings[id]
	if g == nil {
		g = &planting{Planting: crop.Planting{ID: id, Stock: p.stock, Bed: p.bed, Planted: p.planted}}
		l.plantings[id] = g
		l.byBed[p.bed] = append(l.byBed[p.bed], g)
	}
	p.planting = g
	switch {
	case p.firstSeason == 0 || p.firstSeason == g.told:
	case g.told == 0:
		g.told, g.toldLine = p.firstSeason, p.row.line
	default:
		p.row.refuse("first_season", "%d contradicts line %d, which says %d for the same stock, bed and "+
			"planting date: give all plants of one planting the same first season",
			p.firstSeason, g.toldLine, g.told)
		g.unsure = true
	}
}

// settleFirstSeasons fixes each planting's first season: as told, else the season of planting where
// its cuts say age 1 in it, else the season after. Cuts that then have another age are reported by
// checkTimes: one of the two is wrong, and nobody but the grower knows which.
func (l *plantList) settleFirstSeasons(cuts []*cut, calendar crop.Calendar) {
	for _, g := range l.plantings {
		g.set = calendar.SeasonOf(g.Planted)
	}
	for _, c := range cuts {
		if g := c.onlyPlanting(); g != nil && c.age == 1 && c.season == g.set && c.date >= g.Planted {
			g.ageOne = true
		}
	}
	for _, g := range l.plantings {
		g.settle()
	}
	// Found before any of them is settled anew, so that the order of the rows does not matter.
	var young []*planting
	for _, c := range cuts {
		young = append(young, c.setThatSeason()...)
	}
	for _, g := range young {
		g.ageOne = true
		g.settle()
	}
}

func (g *planting) settle() {
	switch {
	case g.told != 0:
		g.FirstSeason = g.told
	case g.ageOne:
		g.FirstSeason = g.set
	default:
		g.FirstSeason = g.set + 1
	}
}

// setThatSeason is of which plantings a bench total of age 1 must be that can be of several, where
// none of them is in its first season by any other row: those set earliest in the season of the
// total, since they are the likeliest to have bloomed.
func (c *cut) setThatSeason() []*planting {
	if c.age != 1 || len(c.plantings) < 2 {
		return nil
	}
	var found []*planting
	for _, g := range c.plantings {
		switch {
		case g.unsure || g.FirstSeason == c.season:
			return nil
		case g.told != 0 || g.set != c.season:
		case len(found) == 0 || g.Planted < found[0].Planted:
			found = []*planting{g}
		case g.Planted == found[0].Planted:
			found = append(found, g)
		}
	}
	return found
}

// escape keeps "a|b" beside "c" apart from "a" beside "b|c".
var escape = strings.NewReplacer(`\`, `\\`, `|`, `\|`)

// join makes one id of the words that tell a thing from all others of its kind. Like visits' ids,
// those of plantings must not change from one version to the next.
func join(words ...string) string {
	for i, w := range words {
		words[i] = escape.Replace(w)
	}
	return strings.Join(words, "|")
}
