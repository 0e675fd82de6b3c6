package division

import (
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/division/choose"
)

// Note is something that whoever reads a plan should know. Its code says which of the other fields speak.
type Note struct {
	Code   NoteCode      `json:"code"`
	Stock  crop.StockID  `json:"stock,omitempty"`
	Colour crop.ColourID `json:"colour,omitempty"`
	Plants int           `json:"plants,omitempty"`
	Stems  int           `json:"stems,omitempty"`
	Chance float64       `json:"chance,omitempty"`
}

// NoteCode names a note.
type NoteCode string

// The notes.
const (
	// NoteStockUnseen: no plant of Stock was ever counted; its Plants are planned by common practice and the other stocks.
	NoteStockUnseen NoteCode = "stock_unseen"
	// NoteSeasonRuns: stems of the season are still to come, and its counts are left out.
	NoteSeasonRuns NoteCode = "season_runs"
	// NoteNoPrice: Plants are of Colour, which nobody buys at any price.
	NoteNoPrice NoteCode = "no_price"
	// NoteNoClass: Plants drifted out of every colour class, and nobody buys stems of none at any price.
	NoteNoClass NoteCode = "no_class"
	// NoteMarketOpen: no price says how many stems a week are taken, so all are taken to be sold.
	NoteMarketOpen NoteCode = "market_open"
	// NoteProtected: Plants are of stock that may not be propagated.
	NoteProtected NoteCode = "protected"
	// NoteGoalOutOfReach: no plan was found that reaches the goal as often as asked; this one does so with Chance.
	NoteGoalOutOfReach NoteCode = "goal_out_of_reach"
	// NoteGoalLessSure: on the draws on which the plan was chosen the goal is reached as often as asked, on fresh ones with
	// Chance.
	NoteGoalLessSure NoteCode = "goal_less_sure"
	// NoteAskOutside: so many Stems are asked for or wanted on days on which nothing of the farm blooms.
	NoteAskOutside NoteCode = "ask_outside"
	// NoteOwnDivisions: what a division gives in its first season rests on the farm's own, Plants of them.
	NoteOwnDivisions NoteCode = "own_divisions"
)

// notesOf are what whoever reads the plan should know of it.
func (p *planner) notesOf(sol choose.Solution, plan Plan) []Note {
	var list []Note
	if !p.over {
		list = append(list, Note{Code: NoteSeasonRuns})
	}
	switch {
	case plan.Goal.Chance >= p.q.Chance:
	case sol.Missed:
		list = append(list, Note{Code: NoteGoalOutOfReach, Chance: plan.Goal.Chance})
	default:
		list = append(list, Note{Code: NoteGoalLessSure, Chance: plan.Goal.Chance})
	}
	protected, byColour := 0, make([]int, len(p.colours))
	for _, one := range p.plants {
		if one.stock.Protected {
			protected++
		}
		if one.colour >= 0 {
			byColour[one.colour]++
		}
	}
	if protected > 0 {
		list = append(list, Note{Code: NoteProtected, Plants: protected})
	}
	for c, plants := range byColour {
		if plants > 0 && len(p.lasting(p.colours[c])) == 0 && p.askedStems(p.colours[c]) == 0 {
			code := NoteNoPrice
			if p.colours[c] == "" {
				code = NoteNoClass
			}
			list = append(list, Note{Code: code, Colour: p.colours[c], Plants: plants})
		}
	}
	if !slices.ContainsFunc(p.q.Prices, func(price Price) bool { return !math.IsInf(price.AWeek, 1) }) {
		list = append(list, Note{Code: NoteMarketOpen})
	}
	outside := 0
	for _, ask := range p.q.Asks {
		if !p.blooms(ask.Colours, ask.Due) {
			outside += ask.Stems
		}
	}
	for _, wanted := range p.q.Wanted {
		if !p.blooms([]crop.ColourID{wanted.Colour}, wanted.Due) {
			outside += wanted.Stems
		}
	}
	if outside > 0 {
		list = append(list, Note{Code: NoteAskOutside, Stems: outside})
	}
	if p.posterior.own > 0 {
		list = append(list, Note{Code: NoteOwnDivisions, Plants: p.posterior.own})
	}
	return list
}
