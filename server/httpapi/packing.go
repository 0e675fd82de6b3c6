package httpapi

import (
	"cmp"
	"context"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"corymb/internal/access"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/selling"
	"corymb/syncproto"
)

// PackingFunc plans what to pack for a day.
type PackingFunc func(ctx context.Context, f crop.Farm, day, today crop.Date, wishes selling.Wishes) (selling.Plan, error)

const (
	// longestPlan is how long a plan is looked for; after it the best so far is told.
	longestPlan = 5 * time.Second
	// mostPlans is how many answers are kept, for days and wishes.
	mostPlans = 16
	// mostWishes is how many lines may be pinned and refused.
	mostWishes = 500
)

// packings answers GET /api/packing. It plans once for each newest change, day and wishes.
type packings struct {
	Config
	plans byQuestion[packingAnswer]
}

func newPackings(config Config) *packings {
	return &packings{Config: config, plans: byQuestion[packingAnswer]{most: mostPlans}}
}

func (p *packings) get(c *gin.Context) {
	day, err := crop.ParseDate(c.Query("day"))
	if err != nil {
		refuse(c, http.StatusBadRequest, "day", "Say which day is to be packed for, as ?day=2026-06-30.")
		return
	}
	wishes, err := wishesOf(c)
	if err != nil {
		refuse(c, http.StatusBadRequest, "wishes", err.Error())
		return
	}
	arrival, today := p.Farm.Newest(), crop.DateOf(p.Now())
	asked := string(day) + "\n" + wishesInOneForm(wishes)
	plan := p.plans.of(asked, func() (packingAnswer, error) { return p.run(day, wishes) })
	answer, err := plan.get(c.Request.Context(), func(a packingAnswer) bool { return a.Arrival >= arrival && a.AsOf >= today })
	if err != nil {
		p.failed(c, "what to pack could not be planned", err)
		return
	}
	c.JSON(http.StatusOK, answer.readableBy(grantOf(c)))
}

func (p *packings) run(day crop.Date, wishes selling.Wishes) (answer packingAnswer, err error) {
	at := p.Now()
	today := crop.DateOf(at)
	state, arrival, err := p.Farm.State(context.Background())
	if err != nil {
		return answer, err
	}
	ctx, stop := context.WithTimeout(context.Background(), longestPlan)
	defer stop()
	plan, err := p.Packing(ctx, farm.Read(crop.FarmID(p.Farm.Farm()), state), day, today, wishes)
	if err != nil {
		return answer, err
	}
	answer = packingOf(plan, day, wishes)
	answer.Arrival, answer.AsOf, answer.At = arrival, today, at.UnixMilli()
	return answer, nil
}

// wishesOf reads ?pin=3:LINE&refuse=LINE, each as often as there are lines.
func wishesOf(c *gin.Context) (selling.Wishes, error) {
	w := selling.Wishes{Pinned: map[crop.LineID]int{}}
	pins, refused := c.QueryArray("pin"), c.QueryArray("refuse")
	if len(pins)+len(refused) > mostWishes {
		return w, wishError("At most " + strconv.Itoa(mostWishes) + " lines can be pinned or refused at once.")
	}
	for _, pin := range pins {
		number, line, ok := strings.Cut(pin, ":")
		n, err := strconv.Atoi(number)
		if !ok || err != nil || n < 0 || line == "" {
			return w, wishError("A pinned line is told as pin=3:LINE, with the bunches that it gets in all.")
		}
		w.Pinned[crop.LineID(line)] = n
	}
	for _, line := range refused {
		w.Refused = append(w.Refused, crop.LineID(line))
	}
	slices.Sort(w.Refused)
	w.Refused = slices.Compact(w.Refused)
	return w, nil
}

type wishError string

func (e wishError) Error() string { return string(e) }

// wishesInOneForm is the same for the same wishes, in whatever order they were told.
func wishesInOneForm(w selling.Wishes) string {
	var words []string
	for line, n := range w.Pinned {
		words = append(words, "pin "+strconv.Itoa(n)+" "+string(line))
	}
	for _, line := range w.Refused {
		words = append(words, "refuse "+string(line))
	}
	slices.Sort(words)
	return strings.Join(words, "\n")
}

// packingAnswer is what GET /api/packing sends. Amounts are in Money alone.
type packingAnswer struct {
	Arrival int64               `json:"arrival"`
	AsOf    crop.Date           `json:"asof"`
	At      int64               `json:"at"` // ms since 1970
	Day     crop.Date           `json:"day"`
	Stems   int                 `json:"stems"`
	Placed  int                 `json:"placed"`
	Proven  bool                `json:"proven"`
	Lines   []packingLine       `json:"lines"`
	Unsold  []lotStems          `json:"unsold"`
	TopDown []packingDiffers    `json:"top_down"`
	Pinned  map[crop.LineID]int `json:"pinned"`  // as it was asked
	Refused []crop.LineID       `json:"refused"` // as it was asked
	Wrong   []crop.LineID       `json:"wrong"`   // of these, what does not fit the day
	Money   *packingMoney       `json:"money,omitempty"`
}

type packingLine struct {
	Line   crop.LineID   `json:"line"`
	Asked  packingAsked  `json:"asked"`
	Packed int           `json:"packed"` // bunches, before the plan
	More   int           `json:"more"`   // bunches, by the plan
	Had    []lotStems    `json:"had"`    // what those that are packed are made of
	From   []lotStems    `json:"from"`   // what the others are to be made of
	Priced bool          `json:"priced"` // whether it was weighed against other lines
	Kept   []crop.Grade  `json:"kept"`   // stems of these grades may not go there: crew is told that, and no amount
	Short  *packingShort `json:"short,omitempty"`
}

