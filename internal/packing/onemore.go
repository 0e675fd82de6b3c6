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
	id     string
	supply int // -1 where it is about a line
	line   int
	part   int
	same   string // questions of one part with the same are the same
}

// patience is how long each question has in the first, second and last round: a hard one does not keep the others
// waiting.
var patience = []time.Duration{30 * time.Millisecond, 300 * time.Millisecond, time.Hour}

// oneMore plans the day anew with one stem, and with one bunch, more, for each supply and line in turn. What is not
// proven in time is left out.
func (p *planner) oneMore(ctx context.Context, plan *Plan) {
	open := p.questions(plan)
	for _, limit := range patience {
		open = p.ask(ctx, open, limit, plan)
	}
}

// questions answers what needs no planning, and lists the others.
func (p *planner) questions(plan *Plan) (open []question) {
	supplyIn, lineIn := map[int]int{}, map[int]int{}
	for i, part := range p.parts {
		for _, s := range part.supply {
			supplyIn[s] = i
		}
		for _, l := range part.lines {
			lineIn[l] = i
		}
	}
	for s, supply := range p.Supply {
		if in, wanted := supplyIn[s]; wanted {
			open = append(open, question{supply.ID, s, -1, in, p.takers(s)})
		} else {
			plan.OneStem[supply.ID] = 0
		}
	}
	for l, line := range p.Demand {
		if in, there := lineIn[l]; there && line.Pinned == nil {
			open = append(open, question{line.ID, -1, l, in, ""})
		} else {
			plan.OneBunch[line.ID] = 0
		}
	}
	return slices.DeleteFunc(open, func(q question) bool { return !p.proven[q.part] })
}

// takers names the lines to which a supply may go.
func (p *planner) takers(s int) string {
	var names []byte
	for l := range p.allowed {
		if slices.Contains(p.allowed[l], s) {
			names = append(names, byte(l), byte(l>>8), byte(l>>16))
		}
	}
	return string(names)
}

// ask answers what can be answered within a limit each, and lists what is still open.
func (p *planner) ask(ctx context.Context, open []question, limit time.Duration, plan *Plan) (still []question) {
	type answer struct {
		cents int64
		known bool
	}
	answers := make([]answer, len(open))
	alike := map[string]int{} // the first question of several with one answer
	var first []int
	for i, q := range open {
		if _, seen := alike[q.same]; q.same != "" && seen {
			continue
		}
		alike[q.same] = i
		first = append(first, i)
	}
	next := make(chan int)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				within, cancel := context.WithTimeout(ctx, limit)
				answers[i].cents, answers[i].known = p.answer(within, open[i])
				cancel()
			}
		})
	}
	for _, i := range first {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wait.Wait()
	for i, q := range open {
		at := i
		if q.same != "" {
			at = alike[q.same]
		}
		switch a := answers[at]; {
		case !a.known:
			still = append(still, q)
		case q.supply >= 0:
			plan.OneStem[q.id] = a.cents
		default:
			plan.OneBunch[q.id] = a.cents
		}
	}
	return still
}

// answer plans the part of a question anew, from the plan that there is.
func (p *planner) answer(ctx context.Context, q question) (cents int64, known bool) {
	if ctx.Err() != nil {
		return 0, false
	}
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
		return 0, false
	}
	for _, l := range of.lines {
		cents += p.Demand[l].Price * (found.bunches[l] - p.bunches[l])
	}
	return cents, true
}
