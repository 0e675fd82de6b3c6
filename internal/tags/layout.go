package tags

import (
	"fmt"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// laidTag is a tag with everything in its place.
type laidTag struct {
	symbol symbol
	lines  []line
}

// line is one line of type. Its letters stand on the baseline x, which runs down the tag from y.
type line struct {
	face *face
	size float64 // of the em
	text string
	x, y float64
}

// layOut puts a tag's parts into their boxes.
func layOut(tag Tag) (laidTag, error) {
	drawn, err := symbolOf(tag.Code)
	if err != nil {
		return laidTag{}, err
	}
	lines := codeLines(shown(tag.Code))
	stock := shorten(smallFace(), name(tag.Stock), stockBox.height/smallType)
	lines = append(lines, setIn(stockBox, smallFace(), smallType, stock)...)
	lines = append(lines, setIn(placeBox, smallFace(), smallType, placeText(tag))...)
	return laidTag{drawn, lines}, nil
}

// shown is a text as it is set: the same to the reader, each letter with its accents in one.
func shown(text string) string { return norm.NFC.String(text) }

// name is one as it is set: on one line, whatever its cell in a spreadsheet held.
func name(text string) string { return strings.Join(strings.Fields(shown(text)), " ") }

// codeLines sets a code as large as its box lets it be: in one line as long as that is large, else in as
// many as make it largest. Nothing of a code is ever left out.
func codeLines(code string) []line {
	f := codeFace()
	largest := codeBox.width / f.height()
	if one := min(largest, codeBox.height/f.width(code)); one >= wrapBelow {
		return setIn(codeBox, f, one, code)
	}
	for count := 1; ; count++ {
		size := min(wrapBelow, largest/float64(count))
		if lines := wrap(f, code, codeBox.height/size); len(lines) <= count {
			return setIn(codeBox, f, size, lines...)
		}
	}
}

// wrap breaks a text into lines of some width in parts of the em, wherever one is full: a code has no words.
func wrap(f *face, text string, width float64) []string {
	var lines []string
	from, used := 0, 0.0
	for at, r := range text {
		next := f.width(string(r))
		if used+next > width && at > from {
			lines = append(lines, text[from:at])
			from, used = at, 0
		}
		used += next
	}
	return append(lines, text[from:])
}

// setIn sets lines in a box, in the middle of its width; an empty one is none.
func setIn(b box, f *face, size float64, texts ...string) []line {
	all := float64(len(texts)) * f.height() * size
	top := b.x + (b.width+all)/2 // letters look up to where x grows
	var lines []line
	for i, text := range texts {
		if text != "" {
			x := top - (float64(i)*f.height()+f.ascent)*size
			lines = append(lines, line{face: f, size: size, text: text, x: x, y: b.y})
		}
	}
	return lines
}

// placeText tells bed, line and number in the one line that there is: a long bed's name is shortened and
// the numbers stay. The words line and number begin with other letters elsewhere, so none but L is used.
func placeText(tag Tag) string {
	f, room, bed := smallFace(), placeBox.height/smallType, name(tag.Bed)
	if tag.Line == 0 {
		return shorten(f, bed, room)
	}
	numbers := fmt.Sprintf("L%d · %d", tag.Line, tag.Number)
	if bed == "" {
		return shorten(f, numbers, room)
	}
	const between = " · "
	bed = shorten(f, bed, room-f.width(between+numbers))
	return shorten(f, bed+between+numbers, room)
}

const ellipsis = "…"

// shorten is a text that fits a width in parts of the em. What was left out shows as an ellipsis.
func shorten(f *face, text string, width float64) string {
	if f.width(text) <= width {
		return text
	}
	letters := []rune(text)
	for n := len(letters) - 1; n > 0; n-- {
		if short := strings.TrimRight(string(letters[:n]), " ") + ellipsis; f.width(short) <= width {
			return short
		}
	}
	return ellipsis
}
