package packing

import (
	"cmp"
	"context"
	"slices"
	"time"

	"corymb/internal/packing/assign"
)

// Options tell what to work out beside the plan.
type Options struct {
	OneMore bool // what one stem or one bunch more would bring, as far as there is time
}

// planner is a day with what was found about it so far.
type planner struct {
	*Day
	allowed allowance
	parts   []part
	bunches []int64 // by line
	proven  []bool  // by part
	soft    bool    // not all that must be packed can be
}

// Solve plans a day. Where ctx ends before the plan is proven it is the best so far, and Bound says how much better
// another could be. What is wrong with a day is told in Faults.
func Solve(ctx context.Context, d Day, options Options) (Plan, error) {
	start := time.Now()
	notes, err := d.Check()
	if err != nil {
		return Plan{}, err
	}
	p := &planner{Day: &d, allowed: d.allowance(), bunches: make([]int64, len(d.Demand))}
	p.parts = d.parts(p.allowed)
	slices.SortStableFunc(p.parts, func(a, b part) int { return cmp.Compare(len(a.lines), len(b.lines)) })
	filled := p.topDown()
	search, cancel := leaving(ctx, explaining*time.Since(start))
	defer cancel()
	plan := Plan{Proven: true, OneStem: map[string]int64{}, OneBunch: map[string]int64{}, Warnings: append([]Note{}, notes...)}
	for _, part := range p.parts {
		found, err := p.solve(search, &d, part, nil, false)
		if err != nil {
			return Plan{}, err
		}
		p.proven = append(p.proven, found.proven)
		p.soft = p.soft || found.soft
		plan.Proven = plan.Proven && found.proven
		plan.Bound += found.bound
		plan.Nodes += found.nodes
		for _, l := range part.lines {
			p.bunches[l] = found.bunches[l]
		}
	}
	p.settle(search)
	plan.Revenue = p.revenue(p.bunches)
	p.pack(&plan)
	p.explain(&plan)
	plan.TopDown = p.compare(filled)
	if options.OneMore {
		p.oneMore(ctx, &plan)
	}
	plan.Seconds = time.Since(start).Seconds()
	return plan, nil
}

// explaining is how many times as long as filling the orders top down it takes to draw the stems of a plan and to
// explain it, and to come to an end before.
const explaining = 3

// leaving is a context that ends so much before another, which may have no end.
func leaving(ctx context.Context, before time.Duration) (context.Context, context.CancelFunc) {
	if end, ends := ctx.Deadline(); ends {
		return context.WithDeadline(ctx, end.Add(-before))
	}
	return context.WithCancel(ctx)
}

func (d *Day) revenue(bunches []int64) int64 {
	sum := int64(0)
	for l, line := range d.Demand {
		sum += line.Price * bunches[l]
	}
	return sum
}

// found is the best bunches of a part's lines.
type found struct {
	bunches []int64 // by line of the day; those of other parts 0
	bound   int64
	proven  bool
	soft    bool
	nodes   int64
}

// solve plans a part of a day, which may differ from the planner's in a number. Known bunches are where to start.
func (p *planner) solve(ctx context.Context, d *Day, of part, known []int64, alone bool) (found, error) {
	t := d.task(p.allowed, of)
	options := assign.Options{Alone: alone}
	if known != nil {
		options.Known = t.lots(known)
	}
	result := assign.Solve(ctx, t.Problem, options)
	out := found{bunches: make([]int64, len(d.Demand)), soft: result.Lots == nil}
	if result.Lots == nil {
		var err error
		if t, err = t.softened(d); err != nil {
			return found{}, err
		}
		if known != nil {
			options.Known = t.lots(known)
		}
		result = assign.Solve(ctx, t.Problem, options)
	}
	t.bunches(result.Lots, out.bunches)
	out.proven, out.nodes = result.Proven, result.Nodes
	switch revenue := d.revenue(out.bunches); {
	case result.Proven:
		out.bound = revenue
	case result.Lots != nil && !t.weighted():
		out.bound = result.Bound
	default:
		out.bound = max(revenue, assign.Bound(d.task(p.allowed, of).Problem))
	}
	return out, nil
}
