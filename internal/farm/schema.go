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
	TypeEvent    = "event"
	TypeReading  = "reading"
	TypeCard     = "card"
	TypeChannel  = "channel"
	TypeBuyer    = "buyer"
	TypeBunch    = "bunch"
	TypePrice    = "price"
	TypeOrder    = "order"
	TypeStanding = "standing"
	TypeLine     = "line"
	TypePacked   = "packed"
	TypeShrink   = "shrink"
	TypeClaim    = "claim"
	TypeInvoice  = "invoice"
	TypeAsk      = "ask"
	TypeWeather  = "weather"
	TypeTask     = "task"
	TypeIntent   = "intent"
	TypePlan     = "plan"
	TypeCost     = "cost"
	TypeWork     = "work"
	TypePayment  = "payment"

	TypeStatement    = "statement"
	TypeStatementRow = "statement_row"
)

// Fields, by entity type. A trailing dot takes a season: "counted.2026".
const (
	FieldName = "name" // farm, person, colour, bed, stock: text

	FieldUnit        = "unit"            // farm: "cm" or "in"
	FieldSeasonStart = "season_start"    // farm: "MM-DD"
	FieldSouthern    = "southern"        // farm: 0 or 1
	FieldMadeUp      = "made_up"         // farm: 0 or 1
	FieldAssumed     = "assumed_counted" // farm: 0 or 1

	FieldSwatch  = "swatch"   // colour: "#rrggbb"
	FieldLimit   = "limit"    // colour: hundredths of CIEDE2000
	FieldLabFrom = "lab_from" // colour: whence its lab came, "hand", "plant/id" or "reading/id"

	FieldLength  = "length"    // bed: mm
	FieldWidth   = "width"     // bed: mm
	FieldLines   = "lines"     // bed: number
	FieldCutBack = "cut_back." // bed: date

	FieldSpecies   = "species"   // stock: text
	FieldOrigin    = "origin"    // stock: crop.Origin
	FieldProtected = "protected" // stock: 0 or 1
	FieldFrom      = "from"      // stock: id of the stock it was divided from, or came up beside

	FieldStock       = "stock"        // planting: stock id
	FieldBed         = "bed"          // planting, visit, event: bed id
	FieldPlanted     = "planted"      // planting: date
	FieldFirstSeason = "first_season" // planting: year

	FieldCode     = "code"      // plant: text on its tag
	FieldPlanting = "planting"  // plant, visit: planting id
	FieldLine     = "line"      // plant: number
	FieldNumber   = "number"    // plant: number along the line
	FieldParents  = "parents"   // plant: set of plant ids
	FieldColour   = "colour"    // plant: colour id
	FieldRemoved  = "removed"   // plant: date or ""
	FieldPhotos   = "photos"    // plant: set of SHA-256 in hex
	FieldFlags    = "flags"     // plant: set of "kind/day/person"
	FieldNotes    = "notes"     // plant: set of "day/person/text"
	FieldCounted  = "counted."  // plant: "from/to" (ISO 8601 interval of days) or ""
	FieldPlaces   = "places"    // plant: set of FormatPlace; what line and number said no longer holds
	FieldStood    = "stood"     // plant: set of "from/until/move/line/number/bed", where it stood before
	FieldBeside   = "beside"    // plant: id of the plant at whose foot a seedling came up; visit: set of visit ids that are no repeats of it
	FieldStand    = "stand."    // plant: "day/alive", "day/weak", "day/gone" or ""
	FieldColourIn = "colour."   // plant: "day/colour id", or ""
	FieldIsRef    = "reference" // plant: 0 or 1

	FieldPlant   = "plant"    // visit: plant id
	FieldDate    = "date"     // visit, event: date
	FieldPurpose = "purpose"  // visit: crop.Purpose
	FieldPerson  = "person"   // visit, event: person id
	FieldFlush   = "flush"    // visit: crop.Flush or ""
	FieldToOrder = "to_order" // visit: 0 or 1
	FieldAge     = "age"      // visit: season in the ground of a narrowed bench total

	FieldKind  = "kind"  // event: what was done to the bed
	FieldWhat  = "what"  // event: with what, in the grower's words
	FieldUntil = "until" // event: end of a spray's re-entry interval, ms since 1970 UTC

	FieldLab      = "lab"       // reading, colour: FormatLab; colour: or ""
	FieldSE       = "se"        // reading: FormatLab; card: number, hundredths
	FieldSpread   = "spread"    // reading: tenths of a millimetre
	FieldSpreadSE = "spread_se" // reading: tenths of a millimetre
	FieldStage    = "stage"     // reading, visit: crop.Stage
	FieldLight    = "light"     // reading: crop.Light
	FieldCard     = "card"      // reading: card id
	FieldCamera   = "camera"    // reading: text
	FieldPhoto    = "photo"     // reading: SHA-256 in hex, or ""
	FieldHead     = "head"      // reading: "x/y/width/height" of the head in its photo, in ten-thousandths of the photo's
	FieldQuality  = "quality"   // reading: 0 to 100
	FieldProblems = "problems"  // reading: words with spaces between

	FieldPrinted  = "printed"  // card: date
	FieldPatches  = "patches"  // card: FormatLab of each patch with spaces between, or ""
	FieldHow      = "how"      // card: how its patches came to be known
	FieldMeasured = "measured" // card: date on which they were
	FieldRetired  = "retired"  // card: date or ""
	FieldScale    = "scale"    // card: what its printed scale of 80 mm measures, in hundredths of a millimetre
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
