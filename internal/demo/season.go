package demo

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
)

// wave is one flush of one bed: when it opens and on which days it is cut.
type wave struct {
	flush crop.Flush
	opens crop.Date
	days  int
	every int
}

// liveThroughSeasons cuts every bed through every season and keeps what was counted of it.
func (g *grower) liveThroughSeasons() {
	first, last := firstSeason+crop.Season(g.later), lastSeason+crop.Season(g.later)
	for s := first; s <= last; s++ {
		for _, bed := range g.bedsInOrder() {
			if grown := g.growingIn(bed, s); len(grown) > 0 {
				g.cutBed(bed, s, grown)
			}
		}
	}
}

// bedsInOrder lists the beds as the scenario does.
func (g *grower) bedsInOrder() []crop.BedID {
	var ids []crop.BedID
	for _, p := range plots {
		for id, bed := range g.farm.Beds {
			if bed.Name == p.bed && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	return ids
}

func (g *grower) growingIn(bed crop.BedID, s crop.Season) []crop.PlantID {
	opens := crop.Date(fmt.Sprintf("%d-05-01", s))
	var grown []crop.PlantID
	for _, id := range g.standing {
		plant := g.farm.Plants[id]
		planting := g.farm.Plantings[plant.Planting]
		there := planting.AgeIn(s) >= 1 && (plant.Removed == "" || plant.Removed > opens)
		if planting.Bed == bed && there {
			grown = append(grown, id)
		}
	}
	return grown
}

// wavesOf gives a bed's two flushes and notes the day on which it was cut back between them.
func (g *grower) wavesOf(bed crop.BedID, s crop.Season, h *habit) []wave {
	opens := crop.Date(fmt.Sprintf("%d-%s", s, h.opens)).Add(g.weather(s).late + g.rnd.IntN(5) - 2)
	spring := wave{crop.FlushSpring, opens, 33, 3}
	back := opens.Add(spring.days + 4)
	g.farm.Beds[bed].CutBack[s] = back
	return []wave{spring, {crop.FlushFall, back.Add(46), 24, 4}}
}

// bunched is what lies on the bench from one bed on one day.
type bunched map[crop.Count]int

// cutBed grows every plant's stems of a season and hands them to the days on which they were cut.
func (g *grower) cutBed(bed crop.BedID, s crop.Season, grown []crop.PlantID) {
	waves := g.wavesOf(bed, s, g.habitOf(grown[0]))
	bench := map[crop.Date]bunched{}
	flushOf := map[crop.Date]crop.Flush{}
	days := cutDays(waves, flushOf)
	bedRate := g.rnd.NormFloat64() * .1
	for _, id := range grown {
		byDay := g.growPlant(id, s, bedRate, waves)
		for day, counts := range byDay {
			addTo(bench, day, g.farm.Plants[id].Colour, counts)
		}
		if window, counted := g.farm.Plants[id].Counted[s]; counted {
			g.countPlant(id, window, days, flushOf, byDay)
		}
	}
	g.benchTotals(bed, bench, flushOf)
}

func cutDays(waves []wave, flushOf map[crop.Date]crop.Flush) []crop.Date {
	var days []crop.Date
	for _, w := range waves {
		for d := 0; d <= w.days; d += w.every {
			day := w.opens.Add(d)
			days = append(days, day)
			flushOf[day] = w.flush
		}
	}
	return days
}

func addTo(bench map[crop.Date]bunched, day crop.Date, colour crop.ColourID, counts []crop.Count) {
	if bench[day] == nil {
		bench[day] = bunched{}
	}
	for _, c := range counts {
		c.Colour, c.Stems = colour, 0
		bench[day][c]++
	}
}

func (g *grower) habitOf(id crop.PlantID) *habit {
	stock := g.farm.Stocks[g.farm.Plantings[g.farm.Plants[id].Planting].Stock]
	for i := range plots {
		if plots[i].stock == stock.Name {
			return plots[i].habit
		}
	}
	panic("demo: a plant of no plot") // every stock comes from a plot
}

// growPlant draws a plant's stems of a season, one Count of one stem each, by the day of their cut.
func (g *grower) growPlant(id crop.PlantID, s crop.Season, bedRate float64, waves []wave) map[crop.Date][]crop.Count {
	h := g.habitOf(id)
	age := g.farm.Plantings[g.farm.Plants[id].Planting].AgeIn(s)
	rate := atAge(h.stems, age) * g.weather(s).stems * math.Exp(g.vigour[id]+bedRate-h.spread*h.spread/2)
	rate = distuv.Gamma{Alpha: h.size, Beta: h.size / rate, Src: g.rnd}.Rand()
	quality := atAge(h.quality, age) + .5*g.rnd.NormFloat64()
	byDay := map[crop.Date][]crop.Count{}
	for range int(distuv.Poisson{Lambda: rate, Src: g.rnd}.Rand()) {
		w := waves[0]
		if g.rnd.Float64() < h.fall {
			w = waves[1]
		}
		day := g.cutDay(w)
		byDay[day] = append(byDay[day], g.drawStem(h, age, quality, w.flush))
	}
	return byDay
}

func atAge(byAge []float64, age int) float64 { return byAge[min(age, len(byAge))-1] }

// cutDay draws when a stem opens, the third of five weeks heaviest, and gives the next cut.
func (g *grower) cutDay(w wave) crop.Date {
	share := distuv.Beta{Alpha: 2.6, Beta: 2.6, Src: g.rnd}.Rand()
	cut := int(math.Ceil(share * float64(w.days) / float64(w.every)))
	return w.opens.Add(min(cut*w.every, w.days-w.days%w.every))
}

// drawStem draws a stem's grade from a cumulative logit and its length from a normal.
func (g *grower) drawStem(h *habit, age int, quality float64, f crop.Flush) crop.Count {
	mean := atAge(h.length, age)
	if f == crop.FlushFall {
		quality -= .6
		mean -= 60
	}
	length := max(mean+70*g.rnd.NormFloat64(), 100)
	u := g.rnd.Float64()
	logit := quality + math.Log(u/(1-u))
	grade := crop.GradeOut
	for i, threshold := range []float64{-2.4, -1.0, .5} {
		if logit > threshold {
			grade = crop.GradesLowToHigh[i+1]
		}
	}
	return crop.Count{Grade: grade, Length: crop.TenCentimetres(int(length/100) * 10), Stems: 1}
}

// countPlant keeps what the row counted of a plant: usually one number, sometimes every head.
func (g *grower) countPlant(id crop.PlantID, window crop.Window, days []crop.Date, flushOf map[crop.Date]crop.Flush, byDay map[crop.Date][]crop.Count) {
	by := g.names[people[g.rnd.IntN(benchHand)]]
	for _, day := range days {
		if !window.Holds(day) {
			continue
		}
		v := crop.Visit{Plant: id, Date: day, Person: by, Flush: flushOf[day], Purpose: crop.PurposeCut}
		stems := byDay[day]
		switch {
		case len(stems) == 0 && g.rnd.Float64() > .15:
			continue // nobody says so every time; the window makes the silence count
		case len(stems) == 0:
			v.Purpose = crop.PurposeNothingHere
		case g.rnd.Float64() < .4:
			v.Counts = stems
		default:
			v.Counts = []crop.Count{{Stems: len(stems)}}
		}
		g.cuts = append(g.cuts, v)
	}
}

func (g *grower) benchTotals(bed crop.BedID, bench map[crop.Date]bunched, flushOf map[crop.Date]crop.Flush) {
	for _, day := range slices.Sorted(maps.Keys(bench)) {
		v := crop.Visit{
			Bed: bed, Date: day, Purpose: crop.PurposeBench, Person: g.names[people[benchHand]], Flush: flushOf[day],
		}
		for c, stems := range bench[day] {
			c.Stems = stems
			v.Counts = append(v.Counts, c)
		}
		g.cuts = append(g.cuts, v)
	}
}
