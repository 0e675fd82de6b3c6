package pages_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"corymb/internal/report"
	"corymb/internal/report/pages"
)

// sample has every kind of part, longer than a page, with texts that are hard to fit.
func sample(l report.Language) report.Report {
	rows := [][]string{}
	for range 70 {
		rows = append(rows, []string{"Milenrama del vivero de la señora Ibáñez, segunda plantación en la cama del molino", "1.234,56", "9–10", "Cambiar por plántula"})
	}
	return report.Report{
		Language: l, Title: "Finca Ñandú", Under: "Informe de la temporada 2026", Foot: "temporada 2026", Page: "página %d de %d",
		Sections: []report.Section{
			{Title: "Supervivencia", Parts: []report.Part{
				report.Text{Words: strings.Repeat("Las plantas divididas no cuentan ni como duraderas. ", 20)},
				report.Ranges{Title: "Tallos", Rows: []report.Range{{Name: "Temporada 1 en tierra", Said: "7,1 · 18 plantas", Mid: 7, Lo: 6, Hi: 8.2, PlainPresent: true, Plain: 6.8}}},
				report.Stacks{Title: "Grados", Parts: []string{"extra", "primera", "segunda", "descarte (no se vende)"}, Rows: []report.Stack{{Name: "Achillea millefolium, temporada 1, primavera", Said: "12.345 tallos", Shares: []float64{0.5, 0.25, 0.2, 0.05}}}},
				report.Weeks{Title: "Semanas", Band: "banda", Mean: "esperado", Within: "dentro", Apart: "fuera", Rows: []report.Week{{Name: "25 may", Lo: 1, Mean: 20, Hi: 50, Came: 60}, {Name: "1 jun", Lo: 1, Mean: 20, Hi: 50, Came: 30, Inside: true}}},
			}},
			{Title: "Dinero", Parts: []report.Part{
				report.Table{Head: []string{"Material", "Vendido", "9 de 10", "Qué hacer"}, Rows: rows, Totals: 1},
				report.Text{Words: strings.Repeat("palabrasinespacio", 30), Small: true},
			}},
		},
	}
}

func TestNoTextRunsOutOfItsColumn(t *testing.T) {
	for name, paper := range pages.Papers {
		for _, over := range pages.Overruns(sample(report.Spanish), paper, "2026-12-01") {
			t.Errorf("%s: %s", name, over)
		}
	}
}

func TestALongFarmNameIsShortenedAtTheFootAndTheSeasonStays(t *testing.T) {
	for _, test := range []struct{ name, foot string }{
		{"Finca Ñandú", "Finca Ñandú · temporada 2026"},
		{strings.Repeat("Jardines de la Ñ ", 12), "… · temporada 2026"},
		{strings.Repeat("Ñ", 300), "ÑÑ… · temporada 2026"},
	} {
		r := sample(report.Spanish)
		r.Title = test.name
		for name, paper := range pages.Papers {
			for _, over := range pages.Overruns(r, paper, "2026-12-01") {
				t.Errorf("%s: %s", name, over)
			}
			if text := textOf(t, r, paper); strings.Count(text, test.foot) != strings.Count(text, "\f") {
				t.Errorf("%s: %q is at the foot of %d of %d pages", name, test.foot, strings.Count(text, test.foot), strings.Count(text, "\f"))
			}
		}
	}
}

func TestAWordThatCannotFitIsTold(t *testing.T) {
	r := sample(report.English)
	r.Foot = strings.Repeat("W", 200)
	if len(pages.Overruns(r, pages.Papers["a4"], "2026-12-01")) == 0 {
		t.Error("a foot wider than the paper was not noticed")
	}
}

func TestTheSameReportIsTheSameBytes(t *testing.T) {
	var first, second bytes.Buffer
	for _, to := range []*bytes.Buffer{&first, &second} {
		if err := pages.Write(to, sample(report.Spanish), pages.Papers["letter"], "2026-12-01"); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Contains(first.Bytes(), []byte("/CreationDate (D:20261201000000")) { // else two printings of one second agree by chance
		t.Error("the document does not bear the day of the report")
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("two printings differ")
	}
}

func TestPrintedPagesHoldTheWordsWithTheirAccents(t *testing.T) {
	for name, paper := range pages.Papers {
		text := textOf(t, sample(report.Spanish), paper)
		for _, want := range []string{"Finca Ñandú", "señora Ibáñez", "1.234,56", "Cambiar por plántula", "página 1 de ", "Qué hacer", "12.345 tallos", "25 may"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not on the pages", name, want)
			}
		}
		if sheets := strings.Count(text, "\f"); sheets < 3 || strings.Count(text, "Material") < sheets-1 {
			t.Errorf("%s: %d pages; a table's head stands %d times", name, sheets, strings.Count(text, "Material"))
		}
	}
}

// textOf is what the printed pages say, each ended by a form feed.
func textOf(t *testing.T, r report.Report, paper pages.Paper) string {
	t.Helper()
	var pdf bytes.Buffer
	if err := pages.Write(&pdf, r, paper, "2026-12-01"); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "report.pdf")
	if err := os.WriteFile(path, pdf.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext: %v; without it nothing says that a report can be read: apt-get install poppler-utils", err)
	}
	return string(text)
}
