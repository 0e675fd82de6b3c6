// Package pages draws a season's report on paper as PDF: text, tables, and charts of lines, hatching and shapes in black alone.
package pages

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"corymb/internal/crop"
	"corymb/internal/report"
)

// Paper is what a report is printed on; lengths are millimetres.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers are those that it is laid out for, by the word that asks for them.
var Papers = map[string]Paper{"a4": {"A4", 210, 297}, "letter": {"US Letter", 215.9, 279.4}}

// Lengths are millimetres, sizes of type points.
const (
	margin     = 17.0
	footRoom   = 13.0
	body       = 9.0
	small      = 7.6
	tableType  = 8.0
	heading    = 11.5
	title      = 19.0
	thin       = 0.15
	point      = 25.4 / 72
	lineHeight = 1.32 // of the type
)

const (
	regular = "Go"
	bold    = "Go Bold"
)

// Write draws a report. The same report, paper and day give the same bytes.
func Write(w io.Writer, r report.Report, paper Paper, made crop.Date) error {
	s := newSheet(r, paper, made)
	s.draw(r)
	var out bytes.Buffer
	if err := s.pdf.Output(&out); err != nil {
		return fmt.Errorf("drawing the season report: %w", err)
	}
	if _, err := out.WriteTo(w); err != nil {
		return fmt.Errorf("writing the season report: %w", err)
	}
	return nil
}

// Overruns are texts that do not fit where they are drawn, on any page; none is as it should be.
func Overruns(r report.Report, paper Paper, made crop.Date) []string {
	s := newSheet(r, paper, made)
	s.draw(r)
	return s.overruns
}

// sheet draws from the top of a page to its end, and goes on on the next.
type sheet struct {
	pdf      *fpdf.Fpdf
	paper    Paper
	y        float64
	overruns []string
}

func newSheet(r report.Report, paper Paper, made crop.Date) *sheet {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height}})
	day, err := time.Parse(time.DateOnly, string(made))
	if err != nil {
		day = time.Unix(0, 0).UTC()
	}
	pdf.SetTitle(r.Title+": "+r.Under, true)
	pdf.SetCreator("Corymb", true)
	pdf.SetProducer("Corymb", true)
	pdf.SetLang(string(r.Language))
	pdf.SetCreationDate(day)
	pdf.SetModificationDate(day)
	pdf.SetCatalogSort(true) // or fonts would come in any order
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.AddUTF8FontFromBytes(regular, "", bytes.Clone(goregular.TTF)) // fpdf writes into it
	pdf.AddUTF8FontFromBytes(bold, "", bytes.Clone(gobold.TTF))
	pdf.SetFont(regular, "", body)
	return &sheet{pdf: pdf, paper: paper}
}

func (s *sheet) draw(r report.Report) {
	s.page()
	s.font(bold, title)
	for _, line := range s.lines(r.Title, s.width()) {
		s.y += title * point
		s.put(line, margin, s.width(), left)
		s.y += 1
	}
	s.font(regular, body+1)
	s.y += 5
	s.put(r.Under, margin, s.width(), left)
	s.y += 2.5
	s.rule(margin, s.paper.Width-margin, s.y, 0.5)
	s.y += 1
	for _, section := range r.Sections {
		s.section(section)
	}
	s.feet(r)
}

func (s *sheet) page() {
	s.pdf.AddPage()
	s.y = margin
}

func (s *sheet) width() float64 { return s.paper.Width - 2*margin }

func (s *sheet) bottom() float64 { return s.paper.Height - margin - footRoom/2 }

// need goes to the next page where so much does not fit on this one.
func (s *sheet) need(height float64) {
	if s.y+height > s.bottom() {
		s.page()
	}
}

func (s *sheet) section(section report.Section) {
	const before, after = 5.5, 1.5
	s.need(before + heading*point + after + s.first(section.Parts))
	s.y += before + heading*point
	s.font(bold, heading)
	s.put(section.Title, margin, s.width(), left)
	s.y += after
	s.rule(margin, s.paper.Width-margin, s.y, thin)
	s.y += 0.5
	for i, part := range section.Parts {
		s.part(part, section.Parts[i+1:])
	}
}

