package farm

import (
	"fmt"
	"strings"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/syncproto"
)

// FlagFacts raises a flag at a plant. Who raised it and when is in the element, so that clearing keeps it.
func FlagFacts(plant crop.PlantID, kind string, day crop.Date, person crop.PersonID) []changelog.Fact {
	return elementFacts(plant, FieldFlags, flagElement(kind, day, person), syncproto.OpAdd)
}

// FlagClearedFacts clears a flag as it was raised.
func FlagClearedFacts(plant crop.PlantID, kind string, day crop.Date, person crop.PersonID) []changelog.Fact {
	return elementFacts(plant, FieldFlags, flagElement(kind, day, person), syncproto.OpRemove)
}

func flagElement(kind string, day crop.Date, person crop.PersonID) string {
	return fmt.Sprintf("%s/%s/%s", kind, day, person)
}

// NoteFacts writes a note at a plant.
func NoteFacts(plant crop.PlantID, day crop.Date, person crop.PersonID, text string) []changelog.Fact {
	return elementFacts(plant, FieldNotes, fmt.Sprintf("%s/%s/%s", day, person, text), syncproto.OpAdd)
}

func elementFacts(plant crop.PlantID, set, element string, op syncproto.Op) []changelog.Fact {
	return []changelog.Fact{{
		Scope: syncproto.ScopeField, Op: op, Type: TypePlant, ID: string(plant), Field: set, Value: syncproto.Text(element),
	}}
}

// StandFacts says what a stand walk found of a plant in a season: "alive", "weak" or "gone".
func StandFacts(plant crop.PlantID, s crop.Season, day crop.Date, found string) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypePlant, id: string(plant)}
	e.text(SeasonField(FieldStand, s), string(day)+"/"+found)
	return e.facts
}

// ColourSeenFacts says which colour class a plant showed in a season.
func ColourSeenFacts(plant crop.PlantID, s crop.Season, day crop.Date, colour crop.ColourID) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypePlant, id: string(plant)}
	e.text(FieldColour, string(colour))
	e.text(SeasonField(FieldColourIn, s), string(day)+"/"+string(colour))
	return e.facts
}

// BesideFacts says at whose foot a self-sown seedling came up.
func BesideFacts(plant, neighbour crop.PlantID) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypePlant, id: string(plant)}
	e.text(FieldBeside, string(neighbour))
	return e.facts
}

// EventFacts says what was done to a bed on a day, and with what.
func EventFacts(id string, bed crop.BedID, kind string, day crop.Date, person crop.PersonID, what string) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeEvent, id: id}
	e.text(FieldBed, string(bed))
	e.text(FieldKind, kind)
	e.text(FieldDate, string(day))
	e.told(FieldPerson, string(person))
	e.told(FieldWhat, what)
	return e.facts
}

// Flagged are the plants at which a flag of a kind is raised.
func Flagged(state *changelog.State, kind string) map[crop.PlantID]bool {
	plants := map[crop.PlantID]bool{}
	state.Entities(func(e *changelog.Entity) {
		if e.Key.Type != TypePlant {
			return
		}
		for _, flag := range e.Members(FieldFlags) {
			if strings.HasPrefix(flag, kind+"/") {
				plants[crop.PlantID(e.Key.ID)] = true
			}
		}
	})
	return plants
}

// ColoursSeen are the colour classes that plants showed, season by season, as people told.
func ColoursSeen(state *changelog.State) map[crop.PlantID]map[crop.Season]crop.ColourID {
	seen := map[crop.PlantID]map[crop.Season]crop.ColourID{}
	state.Entities(func(e *changelog.Entity) {
		if e.Key.Type != TypePlant {
			return
		}
		for season, text := range bySeason(e, FieldColourIn) {
			_, colour, _ := strings.Cut(text, "/")
			if colour == "" {
				continue // taken back
			}
			plant := crop.PlantID(e.Key.ID)
			if seen[plant] == nil {
				seen[plant] = map[crop.Season]crop.ColourID{}
			}
			seen[plant][season] = crop.ColourID(colour)
		}
	})
	return seen
}

// FlagOpenCentre is raised at a clump that opened in the middle.
const FlagOpenCentre = "open_centre"
