package farm

import (
	"strconv"
	"strings"

	"corymb/internal/changelog"
	"corymb/internal/crop"
)

// Read makes nouns of a merged state. Withdrawn entities are left out; what a later version added
// is passed over.
func Read(id crop.FarmID, state *changelog.State) crop.Farm {
	f := crop.NewFarm()
	f.ID = id
	state.Entities(func(e *changelog.Entity) {
		if e.Withdrawn() {
			keepGone(&f.Sales, e)
			return
		}
		if read, ok := saleReaders[e.Key.Type]; ok {
			read(&f.Sales, e)
		}
		if read, ok := aheadReaders[e.Key.Type]; ok {
			read(&f.Ahead, e)
		}
		if read, ok := moneyReaders[e.Key.Type]; ok {
			read(&f.Money, e)
		}
		if read, ok := readers[e.Key.Type]; ok {
			read(&f, e)
		}
	})
	return f
}

var readers = map[string]func(*crop.Farm, *changelog.Entity){
	TypeFarm:     readFarm,
	TypePerson:   readPerson,
	TypeColour:   readColour,
	TypeBed:      readBed,
	TypeStock:    readStock,
	TypePlanting: readPlanting,
	TypePlant:    readPlant,
	TypeVisit:    readVisit,
	TypeReading:  readReading,
	TypeCard:     readCard,
}

func readFarm(f *crop.Farm, e *changelog.Entity) {
	f.Name = e.Text(FieldName)
	f.Sales.Terms = termsOf(e)
	f.Ahead.Warmth = warmthOf(e)
	f.Ahead.Costs = costsOf(e)
	f.MadeUp = e.Int(FieldMadeUp) == 1
	f.AssumedCounted = e.Int(FieldAssumed) == 1
	if e.Text(FieldUnit) == string(crop.Inches) {
		f.Unit = crop.Inches
	}
	calendar, err := crop.ParseCalendar(e.Text(FieldSeasonStart), e.Int(FieldSouthern) == 1)
	if err == nil { // not set yet: the calendar year stands
		f.Calendar = calendar
	}
}

func readPerson(f *crop.Farm, e *changelog.Entity) {
	id := crop.PersonID(e.Key.ID)
	f.People[id] = crop.Person{ID: id, Name: e.Text(FieldName)}
}

func readColour(f *crop.Farm, e *changelog.Entity) {
	id := crop.ColourID(e.Key.ID)
	c := crop.Colour{ID: id, Name: e.Text(FieldName), Swatch: e.Text(FieldSwatch), Limit: hundredths(e, FieldLimit)}
	if lab, err := ParseLab(e.Text(FieldLab)); err == nil {
		c.Reference = &lab
	}
	f.Colours[id] = c
}

func readBed(f *crop.Farm, e *changelog.Entity) {
	bed := crop.Bed{
		ID:      crop.BedID(e.Key.ID),
		Name:    e.Text(FieldName),
		Length:  crop.Millimetres(e.Int(FieldLength)),
		Width:   crop.Millimetres(e.Int(FieldWidth)),
		Lines:   int(e.Int(FieldLines)),
		CutBack: map[crop.Season]crop.Date{},
	}
	for season, text := range bySeason(e, FieldCutBack) {
		if text != "" {
			bed.CutBack[season] = crop.Date(text)
		}
	}
	f.Beds[bed.ID] = bed
}

func readStock(f *crop.Farm, e *changelog.Entity) {
	id := crop.StockID(e.Key.ID)
	f.Stocks[id] = crop.Stock{
		ID: id, Name: e.Text(FieldName), Species: e.Text(FieldSpecies),
		Origin: crop.Origin(e.Text(FieldOrigin)), Protected: e.Int(FieldProtected) == 1,
		From: crop.StockID(e.Text(FieldFrom)),
	}
}

func readPlanting(f *crop.Farm, e *changelog.Entity) {
	id := crop.PlantingID(e.Key.ID)
	f.Plantings[id] = crop.Planting{
		ID: id, Stock: crop.StockID(e.Text(FieldStock)), Bed: crop.BedID(e.Text(FieldBed)),
		Planted: crop.Date(e.Text(FieldPlanted)), FirstSeason: crop.Season(e.Int(FieldFirstSeason)),
	}
}

func readPlant(f *crop.Farm, e *changelog.Entity) {
	p := crop.Plant{
		ID: crop.PlantID(e.Key.ID), Code: e.Text(FieldCode),
		Planting: crop.PlantingID(e.Text(FieldPlanting)),
		Line:     int(e.Int(FieldLine)), Number: int(e.Int(FieldNumber)),
		Colour: crop.ColourID(e.Text(FieldColour)), Removed: crop.Date(e.Text(FieldRemoved)),
		Counted:   map[crop.Season]crop.Window{},
		Stood:     stays(e),
		Reference: e.Int(FieldIsRef) == 1,
	}
	if place, moved := standingPlace(e); moved {
		p.Bed, p.Line, p.Number = place.Bed, place.Line, place.Number
	}
	for _, parent := range e.Members(FieldParents) {
		p.Parents = append(p.Parents, crop.PlantID(parent))
	}
	for season, text := range bySeason(e, FieldCounted) {
		if w, err := ParseWindow(text); err == nil {
			p.Counted[season] = w
		}
	}
	f.Plants[p.ID] = p
}

func readVisit(f *crop.Farm, e *changelog.Entity) {
	v := crop.Visit{
		ID: crop.VisitID(e.Key.ID), Plant: crop.PlantID(e.Text(FieldPlant)),
		Bed: crop.BedID(e.Text(FieldBed)), Date: crop.Date(e.Text(FieldDate)),
		Purpose: crop.Purpose(e.Text(FieldPurpose)), Person: crop.PersonID(e.Text(FieldPerson)),
		Flush: crop.Flush(e.Text(FieldFlush)), ToOrder: e.Int(FieldToOrder) == 1,
		Planting: crop.PlantingID(e.Text(FieldPlanting)), Age: int(e.Int(FieldAge)),
		Stage: crop.Stage(e.Text(FieldStage)),
	}
	for _, name := range e.Cells() {
		cell, err := ParseCell(name)
		stems := e.Count(name).Total
		if err != nil || stems <= 0 { // below zero it is under "needs a look" until settled
			continue
		}
		v.Counts = append(v.Counts, crop.Count{
			Colour: cell.Colour, Grade: cell.Grade, Length: cell.Length, Stems: int(stems),
		})
	}
	f.Visits[v.ID] = v
}

// bySeason collects the texts of a field that is kept once a season.
func bySeason(e *changelog.Entity, prefix string) map[crop.Season]string {
	found := map[crop.Season]string{}
	for _, field := range e.Fields() {
		digits, ok := strings.CutPrefix(field, prefix)
		if !ok {
			continue
		}
		if year, err := strconv.Atoi(digits); err == nil {
			found[crop.Season(year)] = e.Text(field)
		}
	}
	return found
}
