package sheets

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Problem is one thing for which a spreadsheet is refused.
type Problem struct {
	File   string // the source's name
	Line   int    // from 1, blank lines included; the line on which the row starts
	Column string // empty where the row or the file as a whole is meant
	Reason string // a sentence that says what is wrong and what to do
}

// String is the problem as one line of text.
func (p Problem) String() string {
	if p.Column == "" {
		return fmt.Sprintf("%s line %d: %s", p.File, p.Line, p.Reason)
	}
	return fmt.Sprintf("%s line %d, %s: %s", p.File, p.Line, p.Column, p.Reason)
}

// Problems is everything for which two spreadsheets are refused, in the order of the files.
type Problems []Problem

// Error lists all of them, a line each; a caller that shows fewer takes them from the slice.
func (ps Problems) Error() string {
	lines := make([]string, 0, len(ps)+1)
	lines = append(lines, fmt.Sprintf("nothing was loaded; problems in the spreadsheets: %d", len(ps)))
	for _, p := range ps {
		lines = append(lines, p.String())
	}
	return strings.Join(lines, "\n")
}

// sort puts the problems of the file named first before the others', each file by line. They were
// found in another order: what contradicts other rows shows only after all rows were read.
func (ps Problems) sort(first string) {
	rank := func(p Problem) int {
		if p.File == first {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.Line, b.Line))
	})
}

// quote shows a cell's text in a sentence, shortened where somebody pasted a page into it.
func quote(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	return strconv.Quote(text)
}
