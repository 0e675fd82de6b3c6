package division

import (
	"math"

	"corymb/internal/crop"
	"corymb/internal/division/choose"
)

// Why is one reason for what becomes of a plant: a code, and the numbers that it speaks of. A plant has three at most, the
// weightiest first.
type Why struct {
	Code   WhyCode       `json:"code"`
	Stems  float64       `json:"stems,omitempty"`  // a season
	Times  float64       `json:"times,omitempty"`  // as many stems as the middle plant of its kind
	Age    int           `json:"age,omitempty"`    // seasons in the ground
	Cents  float64       `json:"cents,omitempty"`  // more than another way
	Colour crop.ColourID `json:"colour,omitempty"` // class
}

// WhyCode names a reason.
type WhyCode string

// The reasons.
const (
	// WhyProtected: the stock may not be propagated.
	WhyProtected WhyCode = "protected"
	// WhyTooYoung: a clump in its first season, of Age, gives no divisions.
	WhyTooYoung WhyCode = "too_young"
	// WhyGivesMost and WhyGivesLittle: the plant gives Times as much as the middle plant of its kind; Stems are those of
	// the next season.
	WhyGivesMost   WhyCode = "gives_most"
	WhyGivesLittle WhyCode = "gives_little"
	// WhyOpenCentre: the clump opened in the middle, and gives less until it is divided.
	WhyOpenCentre WhyCode = "open_centre"
	// WhyLeftClass: it is of Colour by now, or of no class where that is empty, and no longer of the one it was told to be of.
	WhyLeftClass WhyCode = "left_class"
	// WhyDrifts: its colour drifts; it is still of its class, or it cannot be told of which.
	WhyDrifts WhyCode = "drifts"
	// WhyColourAsked: of Colour so many Stems a season were asked for and not met.
	WhyColourAsked WhyCode = "colour_asked"
	// WhyColourWanted: of Colour so many Stems are wanted whatever they bring.
	WhyColourWanted WhyCode = "colour_wanted"
	// WhyMarketFull: one more stem of Colour would bring next to nothing (Cents).
	WhyMarketFull WhyCode = "market_full"
	// WhyColourPays: one more stem of Colour brings Cents.
	WhyColourPays WhyCode = "colour_pays"
	// WhyNoRoom and WhyNoTime: dividing it would pay, but others use the places or hours for more.
	WhyNoRoom WhyCode = "no_room"
	WhyNoTime WhyCode = "no_time"
	// WhyPays: it brings Cents more than keeping the plant as it is; WhyKeepPays: keeping brings Cents more than the next best.
	WhyPays     WhyCode = "pays"
	WhyKeepPays WhyCode = "keep_pays"
	// WhyUnseen: nobody ever counted it; what it gives is taken from others of its kind.
	WhyUnseen WhyCode = "unseen"
	// WhyGoal: it is done for the goal: of itself it brings Cents less than keeping.
	WhyGoal WhyCode = "goal"
	// WhyEven: another way would bring as much.
	WhyEven WhyCode = "even"
)

const mostWhys = 3

// From how many times the middle plant's stems on one is told to give most, and up to how many little.
const (
	mostTimes   = 1.25
	littleTimes = 0.75
)

// action tells of one plant.
func (p *planner) action(i, chosen int, sol choose.Solution, f *fresh) Action {
	one, o := &p.plants[i], p.options[i][chosen]
	a := Action{
		Plant: one.ID, Do: o.do, Into: o.into, Value: rangeOf32(f.value[i]), Stems: rangeOf32(f.next[i]), Why: []Why{},
	}
	gains := sol.Gains[i]
	next := math.Inf(-1)
	for n, gain := range gains {
		if n != chosen {
			next = math.Max(next, gain)
		}
	}
	if len(gains) > 1 {
		a.GivesUp = gains[chosen] - next
	}
	a.ByAge = p.byAge(i, chosen, gains)
	return a
}

// byAge is what replanting after the third season does, where the plan does another thing: a plant in its third season or
// later is divided or replaced, a younger one kept.
func (p *planner) byAge(i, chosen int, gains []float64) *ByAge {
	const replantAfter = 3
	do, old := p.options[i][chosen].do, p.plants[i].age >= replantAfter
	if len(gains) == 1 || old && (do == Divide || do == Replace) || !old && do == Keep {
		return nil
	}
	rule := Keep
	if old {
		rule = Replace
	}
	for n, o := range p.options[i] {
		if o.do == rule {
			return &ByAge{Do: rule, GivesUp: gains[chosen] - gains[n]}
		}
	}
	return nil
}

// reasons says why, plant by plant.
func (p *planner) reasons(plan *Plan, sol choose.Solution) {
	pays := p.whatPays(plan, sol)
	for i := range plan.Actions {
		a := &plan.Actions[i]
		for _, why := range p.whys(i, a, sol, pays) {
			if len(a.Why) < mostWhys {
				a.Why = append(a.Why, why)
			}
		}
	}
}

