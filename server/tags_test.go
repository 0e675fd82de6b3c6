package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// printTags runs the command on a spreadsheet and returns what it said and where it wrote.
func printTags(t *testing.T, plants string, flags ...string) (path, out, errs string, ok bool) {
	t.Helper()
	folder := t.TempDir()
	sheet := filepath.Join(folder, "plants.csv")
	if err := os.WriteFile(sheet, []byte(plants), 0o600); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(folder, "tags.pdf")
	out, errs, ok = said(t, append([]string{"tags", "-plants", sheet, "-out", path}, flags...)...)
	return path, out, errs, ok
}

// scannedTags is what zbar reads on the one sheet of a PDF, in the order of the texts.
func scannedTags(t *testing.T, path string) []string {
	t.Helper()
	picture := filepath.Join(t.TempDir(), "sheet")
	for _, cmd := range [][]string{{"pdftoppm", "-gray", "-singlefile", "-r", "200", path, picture}, {"zbarimg", "--raw", "--quiet", picture + ".pgm"}} {
		said, err := exec.Command(cmd[0], cmd[1:]...).Output()
		if err != nil {
			t.Fatalf("%s: %v; it needs zbar-tools and poppler-utils: apt-get install zbar-tools poppler-utils", cmd[0], err)
		}
		if cmd[0] == "zbarimg" {
			lines := strings.Split(strings.TrimSuffix(string(said), "\n"), "\n")
			slices.Sort(lines)
			return lines
		}
	}
	return nil
}

func TestTagsSayWhatStandsInThePlantColumn(t *testing.T) {
	now := time.Now()
	var rows strings.Builder
	rows.WriteString("plant,stock,bed,planted,counted_from,counted_to,removed\n")
	fmt.Fprintf(&rows, "0007,Lantern mix,\"north strip\nby the well\",2022-09-20,,,\n")
	fmt.Fprintf(&rows, "n-01,Lantern mix,north strip,2022-09-20,%d-01-01,%d-12-31,\n", now.Year(), now.Year())
	fmt.Fprintf(&rows, "N-01,Lantern mix,north strip,2022-09-20,2023-01-01,2023-12-31,\n")
	fmt.Fprintf(&rows, "Ñandú 3,Crème,north strip,2022-09-20,2023-01-01,2099-12-31,\n")
	fmt.Fprintf(&rows, "gone,Lantern mix,north strip,2022-09-20,2023-01-01,2099-12-31,2024-01-01\n")
	fmt.Fprintf(&rows, "gone-2,Lantern mix,north strip,2022-09-20,2023-01-01,2099-12-31,%s\n", now.Format(time.DateOnly))
	tests := []struct {
		flags []string
		want  []string
		said  string
	}{
		{nil, []string{"0007", "N-01", "gone", "gone-2", "n-01", "Ñandú 3"}, "holds 6 tags on 1 sheet of A4"},
		{[]string{"-only", "counted", "-paper", "letter"}, []string{"n-01", "Ñandú 3"}, "holds 2 tags on 1 sheet of US Letter"},
	}
	for _, tt := range tests {
		path, out, errs, ok := printTags(t, rows.String(), tt.flags...)
		if !ok || !strings.Contains(out, tt.said) || !strings.Contains(out, "100 %") {
			t.Fatalf("%v: it said %q %q", tt.flags, out, errs)
		}
		if read := scannedTags(t, path); !slices.Equal(read, tt.want) {
			t.Errorf("%v: read %q, want %q", tt.flags, read, tt.want)
		}
	}
}

func TestTagsAreNotPrintedOf(t *testing.T) {
	const head = "plant,stock,bed,planted\n"
	tests := []struct {
		name, plants string
		flags        []string
		want         string
	}{
		{"a bad row", head + "A,s,b,20/09/2022\n", nil, "plants.csv line 2, planted:"},
		{"a code that cannot be printed", head + "花,s,b,2022-09-20\n", nil, `the code "花" has the character`},
		{"nothing counted", head + "A,s,b,2022-09-20\n", []string{"-only", "counted"}, "no counted_from and counted_to"},
		{"nothing counted now", "plant,stock,bed,planted,counted_from,counted_to\nA,s,b,2022-09-20,2023-01-01,2023-12-31\n", []string{"-only", "counted"}, "none is counted in season"},
		{"a paper that is not known", head + "A,s,b,2022-09-20\n", []string{"-paper", "a3"}, "-paper a3 is not known: use a4 or letter"},
		{"a choice that is not known", head + "A,s,b,2022-09-20\n", []string{"-only", "mothers"}, "-only mothers is not known"},
		{"no file to write", head + "A,s,b,2022-09-20\n", []string{"-out", ""}, "-plants plants.csv -out tags.pdf"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path, out, errs, ok := printTags(t, tt.plants, tt.flags...)
			if ok || out != "" || !strings.Contains(errs, tt.want) {
				t.Errorf("it said %q %q, want %q", out, errs, tt.want)
			}
			if _, err := os.Stat(path); err == nil {
				t.Error("a file was written")
			}
		})
	}
}

func TestTagsReplaceNothingButTags(t *testing.T) {
	before, err := os.ReadFile(sheet(t, "good/plants.csv"))
	if err != nil {
		t.Fatal(err)
	}
	plants := filepath.Join(t.TempDir(), "plants.csv")
	if err := os.WriteFile(plants, before, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, errs, ok := said(t, "tags", "-plants", plants, "-out", plants); ok || !strings.Contains(errs, "is no PDF") {
		t.Errorf("it said %q", errs)
	}
	if after, err := os.ReadFile(plants); err != nil || !bytes.Equal(before, after) {
		t.Error("the plants were replaced")
	}
	out := filepath.Join(t.TempDir(), "tags.pdf")
	var first []byte
	for range 2 {
		if _, errs, ok := said(t, "tags", "-plants", plants, "-out", out); !ok {
			t.Fatal(errs)
		}
		made, err := os.ReadFile(out)
		if err != nil || first != nil && !bytes.Equal(first, made) {
			t.Errorf("the second time it is another file (%v)", err)
		}
		first = made
	}
}
