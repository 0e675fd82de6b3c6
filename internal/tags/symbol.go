package tags

import (
	"fmt"
	"sync"

	"rsc.io/qr/coding"
)

// quiet is how many modules wide the light border of a QR code must be (ISO/IEC 18004, from memory).
const quiet = 4

// symbol is a QR code without its border, in rows: true is a dark module.
type symbol [][]bool

// symbolOf is the QR code of a text: the smallest of level M or, where it is no larger, of a better level,
// since a stake gets dirty; of the eight masks the one that readers see best.
func symbolOf(text string) (symbol, error) {
	segments := segmentsOf(text)
	version, level, err := smallest(segments)
	if err != nil {
		return nil, fmt.Errorf("drawing the QR code of %q: %w", text, err)
	}
	var best symbol
	least := 0
	for mask := coding.Mask(0); mask < 8; mask++ {
		plan, err := planOf(planKey{version, level, mask})
		if err != nil {
			return nil, fmt.Errorf("drawing the QR code of %q: %w", text, err)
		}
		code, err := plan.Encode(segments...)
		if err != nil {
			return nil, fmt.Errorf("drawing the QR code of %q: %w", text, err)
		}
		drawn := modules(code)
		if p := drawn.penalty(); best == nil || p < least {
			best, least = drawn, p
		}
	}
	return best, nil
}

// segmentsOf encodes a text in the shortest of the modes that hold it whole. Bytes are Latin-1 unless a code
// says otherwise, so text beyond ASCII is announced as UTF-8 (ISO/IEC 18004, extended channel
// interpretation): a reader that guesses may take it for Japanese.
func segmentsOf(text string) []coding.Encoding {
	switch {
	case coding.Num(text).Check() == nil:
		return []coding.Encoding{coding.Num(text)}
	case coding.Alpha(text).Check() == nil:
		return []coding.Encoding{coding.Alpha(text)}
	case isASCII(text):
		return []coding.Encoding{coding.String(text)}
	}
	return []coding.Encoding{asUTF8{}, coding.String(text)}
}

func isASCII(text string) bool {
	for _, r := range text {
		if r >= 0x80 {
			return false
		}
	}
	return true
}

// asUTF8 announces that the bytes after it are UTF-8: the mode 0111 and the assignment 26 (AIM ECI).
type asUTF8 struct{}

func (asUTF8) Check() error { return nil }

func (asUTF8) Bits(coding.Version) int { return 4 + 8 }

func (asUTF8) Encode(b *coding.Bits, _ coding.Version) {
	b.Write(0b0111, 4)
	b.Write(26, 8)
}

// smallest is the least version that holds the segments at level M, and the best level that it then has.
func smallest(segments []coding.Encoding) (coding.Version, coding.Level, error) {
	fits := func(v coding.Version, l coding.Level) bool {
		bits := 0
		for _, s := range segments {
			bits += s.Bits(v)
		}
		return bits <= v.DataBytes(l)*8
	}
	for v := coding.Version(coding.MinVersion); v <= coding.MaxVersion; v++ {
		for l := coding.H; l >= coding.M; l-- {
			if fits(v, l) {
				return v, l, nil
			}
		}
	}
	return 0, 0, fmt.Errorf("it is too long")
}

func modules(code *coding.Code) symbol {
	s := make(symbol, code.Size)
	for y := range s {
		s[y] = make([]bool, code.Size)
		for x := range s[y] {
			s[y][x] = code.Black(x, y)
		}
	}
	return s
}

type planKey struct {
	version coding.Version
	level   coding.Level
	mask    coding.Mask
}

// plans are kept: a sheet's codes are nearly all of one size, and a plan takes longer than a code.
var plans sync.Map

func planOf(k planKey) (*coding.Plan, error) {
	if kept, ok := plans.Load(k); ok {
		return kept.(*coding.Plan), nil
	}
	plan, err := coding.NewPlan(k.version, k.level, k.mask)
	if err == nil {
		plans.Store(k, plan)
	}
	return plan, err
}
