package httpapi

import (
	"context"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/money"
)

// Worth is what one more plant of each species and age would bring in a season like one.
type Worth struct {
	Season  crop.Season   `json:"season"`
	AsOf    crop.Date     `json:"asof"`
	Species []money.Worth `json:"species"`
	// Draws are what it was reckoned from, and Rests names all that these come from: with the same they are the same.
	Draws []money.PlantDraws `json:"-"`
	Rests string             `json:"-"`
}

// WorthFunc finds it, with an hour's work at so many cents; before has the last draws, nil at first.
type WorthFunc func(f crop.Farm, season crop.Season, asOf crop.Date, hour crop.Cents, before *Worth) (Worth, error)

const (
	mostBooks  = 3 // seasons whose books are kept open
	mostKeyLen = 200
)

// books answers GET /api/money, /api/money/bills and /api/money/worth. A season's books are laid once for each newest change
// and day; what is asked of them takes no time.
type books struct {
	Config
	open   byQuestion[openBooks]
	worths byQuestion[worthAnswer]
}

func newBooks(config Config) *books {
	return &books{Config: config, open: byQuestion[openBooks]{most: mostBooks}, worths: byQuestion[worthAnswer]{most: mostBooks}}
}

// openBooks are a season's, and what answers say beside them.
type openBooks struct {
	*money.Books
	arrival  int64
	today    crop.Date
	seasons  []crop.Season
	sides    []money.Side
	bills    money.Bills
	unit     crop.LengthUnit
	currency string
	hour     crop.Cents
}

// worthAnswer is what GET /api/money/worth sends.
type worthAnswer struct {
	Arrival int64 `json:"arrival"` // of the last change that it knows
	Worth
	today crop.Date
}

// keptDraws are those of a season as they are kept from one run of the program to the next: all that takes long.
type keptDraws struct {
	Draws []money.PlantDraws `json:"draws"`
	Rests string             `json:"rests"`
}

// get answers GET /api/money?by=DIMENSION: the season's ledger added up by it. Each other query but season, from and to names
// a dimension and what to keep of it; kept of nothing, as in "bed=", is what is untold.
func (b *books) get(c *gin.Context) {
	by, filter, wrong := moneyAsked(c)
	if wrong != "" {
		refuse(c, http.StatusBadRequest, "money", wrong)
		return
	}
	if open, ok := b.opened(c); ok {
		c.JSON(http.StatusOK, moneyAnswerOf(open, open.By(by, filter)))
	}
}

// getBills answers GET /api/money/bills: the season's invoices, and what is paid of them.
func (b *books) getBills(c *gin.Context) {
	if open, ok := b.opened(c); ok {
		c.JSON(http.StatusOK, billsAnswerOf(open))
	}
}

// getWorth answers GET /api/money/worth.
func (b *books) getWorth(c *gin.Context) {
	season, wrong := seasonAsked(c)
	if wrong != "" {
		refuse(c, http.StatusBadRequest, "money", wrong)
		return
	}
	arrival, today := b.Farm.Newest(), crop.DateOf(b.Now())
	found := b.worths.of(strconv.Itoa(int(season)), func() (worthAnswer, error) { return b.findWorth(season) })
	answer, err := found.get(c.Request.Context(), func(a worthAnswer) bool { return a.Arrival >= arrival && a.today >= today })
	if err != nil {
		b.failed(c, "what a plant is worth could not be found", err)
		return
	}
	c.JSON(http.StatusOK, answer)
}

// opened are the books of the season asked for. Where they cannot be opened it has answered.
func (b *books) opened(c *gin.Context) (openBooks, bool) {
	season, wrong := seasonAsked(c)
	if wrong != "" {
		refuse(c, http.StatusBadRequest, "money", wrong)
		return openBooks{}, false
	}
	open, err := b.of(c.Request.Context(), season)
	if err != nil {
		b.failed(c, "the books could not be laid", err)
		return openBooks{}, false
	}
	return open, true
}

// of are the books of a season, 0 for the present one, with all that is known by now.
func (b *books) of(ctx context.Context, season crop.Season) (openBooks, error) {
	arrival, today := b.Farm.Newest(), crop.DateOf(b.Now())
	found := b.open.of(strconv.Itoa(int(season)), func() (openBooks, error) { return b.lay(season) })
	return found.get(ctx, func(o openBooks) bool { return o.arrival >= arrival && o.today >= today })
}

// layEarly lays the present season's books: reading the farm for the first time takes longer than all else of them.
func (b *books) layEarly(ctx context.Context) {
	if b.Farm.Newest() == 0 {
		return
	}
	if _, err := b.of(ctx, 0); err != nil && ctx.Err() == nil {
		b.Logger.Warn("the books could not be laid beforehand; they are when somebody asks", "error", err)
	}
}

