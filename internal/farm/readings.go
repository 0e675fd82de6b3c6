package farm

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/syncproto"
)

// ReadingFacts says which colour a plant's head was measured to have.
func ReadingFacts(r crop.Reading) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeReading, id: string(r.ID)}
	e.text(FieldPlant, string(r.Plant))
	e.text(FieldDate, string(r.Date))
	e.told(FieldPerson, string(r.Person))
	e.text(FieldLab, FormatLab(r.Colour))
	e.text(FieldSE, FormatLab(r.SE))
	e.toldNumber(FieldSpread, inTenths(r.Spread))
	e.toldNumber(FieldSpreadSE, inTenths(r.SpreadSE))
	e.told(FieldStage, string(r.Stage))
	e.told(FieldLight, string(r.Light))
	e.told(FieldCard, string(r.Card))
	e.told(FieldCamera, r.Camera)
	e.told(FieldPhoto, r.Photo)
	e.number(FieldQuality, r.Quality)
	e.told(FieldProblems, strings.Join(r.Problems, " "))
	return e.facts
}

// CardFacts says what a print batch of colour cards is.
func CardFacts(c crop.Card) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeCard, id: string(c.ID)}
	e.told(FieldPrinted, string(c.Printed))
	e.told(FieldPatches, FormatLabs(c.Patches))
	e.toldNumber(FieldSE, inHundredths(c.SE))
	e.told(FieldHow, c.How)
	e.told(FieldMeasured, string(c.Measured))
	e.told(FieldRetired, string(c.Retired))
	return e.facts
}

// ClassColourFacts says which colour a class was measured to have, whence that came ("hand", "plant/id" or "reading/id")
// and how far from it a plant may lie; 0 is the usual limit.
func ClassColourFacts(id crop.ColourID, lab crop.Lab, from string, limit float64) []changelog.Fact {
	e := entity{scope: syncproto.ScopeField, kind: TypeColour, id: string(id)}
	e.text(FieldLab, FormatLab(lab))
	e.text(FieldLabFrom, from)
	e.number(FieldLimit, inHundredths(limit))
	return e.facts
}

func readReading(f *crop.Farm, e *changelog.Entity) {
	lab, err := ParseLab(e.Text(FieldLab))
	if err != nil { // not told yet, or of a later version
		return
	}
	se, err := ParseLab(e.Text(FieldSE))
	if err != nil {
		return
	}
	id := crop.ReadingID(e.Key.ID)
	f.Readings[id] = crop.Reading{
		ID: id, Plant: crop.PlantID(e.Text(FieldPlant)), Date: crop.Date(e.Text(FieldDate)),
		Person: crop.PersonID(e.Text(FieldPerson)), Colour: lab, SE: se,
		Spread: float64(e.Int(FieldSpread)) / 10, SpreadSE: float64(e.Int(FieldSpreadSE)) / 10,
		Stage: crop.Stage(e.Text(FieldStage)), Light: crop.Light(e.Text(FieldLight)),
		Card: crop.CardID(e.Text(FieldCard)), Camera: e.Text(FieldCamera), Photo: e.Text(FieldPhoto),
		Quality: int(e.Int(FieldQuality)), Problems: strings.Fields(e.Text(FieldProblems)),
	}
}

func readCard(f *crop.Farm, e *changelog.Entity) {
	id := crop.CardID(e.Key.ID)
	patches, err := ParseLabs(e.Text(FieldPatches))
	if err != nil { // of a later version
		patches = nil
	}
	f.Cards[id] = crop.Card{
		ID: id, Printed: crop.Date(e.Text(FieldPrinted)), Patches: patches, SE: hundredths(e, FieldSE),
		How: e.Text(FieldHow), Measured: crop.Date(e.Text(FieldMeasured)), Retired: crop.Date(e.Text(FieldRetired)),
	}
}

// mostLab bounds a colour's components, in hundredths: what no measurement in CIELAB exceeds. A head in more light than the
// card beside it is lighter than white, which is 100.
const mostLab = 20_000

// FormatLab writes a colour in hundredths: "5821/-1203/3344".
func FormatLab(c crop.Lab) string {
	return fmt.Sprintf("%d/%d/%d", inHundredths(c.L), inHundredths(c.A), inHundredths(c.B))
}

// ParseLab reads what FormatLab writes.
func ParseLab(text string) (crop.Lab, error) {
	parts := strings.Split(text, "/")
	if len(parts) != 3 {
		return crop.Lab{}, fmt.Errorf("%.30q is not a colour like 5821/-1203/3344", text)
	}
	var n [3]int
	for i, part := range parts {
		number, err := strconv.Atoi(part)
		if err != nil || strconv.Itoa(number) != part {
			return crop.Lab{}, fmt.Errorf("%.30q is not a colour like 5821/-1203/3344", text)
		}
		n[i] = number
	}
	if n[0] < 0 || max(n[0], n[1], n[2]) > mostLab || min(n[1], n[2]) < -mostLab {
		return crop.Lab{}, fmt.Errorf("%.30q lies outside of all colours", text)
	}
	return crop.Lab{L: float64(n[0]) / 100, A: float64(n[1]) / 100, B: float64(n[2]) / 100}, nil
}

// FormatLabs writes colours with spaces between.
func FormatLabs(all []crop.Lab) string {
	written := make([]string, len(all))
	for i, c := range all {
		written[i] = FormatLab(c)
	}
	return strings.Join(written, " ")
}

// ParseLabs reads what FormatLabs writes; "" is none.
func ParseLabs(text string) ([]crop.Lab, error) {
	var all []crop.Lab
	for _, one := range strings.Fields(text) {
		c, err := ParseLab(one)
		if err != nil {
			return nil, err
		}
		all = append(all, c)
	}
	return all, nil
}

func hundredths(e *changelog.Entity, field string) float64 { return float64(e.Int(field)) / 100 }

func inHundredths(x float64) int { return int(math.Round(x * 100)) }

func inTenths(x float64) int { return int(math.Round(x * 10)) }
