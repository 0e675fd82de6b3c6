package packing

import (
	"cmp"
	"slices"

	"corymb/internal/packing/assign"
)

// oldestFirst orders supply for use: by the day it was cut, unknown days last; of one day the lowest grade, the shortest
// and the lowest floor first, so that what is left can still go anywhere; then as given.
func (d *Day) oldestFirst() []int {
	var all []int
	for s := range d.Supply {
		all = append(all, s)
	}
	slices.SortStableFunc(all, func(a, b int) int {
		x, y := d.Supply[a], d.Supply[b]
		return cmp.Or(
			cmp.Compare(cutOr(x.Cut, "~"), cutOr(y.Cut, "~")), // after every digit
			cmp.Compare(slices.Index(d.Grades, x.Grade), slices.Index(d.Grades, y.Grade)),
			cmp.Compare(x.LengthMM, y.LengthMM), cmp.Compare(x.Floor, y.Floor),
		)
	})
	return all
}

func cutOr(cut, unknown string) string {
	if cut == "" {
		return unknown
	}
	return cut
}

// drawing is how the stems of whole bunches are drawn from supply: the router's classes are lines and its lines supply,
// since supply is what is served in turn.
type drawing struct {
	router assign.Router
	order  []int // supply
}

// draw uses the oldest supply first for whole bunches that are known to be possible. Which supply can be used together
// is a matroid too, so that each in turn takes as much as it can, and no other way uses more of the older.
func (p *planner) draw(bunches []int64) drawing {
	problem := assign.Problem{Stems: make([]int64, len(p.Demand)), Lines: make([]assign.Line, len(p.Supply))}
	for l, line := range p.Demand {
		problem.Stems[l] = bunches[l] * line.Bunch
		if bunches[l] > 0 {
			for _, s := range p.allowed[l] {
				problem.Lines[s].From = append(problem.Lines[s].From, l)
			}
		}
	}
	for s, supply := range p.Supply {
		problem.Lines[s].Lot, problem.Lines[s].Most = 1, supply.Stems
	}
	d := drawing{router: assign.NewRouter(problem), order: p.oldestFirst()}
	for _, s := range d.order {
		d.router.Grow(s, p.Supply[s].Stems)
	}
	return d
}

// complete says whether every bunch has its stems.
func (d drawing) complete(lines int) bool {
	for l := range lines {
		if d.router.Left(l) > 0 {
			return false
		}
	}
	return true
}

// pack writes down which stems go where.
func (p *planner) pack(plan *Plan) {
	drawn := p.draw(p.bunches)
	plan.Lines, plan.Unsold = []Packed{}, []Stems{}
	for l, line := range p.Demand {
		packed := Packed{ID: line.ID, Bunches: p.bunches[l], Stems: []Stems{}}
		for _, s := range drawn.order {
			if stems := drawn.router.Flow(l, s); stems > 0 {
				packed.Stems = append(packed.Stems, Stems{p.Supply[s].ID, stems})
			}
		}
		plan.Lines = append(plan.Lines, packed)
	}
	for s, supply := range p.Supply {
		if rest := supply.Stems - drawn.router.Got(s); rest > 0 {
			plan.Unsold = append(plan.Unsold, Stems{supply.ID, rest})
		}
	}
}
