package tags

import (
	"fmt"
	"io"
	"math"
	"strings"

	"codeberg.org/go-pdf/fpdf"
)

// CardPrint is what to print of a batch of colour cards.
type CardPrint struct {
	Batch    string // as ParseBatch gives it
	Paper    Paper
	Language string // of the page of how to: "en" or "es"
	Sheets   int    // of cards, from 1
}

// CardLanguages are those that the page of how to is written in.
var CardLanguages = []string{"en", "es"}

// MostCardSheets is how many sheets of cards are printed at once.
const MostCardSheets = 20

// Cards are so far apart on a sheet that each code lies on whole dots of printers of 150, 300 and 600 dots an inch.
const (
	cardAcross = 185 * step
	cardDown   = 130 * step
)

// CardsPerSheet is how many colour cards a sheet holds.
func (p Paper) CardsPerSheet() int { return p.cardGrid().perSheet() }

func (p Paper) cardGrid() grid {
	columns, left := middle(p.Width, CardWidth, cardAcross)
	rows, top := middle(p.Height, CardHeight, cardDown)
	onDots := func(from, code float64) float64 { return math.Floor((from+code)/step)*step - code }
	return grid{columns, rows, onDots(left, cardCodeX), onDots(top, cardCodeY), cardAcross, cardDown}
}

// WriteCards writes sheets of colour cards to be cut apart, all of one batch, and a page of how to print, hold and
// keep them, as PDF. The same print gives the same bytes.
func WriteCards(w io.Writer, print CardPrint) error {
	what := "the colour cards of batch " + print.Batch
	words, known := cardWords[print.Language]
	switch batch, err := ParseBatch(print.Batch); {
	case err != nil:
		return fmt.Errorf("printing colour cards: %w", err)
	case batch != print.Batch:
		return fmt.Errorf("printing %s: a card has its code as %s", what, batch)
	case !known:
		return fmt.Errorf("printing %s: nothing is written in %.20q: use %s", what, print.Language, strings.Join(CardLanguages, " or "))
	case print.Sheets < 1 || print.Sheets > MostCardSheets:
		return fmt.Errorf("printing %s: %d sheets cannot be printed at once: use 1 to %d", what, print.Sheets, MostCardSheets)
	}
	code, err := symbolOf(CardPayload(print.Batch))
	if err != nil {
		return err
	}
	pdf := newDocument(print.Paper, fmt.Sprintf("Colour cards %s on %s", print.Batch, print.Paper.Name), codeFace(), smallFace(), boldFace())
	pdf.SetLang(print.Language)
	pdf.AddOutputIntent(fpdf.OutputIntentType{
		SubtypeIdent: fpdf.OutputIntent_GTS_PDFA1, OutputConditionIdentifier: profileName, Info: profileName, ICCProfile: sRGBProfile(),
	})
	s := sheet{pdf, print.Paper, print.Paper.cardGrid()}
	for number := range print.Sheets {
		s.cardSheet(print.Batch, code, number+1, print.Sheets)
	}
	s.howToPage(print.Batch, words)
	return s.write(w, what)
}

func (s sheet) cardSheet(batch string, code symbol, number, of int) {
	s.pdf.AddPage()
	for i := range s.grid.perSheet() {
		x, y := s.grid.place(i)
		s.drawCard(batch, code, x, y)
		s.pdf.SetDrawColor(cutGrey, cutGrey, cutGrey)
		s.pdf.SetLineWidth(cutWidth)
		s.pdf.Rect(x, y, CardWidth, CardHeight, "D")
	}
	s.cardFoot(batch, number, of)
}

// drawCard draws a card at x, y. The paper between its parts stays bare, and so do the patches of bare paper.
func (s sheet) drawCard(batch string, code symbol, x, y float64) {
	for _, p := range CardPatches() {
		if p.Colour != cardPaper {
			s.fill(x+p.X, y+p.Y, patchSide, patchSide, CardColours[p.Colour])
		}
	}
	s.drawSymbol(code, x+cardCodeX, y+cardCodeY, cardModule)
	s.drawScale(x, y)
	s.drawMark(x+CardWidth/2, y)
	s.centred(codeFace(), batchType, shownBatch(batch), x+CardWidth/2, y+batchY)
}

