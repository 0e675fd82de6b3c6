package forecast

import (
	"maps"
	"slices"

	"corymb/internal/crop"
)

// Stems are told apart by grade given the species and the age of the plant, by length given the grade, and by colour by which plants bore
// them: a plant's colour class is known, or it is one of its stock's. All of it also by flush and season.

const grades = 4 // as in crop.GradesLowToHigh

// anyGrade is the kind of stems whose length was told and whose grade was not.
const anyGrade = -1

// mostLengths bounds the classes of length: what rules of bunches ask for stays, of what counts tell apart the rarest go.
const mostLengths = 6

// classes are what stems are told apart by.
type classes struct {
	colours []crop.ColourID    // by id, untold last
	lengths []crop.Millimetres // lower edges, from the shortest, the first 0
	stocks  []crop.StockID     // by id; the kinds of byColour
	species []string           // by name
	byGrade tallies            // its kinds are species and ages
	byLen   tallies            // its kinds are grades
	byCol   tallies            // its kinds are stocks, its classes all colours but the untold one
	ofPlant map[crop.PlantID]crop.ColourID
	// standing are the plants of a known class that stand in the season, by stock and colour.
	standing map[crop.StockID][]float64
}

// newClasses reads what the visits tell, in the order of their days.
func (r *records) newClasses(visits []crop.Visit) *classes {
	c := &classes{standing: map[crop.StockID][]float64{}, stocks: slices.Sorted(maps.Keys(r.farm.Stocks))}
	for _, stock := range r.farm.Stocks {
		c.species = append(c.species, stock.Species)
	}
	slices.Sort(c.species)
	c.species = slices.Compact(c.species)
	c.ofPlant = r.coloursOfPlants(visits)
	c.colours = r.coloursKnown(c.ofPlant, visits)
	c.lengths = lengthEdges(r.farm, visits)
	c.byGrade.classes, c.byLen.classes, c.byCol.classes = grades, len(c.lengths), len(c.colours)-1
	for _, plant := range r.farm.Plants {
		colour := c.ofPlant[plant.ID]
		if colour == "" || plant.Removed != "" {
			continue
		}
		stock := r.farm.Plantings[plant.Planting].Stock
		if c.standing[stock] == nil {
			c.standing[stock] = make([]float64, c.byCol.classes)
		}
		c.standing[stock][slices.Index(c.colours, colour)]++
	}
	return c
}

// coloursOfPlants are the plants' classes: the latest that was seen, else that of most of their stems.
func (r *records) coloursOfPlants(visits []crop.Visit) map[crop.PlantID]crop.ColourID {
	of := map[crop.PlantID]crop.ColourID{}
	most := map[crop.PlantID]map[crop.ColourID]int{}
	for id, plant := range r.farm.Plants {
		if plant.Colour != "" {
			of[id] = plant.Colour
		}
	}
	for _, v := range visits {
		for _, count := range v.Counts {
			if v.Plant == "" || count.Colour == "" || of[v.Plant] != "" {
				continue
			}
			if most[v.Plant] == nil {
				most[v.Plant] = map[crop.ColourID]int{}
			}
			most[v.Plant][count.Colour] += count.Stems
		}
	}
	for id, stems := range most {
		for _, colour := range sortedKeys(stems) {
			if of[id] == "" || stems[colour] > stems[of[id]] {
				of[id] = colour
			}
		}
	}
	return of
}

// coloursKnown are the classes of plants that stand and those told of whole beds, and last the untold one.
func (r *records) coloursKnown(ofPlant map[crop.PlantID]crop.ColourID, visits []crop.Visit) []crop.ColourID {
	found := map[crop.ColourID]bool{}
	for id, colour := range ofPlant {
		if r.farm.Plants[id].Removed == "" {
			found[colour] = true
		}
	}
	for _, v := range visits {
		for _, count := range v.Counts {
			if v.Plant == "" && count.Stems > 0 {
				found[count.Colour] = true
			}
		}
	}
	delete(found, "")
	return append(sortedKeys(found), "")
}

