package sheets

import "corymb/internal/crop"

// plantColumns are the columns of plants.csv.
var plantColumns = []column{
	{name: "plant", required: true},
	{name: "stock", required: true},
	{name: "bed", required: true},
	{name: "planted", required: true},
	{name: "first_season"},
	{name: "counted_from", partner: "counted_to"},
	{name: "counted_to", partner: "counted_from"},
	{name: "removed"},
	{name: "colour"},
	{name: "parent"},
}

// plantList is plants.csv, read.
type plantList struct {
	name      string
	rows      []*plantRow
	byID      map[crop.PlantID]*plantRow
	plantings map[crop.PlantingID]*planting
	byBed     map[crop.BedID][]*planting
	// declaresCounted says that the columns counted_from and counted_to are there.
	declaresCounted bool
	// readable is false where the file had no usable header, so that nothing can be looked up;
	// complete is false where rows of it were lost, so that an unknown plant may be one of those.
	readable, complete bool
}

// plantRow is one plant. A field that was refused is empty, and nothing is compared with it.
type plantRow struct {
	row         *row
	id          crop.PlantID // also what its tag says: zeros and capitals stay as they are
	stock       crop.StockID
	bed         crop.BedID
	planted     crop.Date
	firstSeason crop.Season // 0 where the row does not tell
	span        crop.Window // as declared; empty where the plant is not counted
	removed     crop.Date
	colour      crop.ColourID
	parent      crop.PlantID
	planting    *planting // nil where stock, bed or planted was refused
	counted     map[crop.Season]crop.Window
}

// readPlants reads every row, and reports what contradicts itself within the file.
func readPlants(t *table, s settings) *plantList {
	l := &plantList{
		name:            t.name,
		byID:            map[crop.PlantID]*plantRow{},
		plantings:       map[crop.PlantingID]*planting{},
		byBed:           map[crop.BedID][]*planting{},
		declaresCounted: t.has("counted_from"),
		readable:        t.readable,
		complete:        t.readable && !t.lost,
	}
	for _, r := range t.rows {
		p := readPlant(r, s)
		l.rows = append(l.rows, p)
		l.addToPlanting(p)
		l.register(p) // parents are checked below, since a parent may stand on a later line
	}
	switch {
	case !l.complete || len(t.rows) > 0:
	case t.later > 0:
		t.refuse(1, "", "none of its plants was planted by %s: ask as of a later day, or correct the column planted", s.upTo)
	default:
		t.refuse(1, "", "the file names no plant: write one plant a row below the column names")
	}
	l.checkParents()
	return l
}

// readPlant reads one row by itself. A field that was refused stays empty, so that one slip is
// reported once and not by every later comparison.
func readPlant(r *row, s settings) *plantRow {
	p := &plantRow{
		row:     r,
		id:      crop.PlantID(r.need("plant")),
		stock:   crop.StockID(r.need("stock")),
		bed:     crop.BedID(r.need("bed")),
		removed: r.past("removed", s.today),
		colour:  crop.ColourID(r.cell("colour")),
		parent:  crop.PlantID(r.cell("parent")),
		counted: map[crop.Season]crop.Window{},
	}
	if r.need("planted") != "" {
		p.planted = r.past("planted", s.today)
	}
	if p.removed != "" && p.removed < p.planted {
		r.refuse("removed", "%s is before the plant was planted (%s): correct one of the two",
			p.removed, p.planted)
		p.removed = ""
	}
	if s.upTo != "" && p.removed > s.upTo {
		p.removed = ""
	}
	p.firstSeason = readFirstSeason(r, p.planted, s.calendar)
	p.span = readSpan(r)
	return p
}

// readFirstSeason takes the season of planting or the one after it; no other can be a first season:
// set before that season's flush a plant blooms in it, set after it in the next.
func readFirstSeason(r *row, planted crop.Date, calendar crop.Calendar) crop.Season {
	n, ok := r.whole("first_season", earliest.Year(), 9999)
	if !ok || planted == "" {
		return 0
	}
	told, at := crop.Season(n), calendar.SeasonOf(planted)
	if told != at && told != at+1 {
		r.refuse("first_season", "a plant set on %s has its first season in %d or %d, not in %d: "+
			"correct one of the two", planted, at, at+1, told)
		return 0
	}
	return told
}

// readSpan takes both ends or neither. The span may reach into the future, since it declares what will
// be recorded: whoever still counts writes a day far ahead.
func readSpan(r *row) crop.Window {
	w := crop.Window{From: r.day("counted_from"), To: r.day("counted_to")}
	switch {
	case (r.cell("counted_from") == "") != (r.cell("counted_to") == ""):
		r.refuse(emptyOf(r, "counted_from", "counted_to"), "counted_from and counted_to belong together: fill in both, or "+
			"neither if the plant is not counted")
	case w.From == "" || w.To == "":
	case w.From > w.To:
		r.refuse("counted_from", "%s is after counted_to (%s): exchange or correct them", w.From, w.To)
	default:
		return w
	}
	return crop.Window{}
}

// emptyOf is whichever of the two columns is the one to fill in.
func emptyOf(r *row, one, other string) string {
	if r.cell(one) == "" {
		return one
	}
	return other
}

// register makes the plant known to cuts and to its divisions; the first row of an id stands. The
// second is reported and not merged, since two stakes with one code in the bed look just like it.
func (l *plantList) register(p *plantRow) {
	if p.id == "" {
		return
	}
	if earlier, twice := l.byID[p.id]; twice {
		p.row.refuse("plant", "plant %s stands already on line %d: delete one of the two rows, or give "+
			"the plants different names", quote(string(p.id)), earlier.row.line)
		return
	}
	l.byID[p.id] = p
}
