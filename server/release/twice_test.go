package main

import (
	"os"
	"path/filepath"
	"testing"

	"corymb/webapp/build"
)

// Who goes on working while the two are made would else have them compared across commits.
func TestBothReleasesAreOfTheSameCommit(t *testing.T) {
	root := t.TempDir()
	git := func(args ...string) {
		t.Helper()
		args = append([]string{"-c", "user.name=Ana", "-c", "user.email=ana@farm.example", "-c", "commit.gpgsign=false"}, args...)
		if err := build.Run(root, t.Output(), "git", args...); err != nil {
			t.Fatal(err)
		}
	}
	commit := func(text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(root, "a.txt"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		git("add", "a.txt")
		git("commit", "--quiet", "-m", text)
	}
	git("init", "--quiet")
	commit("then")
	then, err := committed(root)
	if err != nil {
		t.Fatal(err)
	}
	commit("now")
	clone := filepath.Join(t.TempDir(), "clone")
	if err := cloneAt(root, then, clone, t.Output()); err != nil {
		t.Fatal(err)
	}
	if text, err := os.ReadFile(filepath.Join(clone, "a.txt")); err != nil || string(text) != "then" {
		t.Errorf("the clone holds %q (%v)", text, err)
	}
}
