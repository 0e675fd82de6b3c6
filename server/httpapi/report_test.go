package httpapi_test

import (
	"bytes"
	"strings"
	"testing"
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
