package tags

import "fmt"

// A colour card lies flat, its text upright: x runs right and y down from its upper left corner, in millimetres. A
// photo is measured by the same numbers: webapp/src/colourcard/geometry.ts mirrors them, and
// testdata/vectors/card.json holds both to each other.

// CardWidth and CardHeight are a card's size.
const (
	CardWidth  = 90.0
	CardHeight = 66.0
)

// CardVersion is the layout that a card's QR code names; a card of another is told as one that is too new or old.
const CardVersion = 1

// cardPrefix is what a card's QR code begins with, so that none is taken for a plant's tag.
const cardPrefix = "CARD/"

// CardPayload is what the QR code of a batch's cards holds: "CARD/1/K7M4QE".
func CardPayload(batch string) string { return fmt.Sprintf("%s%d/%s", cardPrefix, CardVersion, batch) }

// The QR code is in the middle, so that a finger over a corner leaves it whole and a slant is told from all around
// it. Its 21 modules are 12 dots of a printer of 300 dots an inch wide.
const (
	cardModules = 21
	cardModule  = 12 * dot
	cardCodeX   = CardWidth/2 - cardModules*cardModule/2
	cardCodeY   = 30 - cardModules*cardModule/2
)

// patchSide is how wide and high a patch is.
const patchSide = 12.5

// RGB is a printed colour in sRGB (IEC 61966-2-1), 8 bits each.
type RGB struct{ R, G, B uint8 }

// Patch is a square of one colour on the card.
type Patch struct {
	X, Y float64 // of its upper left corner
	// Colour is the place of its colour in CardColours.
	Colour int
}

// CardColours are the colours of a card as they are printed: five greys from dark to light, six colours that lie
// around the colours of heads, and the bare paper.
var CardColours = [...]RGB{
	{54, 54, 54}, {90, 90, 90}, {130, 130, 130}, {172, 172, 172}, {216, 216, 216},
	{190, 46, 52}, {226, 128, 50}, {232, 196, 48}, {78, 134, 72}, {92, 72, 158}, {210, 96, 146},
	{255, 255, 255},
}

// The places of the colours in CardColours.
const (
	cardGreys = 5
	cardPaper = len(CardColours) - 1
)

// cardSlots says which colour is where: four columns, two on either side of the code, and four rows. The middle grey
// is in the four corners, so that uneven light is told wherever it comes from; of each other colour there is one,
// and the paper is left bare in two.
var cardSlots = [4][4]int{
	{2, 11, 9, 2},
	{5, 0, 1, 7},
	{8, 3, 4, 10},
	{2, 6, 11, 2},
}

var (
	cardColumns = [4]float64{2, 16.5, 61, 75.5}
	cardRows    = [4]float64{2, 16.5, 31, 45.5}
)

// CardPatches lists the patches of a card by rows, those of bare paper too.
func CardPatches() []Patch {
	var patches []Patch
	for row, slots := range cardSlots {
		for column, colour := range slots {
			patches = append(patches, Patch{cardColumns[column], cardRows[row], colour})
		}
	}
	return patches
}

// The scale runs along the lower edge, with a tick each five millimetres and a long one each ten.
const (
	scaleX, scaleY = 5.0, 63.0
	scaleLength    = 80.0
	scaleStep      = 5.0
	scaleTick      = 1.5
	scaleLongTick  = 3.0
	scaleLine      = 0.25
)
