package main

import (
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"corymb/server/about"
)

const root = "../.."

// Fails when a library came or went, or was brought up to date, without its licence.
func TestTheListSaysOfEverythingLinkedWhatItsLicenceIs(t *testing.T) {
	readSources(t)
	held := map[string]about.Dependency{}
	for _, d := range about.Dependencies() {
		held[d.Name] = d
	}
	all, err := collectGo(root)
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 10 {
		t.Fatalf("only %d are said to be linked", len(all))
	}
	for _, d := range all {
		listed := held[d.Name]
		if d.Name == about.GoName {
			d.Version = listed.Version // of whatever compiled this test
		}
		if listed != d {
			t.Errorf("%s %s is linked, the list has %q with %q: run go run ./server/release -licences", d.Name, d.Version, listed.Version, listed.Licence)
		}
		delete(held, d.Name)
	}
	locked := lockedPackages(t)
	for name, d := range held { // webapp/src/app/bundled.test.ts looks whether they are bundled
		if locked[name] != d.Version {
			t.Errorf("%s %s is listed, but neither linked nor a package of the web app", name, d.Version)
		}
	}
}

// readSources opens what decides on the answer of go list, so that a change of it runs this test again.
func readSources(t *testing.T) {
	t.Helper()
	for _, dir := range []string{"go.mod", "go.sum", "internal", "server", "syncproto", "webapp/build", "webapp/webapp.go"} {
		err := filepath.WalkDir(filepath.Join(root, dir), func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() || filepath.Ext(path) != ".go" && !strings.HasPrefix(entry.Name(), "go.") {
				return err
			}
			_, err = os.ReadFile(path)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// lockedPackages are the versions that package-lock.json names.
func lockedPackages(t *testing.T) map[string]string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, "webapp", "package-lock.json"))
	if err != nil {
		t.Fatal(err)
	}
	var lock struct {
		Packages map[string]struct{ Version string }
	}
	if err := json.Unmarshal(text, &lock); err != nil {
		t.Fatal(err)
	}
	versions := map[string]string{}
	for path, p := range lock.Packages {
		versions[strings.TrimPrefix(path, "node_modules/")] = p.Version
	}
	return versions
}

func TestALicenceIsRecognisedByItsWordsAlone(t *testing.T) {
	const (
		mit     = "Permission is hereby granted, free of charge, to any person obtaining a copy\nof this software and associated documentation files\nThe above copyright notice and this permission notice shall be included"
		binary  = "Redistributions in binary form must reproduce the above copyright\nnotice"
		neither = "Neither the name of the copyright holder"
	)
	tests := []struct{ name, text, want string }{
		{"MIT", "The MIT License\n" + mit, "MIT"},
		{"broken in other places", strings.ReplaceAll(mit, " ", "\n  "), "MIT"},
		{"three clauses", binary + "\n" + neither, "BSD-3-Clause"},
		{"two clauses", binary, "BSD-2-Clause"},
		{"Apache", "Apache License\n   Version 2.0, January 2004", "Apache-2.0"},
		{"ISC", "Permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted, provided that the above", "ISC"},
		{"a typeface", "This Font Software is licensed under the SIL Open Font License, Version 1.1.\nSIL OPEN FONT LICENSE Version 1.1\nPermission is hereby granted, free of charge, to any person obtaining a copy of the Font Software", "OFL-1.1"},
		{"two at once", mit + "\n\nApache License\nVersion 2.0", about.SeeText},
		{"none of these", "You may do as you please.", about.SeeText},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := recognise(tt.text); got != tt.want {
				t.Errorf("taken for %q, want %q", got, tt.want)
			}
		})
	}
}

func TestALibraryWithoutALicenceFileIsNoPartOfARelease(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "README.md"), []byte("MIT"), 0o600); err != nil {
		t.Fatal(err)
	}
	if d, err := dependency("example.com/x", "v1.0.0", []string{dir}); err == nil || !strings.Contains(err.Error(), "no licence file") {
		t.Errorf("it was taken as %+v (%v)", d, err)
	}
}

func TestEveryLicenceFileOfALibraryIsKept(t *testing.T) {
	dir := t.TempDir()
	files := map[string]string{
		"LICENSE": "one", "NOTICE.txt": "two", "THIRD_PARTY_LICENSES/a": "three", "inner/Licence.md": "four",
		"licence.go": "code", "inner/other": "nothing",
	}
	for name, text := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text+"\r\n"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	d, err := dependency("example.com/x", "v1.0.0", []string{dir, filepath.Join(dir, "inner")})
	want := "LICENSE:\n\none\n\nNOTICE.txt:\n\ntwo\n\nTHIRD_PARTY_LICENSES/a:\n\nthree\n\ninner/Licence.md:\n\nfour"
	if err != nil || d.Text != want || d.Licence != about.SeeText {
		t.Errorf("kept %q as %s (%v)", d.Text, d.Licence, err)
	}
}
