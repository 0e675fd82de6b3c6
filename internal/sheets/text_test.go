package sheets

import (
	"reflect"
	"strings"
	"testing"
	"unicode/utf16"

	"golang.org/x/text/unicode/norm"

	"corymb/internal/crop"
)

func inUTF16(text string, littleEndian bool) string {
	var b strings.Builder
	for _, u := range utf16.Encode([]rune(text)) {
		hi, lo := byte(u>>8), byte(u)
		if littleEndian {
			hi, lo = lo, hi
		}
		b.WriteByte(hi)
		b.WriteByte(lo)
	}
	return b.String()
}

func TestFormsOfTheSameFileGiveTheSameFarm(t *testing.T) {
	plants, cuts := sample(t, "good/plants.csv"), sample(t, "good/cuts.csv")
	want := mustRead(t, plants, cuts)
	mixed := strings.NewReplacer("flush", " FLUSH ", "stems", `"Stems"`, "length_cm", "Length_CM")
	forms := map[string]func(string) string{
		"with a byte order mark": func(s string) string { return "\uFEFF" + s },
		"with CRLF":              func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") },
		"with CR alone":          func(s string) string { return strings.ReplaceAll(s, "\n", "\r") },
		"with semicolons":        func(s string) string { return strings.ReplaceAll(s, ",", ";") },
		"with tabs":              func(s string) string { return strings.ReplaceAll(s, ",", "\t") },
		"with space around":      func(s string) string { return strings.ReplaceAll(s, ",", " , ") },
		"with names in any case": func(s string) string { return mixed.Replace(s) },
		"in decomposed letters":  norm.NFD.String,
		"without a last newline": func(s string) string { return strings.TrimSuffix(s, "\n") },
		"with empty lines after": func(s string) string { return s + "\n\n,,,,\n  \n" },
		"with empty cells after": func(s string) string { return strings.ReplaceAll(s, "\n", ",,\n") },
		"with columns turned":    turned,
		"with sep=,":             func(s string) string { return "sep=,\n" + s },
		"with sep=; and CRLF": func(s string) string {
			return "\uFEFFSEP=;\r\n" + strings.NewReplacer(",", ";", "\n", "\r\n").Replace(s)
		},
	}
	for name, form := range forms {
		t.Run(name, func(t *testing.T) {
			if got := mustRead(t, form(plants), form(cuts)); !reflect.DeepEqual(got, want) {
				t.Errorf("the farm differs from that of the plain form")
			}
		})
	}
}

// turned writes each row from right to left.
func turned(text string) string {
	var lines []string
	for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
		cells := strings.Split(line, ",")
		for i, j := 0, len(cells)-1; i < j; i, j = i+1, j-1 {
			cells[i], cells[j] = cells[j], cells[i]
		}
		lines = append(lines, strings.Join(cells, ","))
	}
	return strings.Join(lines, "\n")
}

func TestNewlinesInCellsAreKeptAndLinesStayThoseOfTheFile(t *testing.T) {
	plants, cuts := sample(t, "semicolon/plants.csv"), sample(t, "semicolon/cuts.csv")
	c := mustRead(t, plants, cuts)
	if _, ok := c.Farm.Beds["north strip\nby the well"]; !ok {
		t.Errorf("beds are %v", c.Farm.Beds)
	}
	// Each row takes two lines after the header: the third row starts on line 6.
	rows := strings.SplitAfter(cuts, "\n")
	rows[5] = strings.Replace(rows[5], "2023-05-20", "soon", 1)
	_, err := readText(plants, strings.Join(rows, ""))
	wantProblems(t, err, "cuts.csv:6:date")
}

func TestALineThatNamesTheSeparatorCountsAsALine(t *testing.T) {
	cuts := "sep=;\n" + strings.NewReplacer(",", ";", "2024-06-01", "soon").Replace(oneCut)
	_, err := readText(onePlant, cuts)
	wantProblems(t, err, "cuts.csv:3:date")
}

