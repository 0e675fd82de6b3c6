package httpapi_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"corymb/server/httpapi"
)

func TestTheSeasonReportComesAsPDF(t *testing.T) {
	h := handler(t, dividingGround(), inOctober)
	for _, query := range []string{"", "season=2025", "season=2025&language=es&paper=letter"} {
		w := call(h, "GET", "/api/report?"+query)
		if w.Code != 200 || w.Header().Get("Content-Type") != "application/pdf" || !bytes.HasPrefix(w.Body.Bytes(), []byte("%PDF-")) ||
			!strings.Contains(w.Header().Get("Content-Disposition"), `"corymb-report-2025.pdf"`) {
			t.Errorf("%s: %d %v %.40q", query, w.Code, w.Header(), w.Body)
		}
	}
}

func TestWhatIsNoReportIsSaid(t *testing.T) {
	h := handler(t, dividingGround(), inOctober)
	for _, test := range []struct {
		query string
		code  int
		says  string
	}{
		{"season=x", 400, "is no season"},
		{"season=2031", 404, "holds nothing of season 2031"},
		{"season=2025&language=fr", 400, "en and es"},
		{"season=2025&paper=a3", 400, "a4 or letter"},
	} {
		if w := call(h, "GET", "/api/report?"+test.query); w.Code != test.code || !strings.Contains(w.Body.String(), test.says) {
			t.Errorf("%q: %d %s", test.query, w.Code, w.Body)
		}
	}
}

func TestTheReportOfAFarmWhosePlanIsRefusedSaysWhyInItsLanguage(t *testing.T) {
	h := handler(t, newGround(), inOctober) // without a price
	en, es := "No price is told to plan by.", "Falta un precio para planear."
	for language, sentences := range map[string][2]string{"en": {en, es}, "es": {es, en}} {
		w := call(h, "GET", "/api/report?season=2025&language="+language)
		text := printed(t, w.Body.Bytes())
		if !strings.Contains(text, sentences[0]) || strings.Contains(text, sentences[1]) {
			t.Errorf("%s: no %q, or %q, in %s", language, sentences[0], sentences[1], text)
		}
	}
}

func TestASeasonsReportHoldsThePlanUntilTheNextSpringHasBegun(t *testing.T) {
	inJanuary := func(c *httpapi.Config) {
		c.Now = func() time.Time { return time.Date(2026, 1, 12, 12, 0, 0, 0, time.UTC) }
	}
	for _, test := range []struct {
		name   string
		now    func(*httpapi.Config)
		season string
		want   string
	}{
		{"the season that runs", inOctober, "2025", "Most valued plants"},
		{"one before it", inOctober, "2024", "is in the report of season 2025."},
		{"the season that ended with the year", inJanuary, "2025", "Most valued plants"},
		{"one that has hardly begun", inJanuary, "2026", "This season has hardly begun"},
	} {
		w := call(handler(t, dividingGround(), test.now), "GET", "/api/report?season="+test.season)
		if text := printed(t, w.Body.Bytes()); !strings.Contains(text, test.want) {
			t.Errorf("%s: no %q in %s", test.name, test.want, text)
		}
	}
}

// printed is what a PDF says, in one line.
func printed(t *testing.T, pdf []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "report.pdf")
	if err := os.WriteFile(path, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-raw", path, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext: %v; without it nothing says that a report can be read: apt-get install poppler-utils", err)
	}
	return strings.Join(strings.Fields(string(out)), " ")
}
