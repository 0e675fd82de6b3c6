package found

import (
	"encoding/xml"
	"image"
	"image/color"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// paper is a picture in dark and light, of modules 4 pixels wide.
type paper [][]bool

const pixels = 4

func (p paper) ColorModel() color.Model { return color.GrayModel }
func (p paper) Bounds() image.Rectangle {
	return image.Rect(0, 0, len(p[0])*pixels, len(p)*pixels)
}
func (p paper) At(x, y int) color.Color {
	if p[y/pixels][x/pixels] {
		return color.Black
	}
	return color.White
}

// scan reads a picture with a decoder that has nothing to do with what drew it.
func scan(t *testing.T, p paper) string {
	t.Helper()
	bits, err := gozxing.NewBinaryBitmapFromImage(p)
	if err != nil {
		t.Fatal(err)
	}
	read, err := qrcode.NewQRCodeReader().Decode(bits, nil)
	if err != nil {
		t.Fatal(err)
	}
	return read.GetText()
}

// shown is what a terminal shows of a text of half blocks, black on white.
func shown(t *testing.T, text string) paper {
	t.Helper()
	var p paper
	for line := range strings.Lines(text) {
		line, black := strings.CutPrefix(strings.TrimSuffix(line, "\n"), "\x1b[38;5;16;48;5;231m")
		line, ends := strings.CutSuffix(line, "\x1b[0m")
		if !black || !ends {
			t.Fatalf("the line %q is not in black on white alone", line)
		}
		var upper, lower []bool
		for _, c := range line {
			upper = append(upper, c == '█' || c == '▀')
			lower = append(lower, c == '█' || c == '▄')
			if !strings.ContainsRune("█▀▄ ", c) {
				t.Fatalf("the line %q has something else than half blocks", line)
			}
		}
		p = append(p, upper, lower)
	}
	return p
}

// drawn is what a browser shows of the picture's modules.
func drawn(t *testing.T, svg string) paper {
	t.Helper()
	var picture struct {
		ViewBox string `xml:"viewBox,attr"`
		Paths   []struct {
			Fill string `xml:"fill,attr"`
			D    string `xml:"d,attr"`
		} `xml:"path"`
	}
	if err := xml.Unmarshal([]byte(svg), &picture); err != nil {
		t.Fatal(err)
	}
	size := number(t, strings.Fields(picture.ViewBox)[2])
	p := make(paper, size)
	for y := range p {
		p[y] = make([]bool, size)
	}
	if len(picture.Paths) != 2 || picture.Paths[0].Fill != "#fff" || picture.Paths[1].Fill != "#000" {
		t.Fatalf("it is not black on white: %s", svg)
	}
	for _, m := range regexp.MustCompile(`M(\d+) (\d+)h1v1h-1z`).FindAllStringSubmatch(picture.Paths[1].D, -1) {
		p[number(t, m[2])][number(t, m[1])] = true
	}
	return p
}

func number(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func TestACodeIsReadAsTheTextItIsOf(t *testing.T) {
	for _, text := range []string{
		"https://shed.local:8420/",
		"http://192.168.100.200:8420/trust",
		"https://[fd00:1234:5678:9abc:def0:1234:5678:9abc]:8420/join#" + strings.Repeat("K7", 60),
		"8420",
		"HTTPS://SHED.LOCAL",
		"Galpón ñ",
	} {
		code, err := QR(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := scan(t, shown(t, code.Terminal())); got != text {
			t.Errorf("a terminal's code of %q was read as %q", text, got)
		}
		if got := scan(t, drawn(t, code.SVG())); got != text {
			t.Errorf("a picture's code of %q was read as %q", text, got)
		}
	}
}

func TestACodeHasALightBorder(t *testing.T) {
	code, err := QR("https://shed.local:8420/")
	if err != nil {
		t.Fatal(err)
	}
	for y, row := range code {
		for x, dark := range row {
			inside := min(x, y, len(code)-1-x, len(code)-1-y) >= 4 // ISO/IEC 18004, from memory
			if dark && !inside {
				t.Errorf("the module %d, %d of the border is dark", x, y)
			}
		}
	}
	if n := len(code); !code[4][4] || !code[4][n-5] || !code[n-5][4] {
		t.Error("its marks do not stand right at the border")
	}
}

func TestATextThatIsTooLongHasNoCode(t *testing.T) {
	if _, err := QR(strings.Repeat("a", 3000)); err == nil || !strings.Contains(err.Error(), "show the text itself") {
		t.Errorf("it says %v", err)
	}
}
