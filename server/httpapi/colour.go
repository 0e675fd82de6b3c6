package httpapi

import (
	"context"
	"net/http"
	"slices"

	"github.com/gin-gonic/gin"

	"corymb/internal/crop"
	"corymb/internal/drift"
	"corymb/internal/farm"
)

// SpeciesColour is what the measured colours of one species say.
type SpeciesColour struct {
	Species string       `json:"species"`
	Report  drift.Report `json:"report"`
	// LeftOut is how many readings no photo can have given.
	LeftOut int `json:"left_out"`
	// Rests names all that the report comes from: with the same the report is the same.
	Rests string `json:"-"`
}

// ColoursFunc judges the measured colours of every species on a farm; before is what it said last, nil at first.
type ColoursFunc func(f crop.Farm, before []SpeciesColour) ([]SpeciesColour, error)

// coloursAnswer is what GET /api/colour sends.
type coloursAnswer struct {
	Arrival int64           `json:"arrival"` // of the last change that it knows
	AsOf    crop.Date       `json:"asof"`    // the day on which it was asked for and knew everything
	Species []SpeciesColour `json:"species"`
}

// keptColours is a species as it is kept from one run of the program to the next.
type keptColours struct {
	SpeciesColour
	Rests string `json:"rests"`
}

// colours answers GET /api/colour.
type colours struct {
	Config
	judged workedOut[coloursAnswer]
}

func newColours(config Config) *colours {
	a := &colours{Config: config}
	a.judged.run, a.judged.before = a.run, a.kept
	return a
}

func (a *colours) get(c *gin.Context) {
	arrival := a.Farm.Newest()
	answer, err := a.judged.get(c.Request.Context(), func(judged coloursAnswer) bool { return judged.Arrival >= arrival })
	if err != nil {
		a.failed(c, "measured colours could not be judged", err)
		return
	}
	answer.AsOf = crop.DateOf(a.Now())
	c.JSON(http.StatusOK, answer)
}

// kept is what was said before the program was started, of whatever farm: what it rests on tells what is still so.
func (a *colours) kept() *coloursAnswer {
	var found []keptColours
	if !a.readKept("colours", &found) {
		return nil
	}
	answer := coloursAnswer{}
	for _, one := range found {
		one.SpeciesColour.Rests = one.Rests
		answer.Species = append(answer.Species, one.SpeciesColour)
	}
	return &answer
}

func (a *colours) keep(species []SpeciesColour) {
	kept := make([]keptColours, len(species))
	for i, one := range species {
		kept[i] = keptColours{one, one.Rests}
	}
	a.keepAnswer("colours", kept)
}

func (a *colours) run(before *coloursAnswer) (answer coloursAnswer, err error) {
	state, arrival, err := a.Farm.State(context.Background())
	if err != nil {
		return answer, err
	}
	var last []SpeciesColour
	if before != nil {
		last = before.Species
	}
	species, err := a.Colours(farm.Read(crop.FarmID(a.Farm.Farm()), state), last)
	if species == nil {
		species = []SpeciesColour{}
	}
	if err == nil && !slices.EqualFunc(species, last, func(s, l SpeciesColour) bool { return s.Rests == l.Rests }) {
		a.keep(species)
	}
	return coloursAnswer{Arrival: arrival, Species: species}, err
}
