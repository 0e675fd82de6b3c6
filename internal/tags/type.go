package tags

import (
	"fmt"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face is a typeface that is printed in. Lengths are in parts of its em.
type face struct {
	family  string
	file    []byte // TrueType
	ascent  float64
	descent float64
	font    *sfnt.Font
}

// Codes are set where 0 and O, 1 and l differ; what heads a text is bold. All have the letters of European
// languages, Greek and Cyrillic too (the list WGL4 and some more).
var (
	codeFace  = sync.OnceValue(func() *face { return openFace("Go Mono", gomonobold.TTF) })
	smallFace = sync.OnceValue(func() *face { return openFace("Go", goregular.TTF) })
	boldFace  = sync.OnceValue(func() *face { return openFace("Go Bold", gobold.TTF) })
)

// openFace opens a face that is part of the program: that it cannot be read is a fault of the build.
func openFace(family string, file []byte) *face {
	parsed, err := sfnt.Parse(file)
	if err != nil {
		panic(fmt.Sprintf("opening the typeface %s: %v", family, err))
	}
	f := &face{family: family, file: file, font: parsed}
	metrics, err := parsed.Metrics(nil, f.unit(), font.HintingNone)
	if err != nil {
		panic(fmt.Sprintf("measuring the typeface %s: %v", family, err))
	}
	f.ascent, f.descent = f.inEm(metrics.Ascent), f.inEm(metrics.Descent)
	return f
}

// unit is the size at which a unit of the face's own drawing is one 64th.
func (f *face) unit() fixed.Int26_6 { return fixed.Int26_6(f.font.UnitsPerEm()) }

func (f *face) inEm(units fixed.Int26_6) float64 { return float64(units) / float64(f.unit()) }

// has tells whether the face can show a character.
func (f *face) has(r rune) bool {
	glyph, err := f.font.GlyphIndex(nil, r)
	return err == nil && glyph != 0
}

// width is that of a text, every character of which the face has.
func (f *face) width(text string) float64 {
	total := 0.0
	for _, r := range text {
		glyph, err := f.font.GlyphIndex(nil, r)
		if err != nil {
			continue // has said so before
		}
		if advance, err := f.font.GlyphAdvance(nil, glyph, f.unit(), font.HintingNone); err == nil {
			total += f.inEm(advance)
		}
	}
	return total
}

// height is that of a line, in parts of the em.
func (f *face) height() float64 { return f.ascent + f.descent }
