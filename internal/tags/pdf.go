package tags

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// written is when every sheet says that it was made: the same tags give the same bytes.
var written = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)

const (
	cutWidth = 0.1 // of a cut line
	cutGrey  = 150 // of 255: seen by whoever cuts, faint on what is left of it
	tick     = 1.2 // of the mark that shows how far a tag goes into the ground
	// footType is the size of the line below the tags.
	footType = 7 * 25.4 / 72
	points   = 72 / 25.4 // in a millimetre
)

// sheet draws on the pages of a document.
type sheet struct {
	pdf   *fpdf.Fpdf
	paper Paper
	grid  grid
}

// draw writes the sheets once all are drawn.
func draw(w io.Writer, paper Paper, tags []laidTag) error {
	title := fmt.Sprintf("%d stake tags on %s", len(tags), paper.Name)
	s := sheet{newDocument(paper, title, codeFace(), smallFace()), paper, paper.grid()}
	per := paper.PerSheet()
	for from := 0; from < len(tags); from += per {
		s.pdf.AddPage()
		page := tags[from:min(from+per, len(tags))]
		for i, tag := range page {
			x, y := s.grid.place(i)
			s.drawTag(tag, x, y)
		}
		s.cutLines(len(page))
		s.foot(from/per+1, paper.Sheets(len(tags)))
	}
	return s.write(w, fmt.Sprintf("the sheets of %d tags", len(tags)))
}

// write writes the document once it is whole; what is its name in errors.
func (s sheet) write(w io.Writer, what string) error {
	var made bytes.Buffer
	if err := s.pdf.Output(&made); err != nil {
		return fmt.Errorf("drawing %s: %w", what, err)
	}
	if _, err := made.WriteTo(w); err != nil {
		return fmt.Errorf("writing %s: %w", what, err)
	}
	return nil
}

func newDocument(paper Paper, title string, faces ...*face) *fpdf.Fpdf {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height}})
	pdf.SetTitle(title, true)
	pdf.SetCreator("Corymb", true)
	pdf.SetProducer("Corymb", true)
	pdf.SetCreationDate(written)
	pdf.SetModificationDate(written)
	pdf.SetCatalogSort(true) // or fonts would come in any order
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	for _, f := range faces {
		pdf.AddUTF8FontFromBytes(f.family, "", bytes.Clone(f.file)) // fpdf writes into it
	}
	return pdf
}

func (s sheet) drawTag(tag laidTag, x, y float64) {
	module, border := symbolPlace(len(tag.symbol))
	s.drawSymbol(tag.symbol, x+border, y+border, module)
	for _, l := range tag.lines {
		s.pdf.SetFont(l.face.family, "", l.size*points)
		s.pdf.TransformBegin()
		s.pdf.TransformRotate(-90, x+l.x, y+l.y)
		s.pdf.Text(x+l.x, y+l.y, l.text)
		s.pdf.TransformEnd()
	}
}

// drawSymbol draws a QR code at x, y as one shape in units of its modules, so that no light seam shows between two
// dark ones.
func (s sheet) drawSymbol(code symbol, x, y, module float64) {
	var out strings.Builder
	fmt.Fprintf(&out, "q %.5f 0 0 %.5f %.5f %.5f cm", module*points, -module*points, x*points, (s.paper.Height-y)*points)
	for row, dark := range code {
		for from := 0; from < len(dark); {
			to := from
			for to < len(dark) && dark[to] {
				to++
			}
			if to > from {
				fmt.Fprintf(&out, " %d %d %d 1 re", from, row, to-from)
			}
			from = to + 1
		}
	}
	out.WriteString(" f Q")
	s.pdf.RawWriteStr(out.String())
}

// cutLines draws lines between and around so many tags, and at the edges of each the mark of the ground.
func (s sheet) cutLines(tags int) {
	s.pdf.SetDrawColor(cutGrey, cutGrey, cutGrey)
	s.pdf.SetLineWidth(cutWidth)
	for i := range tags {
		x, y := s.grid.place(i)
		s.pdf.Rect(x, y, tagWidth, tagLength, "D")
		s.pdf.Line(x, y+ground, x+tick, y+ground)
		s.pdf.Line(x+tagWidth-tick, y+ground, x+tagWidth, y+ground)
	}
}

// foot tells which sheet it is, and the scale at which it must be printed; in no language.
func (s sheet) foot(number, of int) {
	text := fmt.Sprintf("Corymb · %d / %d · %s · 100 %%", number, of, s.paper.Name)
	f := smallFace()
	s.pdf.SetFont(f.family, "", footType*points)
	bottom := s.grid.top + float64(s.grid.rows)*tagLength
	s.pdf.Text(s.grid.left, bottom+footType*1.2, text)
}
