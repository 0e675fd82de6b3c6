package selling

import (
	"cmp"
	"slices"

	"corymb/internal/crop"
)

// Why says for want of what a line gets no more bunches.
type Why string

// The reasons why a line is not filled.
const (
	WhySize      Why = "size"      // nobody told how many stems are in its bunch
	WhyRefused   Why = "refused"   // the grower will not pack it
	WhyPinned    Why = "pinned"    // the grower said how many
	WhyFloor     Why = "floor"     // what is left would do, but for less than its floor
	WhyElsewhere Why = "elsewhere" // there is enough, and other lines bring more for it
	WhyWant      Why = "want"      // there is not enough
)

// Short is why a line is not filled.
type Short struct {
	Why Why
	// Missing is how many stems more would make one bunch more, or all of a line that is all or nothing, of what
	// nobody else gets.
	Missing int
	// Ask are colours of which enough is left: the buyer could be asked.
	Ask []crop.ColourID
}

// shortOf tells why a line of a plan is not filled, by the stems that the plan leaves of each lot.
func shortOf(line PlanLine, lots []Lot, left []int) *Short {
	switch {
	case line.More >= line.Open():
		return nil
	case line.Stems <= 0:
		return &Short{Why: WhySize}
	case line.Refused:
		return &Short{Why: WhyRefused}
	}
	bunches := 1
	if line.Whole {
		bunches = line.Open()
	}
	need := bunches * line.Stems
	free, cheap, all, others := 0, 0, 0, map[crop.ColourID]int{}
	for i, lot := range lots {
		switch {
		case line.Meets(lot.ID) && line.PaysFor(lot.ID.Grade):
			free += left[i]
			all += lot.Left()
		case line.Meets(lot.ID):
			cheap += left[i]
		case line.asked(lot.ID):
			others[lot.ID.Colour] += left[i]
		}
	}
	s := &Short{Missing: max(need-free, 0), Why: WhyWant}
	switch {
	case line.Pinned != nil && line.Packed+line.More >= *line.Pinned:
		s.Why = WhyPinned
	case free+cheap >= need:
		s.Why = WhyFloor
	case all >= line.More*line.Stems+need:
		s.Why = WhyElsewhere
	}
	s.Ask = enoughOf(others, s.Missing)
	return s
}

// asked tells whether a lot would do for a line whose buyer took its colour.
func (l DueLine) asked(lot crop.LotID) bool {
	other := l
	other.Colours = nil
	return lot.Colour != "" && other.Meets(lot) && l.PaysFor(lot.Grade)
}

// enoughOf lists the colours of which enough stems are there, the most first.
func enoughOf(stems map[crop.ColourID]int, enough int) []crop.ColourID {
	var ask []crop.ColourID
	for colour, n := range stems {
		if enough > 0 && n >= enough {
			ask = append(ask, colour)
		}
	}
	slices.SortFunc(ask, func(a, b crop.ColourID) int {
		return cmp.Or(cmp.Compare(stems[b], stems[a]), cmp.Compare(a, b))
	})
	return ask
}
