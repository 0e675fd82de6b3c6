package division

import (
	"math"
	"math/rand/v2"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/division/choose"
	"corymb/internal/stats"
)

// tellingDraws are how many fresh draws a plan of few plants is told by; each draw of what the counts say stands behind as
// many of them.
const tellingDraws = 800

// fresh is what came of a plan in draws on which it was not chosen.
type fresh struct {
	net, goal []float64   // by draw
	value     [][]float32 // by plant and draw
	next      [][]float32 // stems of the next season
	wanted    [][]float64 // by what is wanted and draw
}

// tell says what a solution brings.
func (p *planner) tell(sol choose.Solution) Plan {
	f := p.play(sol.Chosen, tellingSeeds, p.telling())
	plan := Plan{
		AsOf: p.asOf, Season: p.season, Actions: []Action{}, Net: rangeOf(f.net),
		Goal: Goal{
			Draws: len(f.goal), Season: p.season + crop.Season(p.q.Seasons), Stems: rangeOf(f.goal),
			Wanted: p.q.Goal * p.now, Now: p.now, Chance: chanceOf(f.goal, p.q.Goal*p.now),
		},
		PlaceWorth: sol.Worth[0], HourWorth: sol.Worth[1], Notes: p.notes,
	}
	if sol.Bound > sol.Value {
		plan.Gap = (sol.Bound - sol.Value) / math.Max(math.Abs(sol.Bound), 1)
	}
	for i, chosen := range sol.Chosen {
		_, uses := p.costOf(p.options[i][chosen])
		plan.PlacesUsed += int(uses[0])
		plan.HoursUsed += uses[1]
		plan.Actions = append(plan.Actions, p.action(i, chosen, sol, f))
	}
	for i, wanted := range p.q.Wanted {
		plan.Wanted = append(plan.Wanted, Met{wanted, meanOf(f.wanted[i])})
	}
	plan.Notes = append(plan.Notes, p.notesOf(sol, plan)...)
	if plan.Notes == nil {
		plan.Notes = []Note{}
	}
	p.reasons(&plan, sol)
	return plan
}

// span is some of the draws of what the counts say.
type span struct{ from, to int }

// checking are those by which a plan is held against the chance that is asked for, and telling those that tell what it
// brings. Where no chance is asked for nothing is checked.
func (p *planner) checking() span {
	if p.q.Chance == 0 {
		return span{p.choosing(), p.choosing()}
	}
	return span{p.choosing(), (p.choosing() + p.posterior.draws) / 2}
}

func (p *planner) telling() span { return span{p.checking().to, p.posterior.draws} }

// play draws futures of a plan, of some draws of what the counts say and by a stream of their own.
func (p *planner) play(chosen []int, seeds uint64, of span) *fresh {
	from, each := of.from, 1
	points := of.to - of.from
	if len(p.plants) <= fewPlants {
		each = max(1, tellingDraws/points)
	}
	n := points * each
	f := &fresh{net: make([]float64, n), goal: make([]float64, n)}
	for range p.plants {
		f.value, f.next = append(f.value, make([]float32, n)), append(f.next, make([]float32, n))
	}
	for range p.q.Wanted {
		f.wanted = append(f.wanted, make([]float64, n))
	}
	markets := p.markets(false)
	sideBySide(n, func(draw int) {
		w := p.newWorld(from+draw/each, rand.New(rand.NewPCG(seed, uint64(draw)+seeds)))
		p.playOnce(w, chosen, markets, f, draw)
	})
	return f
}

// fewPlants of a farm have time for several futures of each draw of what the counts say.
const fewPlants = 600

// playOnce draws one future: what comes of each plant, what all of it brings together, and what each plant's part of that is.
func (p *planner) playOnce(w *world, chosen []int, markets []choose.Market, f *fresh, draw int) {
	came, seasons := make([]come, len(p.plants)), make([]grown, len(p.plants)*p.ahead())
	supply := make([]choose.Qualities, len(markets))
	for i := range p.plants {
		came[i] = p.comeOf(w, &p.plants[i], p.options[i][chosen[i]], seasons[i*p.ahead():][:p.ahead()])
		f.next[i][draw] = float32(came[i].seasons[0].stems)
		f.goal[draw] += float64(came[i].seasons[p.q.Seasons-1].stems)
		for t, s := range came[i].seasons {
			for grade, share := range w.gradesOf(t, &p.plants[i], s) {
				supply[p.marketOf(t, came[i].colour)][grade] += share * float64(s.stems)
			}
		}
	}
	prices := make([]choose.Qualities, len(markets))
	for m := range markets {
		f.net[draw] += markets[m].Weight * markets[m].Revenue(&supply[m], &prices[m])
	}
	for i := range p.plants {
		cost, _ := p.costOf(p.options[i][chosen[i]])
		value := -cost
		for t, s := range came[i].seasons {
			m := p.marketOf(t, came[i].colour)
			for grade, share := range w.gradesOf(t, &p.plants[i], s) {
				value += markets[m].Weight * share * float64(s.stems) * prices[m][grade]
			}
		}
		f.net[draw] -= cost
		f.value[i][draw] = float32(value)
	}
	p.playWanted(supply, f, draw)
}

// come is what comes of one plant: of which colour class, and what in each season ahead.
type come struct {
	colour  int
	seasons []grown
}

// comeOf draws it into seasons.
func (p *planner) comeOf(w *world, one *plant, o option, seasons []grown) come {
	own := w.selfOf(p.stand, one)
	c := come{own.colour, seasons}
	if o.do == Replace {
		c.colour = own.plug
	}
	w.grow(one, own, o, c.seasons)
	return c
}

// playWanted notes what comes of each colour class and week that is wanted.
func (p *planner) playWanted(supply []choose.Qualities, f *fresh, draw int) {
	for i, wanted := range p.q.Wanted {
		if w := p.weekOf(wanted.Colour, wanted.Due); w >= 0 {
			s := &supply[p.marketOf(p.q.Seasons-1, slices.Index(p.colours, wanted.Colour))]
			f.wanted[i][draw] = p.weeksOf(wanted.Colour)[w].share * (s[1] + s[2] + s[3])
		}
	}
}

func (w *world) gradesOf(t int, one *plant, s grown) *Shares {
	return &w.quality[t][one.gradedAs(s.age)]
}

func rangeOf(values []float64) Range {
	return Range{Mean: meanOf(values), Lo: stats.Quantile(values, 0.05), Hi: stats.Quantile(values, 0.95)}
}

func rangeOf32(values []float32) Range {
	wide := make([]float64, len(values))
	for i, v := range values {
		wide[i] = float64(v)
	}
	return rangeOf(wide)
}

func meanOf(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(max(1, len(values)))
}

func chanceOf(stems []float64, wanted float64) float64 {
	n := 0
	for _, v := range stems {
		if v >= wanted {
			n++
		}
	}
	return float64(n) / float64(max(1, len(stems)))
}
