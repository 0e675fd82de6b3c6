package packing

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"time"
)

// question is what one stem of a supply, or one bunch of a line, more would bring.
type question struct {
	ids    []string // supply that may go to the same lines has the same answer
	supply int      // the first of them, -1 where it is about a line
	line   int
	part   int

	cents    int64
	answered bool
}

// patience is how long each question has in the first, second and last round: a hard one does not keep the others
// waiting.
var patience = []time.Duration{30 * time.Millisecond, 300 * time.Millisecond, time.Hour}

// oneMore plans the day anew with one stem, and with one bunch, more, for each supply and line in turn. What is not
// proven in time is left out.
func (p *planner) oneMore(ctx context.Context, plan *Plan) {
	for _, s := range p.Supply {
		plan.OneStem[s.ID] = 0 // unless some line may have it
	}
	for _, line := range p.Demand {
		plan.OneBunch[line.ID] = 0 // unless there is supply for it
	}
	questions := p.questions()
	for _, limit := range patience {
		p.ask(ctx, questions, limit)
	}
	for _, q := range questions {
		into := plan.OneStem
		if q.supply < 0 {
			into = plan.OneBunch
		}
		for _, id := range q.ids {
			if q.answered {
				into[id] = q.cents
			} else {
				delete(into, id)
			}
		}
	}
}

// questions lists what needs planning, supply first. A pinned line does not get more by taking more.
func (p *planner) questions() (all []*question) {
	for i, part := range p.parts {
		_, class := p.classes(p.allowed, part)
		first := map[int]*question{}
		for _, s := range slices.Sorted(slices.Values(part.supply)) {
			if q := first[class[s]]; q != nil {
				q.ids = append(q.ids, p.Supply[s].ID)
				continue
			}
			first[class[s]] = &question{ids: []string{p.Supply[s].ID}, supply: s, part: i}
			all = append(all, first[class[s]])
		}
	}
	for i, part := range p.parts {
		for _, l := range part.lines {
			if p.Demand[l].Pinned == nil {
				all = append(all, &question{ids: []string{p.Demand[l].ID}, supply: -1, line: l, part: i})
			}
		}
	}
	return all
}

// ask answers what can be answered within a limit each, on all processors.
func (p *planner) ask(ctx context.Context, questions []*question, limit time.Duration) {
	next := make(chan *question)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for q := range next {
				within, cancel := context.WithTimeout(ctx, limit)
				p.answer(within, q)
				cancel()
			}
		})
	}
	for _, q := range questions {
		if ctx.Err() != nil {
			break
		}
		if !q.answered && p.proven[q.part] {
			next <- q
		}
	}
	close(next)
	wait.Wait()
}

// answer plans the part of a question anew, from the plan that there is.
func (p *planner) answer(ctx context.Context, q *question) {
	d := *p.Day
	if q.supply >= 0 {
		d.Supply = slices.Clone(d.Supply)
		d.Supply[q.supply].Stems++
	} else {
		d.Demand = slices.Clone(d.Demand)
		d.Demand[q.line].MaxBunches++
	}
	of := p.parts[q.part]
	found, err := p.solve(ctx, &d, of, p.bunches, true)
	if err != nil || !found.proven {
		return
	}
	q.answered = true
	for _, l := range of.lines {
		q.cents += p.Demand[l].Price * (found.bunches[l] - p.bunches[l])
	}
}
