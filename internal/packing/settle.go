package packing

import (
	"cmp"
	"context"
)

// mostTrades is how many trades between lines that pay the same for a bunch are tried. It is a number and not a time, so
// that the same day has the same plan.
const mostTrades = 300

// settle chooses among plans that bring the same: it trades bunches between lines of one price while that uses older
// stems, or as old ones for a line that was named before.
func (p *planner) settle(ctx context.Context) {
	if p.soft {
		return // minimums and pins were weighed too
	}
	used := p.usedByAge(p.bunches)
	tries := 0
	for _, part := range p.parts {
		for _, to := range part.lines {
			for _, from := range part.lines {
				for p.canTrade(from, to) {
					if tries++; tries > mostTrades || ctx.Err() != nil {
						return
					}
					now := p.tryTrade(from, to, used)
					if now == nil {
						break
					}
					used = now
				}
			}
		}
	}
}

// step is by how many bunches a line can change.
func (line Demand) step() int64 {
	if line.AllOrNothing {
		return line.MaxBunches
	}
	return 1
}

func (p *planner) canTrade(from, to int) bool {
	a, b := p.Demand[from], p.Demand[to]
	if from == to || a.Price*a.step() != b.Price*b.step() || p.bunches[from] < a.step() {
		return false
	}
	least, _ := a.bounds()
	_, most := b.bounds()
	return p.bunches[from]-a.step() >= least && p.bunches[to]+b.step() <= most
}

// tryTrade trades a step, and says what is then used of each supply if that is better.
func (p *planner) tryTrade(from, to int, used []int64) []int64 {
	p.bunches[from] -= p.Demand[from].step()
	p.bunches[to] += p.Demand[to].step()
	now := p.usedByAge(p.bunches)
	if now != nil && p.older(now, used, to < from) {
		return now
	}
	p.bunches[from] += p.Demand[from].step()
	p.bunches[to] -= p.Demand[to].step()
	return nil
}

// older says whether of two uses the first is older, or as old where that is enough.
func (p *planner) older(now, used []int64, enough bool) bool {
	order := p.oldestFirst()
	for i := 0; i < len(order); {
		day, more := p.Supply[order[i]].Cut, int64(0)
		for ; i < len(order) && p.Supply[order[i]].Cut == day; i++ {
			more += now[order[i]] - used[order[i]]
		}
		if more != 0 {
			return cmp.Compare(more, 0) > 0
		}
	}
	return enough
}

// usedByAge is how many stems of each supply are used, nil where the bunches cannot be had.
func (p *planner) usedByAge(bunches []int64) []int64 {
	drawn := p.draw(bunches)
	if !drawn.complete(len(p.Demand)) {
		return nil
	}
	used := make([]int64, len(p.Supply))
	for s := range p.Supply {
		used[s] = drawn.router.Got(s)
	}
	return used
}
