package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"corymb/webapp/build"
)

// makeTwice proves that a release can be made again: two clones of what is committed, in folders of
// different length and depth, the second with nothing compiled beforehand, give the same bytes.
func makeTwice(root, version, only string, log io.Writer) error {
	scratch, err := os.MkdirTemp("", "corymb-twice-")
	if err != nil {
		return fmt.Errorf("making a folder for the two: %w", err)
	}
	defer os.RemoveAll(scratch)
	commit, err := committed(root)
	if err != nil {
		return err
	}
	var sums [][]byte
	for i, name := range []string{"one", filepath.Join("another", "of", "some depth")} {
		start := time.Now()
		clone, out := filepath.Join(scratch, name), filepath.Join(scratch, fmt.Sprint("out", i))
		if err := cloneAt(root, commit, clone, log); err != nil {
			return err
		}
		args := []string{"run", "./server/release", "-version", version, "-out", out, "-targets", only}
		again := exec.Command("go", args...)
		again.Dir, again.Env, again.Stdout, again.Stderr = clone, os.Environ(), log, log
		if i > 0 {
			again.Env = append(again.Env, "GOCACHE="+filepath.Join(scratch, "cache"))
		}
		if err := again.Run(); err != nil {
			return fmt.Errorf("making the release in %s: %w", clone, err)
		}
		sum, err := os.ReadFile(filepath.Join(out, sumsFile))
		if err != nil {
			return fmt.Errorf("reading the sums: %w", err)
		}
		sums = append(sums, sum)
		fmt.Fprintf(log, "made in %s: %.0f s\n", clone, time.Since(start).Seconds())
	}
	if !bytes.Equal(sums[0], sums[1]) {
		return fmt.Errorf("the two differ:\n%s\n%s", sums[0], sums[1])
	}
	fmt.Fprintln(log, "Both gave the same bytes. What was not committed was in neither.")
	return nil
}

// committed is the newest commit of a checkout.
func committed(root string) (string, error) {
	ask := exec.Command("git", "rev-parse", "HEAD")
	ask.Dir = root
	said, err := ask.Output()
	if err != nil {
		return "", fmt.Errorf("asking git for the newest commit in %s: %w", root, err)
	}
	return strings.TrimSpace(string(said)), nil
}

// cloneAt makes a clone that stands at a commit, whatever was committed since.
func cloneAt(root, commit, clone string, log io.Writer) error {
	if err := build.Run(root, log, "git", "clone", "--quiet", "--no-hardlinks", root, clone); err != nil {
		return err
	}
	return build.Run(clone, log, "git", "checkout", "--quiet", "--detach", commit)
}
