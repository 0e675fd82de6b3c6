package division

import (
	"cmp"
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/division/choose"
)

// wantedCents is what a wanted stem counts for, above anything that markets pay, while a plan is chosen.
const wantedCents = 100_000

// markets are by season ahead and colour class what takes its stems. With wanted stems among them they are for choosing a
// plan, and without for telling what it brings.
func (p *planner) markets(choosing bool) []choose.Market {
	var list []choose.Market
	for t := range p.ahead() {
		weight := 1.0
		if t == p.q.Seasons {
			weight = float64(p.q.Costs.Standing) / 100
		}
		for c, colour := range p.colours {
			market := choose.Market{Weight: weight}
			lasting := p.lasting(colour)
			for w, week := range p.rhythms[c].weeks() {
				takers := slices.Concat(lasting, p.askedFor(colour, w))
				if choosing && t == p.q.Seasons-1 {
					takers = append(takers, p.wantedOf(colour, w)...)
				}
				slices.SortStableFunc(takers, func(a, b choose.Taker) int { return cmp.Compare(b.Price, a.Price) })
				market.Weeks = append(market.Weeks, choose.Week{Share: week.share, Takers: takers})
			}
			list = append(list, market)
		}
	}
	return list
}

// marketOf is the place of a season ahead and colour class among the markets.
func (p *planner) marketOf(t, colour int) int { return t*len(p.colours) + colour }

// lasting are a colour class's takers of every week: its own prices, and those of any colour in channels and grades where it
// has none of its own.
func (p *planner) lasting(colour crop.ColourID) []choose.Taker {
	var takers []choose.Taker
	for _, price := range p.q.Prices {
		if price.Colour == colour || price.Colour == "" && !p.hasOwn(colour, price) {
			takers = append(takers, choose.Taker{Price: price.Cents, Least: leastOf(price.Grade), Most: price.AWeek})
		}
	}
	return takers
}

func (p *planner) hasOwn(colour crop.ColourID, price Price) bool {
	return slices.ContainsFunc(p.q.Prices, func(o Price) bool {
		return o.Colour == colour && o.Channel == price.Channel && o.Grade == price.Grade
	})
}

// leastOf is the lowest grade that a taker takes; where none is named, any but out.
func leastOf(grade crop.Grade) int {
	if grade == "" {
		return crop.GradeSecond.Rank()
	}
	return grade.Rank()
}

// askedFor is what buyers wanted of a colour class in one week and did not get. An ask of several colour classes is shared
// among them evenly.
func (p *planner) askedFor(colour crop.ColourID, week int) []choose.Taker {
	var takers []choose.Taker
	for _, ask := range p.q.Asks {
		among := len(ask.Colours)
		if among == 0 {
			among = len(p.colours)
		} else if !slices.Contains(ask.Colours, colour) {
			continue
		}
		if p.weekOf(colour, ask.Due) != week {
			continue
		}
		cents := ask.Cents
		if cents == 0 {
			cents = p.dearest(colour, ask.Grade)
		}
		takers = append(takers, choose.Taker{Price: cents, Least: leastOf(ask.Grade), Most: float64(ask.Stems) / float64(among)})
	}
	return takers
}

// weekOf is the place of a day's week among those in which a colour class is cut; -1 for none.
func (p *planner) weekOf(colour crop.ColourID, day crop.Date) int {
	if c := slices.Index(p.colours, colour); c >= 0 {
		return p.rhythms[c].weekOf(p.farm.Calendar, day)
	}
	return -1
}

// weeksOf are the weeks in which a colour class is cut.
func (p *planner) weeksOf(colour crop.ColourID) []week {
	if c := slices.Index(p.colours, colour); c >= 0 {
		return p.rhythms[c].weeks()
	}
	return nil
}

// blooms tells whether any of some colour classes is cut in the week of a day; none named is all.
func (p *planner) blooms(colours []crop.ColourID, day crop.Date) bool {
	if len(colours) == 0 {
		colours = p.colours
	}
	return slices.ContainsFunc(colours, func(colour crop.ColourID) bool { return p.weekOf(colour, day) >= 0 })
}

// dearest is the best price of a colour class that stems of a grade fetch; where none is named, those of the first.
func (p *planner) dearest(colour crop.ColourID, grade crop.Grade) float64 {
	if grade == "" {
		grade = crop.GradeFirst
	}
	best := 0.0
	for _, taker := range p.lasting(colour) {
		if taker.Least <= grade.Rank() {
			best = math.Max(best, taker.Price)
		}
	}
	return best
}

func (p *planner) wantedOf(colour crop.ColourID, week int) []choose.Taker {
	var takers []choose.Taker
	for _, wanted := range p.q.Wanted {
		if wanted.Colour == colour && p.weekOf(colour, wanted.Due) == week {
			takers = append(takers, choose.Taker{Price: wantedCents, Least: leastOf(""), Most: float64(wanted.Stems)})
		}
	}
	return takers
}
