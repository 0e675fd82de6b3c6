package tags

import (
	"fmt"
	"image"
	"image/color"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// onPaper is a code with its quiet zone as a picture, a module 4 dots wide.
type onPaper symbol

func (p onPaper) ColorModel() color.Model { return color.GrayModel }
func (p onPaper) Bounds() image.Rectangle {
	side := (len(p) + 2*quiet) * 4
	return image.Rect(0, 0, side, side)
}
func (p onPaper) At(x, y int) color.Color {
	x, y = x/4-quiet, y/4-quiet
	if min(x, y) >= 0 && max(x, y) < len(p) && p[y][x] {
		return color.Black
	}
	return color.White
}

func TestACodeSaysItsTextAndNothingElse(t *testing.T) {
	tests := []struct {
		text    string
		modules int    // a side: 21 for version 1 (ISO/IEC 18004), 4 more for each further one
		level   string // the best that the version has room for
	}{
		{"1", 21, "H"},
		{"E-010", 21, "H"},
		{"00012345678901234567890123456789", 21, "M"},
		{"GATE-2025-0147", 21, "Q"},
		{"gate-0147", 21, "Q"},
		{"gate-2025-0147", 21, "M"},
		{"gate-2025-01471", 25, "Q"},
		{" a  b ", 21, "H"},
		{"ñ", 21, "H"},
		{"Größe 12", 21, "Q"},
		{"Тысяча листов", 25, "M"},
		{strings.Repeat("x", MostCodeBytes), 49, "M"},
		{strings.Repeat("ñ", MostCodeBytes/2), 49, "M"},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			s, err := symbolOf(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			bits, err := gozxing.NewBinaryBitmapFromImage(onPaper(s))
			if err != nil {
				t.Fatal(err)
			}
			read, err := qrcode.NewQRCodeReader().Decode(bits, nil)
			if err != nil {
				t.Fatal(err)
			}
			level := fmt.Sprint(read.GetResultMetadata()[gozxing.ResultMetadataType_ERROR_CORRECTION_LEVEL])
			if read.GetText() != tt.text || len(s) != tt.modules || level != tt.level {
				t.Errorf("read %q, %d modules, level %s; want %q, %d, %s", read.GetText(), len(s), level, tt.text, tt.modules, tt.level)
			}
		})
	}
}

func TestThePenaltyOfAMaskIsCounted(t *testing.T) {
	drawn := func(rows ...string) symbol {
		var s symbol
		for _, row := range rows {
			var line []bool
			for _, c := range row {
				line = append(line, c == '#')
			}
			s = append(s, line)
		}
		return s
	}
	tests := []struct {
		name string
		s    symbol
		want int
	}{
		{"a chess board", drawn("#.", ".#"), 0},
		{"one block, all dark", drawn("##", "##"), perBlock + 10*perBalance},
		{"a quarter dark", drawn("#.", ".."), 5 * perBalance},
	}
	for _, tt := range tests {
		if got := tt.s.penalty(); got != tt.want {
			t.Errorf("%s: %d, want %d", tt.name, got, tt.want)
		}
	}
	lines := map[string]int{"####.": 0, "#####": perRun, "#######": perRun + 2, ".....#": perRun, "....#.###.#": perFinder, "#.###.#....": perFinder}
	for line, want := range lines {
		if got := linePenalty(drawn(line)[0]); got != want {
			t.Errorf("%s: %d, want %d", line, got, want)
		}
	}
}

func TestAPhoneCanReadTheModules(t *testing.T) {
	for modules := 21; modules <= 49; modules += 4 {
		module, border := symbolPlace(modules)
		right := tagWidth - border - module*float64(modules)
		if border < quiet*module || right < quiet*module {
			t.Errorf("%d modules: %.2f mm of quiet zone left, %.2f right, want %.2f", modules, border, right, quiet*module)
		}
		// At 50 cm a camera of 4,000 dots across 70 cm has 5.7 to a millimetre; readers want two a
		// module, and get them while it is 0.4 mm. What plants are usually called has 0.7 and more.
		if module < 0.4 || modules <= 25 && module < 0.7 {
			t.Errorf("%d modules are %.2f mm wide each", modules, module)
		}
	}
}
