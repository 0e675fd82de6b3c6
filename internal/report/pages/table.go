package pages

import (
	"slices"
	"strings"

	"corymb/internal/report"
)

const (
	tableGap = 2.2 // above a table
	cellGap  = 3.0 // between columns
	rowPad   = 0.9
)

const rowLine = tableType * point * lineHeight

// columns are as wide as their numbers and the longest words of their heads; the first has what is left. Where that leaves it
// too little, the next columns of words are narrowed.
func (s *sheet) columns(t report.Table) []float64 {
	widths := make([]float64, len(t.Head))
	for c := 1; c < len(widths); c++ {
		s.font(bold, tableType)
		for _, word := range strings.Fields(t.Head[c]) {
			widths[c] = max(widths[c], s.pdf.GetStringWidth(word))
		}
		for i, row := range t.Rows {
			s.font(s.rowFont(t, i), tableType)
			widths[c] = max(widths[c], s.pdf.GetStringWidth(row[c]))
		}
	}
	rest := s.width()
	for _, w := range widths[1:] {
		rest -= w + cellGap
	}
	const least, most = 30.0, 62.0
	for rest < least {
		widest := 1 + slices.Index(widths[1:], slices.Max(widths[1:]))
		narrower := max(widths[widest]-(least-rest), 12)
		if narrower == widths[widest] {
			break
		}
		rest, widths[widest] = rest+widths[widest]-narrower, narrower
	}
	widths[0] = min(rest, most)
	spread := (rest - widths[0]) / float64(max(1, len(widths)-1))
	for c := 1; c < len(widths); c++ {
		if widths[c] += min(spread, 14); len(widths) > 3 {
			widths[c] += max(0, spread-14)
		}
	}
	return widths
}

func (s *sheet) rowFont(t report.Table, row int) string {
	if row >= len(t.Rows)-t.Totals {
		return bold
	}
	return regular
}

// cells breaks a row's texts into lines, and tells how many its tallest has.
func (s *sheet) cells(row []string, widths []float64) (cells [][]string, tallest int) {
	for c, text := range row {
		lines := s.lines(text, widths[c])
		cells, tallest = append(cells, lines), max(tallest, len(lines))
	}
	return cells, tallest
}

func (s *sheet) rowHeight(row []string, widths []float64, font string) float64 {
	s.font(font, tableType)
	_, tallest := s.cells(row, widths)
	return float64(tallest)*rowLine + rowPad
}

// tableHeight is that of a head and so many rows.
func (s *sheet) tableHeight(t report.Table, rows int) float64 {
	widths := s.columns(t)
	height := tableGap + s.rowHeight(t.Head, widths, bold) + 1
	for i, row := range t.Rows[:min(rows, len(t.Rows))] {
		height += s.rowHeight(row, widths, s.rowFont(t, i))
	}
	return height
}

// table draws one, whole on a page where it fits on one, else its head again on each.
func (s *sheet) table(t report.Table) {
	widths := s.columns(t)
	const short = 16
	if len(t.Rows) <= short {
		s.need(s.tableHeight(t, len(t.Rows)))
	} else {
		s.need(s.tableHeight(t, 4))
	}
	s.y += tableGap
	s.head(t, widths)
	for i, row := range t.Rows {
		font := s.rowFont(t, i)
		if s.y+s.rowHeight(row, widths, font) > s.bottom() {
			s.page()
			s.head(t, widths)
		}
		if t.Totals > 0 && i == len(t.Rows)-t.Totals {
			s.rule(margin, margin+sum(widths), s.y, thin)
		}
		s.row(row, widths, font)
	}
	s.rule(margin, margin+sum(widths), s.y, thin)
}

func sum(widths []float64) float64 {
	all := -cellGap
	for _, w := range widths {
		all += w + cellGap
	}
	return all
}

func (s *sheet) head(t report.Table, widths []float64) {
	s.font(bold, tableType)
	cells, tallest := s.cells(t.Head, widths)
	s.rowOf(cells, tallest, widths, true)
	s.rule(margin, margin+sum(widths), s.y, 0.3)
	s.y += 0.3
}

func (s *sheet) row(row []string, widths []float64, font string) {
	s.font(font, tableType)
	cells, tallest := s.cells(row, widths)
	s.rowOf(cells, tallest, widths, false)
}

func (s *sheet) rowOf(cells [][]string, tallest int, widths []float64, low bool) {
	top, x := s.y, margin
	for c, lines := range cells {
		from := top
		if low {
			from += float64(tallest-len(lines)) * rowLine
		}
		at := right
		if c == 0 {
			at = left
		}
		for i, line := range lines {
			s.putAt(line, x, from+float64(i+1)*rowLine-rowLine*0.18, widths[c], at)
		}
		x += widths[c] + cellGap
	}
	s.y = top + float64(tallest)*rowLine + rowPad
}