func (b *books) lay(season crop.Season) (openBooks, error) {
	today := crop.DateOf(b.Now())
	f, arrival, err := b.read()
	if err != nil {
		return openBooks{}, err
	}
	seasons := money.Seasons(f)
	season = seasonOf(f, season, seasons, today)
	laid := money.Of(f, season, f.Ahead.Costs.Hour)
	return openBooks{
		Books: laid, arrival: arrival, today: today, seasons: seasons, sides: laid.Sides(), bills: money.BillsOf(f, season, today),
		unit: f.Unit, currency: f.Sales.Terms.Currency, hour: f.Ahead.Costs.Hour,
	}, nil
}

func (b *books) findWorth(season crop.Season) (worthAnswer, error) {
	today := crop.DateOf(b.Now())
	f, arrival, err := b.read()
	if err != nil {
		return worthAnswer{}, err
	}
	season = seasonOf(f, season, money.Seasons(f), today)
	asOf := min(today, f.Calendar.Span(season).To) // a season that is over stays as it was
	var kept keptDraws
	var before *Worth
	if b.readKept("worth", &kept) {
		before = &Worth{Draws: kept.Draws, Rests: kept.Rests}
	}
	found, err := b.Worth(f, season, asOf, f.Ahead.Costs.Hour, before)
	if err == nil && (before == nil || before.Rests != found.Rests) {
		b.keepAnswer("worth", keptDraws{found.Draws, found.Rests})
	}
	return worthAnswer{Arrival: arrival, Worth: found, today: today}, err
}

func (b *books) read() (crop.Farm, int64, error) {
	state, arrival, err := b.Farm.State(context.Background())
	if err != nil {
		return crop.Farm{}, 0, err
	}
	return farm.Read(crop.FarmID(b.Farm.Farm()), state), arrival, nil
}

// seasonOf is the season asked for; 0 is the present one if anything is in its books, else the latest that has any.
func seasonOf(f crop.Farm, asked crop.Season, seasons []crop.Season, today crop.Date) crop.Season {
	now := f.Calendar.SeasonOf(today)
	switch {
	case asked != 0:
		return asked
	case len(seasons) == 0 || slices.Contains(seasons, now):
		return now
	default:
		return seasons[0]
	}
}

// seasonAsked reads the season, 0 where none is named, and otherwise says what is wrong.
func seasonAsked(c *gin.Context) (season crop.Season, wrong string) {
	text, asked := c.GetQuery("season")
	if !asked {
		return 0, ""
	}
	n, err := strconv.Atoi(text)
	const first, last = 1900, 2999
	if err != nil || n < first || n > last {
		return 0, fmt.Sprintf("%.20q is no season. Name it by the year of its spring, like season=2026.", text)
	}
	return crop.Season(n), ""
}

// moneyAsked reads by what to add up, by channel where nothing is said, and what to keep; wrong says what cannot be asked.
func moneyAsked(c *gin.Context) (by money.Dim, f money.Filter, wrong string) {
	by, f.Is = money.ByChannel, map[money.Dim]string{}
	asked := c.Request.URL.Query()
	for _, name := range slices.Sorted(maps.Keys(asked)) {
		values := asked[name]
		value := values[0]
		switch {
		case len(values) > 1:
			return by, f, fmt.Sprintf("%.20q is asked twice. Ask for one of them, then for the other.", name)
		case len(value) > mostKeyLen:
			return by, f, fmt.Sprintf("What is asked of %.20q is too long to be in any book.", name)
		case name == "season":
		case name == "by":
			by = money.Dim(value)
		case name == "from":
			f.From = crop.Date(value)
		case name == "to":
			f.To = crop.Date(value)
		case money.Dim(name).Known():
			f.Is[money.Dim(name)] = value
		default:
			return by, f, fmt.Sprintf("Money cannot be kept apart by %.20q. Use season, from, to or one of %s.", name, namesOfDims())
		}
	}
	return by, f, whatIsWrong(by, f)
}

func whatIsWrong(by money.Dim, f money.Filter) string {
	for _, day := range []crop.Date{f.From, f.To} {
		if day != "" && !day.Valid() {
			return fmt.Sprintf("%.20q is no day. Write year, month and day like 2026-05-28.", string(day))
		}
	}
	switch {
	case !by.Known():
		return fmt.Sprintf("Money cannot be added up by %.20q. Use one of %s.", string(by), namesOfDims())
	case f.From != "" && f.To != "" && f.From > f.To:
		return fmt.Sprintf("From %s to %s is no time. Give the earlier day first.", f.From, f.To)
	}
	return ""
}

func namesOfDims() string {
	var names []string
	for _, dim := range money.Dims() {
		names = append(names, string(dim))
	}
	return strings.Join(names, ", ")
}
