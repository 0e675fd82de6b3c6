package division

import (
	"fmt"
	"strings"
)

// Text is a plan as a person reads it.
func (p Plan) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "after season %d, as of %s\n", p.Season, p.AsOf)
	for _, a := range p.Actions {
		what := string(a.Do)
		if a.Do == Divide {
			what = fmt.Sprintf("divide into %d", a.Into)
		}
		fmt.Fprintf(&b, "%-12s %-14s %8.2f (%.2f to %.2f)  %s\n", a.Plant, what, a.Value.Mean/100, a.Value.Lo/100, a.Value.Hi/100, inWords(a.Why))
	}
	fmt.Fprintf(&b, "net %.2f (%.2f to %.2f); the best plan is at most %.2f %% better\n", p.Net.Mean/100, p.Net.Lo/100, p.Net.Hi/100, 100*p.Gap)
	fmt.Fprintf(&b, "season %d: %.0f stems (%.0f to %.0f), %.0f wanted, chance %.2f from %d draws\n",
		p.Goal.Season, p.Goal.Stems.Mean, p.Goal.Stems.Lo, p.Goal.Stems.Hi, p.Goal.Wanted, p.Goal.Chance, p.Goal.Draws)
	fmt.Fprintf(&b, "%d places and %.1f hours used; one more place %.2f, one more hour %.2f\n", p.PlacesUsed, p.HoursUsed, p.PlaceWorth/100, p.HourWorth/100)
	for _, w := range p.Wanted {
		fmt.Fprintf(&b, "of %d stems of %s wanted in the week of %s %.0f come\n", w.Stems, w.Colour, w.Due, w.Mean)
	}
	for _, note := range p.Notes {
		fmt.Fprintf(&b, "note: %s\n", note.text())
	}
	return b.String()
}

func (n Note) text() string {
	words := []string{string(n.Code)}
	for _, word := range []string{string(n.Stock), string(n.Colour)} {
		if word != "" {
			words = append(words, word)
		}
	}
	if n.Plants > 0 {
		words = append(words, fmt.Sprintf("%d plants", n.Plants))
	}
	if n.Stems > 0 {
		words = append(words, fmt.Sprintf("%d stems", n.Stems))
	}
	return strings.Join(words, " ")
}

// inWords are reasons as short strings.
func inWords(whys []Why) string {
	list := make([]string, 0, len(whys))
	for _, why := range whys {
		list = append(list, why.String())
	}
	return strings.Join(list, "; ")
}

// String is a reason as the command prints it: its code, and the numbers that it speaks of.
func (w Why) String() string {
	words := []string{string(w.Code)}
	if w.Colour != "" {
		words = append(words, string(w.Colour))
	}
	if w.Times != 0 {
		words = append(words, fmt.Sprintf("%.1f times", w.Times))
	}
	if w.Stems != 0 {
		words = append(words, fmt.Sprintf("%.0f stems", w.Stems))
	}
	if w.Age != 0 {
		words = append(words, fmt.Sprintf("season %d", w.Age))
	}
	if w.Cents != 0 {
		words = append(words, fmt.Sprintf("%.2f", w.Cents/100))
	}
	return strings.Join(words, " ")
}
