package packing

import (
	"fmt"
	"strconv"
	"strings"
)

// sentence says a shortfall in English.
func (s Shortfall) sentence(line Demand) string {
	got := line.MaxBunches - s.Bunches
	text := fmt.Sprintf("%s gets %d of %s", name(line), got, counted(line.MaxBunches, "bunch"))
	if len(s.Reasons) == 1 {
		switch s.Reasons[0].Code {
		case ReasonRefused:
			return text + ": the line is refused."
		case ReasonPinned:
			return text + ": it is pinned to that."
		case ReasonNone:
			return text + ": nothing on hand is " + s.Wanted.words() + "."
		}
	}
	if s.Lacking > 0 {
		what := "for one more"
		if line.AllOrNothing {
			what = "for all of it, and it is all or nothing"
		}
		text += fmt.Sprintf(": %s lacking %s (%s)", are(s.Lacking, "stem"), what, s.Wanted.words())
	}
	text += "."
	for _, r := range s.Reasons {
		text += " " + r.sentence(line)
	}
	if s.Minimum > 0 {
		text += fmt.Sprintf(" That is %s fewer than must be packed.", counted(s.Minimum, "bunch"))
	}
	return text
}

func (r Reason) sentence(line Demand) string {
	switch r.Code {
	case ReasonFloor:
		return fmt.Sprintf("Good enough, but with a floor above the %s cents a stem that it pays, %s: %s.",
			cents(line.centsAStem()), are(r.Stems, "stem"), supplies(r.From))
	case ReasonFew:
		if r.Stems == 0 {
			return "It may have none."
		}
		return fmt.Sprintf("If it had all that may go there it would have %s.", counted(r.Stems, "stem"))
	case ReasonBetter:
		return fmt.Sprintf("Better paid a stem, %s such stems: %s.", have(r), takers(r.Lines))
	case ReasonOthers:
		return fmt.Sprintf("Paid no better a stem, %s such stems, and all bunches together bring most so: %s.", have(r), takers(r.Lines))
	case ReasonRemainder:
		return fmt.Sprintf("The %s left for it %s less than a bunch.", counted(r.Stems, "stem"), isAre(r.Stems))
	case ReasonWhole:
		return fmt.Sprintf("The %s left for it would make a bunch, but not all.", counted(r.Stems, "stem"))
	case ReasonTime:
		return "The time was over before a better plan was found."
	}
	return ""
}

func have(r Reason) string {
	if len(r.Lines) == 1 {
		return fmt.Sprintf("1 line has %d", r.Stems)
	}
	return fmt.Sprintf("%d lines have %d", len(r.Lines), r.Stems)
}

// mostNamed is how many lines a sentence names.
const mostNamed = 5

func takers(lines []Taker) string {
	var parts []string
	for _, t := range lines[:min(len(lines), mostNamed)] {
		parts = append(parts, fmt.Sprintf("%s %d at %s cents", t.ID, t.Stems, cents(t.Cents)))
	}
	if more := len(lines) - mostNamed; more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(parts, ", ")
}

func supplies(from []Stems) string {
	var parts []string
	for _, s := range from[:min(len(from), mostNamed)] {
		parts = append(parts, fmt.Sprintf("%d of %s", s.Stems, s.Supply))
	}
	if more := len(from) - mostNamed; more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(parts, ", ")
}

func cents(a float64) string { return strconv.FormatFloat(a, 'f', 1, 64) }

func (w Wanted) words() string {
	parts := []string{"of any colour"}
	if len(w.Colours) > 0 {
		parts[0] = strings.Join(w.Colours, " or ")
	}
	if w.Grade != "" {
		parts = append(parts, w.Grade+" or better")
	}
	if w.Length > 0 {
		parts = append(parts, strconv.FormatFloat(w.Length, 'f', -1, 64)+" cm or longer")
	}
	return strings.Join(parts, ", ")
}

// centimetres is a length as people write it.
func centimetres(mm int64) string { return strconv.FormatFloat(float64(mm)/10, 'f', -1, 64) }

func name(line Demand) string {
	if line.Channel == "" {
		return line.ID
	}
	return fmt.Sprintf("%s (%s)", line.ID, line.Channel)
}

func are(n int64, thing string) string { return counted(n, thing) + " " + isAre(n) }

func isAre(n int64) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// Text is a plan as a person reads it.
func (p Plan) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "The plan brings %s", money(p.Revenue))
	if p.Proven {
		b.WriteString("; no other brings more.\n")
	} else {
		fmt.Fprintf(&b, "; another may bring up to %s more.\n", money(p.Bound-p.Revenue))
	}
	for _, line := range p.Lines {
		var parts []string
		for _, s := range line.Stems {
			parts = append(parts, fmt.Sprintf("%d of %s", s.Stems, s.Supply))
		}
		if line.Bunches > 0 {
			fmt.Fprintf(&b, "%s: %s, %s.\n", line.ID, counted(line.Bunches, "bunch"), strings.Join(parts, ", "))
		}
	}
	for _, s := range p.Unsold {
		fmt.Fprintf(&b, "%s: %s unsold.\n", s.Supply, counted(s.Stems, "stem"))
	}
	for _, s := range p.Shortfalls {
		b.WriteString(s.Text + "\n")
	}
	fmt.Fprintf(&b, "Filling the orders top down would bring %s.\n", money(p.TopDown.Revenue))
	return b.String()
}

// money is whole cents with the point where people write it.
func money(cents int64) string { return fmt.Sprintf("%d.%02d", cents/100, cents%100) }
