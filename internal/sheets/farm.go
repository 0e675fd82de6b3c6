package sheets

import "corymb/internal/crop"

// farm puts good rows together. Beds have no size and plants no place: the spreadsheets tell none.
func (l *plantList) farm(cuts []*cut, visits []*crop.Visit, calendar crop.Calendar) crop.Farm {
	f := crop.NewFarm()
	f.Calendar = calendar
	for id, g := range l.plantings {
		f.Plantings[id] = g.Planting
		f.Stocks[g.Stock] = crop.Stock{ID: g.Stock, Name: string(g.Stock)}
		f.Beds[g.Bed] = crop.Bed{ID: g.Bed, Name: string(g.Bed)}
	}
	for _, p := range l.rows {
		f.Plants[p.id] = p.plant()
		addColour(f, p.colour)
	}
	for _, c := range cuts {
		addColour(f, c.count.Colour)
		if c.grader != "" {
			f.People[c.grader] = crop.Person{ID: c.grader, Name: string(c.grader)}
		}
	}
	f.Visits = make(map[crop.VisitID]crop.Visit, len(visits))
	for _, v := range visits {
		f.Visits[v.ID] = *v
	}
	return f
}

// plant is the row as a noun; its tag is taken to say what the spreadsheet calls it.
func (p *plantRow) plant() crop.Plant {
	plant := crop.Plant{
		ID:       p.id,
		Code:     string(p.id),
		Planting: p.planting.ID,
		Colour:   p.colour,
		Removed:  p.removed,
		Counted:  p.counted,
	}
	if p.parent != "" {
		plant.Parents = []crop.PlantID{p.parent}
	}
	return plant
}

// addColour makes a colour class of a name; how it looks is not in the spreadsheets.
func addColour(f crop.Farm, id crop.ColourID) {
	if id != "" {
		f.Colours[id] = crop.Colour{ID: id, Name: string(id)}
	}
}
