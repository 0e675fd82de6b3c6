package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestEachMachineGetsAFileOfItsOwnName(t *testing.T) {
	want := []string{
		"corymb-1.2.0-linux-amd64", "corymb-1.2.0-linux-arm64", "corymb-1.2.0-windows-amd64.exe",
		"corymb-1.2.0-macos-amd64", "corymb-1.2.0-macos-arm64",
	}
	var got []string
	for _, target := range targets {
		got = append(got, target.file("1.2.0"))
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("they are %v, want %v", got, want)
	}
}

func TestTargetsCanBeChosen(t *testing.T) {
	chosen, err := wanted("windows/amd64, linux/arm64")
	if err != nil || len(chosen) != 2 || chosen[0].os != "windows" || chosen[1].arch != "arm64" {
		t.Errorf("chosen %v (%v)", chosen, err)
	}
	if _, err := wanted("plan9/arm"); err == nil || !strings.Contains(err.Error(), "linux/amd64") {
		t.Errorf("an unknown one: %v", err)
	}
}

func TestWhatCannotBeAFileNameIsNoVersion(t *testing.T) {
	for _, version := range []string{"../1", "1 2", "-s", `1"`} {
		if err := run([]string{"-version", version}, io.Discard); err == nil || !strings.Contains(err.Error(), "part of file names") {
			t.Errorf("%q: %v", version, err)
		}
	}
}

func TestTheSumsAreAsSha256sumWritesThem(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"b", "a"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("abc"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	// SHA-256 of "abc": FIPS 180-4, example of https://csrc.nist.gov/projects/cryptographic-standards-and-guidelines/example-values
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	want := abc + "  a\n" + abc + "  b\n"
	if sums, err := sumsOf(dir, []string{"b", "a"}); err != nil || string(sums) != want {
		t.Errorf("they are %q (%v)", sums, err)
	}
}
