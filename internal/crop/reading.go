package crop

import "corymb/internal/colour"

// ReadingID names a reading, CardID a print batch of colour cards by the code in its QR.
type (
	ReadingID string
	CardID    string
)

// Lab is a colour in CIELAB under illuminant D50 (ISO/CIE 11664-4), or a standard uncertainty in it.
type Lab = colour.Lab

// Stage is how far a head had opened when its colour was measured.
type Stage string

// The stages; empty is untold.
const (
	StageOpening Stage = "opening"
	StageFull    Stage = "full"
	StageFading  Stage = "fading"
)

// Light is what a head stood in when its colour was measured.
type Light string

// The kinds of light; empty is untold.
const (
	LightShade    Light = "shade" // open shade
	LightOvercast Light = "overcast"
	LightSun      Light = "sun"
	LightIndoors  Light = "indoors"
)

// Reading is the colour of a plant's head, measured in one photo beside a colour card.
type Reading struct {
	ID     ReadingID
	Plant  PlantID
	Date   Date
	Person PersonID
	Colour Lab
	SE     Lab // standard uncertainty of each component
	// Spread is the head's width in millimetres and SpreadSE its standard uncertainty; 0 was not measured.
	Spread, SpreadSE float64
	Stage            Stage
	Light            Light
	Card             CardID // empty: measured without a card
	Camera           string // the same text for the same camera
	Photo            string // SHA-256 in hexadecimal, or empty
	Quality          int    // 0 to 100
	Problems         []string
}

// Card is a print batch of colour cards.
type Card struct {
	ID      CardID
	Printed Date
	// Patches are its colours in the order of the card's geometry: greys from dark to light, colours, paper.
	// None while the batch has not been characterised.
	Patches  []Lab
	SE       float64 // standard uncertainty of a patch in each component
	How      string  // "as_printed", "beside" or "typed"
	Measured Date    // the day on which Patches were found
	Retired  Date    // the day from which it is no longer used; empty while it is
}
