// Command release makes the single-file binaries that are handed out, with the web app and every licence
// inside, for each kind of machine.
package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"

	"corymb/webapp/build"
)

func main() {
	err := run(os.Args[1:], os.Stdout)
	if err != nil && !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

func run(args []string, log io.Writer) error {
	set := flag.NewFlagSet("release", flag.ContinueOnError)
	version := set.String("version", "", "the `version`, such as 1.2.0; without, what git describe says")
	out := set.String("out", "", "the `folder` for the binaries; without, .release in the checkout")
	only := set.String("targets", "", "`targets` such as linux/arm64,windows/amd64; without, all")
	list := set.Bool("licences", false, "write the list of dependencies and licences anew, and nothing else")
	check := set.Bool("check", false, "make what is committed twice, in two folders and with two caches, and compare the bytes; takes long")
	if err := set.Parse(args); err != nil {
		return err
	}
	here, err := os.Getwd()
	if err != nil {
		return fmt.Errorf("finding the working directory: %w", err)
	}
	root, err := build.Root(here)
	if err != nil {
		return err
	}
	chosen, err := wanted(*only)
	if err != nil {
		return err
	}
	if *list {
		return writeList(root, log)
	}
	if *version == "" {
		if *version, err = described(root); err != nil {
			return err
		}
	}
	if !plainVersion.MatchString(*version) {
		return fmt.Errorf("-version %q must be letters, digits, points, dashes and plus signs: it is part of file names", *version)
	}
	if *check {
		return makeTwice(root, *version, *only, log)
	}
	if *out == "" {
		*out = filepath.Join(root, ".release")
	}
	return release(root, *version, *out, chosen, log)
}

var plainVersion = regexp.MustCompile(`^[0-9A-Za-z][0-9A-Za-z.+-]*$`)

// described is the version by the newest tag and the commit.
func described(root string) (string, error) {
	ask := exec.Command("git", "describe", "--tags", "--always", "--dirty")
	ask.Dir = root
	said, err := ask.Output()
	if err != nil {
		return "", fmt.Errorf("asking git for the version: %w; name it with -version", err)
	}
	return strings.TrimPrefix(strings.TrimSpace(string(said)), "v"), nil
}

// release makes the binaries and the list of their sums.
func release(root, version, out string, chosen []target, log io.Writer) error {
	if err := build.Anew(root, log); err != nil {
		return err
	}
	if err := listIsCurrent(root, log); err != nil {
		return err
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return fmt.Errorf("making the folder for the binaries: %w", err)
	}
	var names []string
	for _, t := range chosen {
		fmt.Fprintf(log, "Compiling for %s …\n", t)
		if err := t.compile(root, version, out, log); err != nil {
			return err
		}
		names = append(names, t.file(version))
	}
	sums, err := sumsOf(out, names)
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(out, sumsFile), sums, 0o644); err != nil {
		return fmt.Errorf("writing the sums: %w", err)
	}
	fmt.Fprintf(log, "%sCorymb %s, made with %s, is in %s\n", sums, version, runtime.Version(), out)
	return nil
}

// sumsFile is as sha256sum writes and checks it.
const sumsFile = "SHA256SUMS"

func sumsOf(dir string, names []string) ([]byte, error) {
	slices.Sort(names)
	var sums bytes.Buffer
	for _, name := range names {
		body, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			return nil, fmt.Errorf("reading what was made: %w", err)
		}
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(body), name)
	}
	return sums.Bytes(), nil
}

// writeList writes the list of licences anew.
func writeList(root string, log io.Writer) error {
	if err := build.Packages(filepath.Join(root, "webapp"), log); err != nil {
		return err
	}
	list, err := collect(root, log)
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(root, listFile), list, 0o644); err != nil {
		return fmt.Errorf("writing the list of licences: %w", err)
	}
	fmt.Fprintf(log, "%s is written: commit it\n", listFile)
	return nil
}

// listIsCurrent refuses to hand out what would not name all that it is made of.
func listIsCurrent(root string, log io.Writer) error {
	list, err := collect(root, log)
	if err != nil {
		return err
	}
	held, err := os.ReadFile(filepath.Join(root, listFile))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("reading the list of licences: %w", err)
	}
	if !bytes.Equal(list, held) {
		return fmt.Errorf("%s is not what is linked and bundled: write it with `go run ./server/release -licences`, look at what changed, and commit it", listFile)
	}
	return nil
}
