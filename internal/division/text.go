package division

import (
	"fmt"
	"strings"

	"corymb/internal/crop"
)

// Text is a plan as a person reads it: a line for each plant with its reasons, then what all of it brings.
func (p Plan) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "After season %d, as of %s. A plant, what becomes of it, and what that brings; nine in ten futures lie in the range.\n", p.Season, p.AsOf)
	for _, a := range p.Actions {
		fmt.Fprintf(&b, "%-12s %-14s %8s (%s to %s)  %s\n", a.Plant, a.what(), money(a.Value.Mean), money(a.Value.Lo), money(a.Value.Hi), inWords(a.Why))
	}
	fmt.Fprintf(&b, "Net, with what stands afterwards: %s (%s to %s). Another plan could bring at most %.2f %% more.\n", money(p.Net.Mean), money(p.Net.Lo), money(p.Net.Hi), 100*p.Gap)
	fmt.Fprintf(&b, "Stems in season %d: %.0f (%.0f to %.0f); this season %.0f. %s\n", p.Goal.Season, p.Goal.Stems.Mean, p.Goal.Stems.Lo, p.Goal.Stems.Hi, p.Goal.Now, p.Goal.text())
	fmt.Fprintf(&b, "Places used: %d, hours: %.1f. One more place would bring %s, one more hour %s.\n", p.PlacesUsed, p.HoursUsed, money(p.PlaceWorth), money(p.HourWorth))
	for _, w := range p.Wanted {
		_, week := w.Due.ISOWeek()
		fmt.Fprintf(&b, "Wanted of %s in week %d of season %d: %d; %.0f come.\n", w.Colour, week, p.Goal.Season, w.Stems, w.Mean)
	}
	for _, note := range p.Notes {
		fmt.Fprintf(&b, "Note: %s\n", note.Text())
	}
	return b.String()
}

func (a Action) what() string {
	if a.Do == Divide {
		return fmt.Sprintf("divide into %d", a.Into)
	}
	return string(a.Do)
}

func (g Goal) text() string {
	if g.Wanted <= 0 {
		return "No goal was set."
	}
	return fmt.Sprintf("The goal of %.0f is reached in %.0f of 100 cases, by %d draws that had no part in choosing the plan.", g.Wanted, 100*g.Chance, g.Draws)
}

// money is cents as an amount.
func money(cents float64) string { return fmt.Sprintf("%.2f", cents/100) }

// inWords are reasons one after the other.
func inWords(whys []Why) string {
	list := make([]string, len(whys))
	for i, why := range whys {
		list[i] = why.Text()
	}
	return strings.Join(list, " ")
}

// named is a colour class in a sentence.
func named(colour crop.ColourID) string {
	if colour == "" {
		return "no colour class"
	}
	return string(colour)
}

// Text is a reason as a sentence.
func (w Why) Text() string {
	switch w.Code {
	case WhyProtected:
		return "It is protected and may not be divided."
	case WhyTooYoung:
		return fmt.Sprintf("In its season %d it is too young to be divided.", w.Age)
	case WhyGivesMost:
		return fmt.Sprintf("It gives %.1f times as much as the middle plant of its kind.", w.Times)
	case WhyGivesLittle:
		return fmt.Sprintf("It gives only %.1f times as much as the middle plant of its kind.", w.Times)
	case WhyOpenCentre:
		return "Its clump is open in the middle."
	case WhyLeftClass:
		return fmt.Sprintf("It left its colour class and is of %s now.", named(w.Colour))
	case WhyDrifts:
		return "Its colour drifts."
	case WhyColourAsked:
		return fmt.Sprintf("Asks for %.0f stems of %s could not be met.", w.Stems, w.Colour)
	case WhyColourWanted:
		return fmt.Sprintf("%.0f stems of %s are wanted.", w.Stems, w.Colour)
	case WhyMarketFull:
		return fmt.Sprintf("More stems of %s would bring next to nothing.", named(w.Colour))
	case WhyColourPays:
		return fmt.Sprintf("One more stem of %s brings %s.", named(w.Colour), money(w.Cents))
	case WhyNoRoom:
		return "To divide it would pay, but the places go to better ones."
	case WhyNoTime:
		return "To divide it would pay, but the hours go to better ones."
	case WhyPays:
		return fmt.Sprintf("It brings %s more than keeping it.", money(w.Cents))
	case WhyKeepPays:
		return fmt.Sprintf("As it stands it brings %s more than the next best.", money(w.Cents))
	case WhyUnseen:
		return "Nobody ever counted it: it goes by others of its kind."
	case WhyGoal:
		return fmt.Sprintf("It is for the goal; of itself it brings %s less than keeping it.", money(w.Cents))
	case WhyEven:
		return "Another way would bring as much."
	}
	return string(w.Code)
}

// Text is a note as a sentence or two.
func (n Note) Text() string {
	switch n.Code {
	case NoteStockUnseen:
		return fmt.Sprintf("Plants of %s, of which none was ever counted: %d. They go by common practice and the other stocks.", n.Stock, n.Plants)
	case NoteSeasonRuns:
		return "Stems of this season are still to come: its counts are left out."
	case NoteNoPrice:
		return fmt.Sprintf("Plants of %s, which nobody buys at any price: %d. Add a price for it.", n.Colour, n.Plants)
	case NoteNoClass:
		return fmt.Sprintf("Plants that drifted out of every colour class, whose stems nobody buys at any price: %d.", n.Plants)
	case NoteMarketOpen:
		return "No price says how many stems a week are taken, so all are taken to be sold."
	case NoteProtected:
		return fmt.Sprintf("Plants of protected stock, which may not be propagated without a licence: %d.", n.Plants)
	case NoteGoalOutOfReach:
		return fmt.Sprintf("No plan was found that reaches the goal as surely as asked. This one does so in %.0f of 100 cases.", 100*n.Chance)
	case NoteGoalLessSure:
		return fmt.Sprintf("On the draws by which it was chosen this plan reaches the goal as surely as asked; on fresh ones, which tell, in %.0f of 100 cases.", 100*n.Chance)
	case NoteAskOutside:
		return fmt.Sprintf("Stems asked for or wanted on days on which nothing of the farm blooms: %d.", n.Stems)
	case NoteOwnDivisions:
		return fmt.Sprintf("What divisions give in their first season goes by the farm's own that were counted: %d.", n.Plants)
	}
	return string(n.Code)
}
