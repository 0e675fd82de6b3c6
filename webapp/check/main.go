// Command check sets up and runs every test of Corymb: Go, TypeScript and browser.
package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"corymb/webapp/build"
)

func main() {
	if err := check(); err != nil {
		fmt.Fprintln(os.Stderr, "check:", err)
		os.Exit(1)
	}
}

func check() error {
	here, err := os.Getwd()
	if err != nil {
		return fmt.Errorf("finding the working directory: %w", err)
	}
	root, err := build.Root(here)
	if err != nil {
		return err
	}
	web := filepath.Join(root, "webapp")
	scratch, err := os.MkdirTemp("", "corymb-check-")
	if err != nil {
		return fmt.Errorf("making a directory for the test binary: %w", err)
	}
	defer os.RemoveAll(scratch)
	binary := filepath.Join(scratch, "corymb")
	os.Setenv("CORYMB_BINARY", binary)
	if err := sideBySide(os.Stdout, before(root, web, binary)); err != nil {
		return err
	}
	if err := sideBySide(os.Stdout, goTests(root), webTests(web)); err != nil {
		return err
	}
	return browserTests(web)
}

// before is what the others need: a Go package carries the built app, which must not change under its tests, and both
// lanes and the browser need what the server is compiled of.
func before(root, web, binary string) []step {
	return []step{
		{"web packages", func(log io.Writer) error { return build.Packages(web, log) }},
		{"web app", func(log io.Writer) error { _, err := build.App(root, log); return err }},
		{"server", running(root, "go", "build", "-o", binary, "./server")},
	}
}

// ofFarmsOnDisk are the tests of the server in which a whole farm is stored, killed, backed up or restored: what the
// driver without C could do otherwise.
const ofFarmsOnDisk = "SQLite|Killed|Survives|OnTheDisk|BackedUp|Release|Interrupted|TakeIn|Importing"

// goTests keep both processors busy in the tests of all packages, and few after them.
func goTests(root string) []step {
	return []step{
		{"go vet", running(root, "go", "vet", "./...")},
		{"go test", running(root, "go", "test", "./...")},
		{"go test without cgo, as in a release: the log", withoutC(root, "go", "test", "./server/store")},
		{"go test without cgo, as in a release: the server", withoutC(root, "go", "test", "-run", ofFarmsOnDisk, "./server")},
	}
}

// webTests need no browser. They keep one processor busy: with the phone against the server they take about as long as
// Go's, so that neither lane leaves a processor idle for long.
func webTests(web string) []step {
	return []step{
		{"types", running(web, "npm", "run", "--silent", "types")},
		{"unit tests", running(web, "npm", "run", "--silent", "unit")},
		{"phone against server", running(web, "npm", "run", "--silent", "proxy")},
	}
}

func running(dir, name string, args ...string) func(io.Writer) error {
	return func(log io.Writer) error { return build.Run(dir, log, name, args...) }
}

// withoutC runs a program for which Go takes no C compiler.
func withoutC(dir, name string, args ...string) func(io.Writer) error {
	return func(log io.Writer) error { return build.RunWith(dir, []string{"CGO_ENABLED=0"}, log, name, args...) }
}

// browserTests come last and alone, since they wait for what a screen shows. Nothing is told behind them: who reads
// the end of the whole run finds theirs.
func browserTests(web string) error {
	fmt.Println("== browser tests")
	browser, err := build.Browser(web, os.Stdout)
	if err != nil {
		return fmt.Errorf("browser tests: %w", err)
	}
	os.Setenv("CORYMB_CHROMIUM", browser)
	if shell := build.HeadlessShell(web, os.Stdout); os.Getenv("CORYMB_HEADLESS") == "" && shell != "" {
		os.Setenv("CORYMB_HEADLESS", shell)
	}
	if err := build.Run(web, os.Stdout, "npm", "run", "--silent", "browser"); err != nil {
		return fmt.Errorf("browser tests: %w", err)
	}
	return nil
}
