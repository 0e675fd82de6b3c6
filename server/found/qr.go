package found

import (
	"fmt"
	"strings"

	"rsc.io/qr"
)

// quiet is how many modules wide the light border of a code must be (ISO/IEC 18004, from memory).
const quiet = 4

// Code is a QR code with its light border, in rows: true is a dark module.
type Code [][]bool

// QR is the code of a text, such as an address. A text beyond some 2,300 bytes has none.
func QR(text string) (Code, error) {
	drawn, err := qr.Encode(text, qr.M)
	if err != nil {
		return nil, fmt.Errorf("drawing a code of %d characters: %w; show the text itself", len(text), err)
	}
	code := make(Code, drawn.Size+2*quiet)
	for y := range code {
		code[y] = make([]bool, len(code))
		for x := range code {
			code[y][x] = drawn.Black(x-quiet, y-quiet)
		}
	}
	return code, nil
}

// Rows are its modules without the border, as digits: 1 is dark.
func (c Code) Rows() []string {
	if len(c) == 0 {
		return nil
	}
	var rows []string
	for _, row := range c[quiet : len(c)-quiet] {
		digits := make([]byte, 0, len(row))
		for _, dark := range row[quiet : len(row)-quiet] {
			if dark {
				digits = append(digits, '1')
			} else {
				digits = append(digits, '0')
			}
		}
		rows = append(rows, string(digits))
	}
	return rows
}

// Colours of a terminal that no theme changes: black 16 and white 231 of its 256, by ECMA-48's SGR.
const (
	blackOnWhite = "\x1b[38;5;16;48;5;231m"
	asBefore     = "\x1b[0m"
)

// Terminal is the code for a terminal that knows colours, two rows of modules in each line of text: dark
// on light whatever the terminal's own colours are, since not every phone reads it the other way.
func (c Code) Terminal() string {
	var out strings.Builder
	for y := 0; y < len(c); y += 2 {
		out.WriteString(blackOnWhite)
		for x := range c {
			out.WriteString(half(c[y][x], y+1 < len(c) && c[y+1][x]))
		}
		out.WriteString(asBefore + "\n")
	}
	return out.String()
}

func half(upper, lower bool) string {
	switch {
	case upper && lower:
		return "█"
	case upper:
		return "▀"
	case lower:
		return "▄"
	}
	return " "
}

// SVG is the code as a picture that grows with its place, without a word for who cannot see it: the page
// around it says what it is.
func (c Code) SVG() string {
	var out strings.Builder
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" shape-rendering="crispEdges" aria-hidden="true">`, len(c), len(c))
	out.WriteString(`<path fill="#fff" d="M0 0h` + fmt.Sprint(len(c)) + `v` + fmt.Sprint(len(c)) + `H0z"/><path fill="#000" d="`)
	for y, row := range c {
		for x, dark := range row {
			if dark {
				fmt.Fprintf(&out, "M%d %dh1v1h-1z", x, y)
			}
		}
	}
	return out.String() + `"/></svg>`
}