// first is the height of what must not be parted from a section's head.
func (s *sheet) first(parts []report.Part) float64 {
	height := 0.0
	for _, part := range parts {
		switch p := part.(type) {
		case report.Text:
			height += s.textHeight(p)
			continue
		case report.Table:
			const rowsKept = 4
			return height + s.tableHeight(p, rowsKept)
		default:
			return height + chartHeight(p)
		}
	}
	return height
}

func (s *sheet) part(part report.Part, next []report.Part) {
	switch p := part.(type) {
	case report.Text:
		s.need(s.textHeight(p))
		s.text(p)
	case report.Table:
		s.table(p)
	default:
		s.need(chartHeight(p))
		s.chart(p)
	}
}

func textType(t report.Text) float64 {
	if t.Small {
		return small
	}
	return body
}

const textGap = 1.3

func (s *sheet) textHeight(t report.Text) float64 {
	size := textType(t)
	s.font(regular, size)
	return textGap + float64(len(s.lines(t.Words, s.width())))*size*point*lineHeight
}

func (s *sheet) text(t report.Text) {
	size := textType(t)
	s.font(regular, size)
	s.y += textGap
	for _, line := range s.lines(t.Words, s.width()) {
		s.y += size * point * lineHeight
		s.put(line, margin, s.width(), left)
	}
}

func (s *sheet) font(family string, size float64) { s.pdf.SetFont(family, "", size) }

type align int

const (
	left align = iota
	right
	middle
)

// put sets one line of type on the baseline y in a column that begins at x.
func (s *sheet) put(text string, x, width float64, at align) {
	const exact = 0.01
	wide := s.pdf.GetStringWidth(text)
	if wide > width+exact {
		s.overruns = append(s.overruns, fmt.Sprintf("%q is %.1f mm wide where there are %.1f", text, wide, width))
	}
	switch at {
	case right:
		x += width - wide
	case middle:
		x += (width - wide) / 2
	}
	s.pdf.Text(x, s.y, text)
}

// putAt is put on another baseline.
func (s *sheet) putAt(text string, x, y, width float64, at align) {
	before := s.y
	s.y = y
	s.put(text, x, width, at)
	s.y = before
}

// lines breaks a text at spaces, and a word that is wider than a line where the line ends.
func (s *sheet) lines(text string, width float64) []string {
	var list []string
	line := ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + word)
		if s.pdf.GetStringWidth(longer) <= width {
			line = longer
			continue
		}
		if line != "" {
			list = append(list, line)
		}
		for line = word; s.pdf.GetStringWidth(line) > width; {
			fits := s.fitting(line, width)
			list, line = append(list, line[:fits]), line[fits:]
		}
	}
	return append(list, line)
}

// fitting is how many bytes of a word fit, one letter at least.
func (s *sheet) fitting(word string, width float64) int {
	fits := 0
	for at, r := range word {
		end := at + len(string(r))
		if fits > 0 && s.pdf.GetStringWidth(word[:end]) > width {
			return fits
		}
		fits = end
	}
	return fits
}

func (s *sheet) rule(from, to, y, width float64) {
	s.pdf.SetLineWidth(width)
	s.pdf.Line(from, y, to, y)
}

// shortened is a text that ends in … where it is wider.
func (s *sheet) shortened(text string, width float64) string {
	const more = "…"
	if s.pdf.GetStringWidth(text) <= width {
		return text
	}
	fits := s.fitting(text, width-s.pdf.GetStringWidth(more))
	return strings.TrimSpace(text[:fits]) + more
}

// feet bears each page's number, once it is known how many there are. Of a long title it bears the beginning: its end, the
// season, tells one year's pages from another's.
func (s *sheet) feet(r report.Report) {
	pages := s.pdf.PageCount()
	y := s.paper.Height - footRoom
	for number := 1; number <= pages; number++ {
		s.pdf.SetPage(number)
		s.font(bold, small) // another than before, or none would be set on this page
		s.font(regular, small)
		season := " · " + r.Foot
		s.putAt(s.shortened(r.Title, s.width()/2-s.pdf.GetStringWidth(season))+season, margin, y, s.width()/2, left)
		s.putAt(fmt.Sprintf("Corymb · "+r.Page, number, pages), s.paper.Width/2, y, s.width()/2, right)
	}
}
