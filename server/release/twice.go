package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
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
	var sums [][]byte
	for i, name := range []string{"one", filepath.Join("another", "of", "some depth")} {
		start := time.Now()
		clone, out := filepath.Join(scratch, name), filepath.Join(scratch, fmt.Sprint("out", i))
		if err := build.Run(root, log, "git", "clone", "--quiet", "--no-hardlinks", root, clone); err != nil {
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
