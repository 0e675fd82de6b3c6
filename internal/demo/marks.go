package demo

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
)

// mark is what somebody wrote down of a plant or a bed on a day.
type mark struct {
	day   crop.Date
	facts []changelog.Fact
	by    int // in people
}

func (g *grower) mark(day crop.Date, facts []changelog.Fact) {
	g.markBy(day, 0, facts)
}

// markBy is a mark of somebody in people.
func (g *grower) markBy(day crop.Date, by int, facts []changelog.Fact) {
	g.marks = append(g.marks, mark{day: day, facts: facts, by: by})
}

// walkAndMark is what was seen by eye: colours in every season, who came through the last winter, flags,
// seedlings, and what was done to the beds. It draws from a source of its own.
func (g *grower) walkAndMark() {
	rnd := rand.New(rand.NewPCG(seed, 2))
	g.seeColours(rnd)
	g.standWalk(rnd)
	g.flagBest()
	g.flagTroubles(rnd)
	g.findSeedlings(rnd)
	g.tendBeds()
}

func (g *grower) seasons() (first, last crop.Season) {
	return firstSeason + crop.Season(g.later), lastSeason + crop.Season(g.later)
}

// onDay is a day of the scenario's calendar in a season.
func onDay(s crop.Season, monthDay string) crop.Date {
	return crop.Date(fmt.Sprintf("%d-%s", s, monthDay))
}

// seeColours tells each plant's colour class in every season that it bloomed in; in the last, of two beds: there a
// few lost theirs, and the other beds wait for their colour walk.
func (g *grower) seeColours(rnd *rand.Rand) {
	first, last := g.seasons()
	for s := first; s <= last; s++ {
		for _, bed := range g.bedsInOrder() {
			if name := g.farm.Beds[bed].Name; s == last && name != plots[0].bed && name != plots[2].bed {
				continue
			}
			for _, id := range g.growingIn(bed, s) {
				p := g.farm.Plants[id]
				day := onDay(s, "06-05").Add(rnd.IntN(6))
				seen := p.Colour
				old := g.farm.Plantings[p.Planting].AgeIn(s) >= 3
				if pale := g.colours["oyster"]; old && s == last && p.Colour == g.colours["garnet"] && rnd.Float64() < .5 {
					seen = pale
					g.mark(day, farm.FlagFacts(id, "colour_off", day, g.owner()))
				}
				g.mark(day, farm.ColourSeenFacts(id, s, day, seen))
			}
		}
	}
}

// standWalk rates every plant in the last spring, but in the last two beds, which were left for another day.
func (g *grower) standWalk(rnd *rand.Rand) {
	_, last := g.seasons()
	beds := g.bedsInOrder()
	day := onDay(last, "04-02")
	for _, bed := range beds[:len(beds)-2] {
		for _, id := range g.growingIn(bed, last) {
			found := "alive"
			if rnd.Float64() < .06 {
				found = "weak"
			}
			g.mark(day, farm.StandFacts(id, last, day, found))
		}
	}
}

// flagBest keeps the plants that gave most as mother plants, and wants some of them divided.
func (g *grower) flagBest() {
	_, last := g.seasons()
	best := slices.DeleteFunc(g.standingOf(yarrowName, onDay(last, "10-01")), g.isProtected)
	slices.SortStableFunc(best, func(a, b crop.PlantID) int { return cmp.Compare(g.vigour[b], g.vigour[a]) })
	for i, id := range best[:8] {
		day := onDay(last, "07-14").Add(i % 3)
		g.mark(day, farm.FlagFacts(id, "mother", day, g.owner()))
		if i < 3 {
			g.mark(day, farm.FlagFacts(id, "divide", day, g.owner()))
		}
	}
	day := onDay(last, "07-20")
	g.mark(day, farm.NoteFacts(best[0], day, g.owner(), "Stiff stems after the storm, when its neighbours lay flat."))
}

func (g *grower) isProtected(id crop.PlantID) bool {
	return g.farm.Stocks[g.farm.Plantings[g.farm.Plants[id].Planting].Stock].Protected
}

// flagTroubles flags some of the oldest, of which a few were seen to since.
func (g *grower) flagTroubles(rnd *rand.Rand) {
	_, last := g.seasons()
	old := g.growingIn(g.bedsInOrder()[0], last)
	kinds := []string{"open_centre", "open_centre", "leaning", "disease", "lift"}
	for i := range 14 {
		id, kind, day := old[rnd.IntN(len(old))], kinds[i%len(kinds)], onDay(last, "06-20").Add(rnd.IntN(30))
		g.mark(day, farm.FlagFacts(id, kind, day, g.owner()))
		if kind == "leaning" {
			g.mark(day.Add(9), farm.FlagClearedFacts(id, kind, day, g.owner()))
		}
	}
}

// findSeedlings enters a few that nobody planted, at the feet of old plants.
func (g *grower) findSeedlings(rnd *rand.Rand) {
	_, last := g.seasons()
	bed := g.bedsInOrder()[0]
	old := g.growingIn(bed, last)
	from := g.farm.Stocks[g.farm.Plantings[g.farm.Plants[old[0]].Planting].Stock]
	stock := crop.Stock{ID: crop.StockID(g.id()), Name: from.Name + ", self-sown", Species: from.Species, Origin: crop.OriginSelfSown, From: from.ID}
	g.farm.Stocks[stock.ID] = stock
	planting := crop.Planting{ID: crop.PlantingID(g.id()), Stock: stock.ID, Bed: bed, Planted: onDay(last, "08-20"), FirstSeason: last + 1}
	g.farm.Plantings[planting.ID] = planting
	for i := range seedlings {
		p := crop.Plant{
			ID: crop.PlantID(g.id()), Code: g.codes[len(g.codes)-1-i], Planting: planting.ID, Counted: map[crop.Season]crop.Window{},
		}
		g.farm.Plants[p.ID] = p
		neighbour := old[rnd.IntN(len(old))]
		g.mark(planting.Planted, farm.BesideFacts(p.ID, neighbour))
		g.mark(planting.Planted, farm.FlagFacts(neighbour, "self_sown", planting.Planted, g.owner()))
	}
}

// tendBeds corrals before stems lean, feeds once, waters in the dry weeks and deadheads.
func (g *grower) tendBeds() {
	first, last := g.seasons()
	for s := first; s <= last; s++ {
		for _, bed := range g.bedsInOrder() {
			if len(g.growingIn(bed, s)) == 0 {
				continue
			}
			tell := func(kind, monthDay, what string) {
				day := onDay(s, monthDay)
				g.mark(day, farm.EventFacts(g.id(), bed, kind, day, g.owner(), what))
			}
			tell("corralled", "04-28", "two rounds of twine")
			tell("fed", "04-12", "compost, a hand's breadth")
			tell("watered", "06-18", "drip, two hours")
			tell("deadheaded", "09-30", "")
		}
	}
}

func (g *grower) owner() crop.PersonID { return g.names[people[0]] }
