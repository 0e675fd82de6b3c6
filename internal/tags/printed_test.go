package tags_test

import (
	"bytes"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"corymb/internal/tags"
)

// Sheets are tested as they come out of a printer: drawn as dots by poppler, their codes read by zbar, and
// their letters by poppler again. Neither has anything to do with what drew them.

// run runs a tool that must be there.
func run(t *testing.T, name string, args ...string) []byte {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Fatalf("%s is missing, and without it nothing says that printed tags can be read: apt-get install zbar-tools poppler-utils", name)
	}
	cmd := exec.Command(path, args...)
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s %v: %v\n%s", name, args, err, errs.Bytes())
	}
	return out.Bytes()
}

// printed writes tags to a file.
func printed(t *testing.T, paper tags.Paper, list []tags.Tag) string {
	t.Helper()
	var sheets bytes.Buffer
	if err := tags.Write(&sheets, paper, list); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "tags.pdf")
	if err := os.WriteFile(path, sheets.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// dots draws one sheet, the first being 1, with so many dots an inch, and names the picture's file.
func dots(t *testing.T, path string, sheet, perInch int) string {
	t.Helper()
	to := filepath.Join(t.TempDir(), "sheet")
	run(t, "pdftoppm", "-gray", "-singlefile", "-r", fmt.Sprint(perInch), "-f", fmt.Sprint(sheet), path, to)
	return to + ".pgm"
}

// scanned is what zbar reads on a whole sheet, in the order of the texts.
func scanned(t *testing.T, picture string) []string {
	t.Helper()
	read := run(t, "zbarimg", "--raw", "--quiet", "-Sdisable", "-Sqrcode.enable", picture)
	lines := strings.Split(strings.TrimSuffix(string(read), "\n"), "\n")
	slices.Sort(lines)
	return lines
}

func codesOf(list []tags.Tag) []string {
	var codes []string
	for _, tag := range list {
		codes = append(codes, tag.Code)
	}
	return codes
}

var papers = []struct {
	paper         tags.Paper
	size          string // as pdfinfo says it, in points: 210 and 215.9 mm are 595.28 and 612
	columns, rows int
}{
	{tags.A4, "595.28 x 841.89 pts (A4)", 7, 2},
	{tags.Letter, "612 x 792 pts (letter)", 8, 2},
}

// odd are tags whose codes and names are hard in some way.
var odd = []tags.Tag{
	{Code: "E-010", Stock: "Evening strain", Bed: "East", Line: 1, Number: 10},
	{Code: "e-010"},
	{Code: "007"},
	{Code: "7"},
	{Code: "Gate 7", Bed: "Gate"},
	{Code: "  two spaces  inside ", Stock: "Evening strain"},
	{Code: "Ñandú 3", Stock: "Crème brûlée"},
	{Code: "Größe/Öl#1"},
	{Code: "Źdźbło-4"},
	{Code: "Ρόδο 2"},
	{Code: "Тысяча"},
	{Code: `a,b;"c"`},
	{Code: "https://shed.local/#/beds/plant/7"},
	{Code: strings.Repeat("W", tags.MostCodeBytes)},
	{Code: strings.Repeat("ñ", tags.MostCodeBytes/2), Stock: strings.Repeat("a long name ", 20), Bed: strings.Repeat("W", 200), Line: 12, Number: 345},
	{Code: "last", Stock: "Evening strain"},
}

func TestEveryCodeOfASheetIsRead(t *testing.T) {
	for _, p := range papers {
		for _, perInch := range []int{200, 300} {
			t.Run(fmt.Sprintf("%s at %d dots an inch", p.paper.Name, perInch), func(t *testing.T) {
				path := printed(t, p.paper, odd)
				var read []string
				for sheet := range p.paper.Sheets(len(odd)) {
					read = append(read, scanned(t, dots(t, path, sheet+1, perInch))...)
				}
				want := codesOf(odd)
				slices.Sort(want)
				slices.Sort(read)
				if !slices.Equal(read, want) {
					t.Errorf("read\n%q, want\n%q", read, want)
				}
			})
		}
	}
}

func TestEachPlantHasItsOwnCodeOnManySheets(t *testing.T) {
	var list []tags.Tag
	for i := range 1200 {
		list = append(list, tags.Tag{Code: fmt.Sprintf("Gate-%04d", i*7919%10_000), Stock: "Lantern mix", Bed: "Gate", Line: 1 + i/300, Number: 1 + i%300})
	}
	for _, p := range papers {
		t.Run(p.paper.Name, func(t *testing.T) {
			path := printed(t, p.paper, list)
			per := p.columns * p.rows
			sheets := (len(list) + per - 1) / per
			if p.paper.PerSheet() != per || p.paper.Sheets(len(list)) != sheets {
				t.Errorf("it says %d to a sheet, %d sheets", p.paper.PerSheet(), p.paper.Sheets(len(list)))
			}
			info := string(run(t, "pdfinfo", "-f", "1", "-l", fmt.Sprint(sheets), path))
			if n := strings.Count(info, p.size); n != sheets || !strings.Contains(info, fmt.Sprintf("Pages:           %d\n", sheets)) {
				t.Errorf("%d sheets of %d are %s:\n%s", n, sheets, p.size, info)
			}
			for _, sheet := range []int{1, sheets / 2, sheets} {
				on := list[(sheet-1)*per : min(sheet*per, len(list))]
				picture := dots(t, path, sheet, 150)
				want := codesOf(on)
				if read := inPlaces(t, picture, p.columns, p.rows); !slices.Equal(read, want) {
					t.Errorf("sheet %d has by its places\n%q, want\n%q", sheet, read, want)
				}
				slices.Sort(want)
				if read := scanned(t, picture); !slices.Equal(read, want) {
					t.Errorf("sheet %d has\n%q, want\n%q", sheet, read, want)
				}
			}
		})
	}
}

// inPlaces reads a sheet tag by tag, as if it were cut apart already, with a second reader.
func inPlaces(t *testing.T, file string, columns, rows int) []string {
	t.Helper()
	picture := readGray(t, file)
	inch := 150
	left, top := (picture.Rect.Dx()-columns*inch)/2, (picture.Rect.Dy()-rows*5*inch)/2
	var read []string
	for i := range columns * rows {
		at := image.Pt(left+i%columns*inch, top+i/columns*5*inch)
		tag := picture.SubImage(image.Rectangle{at, at.Add(image.Pt(inch, 5*inch))})
		bits, err := gozxing.NewBinaryBitmapFromImage(tag)
		if err != nil {
			t.Fatal(err)
		}
		found, err := qrcode.NewQRCodeReader().Decode(bits, nil)
		if err == nil { // the last sheet is not full
			read = append(read, found.GetText())
		}
	}
	return read
}

// readGray reads a picture as pdftoppm writes it (netpbm's PGM, P5).
func readGray(t *testing.T, file string) *image.Gray {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var width, height, most int
	if n, err := fmt.Fscanf(bytes.NewReader(data), "P5\n%d %d\n%d\n", &width, &height, &most); n != 3 || most != 255 {
		t.Fatalf("%s is no grey picture: %v", file, err)
	}
	g := image.NewGray(image.Rect(0, 0, width, height))
	copy(g.Pix, data[len(data)-width*height:])
	return g
}

// What a person reads on a tag is whole: a code in however many lines, a name as far as there is room.
func TestTheCodeStandsThereInLettersToo(t *testing.T) {
	list := []tags.Tag{
		{Code: "Gate-0147", Stock: "Lantern mix", Bed: "North strip", Line: 2, Number: 14},
		{Code: "Ñandú 3", Stock: "Summer pastel strain, of our own seed, selected twice", Bed: "The long bed behind the second greenhouse", Line: 3, Number: 122},
		{Code: "Ab3-Cd4-Ef5-Gh6-Ij7-Kl8-Mn9", Bed: "East"},
	}
	for _, p := range papers {
		// What runs down a sheet comes a word a line.
		text := strings.Join(strings.Fields(string(run(t, "pdftotext", "-raw", printed(t, p.paper, list), "-"))), " ")
		for _, want := range []string{
			"Gate-0147", "Lantern mix", "North strip · L2 · 14", "Ñandú 3", "Summer pastel strain,", "… · L3 · 122",
			"1 / 1 · " + p.paper.Name + " · 100 %", "East",
		} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q does not stand there:\n%s", p.paper.Name, want, text)
			}
		}
		if whole := strings.ReplaceAll(text, " ", ""); !strings.Contains(whole, list[2].Code) {
			t.Errorf("%s: a long code is not whole:\n%s", p.paper.Name, text)
		}
	}
}

func TestTheSameTagsGiveTheSameBytes(t *testing.T) {
	var first, second bytes.Buffer
	for _, to := range []*bytes.Buffer{&first, &second} {
		if err := tags.Write(to, tags.A4, odd); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("they differ")
	}
	info := string(run(t, "pdfinfo", "-isodates", printed(t, tags.A4, odd)))
	for _, want := range []string{"Title:           16 stake tags on A4", "Creator:         Corymb", "CreationDate:    2026-01-01T00:00:00"} {
		if !strings.Contains(info, want) {
			t.Errorf("it does not say %q:\n%s", want, info)
		}
	}
}