func TestOtherEncodingsAreRefusedAtTheirFirstLine(t *testing.T) {
	text := plantHead + "A1,Lantern mix,north strip,2023-10-01\nA2,Lantern crème,north strip,2023-10-01\n"
	latin1 := strings.ReplaceAll(text, "è", "\xE8")
	cases := []struct {
		name, plants, want, says string
	}{
		{"Latin-1", latin1, "plants.csv:3:", "Windows-1252 or Latin-1"},
		{"Latin-1 with CR alone", strings.ReplaceAll(latin1, "\n", "\r"), "plants.csv:3:", "Latin-1"},
		{"Latin-1 sample", sample(t, "encodings/latin1.csv"), "plants.csv:2:", "Latin-1"},
		{"UTF-16 sample with mark", sample(t, "encodings/utf16.csv"), "plants.csv:1:", "UTF-16"},
		{"UTF-16 big-endian with mark", "\xFE\xFF" + inUTF16(text, false), "plants.csv:1:", "UTF-16"},
		{"UTF-16 without mark", inUTF16(text, true), "plants.csv:1:", "UTF-16"},
		{"NUL in the fourth line", text + "\x00", "plants.csv:4:", "UTF-16"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := readText(c.plants, oneCut)
			ps := wantProblems(t, err, c.want)
			if !strings.Contains(ps[0].Reason, c.says) || !strings.Contains(ps[0].Reason, "CSV UTF-8") {
				t.Errorf("reason is %q", ps[0].Reason)
			}
		})
	}
}

func TestHeadersThatCannotBeTakenAreOneProblemEach(t *testing.T) {
	cases := []struct {
		name, plants, cuts string
		want               []string
	}{
		{"empty files", "", "\n\n", []string{"plants.csv:1:", "cuts.csv:1:"}},
		{"missing columns", "plant,bed\nA1,north strip\n", oneCut,
			[]string{"plants.csv:1:stock", "plants.csv:1:planted"}},
		{"missing column after blank lines", onePlant, "\n\n" + strings.Replace(oneCut, "stems", "count", 1),
			[]string{"cuts.csv:3:stems"}},
		{"column there twice", "plant,stock,bed,planted,Bed \nA1,m,n,2023-10-01,n\n", oneCut,
			[]string{"plants.csv:1:bed"}},
		{"counted_from alone", "plant,stock,bed,planted,counted_from\n", oneCut,
			[]string{"plants.csv:1:counted_to"}},
		{"counted_to alone", "plant,stock,bed,planted,counted_to\n", oneCut,
			[]string{"plants.csv:1:counted_from"}},
		{"open quotation mark", `"plant,stock` + "\n", oneCut, []string{"plants.csv:1:"}},
		{"no plants", plantHead, cutHead, []string{"plants.csv:1:"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := readText(c.plants, c.cuts)
			wantProblems(t, err, c.want...)
		})
	}
}

func TestUnknownColumnsAreNamedInANote(t *testing.T) {
	plants := "plant,Remarks,stock,bed,planted\nA1,fine,Lantern mix,north strip,2023-10-01\n"
	c := mustRead(t, plants, oneCut)
	if want := []IgnoredColumn{{"plants.csv", "Remarks"}}; !reflect.DeepEqual(c.Ignored, want) {
		t.Errorf("ignored are %v, want %v", c.Ignored, want)
	}
	if notes := strings.Join(c.Notes(), " "); !strings.Contains(notes, `"Remarks" of plants.csv`) {
		t.Errorf("notes are %q", notes)
	}
}

func TestAMangledRowHidesNoOtherAndBlamesNone(t *testing.T) {
	plants := onePlant + "A2,Lantern \"mix,north strip,2023-10-01\nA3,Lantern mix,north strip,soon\n"
	cuts := oneCut + "2024-06-01,A2,Lantern mix,north strip,2023-10-01,1,spring,first,50,7,,\n" +
		"2024-06-01,A1,Lantern mix,north strip,2023-10-01,1,spring,best,50,7,,Tomas\n"
	_, err := readText(plants, cuts)
	// Line 3 of the cuts is not blamed: its plant may be the one whose row could not be read.
	wantProblems(t, err, "plants.csv:3:", "plants.csv:4:planted", "cuts.csv:4:grade")
}

func TestNamesWithSeparatorsStayApart(t *testing.T) {
	plants := plantHead + "A1,a|b,c,2023-10-01\nA2,a,b|c,2023-10-01\n"
	f := mustRead(t, plants, cutHead).Farm
	if len(f.Plantings) != 2 || f.Plants["A1"].Planting == f.Plants["A2"].Planting {
		t.Errorf("plantings are %v", f.Plantings)
	}
	if f.Plants["A1"].Planting != crop.PlantingID(`a\|b|c|2023-10-01`) {
		t.Errorf("planting of A1 is %q", f.Plants["A1"].Planting)
	}
}