// lengthEdges are the lengths at which stems are told apart.
func lengthEdges(farm crop.Farm, visits []crop.Visit) []crop.Millimetres {
	edges := []crop.Millimetres{0}
	for _, id := range sortedKeys(farm.Sales.Bunches) {
		edges = append(edges, farm.Sales.Bunches[id].Length)
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	stems := map[crop.Millimetres]int{}
	for _, v := range visits {
		for _, count := range v.Counts {
			if count.Length.Told() && !slices.Contains(edges, count.Length.Lo) {
				stems[count.Length.Lo] += count.Stems
			}
		}
	}
	byStems := sortedKeys(stems)
	slices.SortStableFunc(byStems, func(a, b crop.Millimetres) int { return stems[b] - stems[a] })
	edges = append(edges, byStems[:max(0, min(len(byStems), mostLengths-len(edges)))]...)
	slices.Sort(edges)
	return edges
}

// gradeKind is the kind of grades of plants of an age, 0 of none.
func (c *classes) gradeKind(species string, age int) int {
	const mostAges = 1000
	if age < 1 {
		return 0
	}
	return slices.Index(c.species, species)*mostAges + age
}

// note notes a visit's stems by grade and length.
func (c *classes) note(v crop.Visit, season crop.Season, graded, flush int) {
	for _, count := range v.Counts {
		rank := count.Grade.Rank() // anyGrade where untold
		if rank >= 0 && graded > 0 {
			c.byGrade.of(graded, flush, season)[rank] += float64(count.Stems)
		}
		if count.Length.Told() && count.Stems > 0 {
			c.noteLength(c.byLen.of(rank, flush, season), count)
		}
	}
}

// noteLength adds a count to the class that holds it; one that spans several is shared out evenly among these.
func (c *classes) noteLength(to []float64, count crop.Count) {
	first := c.lengthClass(count.Length.Lo)
	last := first // of "and longer" most are not much longer
	if count.Length.Hi != crop.OpenEnd {
		last = max(first, c.lengthClass(count.Length.Hi-1))
	}
	for k := first; k <= last; k++ {
		to[k] += float64(count.Stems) / float64(last-first+1)
	}
}

func (c *classes) lengthClass(length crop.Millimetres) int {
	at, exact := slices.BinarySearch(c.lengths, length)
	if exact {
		return at
	}
	return at - 1
}

// noteColour notes stems of a colour class that whole beds gave and plants of unknown colour bore.
func (c *classes) noteColour(stock crop.StockID, flush int, season crop.Season, colour crop.ColourID, stems float64) {
	if k := slices.Index(c.colours, colour); k >= 0 && colour != "" {
		c.byCol.of(slices.Index(c.stocks, stock), flush, season)[k] += stems
	}
}

// coloursOf are the shares of colours of a stock's plants of unknown class, of which so many stand; none where nothing
// is known of that stock's. Its plants of known class say what these are, each as much as a stem.
func (c *classes) coloursOf(stock crop.StockID, flush int, season crop.Season) (shares, bool) {
	kind := slices.Index(c.stocks, stock)
	behind := make([]float64, c.byCol.classes)
	copy(behind, c.standing[stock])
	other := c.byCol.pooled(make([]float64, c.byCol.classes), func(o told) bool { return o.kind == kind && o.flush != flush })
	for k, stems := range limited(other, alikeKinds) {
		behind[k] += stems
	}
	s := c.byCol.sharesOver(behind, kind, flush, season)
	known := 0.0
	for k := range s.usual {
		if s.usual[k] > 0 {
			known++
		}
	}
	for k := range s.usual { // what the stock has at all, every class alike
		if s.usual[k] > 0 {
			s.usual[k] += evenClasses/known + s.present[k]
		}
	}
	return shares{usual: s.usual}, known > 0 // a plant keeps its class
}
