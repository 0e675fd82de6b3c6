package division

import "corymb/internal/crop"

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
	// NoteSeasonRuns: the season is not over, and its counts are left out.
	NoteSeasonRuns NoteCode = "season_runs"
	// NoteNoPrice: Plants are of Colour, which nobody buys at any price.
	NoteNoPrice NoteCode = "no_price"
	// NoteProtected: Plants are of stock that may not be propagated.
	NoteProtected NoteCode = "protected"
	// NoteGoalOutOfReach: no plan was found that reaches the goal as often as asked; this one does so with Chance.
	NoteGoalOutOfReach NoteCode = "goal_out_of_reach"
	// NoteAskOutside: asks for so many Stems are for days on which nothing of the farm blooms.
	NoteAskOutside NoteCode = "ask_outside"
	// NoteOwnDivisions: what a division gives in its first season rests on the farm's own, Plants of them.
	NoteOwnDivisions NoteCode = "own_divisions"
)
