package farm

import (
	"fmt"
	"maps"
	"slices"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/syncproto"
)

// entity writes facts about one entity.
type entity struct {
	scope syncproto.Scope
	kind  string
	id    string
	facts []changelog.Fact
}

func (e *entity) set(field string, v syncproto.Value) {
	e.facts = append(e.facts, changelog.Fact{
		Scope: e.scope, Op: syncproto.OpSet, Type: e.kind, ID: e.id, Field: field, Value: v,
	})
}

func (e *entity) text(field, s string) { e.set(field, syncproto.Text(s)) }

// told writes a text only where there is one: a field that was never told stays unset.
func (e *entity) told(field, s string) {
	if s != "" {
		e.text(field, s)
	}
}

func (e *entity) number(field string, n int) { e.set(field, syncproto.Int(int64(n))) }

func (e *entity) toldNumber(field string, n int) {
	if n != 0 {
		e.number(field, n)
	}
}

func (e *entity) flag(field string, on bool) {
	if on {
		e.number(field, 1)
	}
}

// FarmFacts says what a farm is called and how it counts.
func FarmFacts(f crop.Farm) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeFarm, id: string(f.ID)}
	e.text(FieldName, f.Name)
	e.text(FieldUnit, string(f.Unit))
	e.text(FieldSeasonStart, f.Calendar.Start)
	e.flag(FieldSouthern, f.Calendar.Southern)
	e.flag(FieldMadeUp, f.MadeUp)
	return e.facts
}

// AssumedFacts says that some plants were taken as counted without anybody having said so.
func AssumedFacts(id crop.FarmID) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeFarm, id: string(id)}
	e.flag(FieldAssumed, true)
	return e.facts
}

// PersonFacts says who somebody is.
func PersonFacts(p crop.Person) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypePerson, id: string(p.ID)}
	e.text(FieldName, p.Name)
	return e.facts
}

// ColourFacts says what a colour class is.
func ColourFacts(c crop.Colour) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeColour, id: string(c.ID)}
	e.text(FieldName, c.Name)
	e.told(FieldSwatch, c.Swatch)
	if c.Reference != nil {
		e.text(FieldLab, FormatLab(*c.Reference))
	}
	e.toldNumber(FieldLimit, inHundredths(c.Limit))
	return e.facts
}

// BedFacts says what a bed is.
func BedFacts(b crop.Bed) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeBed, id: string(b.ID)}
	e.text(FieldName, b.Name)
	e.toldNumber(FieldLength, int(b.Length))
	e.toldNumber(FieldWidth, int(b.Width))
	e.toldNumber(FieldLines, b.Lines)
	for _, season := range slices.Sorted(maps.Keys(b.CutBack)) {
		e.text(SeasonField(FieldCutBack, season), string(b.CutBack[season]))
	}
	return e.facts
}

// StockFacts says what a stock is.
func StockFacts(s crop.Stock) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeStock, id: string(s.ID)}
	e.text(FieldName, s.Name)
	e.told(FieldSpecies, s.Species)
	e.told(FieldOrigin, string(s.Origin))
	e.flag(FieldProtected, s.Protected)
	e.told(FieldFrom, string(s.From))
	return e.facts
}

// PlantingFacts says what was planted.
func PlantingFacts(p crop.Planting) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypePlanting, id: string(p.ID)}
	e.text(FieldStock, string(p.Stock))
	e.text(FieldBed, string(p.Bed))
	e.text(FieldPlanted, string(p.Planted))
	e.number(FieldFirstSeason, int(p.FirstSeason))
	return e.facts
}

// PlantFacts says what a plant is.
func PlantFacts(p crop.Plant) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypePlant, id: string(p.ID)}
	e.text(FieldCode, p.Code)
	e.text(FieldPlanting, string(p.Planting))
	e.toldNumber(FieldLine, p.Line)
	e.toldNumber(FieldNumber, p.Number)
	e.told(FieldColour, string(p.Colour))
	e.told(FieldRemoved, string(p.Removed))
	e.flag(FieldIsRef, p.Reference)
	for _, season := range slices.Sorted(maps.Keys(p.Counted)) {
		e.text(SeasonField(FieldCounted, season), FormatWindow(p.Counted[season]))
	}
	for _, parent := range p.Parents {
		e.facts = append(e.facts, changelog.Fact{
			Scope: e.scope, Op: syncproto.OpAdd, Type: e.kind, ID: e.id,
			Field: FieldParents, Value: syncproto.Text(string(parent)),
		})
	}
	return e.facts
}

// VisitFacts says what a visit found. Counts of the same cell add up.
func VisitFacts(v crop.Visit) []changelog.Fact {
	e := entity{scope: VisitScope(v.Purpose), kind: TypeVisit, id: string(v.ID)}
	e.told(FieldPlant, string(v.Plant))
	e.told(FieldBed, string(v.Bed))
	e.told(FieldPlanting, string(v.Planting))
	e.text(FieldDate, string(v.Date))
	e.text(FieldPurpose, string(v.Purpose))
	e.told(FieldPerson, string(v.Person))
	e.told(FieldFlush, string(v.Flush))
	e.flag(FieldToOrder, v.ToOrder)
	e.toldNumber(FieldAge, v.Age)
	e.told(FieldStage, string(v.Stage))
	stems := map[string]int{}
	for _, c := range v.Counts {
		stems[cellOf(v, c)] += c.Stems
	}
	for _, cell := range slices.Sorted(maps.Keys(stems)) {
		e.facts = append(e.facts, changelog.Fact{
			Scope: e.scope, Op: syncproto.OpCount, Type: e.kind, ID: e.id,
			Field: cell, Value: syncproto.Int(int64(stems[cell])),
		})
	}
	return e.facts
}

func cellOf(v crop.Visit, c crop.Count) string {
	if v.Plant != "" {
		return PlantCell(c.Grade, c.Length)
	}
	return BedCell(c.Colour, c.Grade, c.Length)
}

// VisitScope is the scope of a visit's changes: the bench is the shed's.
func VisitScope(p crop.Purpose) syncproto.Scope {
	if p == crop.PurposeBench {
		return syncproto.ScopeShed
	}
	return syncproto.ScopeField
}

// SeasonField names a field that is kept once a season.
func SeasonField(prefix string, s crop.Season) string { return fmt.Sprintf("%s%d", prefix, s) }

// FormatWindow writes a window as an ISO 8601 interval of days.
func FormatWindow(w crop.Window) string { return string(w.From) + "/" + string(w.To) }
