package httpapi

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"

	"github.com/gin-gonic/gin"

	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/internal/farm"
)

// DivideFunc plans what becomes of each plant.
type DivideFunc func(f crop.Farm, q division.Question) (division.Plan, error)

const (
	maxDivideBytes = 64 << 10
	mostWanted     = 200 // colour classes and weeks
	mostDivisions  = 8   // answers kept
)

// divisions answers POST /api/divide. It plans once for each newest change, day and question.
type divisions struct {
	Config
	colours *colours
	plans   byQuestion[divideAnswer]
}

func newDivisions(config Config, colours *colours) *divisions {
	return &divisions{Config: config, colours: colours, plans: byQuestion[divideAnswer]{most: mostDivisions}}
}

// divideAsked is the body of POST /api/divide. What is not there is as usual: two seasons, four divisions of a plant, no
// goal.
type divideAsked struct {
	Places  int               `json:"places"`
	Hours   float64           `json:"hours"`
	Goal    float64           `json:"goal"`
	Chance  float64           `json:"chance"`
	Seasons *int              `json:"seasons"`
	Most    *int              `json:"most"`
	Wanted  []division.Wanted `json:"wanted"`
	LeftOut []crop.AskID      `json:"left_out"` // unmet asks that do not come again
}

// divideAnswer is what it sends: a plan, and what it stands on.
type divideAnswer struct {
	Arrival int64 `json:"arrival"`
	At      int64 `json:"at"` // ms since 1970
	division.Plan
	refused *division.Refusal // why there is no plan; it holds until something is recorded
}

func (d *divisions) post(c *gin.Context) {
	var asked divideAsked
	if !d.askedAtMost(maxDivideBytes, c, &asked) {
		return
	}
	if len(asked.Wanted) > mostWanted || len(asked.LeftOut) > mostWanted {
		refuse(c, http.StatusBadRequest, "wanted", fmt.Sprintf("At most %d wishes for a colour class and week, and as many asks left out, can be planned for at once.", mostWanted))
		return
	}
	arrival, today := d.Farm.Newest(), crop.DateOf(d.Now())
	q := asked.question()
	plan := d.plans.of(fmt.Sprintf("%+v %q", q, asked.LeftOut), func() (divideAnswer, error) { return d.run(q, asked.LeftOut) })
	answer, err := plan.get(c.Request.Context(), func(a divideAnswer) bool { return a.Arrival >= arrival && a.AsOf >= today })
	switch {
	case err != nil:
		d.failed(c, "the divisions could not be planned", err)
	case answer.refused != nil:
		refuse(c, http.StatusUnprocessableEntity, string(answer.refused.Code), answer.refused.Text)
	default:
		c.JSON(http.StatusOK, answer)
	}
}

func (a divideAsked) question() division.Question {
	q := division.Question{
		Places: a.Places, Hours: a.Hours, Goal: a.Goal, Chance: a.Chance, Seasons: 2, Most: 4, Wanted: a.Wanted,
	}
	if a.Seasons != nil {
		q.Seasons = *a.Seasons
	}
	if a.Most != nil {
		q.Most = *a.Most
	}
	return q
}

func (d *divisions) run(q division.Question, leftOut []crop.AskID) (answer divideAnswer, err error) {
	at := d.Now()
	state, arrival, err := d.Farm.State(context.Background())
	if err != nil {
		return answer, err
	}
	f := farm.Read(crop.FarmID(d.Farm.Farm()), state)
	q.AsOf = crop.DateOf(at)
	q.Prices, q.Asks = division.FromSales(f, q.AsOf)
	q.Asks = slices.DeleteFunc(q.Asks, func(a division.Ask) bool { return slices.Contains(leftOut, a.ID) })
	q.Costs = f.Ahead.Costs
	judged, err := d.colours.judged.get(context.Background(), func(judged coloursAnswer) bool { return judged.Arrival >= arrival })
	if err != nil {
		return answer, fmt.Errorf("judging colours: %w", err)
	}
	q.Classes = classesNow(f, farm.ColoursSeen(state), judged.Species, f.Calendar.SeasonOf(q.AsOf))
	q.OpenCentre = farm.Flagged(state, farm.FlagOpenCentre)
	answer.Arrival, answer.At, answer.AsOf = arrival, at.UnixMilli(), q.AsOf
	plan, err := d.Divide(f, q)
	var refused division.Refusal
	if errors.As(err, &refused) {
		answer.refused = &refused
		return answer, nil
	}
	if err != nil {
		return answer, err
	}
	answer.Plan = plan
	return answer, nil
}
