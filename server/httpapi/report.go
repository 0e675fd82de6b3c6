package httpapi

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/internal/money"
	"corymb/internal/report"
	"corymb/internal/report/pages"
)

// ReportAsked is which report is wanted.
type ReportAsked struct {
	Season   crop.Season // 0 is the one whose books are shown first
	Language report.Language
	Paper    string // as pages.Papers names it
}

// Reports make a season's report of the answers that all other addresses give, so that it never says another thing than they do.
type Reports struct {
	Config
	ages      *ages
	colours   *colours
	forecasts *forecasts
	books     *books
	divisions *divisions
}

// NewReports makes reports for whoever asks without HTTP.
func NewReports(config Config) *Reports {
	colours := newColours(config)
	return &Reports{config, newAges(config), colours, newForecasts(config), newBooks(config), newDivisions(config, colours)}
}

// reportPatience is for how many times what others wait a report may be waited for: all that takes long may be worked out for it.
const reportPatience = 4

// get answers GET /api/report?season=2026&language=en&paper=a4 with the season's report as PDF; without a season with that of
// the season whose books are shown first.
func (r *Reports) get(c *gin.Context) {
	season, wrong := seasonAsked(c)
	asked := ReportAsked{season, report.Language(c.DefaultQuery("language", string(report.English))), c.DefaultQuery("paper", "a4")}
	_, known := pages.Papers[asked.Paper]
	switch {
	case wrong != "":
		refuse(c, http.StatusBadRequest, "season", wrong)
		return
	case !asked.Language.Known():
		refuse(c, http.StatusBadRequest, "language", "Reports are written in en and es.")
		return
	case !known:
		refuse(c, http.StatusBadRequest, "paper", "Reports are printed on a4 or letter.")
		return
	}
	pdf, season, err := r.Make(c.Request.Context(), asked)
	var unknown report.Unknown
	switch {
	case errors.As(err, &unknown):
		refuse(c, http.StatusNotFound, "season", unknown.Error())
	case err != nil:
		r.failed(c, "the season report could not be made", err)
	default:
		c.Header("Content-Disposition", fmt.Sprintf(`attachment; filename="corymb-report-%s.pdf"`, strconv.Itoa(int(season))))
		c.Data(http.StatusOK, "application/pdf", pdf)
	}
}

// Make is the report as PDF, and of which season it is. What takes long is waited for until the context ends; it goes on for
// whoever asks again. A season of which the farm holds nothing is a report.Unknown.
func (r *Reports) Make(ctx context.Context, asked ReportAsked) (pdf []byte, of crop.Season, err error) {
	answers, err := r.answers(ctx, asked.Season)
	if err != nil {
		return nil, 0, err
	}
	var out bytes.Buffer
	err = pages.Write(&out, report.Of(answers, asked.Language), pages.Papers[asked.Paper], answers.Made)
	return out.Bytes(), answers.Season, err
}

// answers gathers what a season's report says.
func (r *Reports) answers(ctx context.Context, season crop.Season) (a report.Answers, err error) {
	f, arrival, err := r.books.read()
	if err != nil {
		return a, fmt.Errorf("reading the farm: %w", err)
	}
	a = report.Answers{Farm: f, Made: crop.DateOf(r.Now())}
	season = seasonOf(f, season, money.Seasons(f), a.Made)
	a.Season = season
	if err := report.Check(f, season, a.Made); err != nil {
		return a, err
	}
	a.Books = money.Of(f, season, f.Ahead.Costs.Hour)
	a.Bills = money.BillsOf(f, season, a.Made)
	fits, err := r.ages.fits.get(ctx, func(fit agesAnswer) bool { return fit.AsOf >= a.Made && fit.Arrival >= arrival })
	if err != nil {
		return a, fmt.Errorf("fitting the ages: %w", err)
	}
	for _, s := range fits.Species {
		a.Ages = append(a.Ages, report.SpeciesAges{Species: s.Species, Report: s.Report})
	}
	judged, err := r.colours.judged.get(ctx, func(judged coloursAnswer) bool { return judged.Arrival >= arrival })
	if err != nil {
		return a, fmt.Errorf("judging colours: %w", err)
	}
	for _, s := range judged.Species {
		a.Colour = append(a.Colour, report.SpeciesColour{Species: s.Species, Report: s.Report})
	}
	made, err := r.forecasts.made.get(ctx, func(made forecastAnswer) bool { return made.AsOf >= a.Made && made.Arrival >= arrival })
	if err != nil {
		return a, fmt.Errorf("forecasting: %w", err)
	}
	a.Scores = made.Scores
	return a, r.plan(ctx, &a, arrival)
}

// plan adds what is advised for the plants after the season, where it is the one that is planned after on the day.
func (r *Reports) plan(ctx context.Context, a *report.Answers, arrival int64) error {
	a.Planned = division.SeasonPlanned(a.Farm, a.Made)
	if a.Season != a.Planned {
		return nil
	}
	a.Asked = reportQuestion(a.Farm, a.Season)
	found := r.divisions.plans.of(fmt.Sprintf("%+v []", a.Asked), func() (divideAnswer, error) { return r.divisions.run(a.Asked, nil) })
	plan, err := found.get(ctx, func(d divideAnswer) bool { return d.Arrival >= arrival && d.AsOf >= a.Made })
	switch {
	case err != nil:
		return fmt.Errorf("planning divisions: %w", err)
	case plan.refused != nil:
		a.NoPlan = plan.refused.Code
	default:
		a.Plan = &plan.Plan
	}
	return nil
}

// reportQuestion is what the season's plan was decided by; else what the app's page begins with, but for its free places: a
// report promises no ground that nobody has said to open, so divisions take the places of what is lifted.
func reportQuestion(f crop.Farm, season crop.Season) division.Question {
	q := division.Question{Hours: 16, Goal: 1.5, Seasons: 2, Chance: 0.8, Most: 4}
	if p, decided := f.Ahead.Plans[season]; decided {
		const percent, inAnHour = 100, 60
		q = division.Question{Places: p.Places, Hours: float64(p.Minutes) / inAnHour, Goal: float64(p.Goal) / percent, Seasons: p.Seasons, Chance: 0.8, Most: 4}
	}
	return q
}
