package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// printCards runs the command and returns what it said and what it wrote.
func printCards(t *testing.T, args ...string) (path, out, errs string, ok bool) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "card.pdf")
	out, errs, ok = said(t, append([]string{"card", "-out", path}, args...)...)
	return path, out, errs, ok
}

func TestCardsOfANewBatchBearItsCode(t *testing.T) {
	seen := make(map[string]bool)
	for range 2 {
		path, out, errs, ok := printCards(t)
		said := regexp.MustCompile(`holds 8 colour cards of batch ([0-9A-Z]{6}) on A4,`).FindStringSubmatch(out)
		if !ok || said == nil || !strings.Contains(out, "100 %") {
			t.Fatalf("it said %q %q", out, errs)
		}
		if seen[said[1]] {
			t.Errorf("%s was made twice", said[1])
		}
		seen[said[1]] = true
		if read := scannedTags(t, path); !slices.Equal(read, slices.Repeat([]string{"CARD/1/" + said[1]}, 8)) {
			t.Errorf("read %q", read)
		}
	}
}

func TestABatchIsPrintedAgainAsItWas(t *testing.T) {
	var first []byte
	for _, batch := range []string{"K7M4QE", "k7m 4qe", "k7m-4qe"} {
		path, out, errs, ok := printCards(t, "-batch", batch, "-paper", "letter", "-lang", "es")
		if !ok || !strings.Contains(out, "of batch K7M4QE on US Letter,") {
			t.Fatalf("it said %q %q", out, errs)
		}
		made, err := os.ReadFile(path)
		if err != nil || first != nil && !bytes.Equal(first, made) {
			t.Errorf("%s: it is another file (%v)", batch, err)
		}
		first = made
	}
}

func TestCardsAreNotPrintedOf(t *testing.T) {
	folder := t.TempDir()
	plants := filepath.Join(folder, "plants.csv")
	if err := os.WriteFile(plants, []byte("plant\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name string
		args []string
		want string
	}{
		{"no file to write", []string{"-out", ""}, "-out card.pdf"},
		{"a file that is no PDF", []string{"-out", plants}, "is no PDF"},
		{"a batch with a wrong sign", []string{"-batch", "K7M4QF"}, "is not the code of a batch"},
		{"a paper that is not known", []string{"-paper", "a3"}, "-paper a3 is not known: use a4 or letter"},
		{"a language that is not known", []string{"-lang", "fr"}, "-lang fr is not known: use en or es"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path, out, errs, ok := printCards(t, tt.args...)
			if ok || out != "" || !strings.Contains(errs, tt.want) {
				t.Errorf("it said %q %q, want %q", out, errs, tt.want)
			}
			if _, err := os.Stat(path); err == nil {
				t.Error("a file was written")
			}
		})
	}
	if after, err := os.ReadFile(plants); err != nil || string(after) != "plant\n" {
		t.Error("the plants were replaced")
	}
}
