package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestOneCommandWritesASeasonsReport(t *testing.T) {
	data := farmWithFiles(t, 0, 0)
	to := filepath.Join(t.TempDir(), "report.pdf")
	if _, errs, ok := said(t, "report", "-data", data, "-season", "2026", "-language", "es", "-out", to); !ok {
		t.Fatal(errs)
	}
	if pdf, err := os.ReadFile(to); err != nil || !bytes.HasPrefix(pdf, []byte("%PDF-")) {
		t.Errorf("%.40q (%v)", pdf, err)
	}
}

func TestReportSaysWhatIsMissing(t *testing.T) {
	data := farmWithFiles(t, 0, 0)
	to := filepath.Join(t.TempDir(), "report.pdf")
	there := filepath.Join(t.TempDir(), "there.pdf")
	writeUnder(t, filepath.Dir(there), "there.pdf", []byte("%PDF-something else"))
	tests := []struct {
		name string
		args []string
		says string
	}{
		{"no place", []string{"-data", data, "-season", "2026"}, "-out"},
		{"no season", []string{"-data", data, "-out", to}, "-season"},
		{"an unknown language", []string{"-data", data, "-season", "2026", "-language", "fr", "-out", to}, "en or es"},
		{"an unknown paper", []string{"-data", data, "-season", "2026", "-paper", "a3", "-out", to}, "a4 or letter"},
		{"no farm", []string{"-data", t.TempDir(), "-season", "2026", "-out", to}, "no farm to report on"},
		{"an unknown season", []string{"-data", data, "-season", "1999", "-out", to}, "holds nothing of season 1999"},
		{"a file that is there", []string{"-data", data, "-season", "2026", "-out", there}, "is there already"},
		{"no folder to write in", []string{"-data", data, "-season", "2026", "-out", filepath.Join(data, "none", "r.pdf")}, "name another file"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, errs, ok := said(t, append([]string{"report"}, tt.args...)...); ok || !strings.Contains(errs, tt.says) {
				t.Errorf("said %q, want %q", errs, tt.says)
			}
		})
	}
}
