package httpapi

import (
	"context"
	"encoding/json"
	"net/http"
	"slices"
	"time"

	"github.com/gin-gonic/gin"

	"corymb/internal/access"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/yield"
)

// SpeciesAges is the model by age of one species, and the table for its counting plan, which is sent as it
// is.
type SpeciesAges struct {
	Species string          `json:"species"`
	Report  yield.Report    `json:"report"`
	Plan    json.RawMessage `json:"plan"`
	// Rests names all that these come from: with the same they are the same.
	Rests string `json:"-"`
}

// readableBy leaves out how others grade, but for an owner. The fit that all share stays as it is.
func (s SpeciesAges) readableBy(g access.Grant) SpeciesAges {
	if g.Role == access.Owner || s.Report.Spread == nil {
		return s
	}
	spread := *s.Report.Spread
	spread.Graders = nil
	for _, grader := range s.Report.Spread.Graders {
		if g.Person != "" && string(grader.Person) == g.Person {
			spread.Graders = append(spread.Graders, grader)
		}
	}
	s.Report.Spread = &spread
	return s
}

// AgesFunc fits the model by age of every species on a farm, as asked on a day; before is what it said last, nil at
// first.
type AgesFunc func(f crop.Farm, asOf crop.Date, before []SpeciesAges) ([]SpeciesAges, error)

// agesAnswer is what GET /api/ages sends.
type agesAnswer struct {
	Arrival int64         `json:"arrival"` // of the last change that the fit knows
	AsOf    crop.Date     `json:"asof"`
	Species []SpeciesAges `json:"species"`

	at time.Time // when it knew everything
}

// recently is how old an answer may be that a phone only takes along. On a day of cutting, phones come on the line all
// the time, each after somebody counted, and a fit for each would keep the shed's machine busy for what nobody reads.
const recently = time.Hour

func (a agesAnswer) readableBy(g access.Grant) agesAnswer {
	species := make([]SpeciesAges, len(a.Species))
	for i, s := range a.Species {
		species[i] = s.readableBy(g)
	}
	a.Species = species
	return a
}

// keptAges is a species as it is kept from one run of the program to the next.
type keptAges struct {
	SpeciesAges
	Rests string `json:"rests"`
}

// ages answers GET /api/ages. It asks for a fit once for each newest change and day, and where recent is asked for, once
// an hour.
type ages struct {
	Config
	fits workedOut[agesAnswer]
}

func newAges(config Config) *ages {
	a := &ages{Config: config}
	a.fits.run, a.fits.before = a.run, a.kept
	return a
}

func (a *ages) get(c *gin.Context) {
	arrival, now := a.Farm.Newest(), a.Now()
	_, recent := c.GetQuery("recent")
	answer, err := a.fits.get(c.Request.Context(), func(fit agesAnswer) bool {
		return fit.AsOf >= crop.DateOf(now) && (fit.Arrival >= arrival || recent && now.Sub(fit.at) < recently)
	})
	if err != nil {
		a.failed(c, "the model by age could not be fitted", err)
		return
	}
	c.JSON(http.StatusOK, answer.readableBy(grantOf(c)))
}

// kept is what was said before the program was started, of whatever farm: what it rests on tells what is still so.
func (a *ages) kept() *agesAnswer {
	var found []keptAges
	if !a.readKept("ages", &found) {
		return nil
	}
	answer := agesAnswer{}
	for _, one := range found {
		one.SpeciesAges.Rests = one.Rests
		answer.Species = append(answer.Species, one.SpeciesAges)
	}
	return &answer
}

func (a *ages) keep(species []SpeciesAges) {
	kept := make([]keptAges, len(species))
	for i, one := range species {
		kept[i] = keptAges{one, one.Rests}
	}
	a.keepAnswer("ages", kept)
}

func (a *ages) run(before *agesAnswer) (answer agesAnswer, err error) {
	at := a.Now()
	asOf := crop.DateOf(at)
	state, arrival, err := a.Farm.State(context.Background())
	if err != nil {
		return answer, err
	}
	var last []SpeciesAges
	if before != nil {
		last = before.Species
	}
	species, err := a.Ages(farm.Read(crop.FarmID(a.Farm.Farm()), state), asOf, last)
	if species == nil {
		species = []SpeciesAges{}
	}
	if err == nil && !slices.EqualFunc(species, last, func(s, l SpeciesAges) bool { return s.Rests == l.Rests }) {
		a.keep(species)
	}
	return agesAnswer{Arrival: arrival, AsOf: asOf, Species: species, at: at}, err
}
