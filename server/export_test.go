package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestAnExportImportedIsTheSameFarm(t *testing.T) {
	data := farmWithFiles(t, 2, 5_000)
	dir := t.TempDir()
	first, second, copied := filepath.Join(dir, "first.zip"), filepath.Join(dir, "second.zip"), filepath.Join(dir, "copy")
	for _, args := range [][]string{
		{"export", "-data", data, "-out", first},
		{"import", "-data", copied, "-from", first},
		{"verify", "-data", copied},
		{"export", "-data", copied, "-out", second},
	} {
		if _, errs, ok := said(t, args...); !ok {
			t.Fatalf("%v: %s", args, errs)
		}
	}
	one, err := os.ReadFile(first)
	if err != nil {
		t.Fatal(err)
	}
	two, err := os.ReadFile(second)
	if err != nil {
		t.Fatal(err)
	}
	if string(one) != string(two) {
		t.Error("the farm exported again is another file")
	}
	if _, err := os.Stat(filepath.Join(copied, "certs")); err == nil {
		t.Error("keys were exported")
	}
}

func TestExportAndImportSayWhatIsMissing(t *testing.T) {
	data := farmWithFiles(t, 0, 0)
	there := filepath.Join(t.TempDir(), "there.zip")
	writeUnder(t, filepath.Dir(there), "there.zip", []byte("something else"))
	tests := []struct {
		name string
		args []string
		says string
	}{
		{"no place", []string{"export", "-data", data}, "-out"},
		{"no farm", []string{"export", "-data", t.TempDir(), "-out", "x.zip"}, "no farm to export"},
		{"a file that is there", []string{"export", "-data", data, "-out", there}, "is there already"},
		{"no folder to write in", []string{"export", "-data", data, "-out", filepath.Join(data, "none", "x.zip")}, "exporting to"},
		{"an unknown language", []string{"export", "-data", data, "-out", "x", "-csv", "-lang", "fr"}, "en or es"},
		{"tables over files", []string{"export", "-data", data, "-out", data, "-csv"}, "not empty"},
		{"over a farm", []string{"import", "-data", data, "-from", there}, "not empty"},
		{"what is no export", []string{"import", "-data", filepath.Join(t.TempDir(), "new"), "-from", there}, "no export"},
		{"both kinds", append([]string{"import", "-from", there}, pair(t, "good")...), "either an export"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, errs, ok := said(t, tt.args...); ok || !strings.Contains(errs, tt.says) {
				t.Errorf("said %q, want %q", errs, tt.says)
			}
		})
	}
}

func TestTablesAreWrittenToAFolder(t *testing.T) {
	data := farmWithFiles(t, 0, 0)
	folder := filepath.Join(t.TempDir(), "tables")
	if _, errs, ok := said(t, "export", "-data", data, "-csv", "-lang", "es", "-out", folder); !ok {
		t.Fatal(errs)
	}
	plants, err := os.ReadFile(filepath.Join(folder, "plantas.csv"))
	if err != nil || !strings.Contains(string(plants), "planta;material;") || strings.Count(string(plants), "\r\n") < 3 {
		t.Errorf("plantas.csv is %.200q (%v)", plants, err)
	}
}