// fill paints a rectangle in RGB, greys too, which fpdf would turn into black alone: so they go the way of the other
// colours, through the printer's colour management.
func (s sheet) fill(x, y, width, height float64, c RGB) {
	part := func(v uint8) float64 { return float64(v) / 255 }
	s.pdf.RawWriteStr(fmt.Sprintf("q %.5f %.5f %.5f rg %.5f %.5f %.5f %.5f re f Q", part(c.R), part(c.G), part(c.B),
		x*points, (s.paper.Height-y-height)*points, width*points, height*points))
}

// What stands on a card besides what is measured; millimetres, type by its em.
const (
	markY       = 13.2 // baseline of the name
	markType    = 11 * 25.4 / 72
	layoutType  = 6.5 * 25.4 / 72
	batchY      = 52.0 // baseline of the batch's code
	batchType   = 15 * 25.4 / 72
	scaleType   = 6 * 25.4 / 72
	scaleGap    = 2.05 // from the scale's line to its numbers' baseline
	scaleEvery  = 10.0 // from one number to the next
	scaleUnitAt = 1.6  // from the 0 to the unit
)

// drawScale draws the scale along the lower edge of a card, in solid black.
func (s sheet) drawScale(x, y float64) {
	black := RGB{}
	for i := 0; float64(i)*scaleStep <= scaleLength; i++ {
		at, long := x+scaleX+float64(i)*scaleStep, scaleTick
		if i%int(scaleEvery/scaleStep) == 0 {
			long = scaleLongTick
			s.centred(smallFace(), scaleType, fmt.Sprint(float64(i)*scaleStep), at, y+scaleY+scaleGap)
		}
		s.fill(at-scaleLine/2, y+scaleY-long, scaleLine, long, black)
	}
	s.fill(x+scaleX-scaleLine/2, y+scaleY-scaleLine/2, scaleLength+scaleLine, scaleLine, black)
	s.text(smallFace(), scaleType, "mm", x+scaleX+scaleUnitAt, y+scaleY+scaleGap)
}

// drawMark draws the name and the number of the layout, below a head of florets seen from the side, about the line x.
func (s sheet) drawMark(x, y float64) {
	const name = "Corymb"
	f, small := boldFace(), smallFace()
	layout := fmt.Sprint(CardVersion)
	gap := 0.9
	left := x - (f.width(name)*markType+gap+small.width(layout)*layoutType)/2
	s.text(f, markType, name, left, y+markY)
	s.text(small, layoutType, layout, left+f.width(name)*markType+gap, y+markY)
	s.drawHead(x, y+markY-4.2, 1)
}

// drawHead draws a flat head of florets on its stem as seen from the side, the stem's end at x, y.
func (s sheet) drawHead(x, y, size float64) {
	s.pdf.SetDrawColor(0, 0, 0)
	s.pdf.SetFillColor(0, 0, 0)
	s.pdf.SetLineWidth(0.25 * size)
	s.pdf.SetLineCapStyle("round")
	for i := -2; i <= 2; i++ {
		across := float64(i) * 1.5 * size
		top := y - (5.2-0.22*float64(i*i))*size
		s.pdf.Curve(x, y-1.2*size, x+across*0.85, y-3*size, x+across, top, "D")
		s.pdf.Circle(x+across, top-0.35*size, 0.55*size, "F")
	}
	s.pdf.Line(x, y, x, y-1.2*size)
	s.pdf.SetLineCapStyle("butt")
}

// text sets a line of type from x on the baseline y; centred has x in its middle.
func (s sheet) text(f *face, size float64, text string, x, y float64) {
	s.pdf.SetFont(f.family, "", size*points)
	s.pdf.Text(x, y, text)
}

func (s sheet) centred(f *face, size float64, text string, x, y float64) {
	s.text(f, size, text, x-f.width(text)*size/2, y)
}

// cardFoot tells which sheet it is, and the scale at which it must be printed, beside the cards: there is no room
// below them on US Letter. It is in no language.
func (s sheet) cardFoot(batch string, number, of int) {
	x, y := s.grid.left-1.2*footType, s.grid.top+float64(s.grid.rows-1)*s.grid.down+CardHeight
	s.pdf.TransformBegin()
	s.pdf.TransformRotate(90, x, y)
	s.text(smallFace(), footType, fmt.Sprintf("Corymb · %s · %d / %d · %s · 100 %%", shownBatch(batch), number, of, s.paper.Name), x, y)
	s.pdf.TransformEnd()
}
