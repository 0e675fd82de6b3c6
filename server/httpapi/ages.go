package httpapi

import (
	"context"
	"fmt"
	"net/http"
	"sync"

	"github.com/gin-gonic/gin"

	"corymb/internal/access"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/yield"
)

// SpeciesAges is the model by age of one species, and the table for its counting plan, which is sent as it
// is.
type SpeciesAges struct {
	Species string       `json:"species"`
	Report  yield.Report `json:"report"`
	Plan    any          `json:"plan"`
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

// AgesFunc fits the model by age of every species on a farm, as asked on a day.
type AgesFunc func(f crop.Farm, asOf crop.Date) ([]SpeciesAges, error)

// agesAnswer is what GET /api/ages sends.
type agesAnswer struct {
	Arrival int64         `json:"arrival"` // of the last change that the fit knows
	AsOf    crop.Date     `json:"asof"`
	Species []SpeciesAges `json:"species"`
}

func (a agesAnswer) readableBy(g access.Grant) agesAnswer {
	species := make([]SpeciesAges, len(a.Species))
	for i, s := range a.Species {
		species[i] = s.readableBy(g)
	}
	a.Species = species
	return a
}

// ages answers GET /api/ages. It fits once for each newest change and day, and one fit at a time:
// whoever asks meanwhile waits for it.
type ages struct {
	Config
	mu   sync.Mutex
	last *fit
}

// fit is one fit, under way until done is closed. Its other fields are for reading after that.
type fit struct {
	done   chan struct{}
	answer agesAnswer
	err    error
}

func newAges(config Config) *ages { return &ages{Config: config} }

func (a *ages) get(c *gin.Context) {
	arrival, asOf := a.Farm.Newest(), crop.DateOf(a.Now())
	for {
		f := a.current(arrival, asOf)
		select {
		case <-f.done:
		case <-c.Request.Context().Done():
			c.Abort() // whoever asked has gone; the fit goes on for the next
			return
		}
		switch {
		case f.err != nil:
			a.failed(c, "the model by age could not be fitted", f.err)
			return
		case f.knows(arrival, asOf):
			c.JSON(http.StatusOK, f.answer.readableBy(grantOf(c)))
			return
		}
	}
}

// current is the fit under way, else the last one where it knows enough, else a new one.
func (a *ages) current(arrival int64, asOf crop.Date) *fit {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.last != nil {
		select {
		case <-a.last.done:
			if a.last.err == nil && a.last.knows(arrival, asOf) {
				return a.last
			}
		default:
			return a.last
		}
	}
	f := &fit{done: make(chan struct{})}
	a.last = f
	go func() {
		defer close(f.done)
		f.answer, f.err = a.run(asOf)
	}()
	return f
}

func (f *fit) knows(arrival int64, asOf crop.Date) bool {
	return f.answer.Arrival >= arrival && f.answer.AsOf >= asOf
}

// run outlives the request that asked for it first.
func (a *ages) run(asOf crop.Date) (answer agesAnswer, err error) {
	defer func() {
		if cause := recover(); cause != nil {
			err = fmt.Errorf("the fit broke off: %v", cause)
		}
	}()
	state, arrival, err := a.Farm.State(context.Background())
	if err != nil {
		return answer, err
	}
	species, err := a.Ages(farm.Read(crop.FarmID(a.Farm.Farm()), state), asOf)
	if species == nil {
		species = []SpeciesAges{}
	}
	return agesAnswer{Arrival: arrival, AsOf: asOf, Species: species}, err
}
