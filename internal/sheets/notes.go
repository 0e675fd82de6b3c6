package sheets

import (
	"fmt"
	"strings"
)

// Notes are sentences for the person who brought the spreadsheets: what was assumed, added up or
// left out although nothing was wrong. They are in English; a screen in another language makes its
// own of the fields.
func (c Contents) Notes() []string {
	var notes []string
	if c.Assumed {
		notes = append(notes, "Every plant was taken as counted and alive in every season present in "+
			"the cuts, from its first season on, because the plants have no counted_from and counted_to.")
	}
	if c.Summed > 0 {
		notes = append(notes, fmt.Sprintf("Rows that repeat the date, plant or bed, grade, length, "+
			"colour and grader of an earlier row: %d. Their stems were added up.", c.Summed))
	}
	for _, i := range c.Ignored {
		notes = append(notes, fmt.Sprintf("Column %q of %s is not known and was not read.",
			i.Column, i.File))
	}
	if c.EarlySeasons > 0 {
		notes = append(notes, fmt.Sprintf("Seasons within counted_from and counted_to that lie before the "+
			"plant's first season: %d. It is not counted in them; if it was in bloom already, say so in a "+
			"column first_season.", c.EarlySeasons))
	}
	if len(c.Idle) > 0 {
		notes = append(notes, fmt.Sprintf("Not counted although they have counted_from and counted_to, "+
			"because these days hold no season so far in which they were in the ground: %s.", someOf(c.Idle)))
	}
	return notes
}

// someOf names the first few of a list that may be long: a note is read, not searched.
func someOf[T ~string](all []T) string {
	const most = 10
	var names []string
	for _, one := range all[:min(len(all), most)] {
		names = append(names, quote(string(one)))
	}
	if len(all) > most {
		names = append(names, fmt.Sprintf("and %d more", len(all)-most))
	}
	return strings.Join(names, ", ")
}
