package report_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"corymb/internal/money"
	"corymb/internal/report"
	"corymb/internal/report/pages"
	"corymb/internal/yield"
)

func TestTheMadeUpFarmsReportFitsItsPages(t *testing.T) {
	a := answers(t)
	larger := a
	larger.Ages = []report.SpeciesAges{{Species: a.Ages[0].Species, Report: timesAsMany(a.Ages[0].Report, 1000)}}
	for _, a := range []report.Answers{a, larger} {
		for _, l := range languages {
			for name, paper := range pages.Papers {
				for _, over := range pages.Overruns(report.Of(a, l), paper, made) {
					t.Errorf("%s on %s: %s", l, name, over)
				}
			}
		}
	}
}

// timesAsMany is the fit of a farm with so many times the plants and stems: what its report counts has as many more digits.
func timesAsMany(fit yield.Report, times int) yield.Report {
	fit.Ages = slices.Clone(fit.Ages)
	for i := range fit.Ages {
		age := &fit.Ages[i]
		age.PlantSeasons *= times
		age.Seasons, age.Grades, age.Plants = slices.Clone(age.Seasons), slices.Clone(age.Grades), slices.Repeat(age.Plants, times)
		for j := range age.Seasons {
			age.Seasons[j].Alive *= times
		}
		for j := range age.Grades {
			age.Grades[j].Stems *= times
		}
	}
	return fit
}

func TestThePrintedReportHoldsTheLedgersFigures(t *testing.T) {
	a := answers(t)
	left := a.Books.By(money.ByBed, money.Filter{}).All.Left()
	euros, cents := strconv.FormatInt(int64(left/100), 10), fmt.Sprintf("%02d", left%100)
	for l, words := range map[report.Language][]string{
		report.English: {"Hedgelark Corner", "made on 1 December 2026", "the season kept " + euros + "." + cents + " EUR", "62 %", "Promises kept", "page 1 of "},
		report.Spanish: {"Hedgelark Corner", "hecho el 1 de diciembre de 2026", "la temporada dejó " + euros + "," + cents + " EUR", "62 %", "Qué aconseja el plan", "página 1 de "},
	} {
		var pdf bytes.Buffer
		if err := pages.Write(&pdf, report.Of(a, l), pages.Papers["a4"], made); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "report.pdf")
		if err := os.WriteFile(path, pdf.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("pdftotext", "-raw", path, "-").Output()
		if err != nil {
			t.Fatalf("pdftotext: %v; without it nothing says that a report can be read: apt-get install poppler-utils", err)
		}
		text := strings.Join(strings.Fields(string(out)), " ")
		for _, want := range words {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not on the pages", l, want)
			}
		}
		if sheets := bytes.Count(out, []byte("\f")); sheets < 4 || sheets > 6 {
			t.Errorf("%s: %d pages", l, sheets)
		}
	}
}
