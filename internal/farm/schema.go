// Package farm says which entities and fields hold the nouns of crop: it reads a farm from merged
// changes, writes nouns as facts, and checks what a change may say.
package farm

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"corymb/internal/crop"
)

// Entity types.
const (
	TypeFarm     = "farm"
	TypePerson   = "person"
	TypeColour   = "colour"
	TypeBed      = "bed"
	TypeStock    = "stock"
	TypePlanting = "planting"
	TypePlant    = "plant"
	TypeVisit    = "visit"
)

// Fields, by entity type. A trailing dot takes a season: "counted.2026".
const (
	FieldName = "name" // farm, person, colour, bed, stock: text

	FieldUnit        = "unit"            // farm: "cm" or "in"
	FieldSeasonStart = "season_start"    // farm: "MM-DD"
	FieldSouthern    = "southern"        // farm: 0 or 1
	FieldMadeUp      = "made_up"         // farm: 0 or 1
	FieldAssumed     = "assumed_counted" // farm: 0 or 1

	FieldSwatch = "swatch" // colour: "#rrggbb"

	FieldLength  = "length"    // bed: mm
	FieldWidth   = "width"     // bed: mm
	FieldLines   = "lines"     // bed: number
	FieldCutBack = "cut_back." // bed: date

	FieldSpecies   = "species"   // stock: text
	FieldOrigin    = "origin"    // stock: crop.Origin
	FieldProtected = "protected" // stock: 0 or 1

	FieldStock       = "stock"        // planting: stock id
	FieldBed         = "bed"          // planting, visit: bed id
	FieldPlanted     = "planted"      // planting: date
	FieldFirstSeason = "first_season" // planting: year

	FieldCode     = "code"     // plant: text on its tag
	FieldPlanting = "planting" // plant, visit: planting id
	FieldLine     = "line"     // plant: number
	FieldNumber   = "number"   // plant: number along the line
	FieldParents  = "parents"  // plant: set of plant ids
	FieldColour   = "colour"   // plant: colour id
	FieldRemoved  = "removed"  // plant: date or ""
	FieldPhotos   = "photos"   // plant: set of SHA-256 in hex
	FieldFlags    = "flags"    // plant: set of flags
	FieldCounted  = "counted." // plant: "from/to" (ISO 8601 interval of days) or ""

	FieldPlant   = "plant"    // visit: plant id
	FieldDate    = "date"     // visit: date
	FieldPurpose = "purpose"  // visit: crop.Purpose
	FieldPerson  = "person"   // visit: person id
	FieldFlush   = "flush"    // visit: crop.Flush or ""
	FieldToOrder = "to_order" // visit: 0 or 1
	FieldAge     = "age"      // visit: season in the ground of a narrowed bench total
)

// VisitID derives a visit's id, so that the same person at the same plant (or bed, or planting) on
// the same recorded day for the same purpose is one visit on one device: UUID version 5 (RFC 9562)
// in the incarnation's namespace.
func VisitID(incarnation uuid.UUID, person crop.PersonID, subject string, recorded crop.Date, purpose crop.Purpose) crop.VisitID {
	name := strings.Join([]string{string(person), subject, string(recorded), string(purpose)}, "\n")
	return crop.VisitID(uuid.NewSHA1(incarnation, []byte(name)).String())
}

// PlantCell names the count cell of a grade and length class at a plant: "extra|500|600".
func PlantCell(g crop.Grade, l crop.LengthClass) string {
	return fmt.Sprintf("%s|%d|%d", g, l.Lo, l.Hi)
}

// BedCell names the count cell of a bed cut or bench total: colour first, "c1|extra|500|600".
func BedCell(colour crop.ColourID, g crop.Grade, l crop.LengthClass) string {
	return string(colour) + "|" + PlantCell(g, l)
}

// Cell is a count cell's name taken apart.
type Cell struct {
	OfBed  bool
	Colour crop.ColourID
	Grade  crop.Grade
	Length crop.LengthClass
}

// ParseCell reads a count cell's name.
func ParseCell(name string) (Cell, error) {
	parts := strings.Split(name, "|")
	cell := Cell{OfBed: len(parts) == 4}
	if cell.OfBed {
		cell.Colour = crop.ColourID(parts[0])
		parts = parts[1:]
	}
	if len(parts) != 3 {
		return Cell{}, fmt.Errorf("%.30q is not a count cell", name)
	}
	grade, err := crop.ParseGrade(parts[0])
	lo, errLo := strconv.Atoi(parts[1])
	hi, errHi := strconv.Atoi(parts[2])
	if err != nil || errLo != nil || errHi != nil || !boundsMake(lo, hi) {
		return Cell{}, fmt.Errorf("%.30q is not a count cell", name)
	}
	cell.Grade = grade
	cell.Length = crop.LengthClass{Lo: crop.Millimetres(lo), Hi: crop.Millimetres(hi)}
	if canonical := cell.name(); canonical != name {
		return Cell{}, fmt.Errorf("%.20q is not how the count cell %.20q is written", name, canonical)
	}
	return cell, nil
}

func boundsMake(lo, hi int) bool {
	untold := lo == 0 && hi == 0
	return untold || lo >= 0 && lo < hi && hi <= int(crop.OpenEnd)
}

func (c Cell) name() string {
	if c.OfBed {
		return BedCell(c.Colour, c.Grade, c.Length)
	}
	return PlantCell(c.Grade, c.Length)
}
