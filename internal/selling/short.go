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
	// There is how many stems would do for it, wherever the plan puts them.
	There int
	// To are the lines that the plan gives such stems, those that pay more a stem first, then those with most.
	To []Taker
}

// Taker is a line with stems that another could have had.
type Taker struct {
	Line   crop.LineID
	Stems  int
	Better bool // it pays more a stem
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
	s := &Short{Missing: max(need-free, 0), Why: WhyWant, There: all}
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

// takers lists the lines that a plan gives stems which another could have had. A line without a price is planned after
// the others, so that what it got is still to be had for these and stands in the way of none.
func (p *Plan) takers(short PlanLine) []Taker {
	var to []Taker
	for _, other := range p.Lines {
		if other.ID == short.ID || short.Priced() && !other.Priced() {
			continue
		}
		stems := 0
		for _, from := range other.From {
			if short.Meets(from.Lot) && short.PaysFor(from.Lot.Grade) {
				stems += from.Stems
			}
		}
		if stems > 0 {
			to = append(to, Taker{other.ID, stems, other.paysMore(short.DueLine)})
		}
	}
	slices.SortStableFunc(to, func(a, b Taker) int {
		return cmp.Or(cmp.Compare(b.rank(), a.rank()), cmp.Compare(b.Stems, a.Stems))
	})
	return to
}

func (t Taker) rank() int {
	if t.Better {
		return 1
	}
	return 0
}

// paysMore compares what a stem brings on two lines that have a price.
func (l DueLine) paysMore(than DueLine) bool {
	return than.Priced() && int64(l.Net)*int64(than.Stems) > int64(than.Net)*int64(l.Stems)
}