// whatPays is what one more stem of the first grade brings next season by colour class.
func (p *planner) whatPays(plan *Plan, sol choose.Solution) []float64 {
	markets, supply := p.markets(false), make([]choose.Qualities, len(p.colours))
	for i := range p.plants {
		parts := p.mixOf(&p.plants[i])
		usual := dirichletMean(p.usual[p.plants[i].gradedAs(usualAge)])
		for c := range p.colours {
			part := 0.0
			if p.plants[i].colour == c {
				part = 1
			} else if p.plants[i].colour < 0 {
				part = parts[c]
			}
			for g, share := range usual {
				supply[c][g] += part * share * plan.Actions[i].Stems.Mean
			}
		}
	}
	pays := make([]float64, len(p.colours))
	for c := range pays {
		var prices choose.Qualities
		market := markets[p.marketOf(0, c)]
		market.Revenue(&supply[c], &prices)
		pays[c] = prices[crop.GradeFirst.Rank()]
	}
	return pays
}

// usualAge is that of a clump in its second season.
const usualAge = 2

// dirichletMean are the shares of grades that are usual.
func dirichletMean(s Shares) Shares {
	sum := s[0] + s[1] + s[2] + s[3]
	for g := range s {
		s[g] /= sum
	}
	return s
}

// whys are all reasons that hold, the weightiest first.
func (p *planner) whys(i int, a *Action, sol choose.Solution, pays []float64) []Why {
	one, gains := &p.plants[i], sol.Gains[i]
	var list []Why
	add := func(holds bool, why Why) {
		if holds {
			list = append(list, why)
		}
	}
	times := p.timesOf(one)
	gain := gains[sol.Chosen[i]] - gains[0]
	add(one.stock.Protected && a.Do == Keep, Why{Code: WhyProtected})
	add(!one.stock.Protected && one.age < leastToDivide && a.Do == Keep, Why{Code: WhyTooYoung, Age: max(one.age, 0)})
	add(one.left, Why{Code: WhyLeftClass, Colour: p.colourNow(one)})
	add(one.drifts && !one.left, Why{Code: WhyDrifts})
	add(one.open, Why{Code: WhyOpenCentre})
	add(times >= mostTimes && (a.Do == Keep || a.Do == Divide), Why{Code: WhyGivesMost, Times: times, Stems: a.Stems.Mean})
	add(times > 0 && times <= littleTimes && a.Do != Divide, Why{Code: WhyGivesLittle, Times: times, Stems: a.Stems.Mean})
	if c := one.colour; c >= 0 {
		asked := p.askedStems(p.colours[c])
		add(asked > 0 && a.Do == Divide, Why{Code: WhyColourAsked, Colour: p.colours[c], Stems: asked})
		wanted := p.wantedStems(p.colours[c])
		add(wanted > 0 && a.Do == Divide, Why{Code: WhyColourWanted, Colour: p.colours[c], Stems: wanted})
		add(pays[c] < 1 && a.Do != Divide, Why{Code: WhyMarketFull, Colour: p.colours[c], Cents: pays[c]})
		add(pays[c] >= 1 && a.Do == Divide, Why{Code: WhyColourPays, Colour: p.colours[c], Cents: pays[c]})
	}
	if a.Do == Keep {
		code, held := p.heldBack(i, sol)
		add(held, Why{Code: code})
		add(a.GivesUp > 0, Why{Code: WhyKeepPays, Cents: a.GivesUp})
	} else {
		add(gain > 0, Why{Code: WhyPays, Cents: gain})
		add(gain < 0 && p.q.Chance > 0, Why{Code: WhyGoal, Cents: -gain})
	}
	add(!one.counted, Why{Code: WhyUnseen})
	add(len(list) == 0, Why{Code: WhyEven})
	return list
}

func (p *planner) colourNow(one *plant) crop.ColourID {
	if one.colour < 0 {
		return ""
	}
	return p.colours[one.colour]
}

// heldBack tells whether dividing a plant would pay if places or hours cost nothing.
func (p *planner) heldBack(i int, sol choose.Solution) (WhyCode, bool) {
	for n, o := range p.options[i] {
		_, uses := p.costOf(o)
		free := sol.Gains[i][n] + sol.Worth[0]*uses[0] + sol.Worth[1]*uses[1]
		if o.do != Divide || free <= sol.Gains[i][0] {
			continue
		}
		if sol.Worth[0]*uses[0] >= sol.Worth[1]*uses[1] {
			return WhyNoRoom, true
		}
		return WhyNoTime, true
	}
	return "", false
}

// timesOf is how many times as much a counted plant gives as the middle one of its kind; 0 where nobody counted it.
func (p *planner) timesOf(one *plant) float64 {
	draws, sum := p.posterior.species[one.stock.Species], 0.0
	for k := range p.posterior.draws {
		effect, counted := draws.Plant(k, one.ID)
		if !counted {
			return 0
		}
		sum += effect
	}
	return math.Exp(sum / float64(p.posterior.draws))
}

// wantedStems are stems of a colour class that are wanted whatever they bring.
func (p *planner) wantedStems(colour crop.ColourID) (sum float64) {
	for w := range p.weeksOf(colour) {
		for _, taker := range p.wantedOf(colour, w) {
			sum += taker.Most
		}
	}
	return sum
}

// askedStems are stems a season of a colour class that were asked for and not met.
func (p *planner) askedStems(colour crop.ColourID) float64 {
	sum := 0.0
	for w := range p.weeksOf(colour) {
		for _, taker := range p.askedFor(colour, w) {
			sum += taker.Most
		}
	}
	return sum
}
