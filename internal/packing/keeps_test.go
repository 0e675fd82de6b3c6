package packing

import (
	"fmt"
	"slices"
)

// broken lists every rule that a plan breaks, from what a day says alone: it shares no code with the planner.
func broken(d Day, plan Plan) (all []string) {
	say := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	supply, rank := map[string]Supply{}, map[string]int{}
	for _, s := range d.Supply {
		supply[s.ID] = s
	}
	for i, g := range d.Grades {
		rank[g] = i
	}
	if len(plan.Lines) != len(d.Demand) {
		say("%d lines for %d orders", len(plan.Lines), len(d.Demand))
		return all
	}
	revenue, used := int64(0), map[string]int64{}
	for i, packed := range plan.Lines {
		line := d.Demand[i]
		if packed.ID != line.ID {
			say("line %d is %s, want %s", i, packed.ID, line.ID)
		}
		revenue += packed.Bunches * line.Price
		stems := int64(0)
		for _, part := range packed.Stems {
			s, known := supply[part.Supply]
			switch {
			case !known:
				say("%s has stems of %s, which is not there", line.ID, part.Supply)
			case part.Stems <= 0:
				say("%s has %d stems of %s", line.ID, part.Stems, part.Supply)
			case rank[s.Grade] < rank[line.MinGrade]:
				say("%s has %s, of grade %s, and wants %s", line.ID, s.ID, s.Grade, line.MinGrade)
			case s.LengthMM < line.MinLengthMM:
				say("%s has %s, %d mm long, and wants %d", line.ID, s.ID, s.LengthMM, line.MinLengthMM)
			case len(line.Colours) > 0 && !slices.Contains(line.Colours, s.Colour):
				say("%s has %s, of colour %s, and wants %v", line.ID, s.ID, s.Colour, line.Colours)
			case s.Floor > line.Price/line.Bunch: // whole cents, so that rounding down is right
				say("%s pays %d for %d, under the floor %d of %s", line.ID, line.Price, line.Bunch, s.Floor, s.ID)
			}
			stems += part.Stems
			used[part.Supply] += part.Stems
		}
		most := line.MaxBunches
		if line.Refused {
			most = 0
		}
		switch {
		case stems != packed.Bunches*line.Bunch:
			say("%s has %d stems in %d bunches of %d", line.ID, stems, packed.Bunches, line.Bunch)
		case packed.Bunches < 0 || packed.Bunches > most:
			say("%s has %d bunches of %d", line.ID, packed.Bunches, most)
		case line.AllOrNothing && packed.Bunches != 0 && packed.Bunches != line.MaxBunches:
			say("%s has %d bunches, and wants all of %d or none", line.ID, packed.Bunches, line.MaxBunches)
		case line.Pinned != nil && packed.Bunches > *line.Pinned:
			say("%s has %d bunches, pinned are %d", line.ID, packed.Bunches, *line.Pinned)
		}
	}
	unsold := map[string]int64{}
	for _, rest := range plan.Unsold {
		if unsold[rest.Supply] != 0 || rest.Stems <= 0 {
			say("%d of %s are unsold, twice or none", rest.Stems, rest.Supply)
		}
		unsold[rest.Supply] = rest.Stems
	}
	for id, s := range supply {
		if used[id]+unsold[id] != s.Stems {
			say("%s: %d used and %d unsold of %d", id, used[id], unsold[id], s.Stems)
		}
	}
	if revenue != plan.Revenue {
		say("revenue is %d, told was %d", revenue, plan.Revenue)
	}
	// Where what must be packed cannot be, more of it may still be possible when time ends, though no more revenue.
	unmet := slices.ContainsFunc(plan.Warnings, func(n Note) bool { return n.Code == CodeUnmet })
	if plan.Bound < plan.Revenue || plan.Proven != (plan.Bound == plan.Revenue) && (plan.Proven || !unmet) {
		say("bound %d, revenue %d, proven %v", plan.Bound, plan.Revenue, plan.Proven)
	}
	return all
}