// packingAsked is what a line asked for when it was planned, so that a phone sees when it asks for something else.
type packingAsked struct {
	Bunches int              `json:"bunches"`
	Stems   int              `json:"stems"`
	Grade   crop.Grade       `json:"grade"`
	Length  crop.Millimetres `json:"length"`
	Colours []crop.ColourID  `json:"colours"` // with what the buyer takes instead
	Whole   bool             `json:"whole"`
}

type packingShort struct {
	Why     selling.Why     `json:"why"`
	Missing int             `json:"missing"`
	Ask     []crop.ColourID `json:"ask"`
	There   int             `json:"there"` // stems that would do, wherever they go
	To      []packingTaker  `json:"to"`    // to whom they go
}

type packingTaker struct {
	Line   crop.LineID `json:"line"`
	Stems  int         `json:"stems"`
	Better bool        `json:"better,omitempty"` // it pays more a stem: told to owners alone
}

type lotStems struct {
	Lot   string `json:"lot"`
	Stems int    `json:"stems"`
}

type packingDiffers struct {
	Line    crop.LineID `json:"line"`
	More    int         `json:"more"`
	TopDown int         `json:"top_down"`
}

// packingMoney is in whole cents, once channels have kept their part.
type packingMoney struct {
	Revenue  crop.Cents                 `json:"revenue"`
	Bound    crop.Cents                 `json:"bound"`
	TopDown  crop.Cents                 `json:"top_down"`
	OneStem  map[string]crop.Cents      `json:"one_stem"`
	OneBunch map[crop.LineID]crop.Cents `json:"one_bunch"`
	Net      map[crop.LineID]crop.Cents `json:"net"` // what a bunch of each line brings
}

// readableBy leaves out what is money, and what pays more than what, but for whoever may read that. The answer is kept
// for all who ask, so that what is left out is left out of a copy.
func (a packingAnswer) readableBy(g access.Grant) packingAnswer {
	if slices.Contains(g.Role.Scopes(), syncproto.ScopeMoney) {
		return a
	}
	a.Money = nil
	a.Lines = slices.Clone(a.Lines)
	for i, line := range a.Lines {
		if line.Short == nil {
			continue
		}
		short := *line.Short
		short.To = slices.Clone(short.To)
		for j := range short.To {
			short.To[j].Better = false
		}
		// The order in which they come would tell it too.
		slices.SortFunc(short.To, func(a, b packingTaker) int { return cmp.Or(cmp.Compare(b.Stems, a.Stems), cmp.Compare(a.Line, b.Line)) })
		a.Lines[i].Short = &short
	}
	return a
}

func packingOf(plan selling.Plan, day crop.Date, wishes selling.Wishes) packingAnswer {
	a := packingAnswer{
		Day: day, Stems: plan.Stems, Placed: plan.Placed, Proven: plan.Proven,
		Lines: []packingLine{}, Unsold: lotsTold(plan.Unsold), TopDown: []packingDiffers{},
		Pinned: wishes.Pinned, Refused: orNone(wishes.Refused), Wrong: orNone(plan.Wrong),
		Money: &packingMoney{
			Revenue: plan.Money.Revenue, Bound: plan.Money.Bound, TopDown: plan.Money.TopDown,
			OneStem: map[string]crop.Cents{}, OneBunch: plan.Money.OneBunch, Net: map[crop.LineID]crop.Cents{},
		},
	}
	for lot, cents := range plan.Money.OneStem {
		a.Money.OneStem[farm.LotCell(lot)] = cents
	}
	for _, l := range plan.Lines {
		a.Money.Net[l.ID] = l.Net
		a.Lines = append(a.Lines, lineTold(l))
	}
	for _, d := range plan.TopDown {
		a.TopDown = append(a.TopDown, packingDiffers{d.Line, d.More, d.TopDown})
	}
	return a
}

func lineTold(l selling.PlanLine) packingLine {
	line := packingLine{
		Line: l.ID, Packed: l.Packed, More: l.More, Had: hadTold(l.Had), From: lotsTold(l.From), Priced: l.Priced(), Kept: orNone(l.KeptBack()),
		Asked: packingAsked{Bunches: l.Bunches, Stems: l.Stems, Grade: l.Grade, Length: l.Length, Colours: orNone(l.Colours), Whole: l.Whole},
	}
	if l.Short != nil {
		line.Short = &packingShort{Why: l.Short.Why, Missing: l.Short.Missing, Ask: orNone(l.Short.Ask), There: l.Short.There, To: []packingTaker{}}
		for _, t := range l.Short.To {
			line.Short.To = append(line.Short.To, packingTaker{t.Line, t.Stems, t.Better})
		}
	}
	return line
}

func lotsTold(lots []selling.LotStems) []lotStems {
	told := []lotStems{}
	for _, l := range lots {
		told = append(told, lotStems{farm.LotCell(l.Lot), l.Stems})
	}
	return told
}

func hadTold(had map[crop.LotID]int) []lotStems {
	told := []lotStems{}
	for lot, stems := range had {
		told = append(told, lotStems{farm.LotCell(lot), stems})
	}
	slices.SortFunc(told, func(a, b lotStems) int { return cmp.Compare(a.Lot, b.Lot) })
	return told
}

func orNone[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
