package packing

import (
	"cmp"
	"slices"

	"corymb/internal/packing/assign"
)

// Shortfall tells why a line is not filled.
type Shortfall struct {
	ID      string   `json:"id"`
	Bunches int64    `json:"bunches_short"` // of the most that it takes
	Minimum int64    `json:"minimum_short"` // of the least that it asks for, or of what is pinned
	Lacking int64    `json:"stems_lacking"` // for the next bunch, or for all where it is all or nothing
	Wanted  Wanted   `json:"wanted"`        // what these stems must be like
	Reasons []Reason `json:"reasons"`       // in order: the first is what to look at first
	Text    string   `json:"text"`
}

// Wanted is what a line's stems must at least be like.
type Wanted struct {
	Grade   string   `json:"min_grade"`
	Length  float64  `json:"min_length_cm"`
	Colours []string `json:"colours"` // any, where empty
}

// Reason is one cause of a shortfall, as a code and numbers.
type Reason struct {
	Code  ReasonCode `json:"code"`
	Stems int64      `json:"stems,omitempty"`
	Lines []Taker    `json:"lines,omitempty"`
	From  []Stems    `json:"supply,omitempty"`
}

// ReasonCode is a cause of a shortfall.
type ReasonCode string

// The causes. Stems is each time how many there are.
const (
	ReasonRefused   ReasonCode = "refused"        // a person refused the line
	ReasonPinned    ReasonCode = "pinned"         // a person pinned it to fewer bunches than it takes
	ReasonNone      ReasonCode = "no_such_stems"  // none on hand is good enough
	ReasonFloor     ReasonCode = "floor"          // stems are good enough, but their floor is above the price
	ReasonFew       ReasonCode = "too_few_stems"  // not enough may go there, if it had them all
	ReasonBetter    ReasonCode = "better_paid"    // lines that pay more a stem have them
	ReasonOthers    ReasonCode = "other_lines"    // lines that pay no more a stem have them, and all bunches together bring more so
	ReasonRemainder ReasonCode = "less_than_lot"  // what is left for it is less than a bunch
	ReasonWhole     ReasonCode = "all_or_nothing" // what is left would make bunches, but not all of them
	ReasonTime      ReasonCode = "not_finished"   // the time was over
)

// Taker is a line with stems that another could have.
type Taker struct {
	ID    string  `json:"id"`
	Stems int64   `json:"stems"`
	Cents float64 `json:"cents_a_stem"`
}

// explain says of each line that is not filled for want of what.
func (p *planner) explain(plan *Plan) {
	plan.Shortfalls = []Shortfall{}
	router := assign.NewRouter(p.plain())
	for l, line := range p.Demand {
		router.Grow(l, p.bunches[l]*line.Bunch)
	}
	held := holdings(plan)
	for l, line := range p.Demand {
		if p.bunches[l] >= line.MaxBunches {
			continue
		}
		short := Shortfall{
			ID: line.ID, Bunches: line.MaxBunches - p.bunches[l],
			Wanted: Wanted{line.MinGrade, float64(line.MinLengthMM) / 10, append([]string{}, line.Colours...)},
		}
		least, _ := line.bounds()
		if line.AllOrNothing && least > 0 {
			least = line.MaxBunches
		}
		short.Minimum = max(least-p.bunches[l], 0)
		p.reasons(&short, l, router, held, plan.Proven)
		short.Text = short.sentence(line)
		plan.Shortfalls = append(plan.Shortfalls, short)
		if short.Minimum > 0 {
			plan.Warnings = append(plan.Warnings, unmet(line, l+1, least, p.bunches[l]))
		}
	}
}

func unmet(line Demand, place int, least, got int64) Note {
	at := entry{"demand", line.ID, place}
	if line.Pinned != nil {
		return at.note(CodeUnmet, "pinned_bunches", "is %d, but with what must be packed for others there are stems for %d only", least, got)
	}
	return at.note(CodeUnmet, "min_bunches", "cannot be met: %s must be packed, but with what must be packed for others there are stems for %d only",
		counted(least, "bunch"), got)
}

// holdings is which line has how many stems of a supply.
func holdings(plan *Plan) map[string]map[int]int64 {
	held := map[string]map[int]int64{}
	for l, packed := range plan.Lines {
		for _, part := range packed.Stems {
			if held[part.Supply] == nil {
				held[part.Supply] = map[int]int64{}
			}
			held[part.Supply][l] += part.Stems
		}
	}
	return held
}

func (p *planner) reasons(short *Shortfall, l int, router assign.Router, held map[string]map[int]int64, proven bool) {
	line := p.Demand[l]
	say := func(r Reason) { short.Reasons = append(short.Reasons, r) }
	if line.Refused {
		say(Reason{Code: ReasonRefused})
		return
	}
	if line.Pinned != nil && p.bunches[l] >= *line.Pinned {
		say(Reason{Code: ReasonPinned})
		return
	}
	next := line.Bunch * min(line.step(), mostNumber/line.Bunch)
	spare := router.Grow(l, next)
	router.Shrink(l, spare)
	short.Lacking = next - spare
	reach := p.reach(l)
	kept := p.keptByFloor(l)
	if reach == 0 && kept.Stems == 0 {
		say(Reason{Code: ReasonNone})
		return
	}
	if few := p.bunches[l]*line.Bunch + next; reach < few {
		say(Reason{Code: ReasonFew, Stems: reach})
	}
	if kept.Stems > 0 {
		say(kept)
	}
	if better, others := p.holders(l, held); spare < next {
		if better.Stems > 0 {
			say(better)
		}
		if others.Stems > 0 {
			say(others)
		}
	} else if !proven {
		say(Reason{Code: ReasonTime})
	}
	switch {
	case spare >= line.Bunch && line.AllOrNothing:
		say(Reason{Code: ReasonWhole, Stems: spare})
	case spare > 0 && spare < line.Bunch:
		say(Reason{Code: ReasonRemainder, Stems: spare})
	}
}

// keptByFloor is the stems that are good enough for a line, but may not go for what it pays.
func (p *planner) keptByFloor(l int) Reason {
	kept := Reason{Code: ReasonFloor}
	for _, s := range p.Supply {
		if line := p.Demand[l]; s.Stems > 0 && p.meets(s, line) && !dearEnough(s, line) {
			kept.Stems += s.Stems
			kept.From = append(kept.From, Stems{s.ID, s.Stems})
		}
	}
	return kept
}

// holders lists the lines with stems that this one could have, the best paid first.
func (p *planner) holders(l int, held map[string]map[int]int64) (better, others Reason) {
	better.Code, others.Code = ReasonBetter, ReasonOthers
	stems := map[int]int64{}
	for _, s := range p.allowed[l] {
		for m, n := range held[p.Supply[s].ID] {
			if m != l {
				stems[m] += n
			}
		}
	}
	var by []int
	for m := range stems {
		by = append(by, m)
	}
	slices.SortFunc(by, func(a, b int) int {
		return cmp.Or(compareStems(p.Demand[b], p.Demand[a]), cmp.Compare(a, b))
	})
	for _, m := range by {
		into := &others
		if compareStems(p.Demand[m], p.Demand[l]) > 0 {
			into = &better
		}
		into.Stems += stems[m]
		into.Lines = append(into.Lines, Taker{p.Demand[m].ID, stems[m], p.Demand[m].centsAStem()})
	}
	return better, others
}
