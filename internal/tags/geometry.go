package tags

import "math"

// Everything here is in millimetres, from the upper left corner: of a sheet, or of a tag that stands
// upright, its upper end first.

// Paper is what a sheet is printed on.
type Paper struct {
	Name          string // as people say it
	Width, Height float64
}

// The papers of home and farm printers: ISO 216, and ANSI/ASME Y14.1 (8.5 by 11 in).
var (
	A4     = Paper{"A4", 210, 297}
	Letter = Paper{"US Letter", 215.9, 279.4}
)

// Papers are those that sheets can be printed on, by the word that asks for them.
var Papers = map[string]Paper{"a4": A4, "letter": Letter}

// A tag is a plain strip of one by five inches, as plant labels are, so that half of it stands above the
// ground: common practice, no source. Whoever wants a point cuts one.
const (
	tagWidth  = 25.4
	tagLength = 127.0
	// ground is how far a tag is stuck in; all that is to be read lies above.
	ground = tagLength / 2
)

// leastMargin is what most printers cannot reach, with some to spare: a quarter of an inch, common
// practice, no source.
const leastMargin = 6.35

// Codes lie on whole dots of a printer of 300 or 600 dots an inch, and begin where those of 150 and 200
// do too: a module that is now 9 and now 10 dots wide is harder to read from afar. On a sheet of many
// codes it decided whether zbar found all.
const (
	dot  = 25.4 / 300
	step = 25.4 / 50
)

// box is a part of a tag.
type box struct{ x, y, width, height float64 }

// The parts of a tag below its QR code. Type runs down the strip from the upper end, so that what is long
// comes near the ground and what is short stays far from it; its height lies across.
var (
	codeBox  = box{11.8, 26, 11.6, 36}
	stockBox = box{7, 26, 4, 36}
	placeBox = box{2.4, 26, 4, 36}
)

// Sizes of type, in millimetres of its em; a point is 25.4/72.
const (
	smallType = 8 * 25.4 / 72
	// wrapBelow is the size below which a code is set in several lines rather than still smaller.
	wrapBelow = 11 * 25.4 / 72
)

// symbolPlace is how wide the modules are of a code that is so many wide, and how far it lies from the
// left, the upper and, at least, the right edge of its tag. Its quiet zone is inside of the tag.
func symbolPlace(modules int) (module, border float64) {
	n := float64(modules)
	for dots := math.Floor(tagWidth / (n + 2*quiet) / dot); ; dots-- {
		module = dots * dot
		border = math.Floor((tagWidth-n*module)/2/step) * step
		if border >= quiet*module {
			return module, border
		}
	}
}

// grid is how parts of one size lie on a sheet, about in the middle of it.
type grid struct {
	columns, rows int
	left, top     float64
	across, down  float64 // from one part to the next
}

func (p Paper) grid() grid {
	columns, left := middle(p.Width, tagWidth, tagWidth)
	rows, top := middle(p.Height, tagLength, tagLength)
	return grid{columns, rows, left, top, tagWidth, tagLength}
}

// middle is how many parts of one length find room in another, each so far from the one before, and where they begin.
func middle(length, part, apart float64) (n int, from float64) {
	const exact = 1e-9 // eight inches are eight inches, whatever their last bit
	n = 1 + int((length-2*leastMargin-part)/apart+exact)
	taken := float64(n-1)*apart + part
	return n, math.Floor((length-taken)/2/step+exact) * step
}

// PerSheet is how many tags a sheet holds.
func (p Paper) PerSheet() int { return p.grid().perSheet() }

// Sheets is how many sheets some tags take.
func (p Paper) Sheets(tags int) int { return (tags + p.PerSheet() - 1) / p.PerSheet() }

func (g grid) perSheet() int { return g.columns * g.rows }

// place is where on its sheet a part lies, by rows.
func (g grid) place(i int) (x, y float64) {
	return g.left + float64(i%g.columns)*g.across, g.top + float64(i/g.columns)*g.down
}
