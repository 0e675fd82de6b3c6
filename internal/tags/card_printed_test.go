package tags_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"corymb/internal/tags"
)

// Cards too are tested as they come out of a printer. Where their parts are is looked up as a phone does it: from the
// code outwards, by the numbers of testdata/vectors/card.json, which the app reads by.

const batch = "K7M4QE"

// printedCards writes a batch to a file.
func printedCards(t *testing.T, print tags.CardPrint) string {
	t.Helper()
	var sheets bytes.Buffer
	if err := tags.WriteCards(&sheets, print); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "card.pdf")
	if err := os.WriteFile(path, sheets.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestEveryCardOfASheetNamesItsBatch(t *testing.T) {
	want := slices.Repeat([]string{"CARD/1/" + batch}, 8)
	for _, p := range papers {
		path := printedCards(t, tags.CardPrint{Batch: batch, Paper: p.paper, Language: "en", Sheets: 2})
		for _, on := range []struct{ sheet, perInch int }{{1, 150}, {1, 300}, {1, 600}, {2, 150}} {
			if read := scanned(t, dots(t, path, on.sheet, on.perInch)); !slices.Equal(read, want) {
				t.Errorf("%s, sheet %d at %d dots an inch: read %q", p.paper.Name, on.sheet, on.perInch, read)
			}
		}
		info := string(run(t, "pdfinfo", "-f", "1", "-l", "3", path))
		if !strings.Contains(info, "Pages:           3\n") || strings.Count(info, p.size) != 3 || p.paper.CardsPerSheet() != 8 {
			t.Errorf("%s: %d to a sheet on pages that are\n%s", p.paper.Name, p.paper.CardsPerSheet(), info)
		}
	}
}

// layout is what is read of the vector.
type layout struct {
	Width, Height float64
	Code          struct{ X, Y, Module float64 }
	PatchSide     float64 `json:"patch_side"`
	Colours       []color.RGBA
	Patches       []struct {
		X, Y   float64
		Colour int
	}
}

func readLayout(t *testing.T) layout {
	t.Helper()
	data, err := os.ReadFile("../../testdata/vectors/card.json")
	if err != nil {
		t.Fatal(err)
	}
	var l layout
	if err := json.Unmarshal(data, &l); err != nil {
		t.Fatal(err)
	}
	for i := range l.Colours {
		l.Colours[i].A = 255
	}
	return l
}

// foundCard is a card in a picture, found by the three large corners of its code.
type foundCard struct {
	picture       *image.RGBA
	left, top     float64 // of the card, in dots
	right, across float64 // a millimetre to the right, in dots each way
}

// at is the colour of a card at a place in millimetres.
func (c foundCard) at(x, y float64) color.RGBA {
	return c.picture.RGBAAt(int(math.Floor(c.left+x*c.right-y*c.across)), int(math.Floor(c.top+x*c.across+y*c.right)))
}

// find finds the card in a part of a sheet.
func find(t *testing.T, picture *image.RGBA, part image.Rectangle, l layout) foundCard {
	t.Helper()
	bits, err := gozxing.NewBinaryBitmapFromImage(picture.SubImage(part))
	if err != nil {
		t.Fatal(err)
	}
	read, err := qrcode.NewQRCodeReader().Decode(bits, nil)
	if err != nil {
		t.Fatalf("no code in %v: %v", part, err)
	}
	upper, second := read.GetResultPoints()[1], read.GetResultPoints()[2] // upper left, upper right
	const between, first = 14.0, 3.5                                      // modules from one to the other, and from the code's edge
	apart := between * l.Code.Module
	c := foundCard{picture: picture, right: (second.GetX() - upper.GetX()) / apart, across: (second.GetY() - upper.GetY()) / apart}
	x, y := l.Code.X+first*l.Code.Module, l.Code.Y+first*l.Code.Module
	c.left = float64(part.Min.X) + upper.GetX() - x*c.right + y*c.across
	c.top = float64(part.Min.Y) + upper.GetY() - x*c.across - y*c.right
	return c
}

// eachCard visits the cards of one sheet as they are found on it.
func eachCard(t *testing.T, visit func(name string, c foundCard, l layout)) {
	const perInch = 300
	l := readLayout(t)
	for _, p := range papers {
		path := printedCards(t, tags.CardPrint{Batch: batch, Paper: p.paper, Language: "en", Sheets: 1})
		to := filepath.Join(t.TempDir(), "sheet")
		run(t, "pdftoppm", "-singlefile", "-r", fmt.Sprint(perInch), path, to)
		picture := readRGB(t, to+".ppm")
		wide, high := picture.Rect.Dx()/2, int(l.Height/25.4*perInch)
		top := (picture.Rect.Dy() - 4*high) / 2
		for i := range 8 {
			at := image.Pt(i%2*wide, top+i/2*high)
			c := find(t, picture, image.Rectangle{at, at.Add(image.Pt(wide, high))}, l)
			visit(fmt.Sprintf("%s, card %d", p.paper.Name, i+1), c, l)
		}
	}
}

func TestThePatchesAreWhereTheAppReadsThemAndOfTheirColours(t *testing.T) {
	const near = 0.25 // mm to either side of an edge that is not looked at: a dot is 0.085, and a corner is found to half of one
	eachCard(t, func(name string, c foundCard, l layout) {
		for i, p := range l.Patches {
			want := l.Colours[p.Colour]
			for x := p.X + near; x <= p.X+l.PatchSide-near; x += 0.1 {
				for y := p.Y + near; y <= p.Y+l.PatchSide-near; y += 0.1 {
					if got := c.at(x, y); got != want {
						t.Fatalf("%s, patch %d at %.2f, %.2f mm is %v, want %v", name, i, x, y, got, want)
					}
				}
			}
			for along := 0.0; along <= l.PatchSide; along += 0.5 {
				for _, outside := range [][2]float64{
					{p.X - near, p.Y + along}, {p.X + l.PatchSide + near, p.Y + along}, {p.X + along, p.Y - near}, {p.X + along, p.Y + l.PatchSide + near},
				} {
					if got := c.at(outside[0], outside[1]); got != bare {
						t.Fatalf("%s, patch %d: past its edge, at %v mm, is %v", name, i, outside, got)
					}
				}
			}
		}
	})
}

// bare is paper with nothing on it.
var bare = color.RGBA{255, 255, 255, 255}

func TestTheScaleMeasuresWhatItSays(t *testing.T) {
	eachCard(t, func(name string, c foundCard, l layout) {
		for height, step := range map[float64]float64{60.7: 10, 62.2: 5} {
			var ticks []float64
			from := -1.0
			for x := 1.0; x < l.Width-1; x += 0.01 {
				dark := c.at(x, height).R < 128
				switch {
				case dark && from < 0:
					from = x
				case !dark && from >= 0:
					ticks = append(ticks, (from+x)/2)
					from = -1
				}
			}
			if len(ticks) != int(80/step)+1 {
				t.Fatalf("%s: %d ticks cross %.1f mm", name, len(ticks), height)
			}
			for i, tick := range ticks {
				if want := 5 + float64(i)*step; math.Abs(tick-want) > 0.12 {
					t.Errorf("%s: tick %d is at %.2f mm, want %.2f", name, i, tick, want)
				}
			}
			if length := ticks[len(ticks)-1] - ticks[0]; math.Abs(length-80) > 0.1 {
				t.Errorf("%s: the scale measures %.2f mm", name, length)
			}
		}
	})
}

// The words of the page of how to are inside of it, whatever the language and the paper, and nothing is cut off.
func TestThePageOfHowToIsWhole(t *testing.T) {
	says := map[string][]string{
		"en": {"Colour card", "K7M 4QE", "without optical brighteners", "never “fit to page”", "80 mm", "wait a day", "Never laminate", "in its plane", "wear gloves", "come first."},
		"es": {"Tarjeta de color", "K7M 4QE", "sin blanqueadores ópticos", "nunca «ajustar a la página»", "80 mm", "espere un día", "Nunca plastifique", "en su plano", "use guantes", "van primero."},
	}
	for language, texts := range says {
		for _, p := range papers {
			path := printedCards(t, tags.CardPrint{Batch: batch, Paper: p.paper, Language: language, Sheets: 1})
			text := strings.Join(strings.Fields(string(run(t, "pdftotext", "-f", "2", "-raw", path, "-"))), " ")
			for _, want := range texts {
				if !strings.Contains(text, want) {
					t.Errorf("%s on %s: %q does not stand there:\n%s", language, p.paper.Name, want, text)
				}
			}
			picture := readGray(t, dots(t, path, 2, 100))
			for y := range picture.Rect.Dy() {
				for x := range picture.Rect.Dx() {
					margin := min(x, y, picture.Rect.Dx()-1-x, picture.Rect.Dy()-1-y)
					if margin < 50 && picture.GrayAt(x, y).Y != 255 {
						t.Fatalf("%s on %s: something stands %d hundredths of an inch from an edge", language, p.paper.Name, margin)
					}
				}
			}
		}
	}
}

func TestABatchIsToldInLettersAndSheetsAreNumbered(t *testing.T) {
	path := printedCards(t, tags.CardPrint{Batch: batch, Paper: tags.Letter, Language: "es", Sheets: 2})
	text := strings.Join(strings.Fields(string(run(t, "pdftotext", "-l", "2", "-raw", path, "-"))), " ")
	if n := strings.Count(text, "K7M 4QE"); n != 2*8+2 {
		t.Errorf("the batch stands there %d times:\n%s", n, text)
	}
	for _, want := range []string{"Corymb 1", "Corymb · K7M 4QE · 2 / 2 · US Letter · 100 %"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q does not stand there:\n%s", want, text)
		}
	}
}

