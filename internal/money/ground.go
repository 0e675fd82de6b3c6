package money

import (
	"maps"
	"slices"

	"corymb/internal/crop"
)

// Ground is what a part of the ledger stood on.
type Ground struct {
	// Plants stood there when the season's cutting began.
	Plants int
	// Length and Area are of beds, in millimetres and square millimetres; 0 where the part is of no whole beds.
	Length crop.Millimetres
	Area   int64
}

// LengthIn and AreaIn are in what the farm measures ground by: metres, or feet where it measures in inches.
func (g Ground) LengthIn(unit crop.LengthUnit) float64 { return float64(g.Length) / inGround(unit) }
func (g Ground) AreaIn(unit crop.LengthUnit) float64 {
	return float64(g.Area) / inGround(unit) / inGround(unit)
}

// inGround is a metre or a foot (0.3048 m, by definition) in millimetres.
func inGround(unit crop.LengthUnit) float64 {
	if unit == crop.Inches {
		return 304.8
	}
	return 1000
}

// ground is the plants of a season, each as an entry of nothing, and the beds that they stood in or that sold.
type ground struct {
	plants []Entry
	beds   map[crop.BedID]crop.Bed
}

// ofPlants are the dimensions by which plants can be told apart.
var ofPlants = []Dim{ByColour, ByAge, ByAgeClass, ByStock, ByBed, ByPlant}

func groundOf(farm crop.Farm, season crop.Season, s *sources) ground {
	g := ground{beds: farm.Beds}
	first, farmFirst := firstCuts(farm, season, s)
	for _, id := range slices.Sorted(maps.Keys(farm.Plants)) {
		plant := farm.Plants[id]
		planting, known := farm.Plantings[plant.Planting]
		if !known || planting.AgeIn(season) < 1 {
			continue
		}
		day, cut := first[farm.BedOn(plant, farmFirst)]
		if !cut {
			day = farmFirst
		}
		if plant.Removed != "" && plant.Removed < day {
			continue
		}
		at := &At{Colour: plant.Colour, Age: planting.AgeIn(season), Stock: planting.Stock, Bed: farm.BedOn(plant, day), Plant: id}
		g.plants = append(g.plants, Entry{At: at})
	}
	return g
}

// firstCuts are the days on which each bed was first cut in a season, and the farm; where nothing was, the season's spring.
func firstCuts(farm crop.Farm, season crop.Season, s *sources) (map[crop.BedID]crop.Date, crop.Date) {
	span, first := farm.Calendar.Span(season), map[crop.BedID]crop.Date{}
	all := crop.Date("")
	for _, visits := range []map[bedDay][]crop.Visit{s.benches, s.rows, s.cuts} {
		for at, of := range visits {
			if !span.Holds(at.day) || !slices.ContainsFunc(of, func(v crop.Visit) bool { return v.Stems() > 0 }) {
				continue
			}
			if day, known := first[at.bed]; !known || at.day < day {
				first[at.bed] = at.day
			}
			if all == "" || at.day < all {
				all = at.day
			}
		}
	}
	if all == "" {
		all = farm.Calendar.Spring(season)
	}
	return first, all
}

// lay gives a view's rows what they stood on, where plants or beds can be told by its dimension and filter alone.
func (g ground) lay(v *View, f Filter) {
	for dim := range f.Is {
		if !slices.Contains(ofPlants, dim) {
			return
		}
	}
	f.From, f.To = "", "" // plants stand all season
	rows := map[string]int{}
	for i, row := range v.Rows {
		rows[row.Key] = i
	}
	for _, plant := range g.plants {
		if f.holds(plant) {
			v.layPlant(keys[v.By](plant), rows)
		}
	}
	if _, one := f.Is[ByBed]; len(f.Is) > 1 || len(f.Is) == 1 && !one {
		return
	}
	for _, id := range slices.Sorted(maps.Keys(g.beds)) {
		if f.holds(Entry{At: &At{Bed: id}}) {
			v.layBed(g.beds[id], rows)
		}
	}
}

func (v *View) layPlant(key string, rows map[string]int) {
	v.All.grounded().Plants++
	if !slices.Contains(ofPlants, v.By) {
		return
	}
	i, known := rows[key]
	if !known && v.By == ByPlant { // thousands of which nothing was told by itself
		return
	}
	if !known {
		i = len(v.Rows)
		rows[key] = i
		v.Rows = append(v.Rows, Row{Key: key})
	}
	v.Rows[i].grounded().Plants++
}

// layBed adds a bed to all, and to its row where it has one.
func (v *View) layBed(bed crop.Bed, rows map[string]int) {
	area := int64(bed.Length) * int64(bed.Width)
	all := v.All.grounded()
	all.Length, all.Area = all.Length+bed.Length, all.Area+area
	if i, known := rows[string(bed.ID)]; known && v.By == ByBed {
		of := v.Rows[i].grounded()
		of.Length, of.Area = bed.Length, area
	}
}

func (r *Row) grounded() *Ground {
	if r.Ground == nil {
		r.Ground = &Ground{}
	}
	return r.Ground
}
