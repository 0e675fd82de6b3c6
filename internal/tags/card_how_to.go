package tags

import (
	"fmt"
	"math"
	"strings"
)

// The page of how to, in millimetres; type by its em.
const (
	pageMargin = 20.0
	titleType  = 24 * 25.4 / 72
	headType   = 12 * 25.4 / 72
	bodyType   = 10.5 * 25.4 / 72
	noteType   = 9 * 25.4 / 72
	lineHeight = 1.36 // of the em
	indent     = 9.0  // of the steps' text, past their numbers
	stepGap    = 3.4
	pictures   = 40.0 // below the upper edge of the page
	stepsFrom  = 100.0
)

// howToPage draws how to print, hold and keep the cards of a batch.
func (s sheet) howToPage(batch string, w howTo) {
	s.pdf.AddPage()
	right := s.paper.Width - pageMargin
	s.text(boldFace(), titleType, w.title, pageMargin, 27)
	code := shownBatch(batch)
	s.text(codeFace(), titleType, code, right-codeFace().width(code)*titleType, 27)
	s.fill(pageMargin, 31.5, right-pageMargin, 0.3, RGB{})
	s.howToPictures(w)
	y := stepsFrom
	for i, step := range w.steps {
		s.text(boldFace(), headType, fmt.Sprint(i+1), pageMargin, y)
		s.text(boldFace(), headType, step.head, pageMargin+indent, y)
		for _, line := range wrapWords(smallFace(), step.text, (right-pageMargin-indent)/bodyType) {
			y += bodyType * lineHeight
			s.text(smallFace(), bodyType, line, pageMargin+indent, y)
		}
		y += headType*lineHeight + stepGap
	}
}

// howToPictures draws a card beside a head as the phone sees both, and from the side what is right and what is not.
func (s sheet) howToPictures(w howTo) {
	const wide, apart = 48.0, 7.0
	third := s.paper.Width - pageMargin - wide
	second := third - apart - wide
	s.cardBesideHead(pageMargin, pictures+4)
	s.fromTheSide(second+wide/2, pictures, true)
	s.fromTheSide(third+wide/2, pictures, false)
	s.note(w.beside, second, wide)
	s.note(w.apart, third, wide)
}

// note says what a picture shows that is so wide from x.
func (s sheet) note(text string, x, wide float64) {
	for i, line := range wrapWords(smallFace(), text, wide/noteType) {
		s.centred(smallFace(), noteType, line, x+wide/2, pictures+46+float64(i)*noteType*lineHeight)
	}
}

// cardBesideHead draws a card at x, y, much smaller than it is and without a code that could be read, beside a head.
func (s sheet) cardBesideHead(x, y float64) {
	const scale, radius = 0.4, 10.5
	s.pdf.SetLineWidth(0.25)
	s.pdf.SetDrawColor(cutGrey, cutGrey, cutGrey)
	s.pdf.Rect(x, y, CardWidth*scale, CardHeight*scale, "D")
	for _, p := range CardPatches() {
		if p.Colour != cardPaper {
			s.fill(x+p.X*scale, y+p.Y*scale, patchSide*scale, patchSide*scale, CardColours[p.Colour])
		}
	}
	side := cardModules * cardModule * scale
	s.fill(x+cardCodeX*scale, y+cardCodeY*scale, side, side, RGB{60, 60, 60})
	s.fill(x+scaleX*scale, y+scaleY*scale, scaleLength*scale, 0.3, RGB{})
	s.headFromAbove(x+CardWidth*scale+radius+2.5, y+CardHeight*scale/2, radius)
}

// headFromAbove draws a head as florets on a spiral: each a golden angle on from the one before.
func (s sheet) headFromAbove(x, y, radius float64) {
	const florets = 90
	turn := math.Pi * (3 - math.Sqrt(5))
	for i := florets; i > 0; i-- {
		out := radius * math.Sqrt(float64(i)/florets)
		shade := 14 * (i % 3)
		s.pdf.SetFillColor(196+shade, 78+shade, 122+shade)
		s.pdf.Circle(x+out*math.Cos(float64(i)*turn), y+out*math.Sin(float64(i)*turn), radius*0.105, "F")
	}
}

// fromTheSide draws a phone above a head about the line x, and a card: in the head's plane, or below it and slanted.
func (s sheet) fromTheSide(x, y float64, right bool) {
	const size = 2.6
	top := y + 24.0 // of the head
	head := x + 9
	s.pdf.SetFillColor(0, 0, 0)
	s.pdf.RoundedRect(x-6, y+2, 12, 2, 0.8, "1234", "F")
	s.pdf.SetDrawColor(cutGrey, cutGrey, cutGrey)
	s.pdf.SetLineWidth(0.3)
	s.pdf.SetDashPattern([]float64{1.2, 1}, 0)
	s.pdf.Line(x, y+5, x-20, top)
	s.pdf.Line(x, y+5, x+20, top)
	s.pdf.Line(x-22, top, x+22, top)
	s.pdf.SetDashPattern(nil, 0)
	s.drawHead(head, top+6*size, size)
	s.pdf.SetLineWidth(1.2)
	if right {
		s.pdf.Line(x-19, top, x-2.5, top)
		s.tick(x-20, y+6)
		return
	}
	s.pdf.Line(x-18, top+14, x-3, top+7.5)
	s.cross(x-20, y+6)
}

// tick and cross say right and wrong without a word; 6 mm wide about x, y.
func (s sheet) tick(x, y float64) {
	s.pdf.SetLineWidth(1)
	s.pdf.Line(x-2.4, y, x-0.6, y+2)
	s.pdf.Line(x-0.6, y+2, x+2.8, y-2.4)
}

func (s sheet) cross(x, y float64) {
	s.pdf.SetLineWidth(1)
	s.pdf.Line(x-2.2, y-2.2, x+2.2, y+2.2)
	s.pdf.Line(x-2.2, y+2.2, x+2.2, y-2.2)
}

// wrapWords breaks a text between its words into lines of some width in parts of the em.
func wrapWords(f *face, text string, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && f.width(longer) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	return append(lines, line)
}