func TestTheSameBatchGivesTheSameBytes(t *testing.T) {
	var made [2]bytes.Buffer
	for i := range made {
		if err := tags.WriteCards(&made[i], tags.CardPrint{Batch: batch, Paper: tags.A4, Language: "en", Sheets: 1}); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(made[0].Bytes(), made[1].Bytes()) {
		t.Error("they differ")
	}
	if !bytes.Contains(made[0].Bytes(), []byte("/OutputIntents [")) {
		t.Error("it does not say in which colours it is meant")
	}
}

func TestCardsAreNotPrintedOf(t *testing.T) {
	tests := []struct {
		name  string
		print tags.CardPrint
		want  string
	}{
		{"a batch with a wrong sign", tags.CardPrint{Batch: "K7M4QF", Paper: tags.A4, Language: "en", Sheets: 1}, "look at it again"},
		{"a batch as it was typed", tags.CardPrint{Batch: "k7m 4qe", Paper: tags.A4, Language: "en", Sheets: 1}, "has its code as K7M4QE"},
		{"another language", tags.CardPrint{Batch: batch, Paper: tags.A4, Language: "fr", Sheets: 1}, "use en or es"},
		{"no sheet", tags.CardPrint{Batch: batch, Paper: tags.A4, Language: "en"}, "use 1 to 20"},
		{"too many sheets", tags.CardPrint{Batch: batch, Paper: tags.A4, Language: "en", Sheets: 21}, "use 1 to 20"},
	}
	for _, tt := range tests {
		var out bytes.Buffer
		if err := tags.WriteCards(&out, tt.print); err == nil || !strings.Contains(err.Error(), tt.want) || out.Len() > 0 {
			t.Errorf("%s: %v, and %d bytes; want %q", tt.name, err, out.Len(), tt.want)
		}
	}
}

// readRGB reads a picture as pdftoppm writes it (netpbm's PPM, P6).
func readRGB(t *testing.T, file string) *image.RGBA {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var width, height, most int
	if n, err := fmt.Fscanf(bytes.NewReader(data), "P6\n%d %d\n%d\n", &width, &height, &most); n != 3 || most != 255 {
		t.Fatalf("%s is no picture in colour: %v", file, err)
	}
	picture := image.NewRGBA(image.Rect(0, 0, width, height))
	for i, from := 0, data[len(data)-3*width*height:]; i < width*height; i++ {
		copy(picture.Pix[4*i:], from[3*i:3*i+3])
		picture.Pix[4*i+3] = 255
	}
	return picture
}
