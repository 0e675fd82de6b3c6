// Command check sets up and runs every test of Corymb: Go, TypeScript and browser.
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

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
	for _, step := range steps(root, web, binary) {
		start := time.Now()
		fmt.Printf("== %s\n", step.name)
		if err := step.do(); err != nil {
			return fmt.Errorf("%s: %w", step.name, err)
		}
		fmt.Printf("== %s: %.0f s\n", step.name, time.Since(start).Seconds())
	}
	return nil
}

type step struct {
	name string
	do   func() error
}

// steps go from the cheapest to the dearest. The browser tests run the binary that is built here,
// against the web app that is built here.
func steps(root, web, binary string) []step {
	run := func(dir, name string, args ...string) func() error {
		return func() error { return build.Run(dir, os.Stdout, name, args...) }
	}
	return []step{
		{"go vet", run(root, "go", "vet", "./...")},
		{"go test", run(root, "go", "test", "./...")},
		{"go test without cgo, as in a release", withoutC(run(root, "go", "test", "./server/store", "./server"))},
		{"web packages", func() error { return build.Packages(web, os.Stdout) }},
		{"types", run(web, "npm", "run", "--silent", "types")},
		{"unit tests", run(web, "npm", "run", "--silent", "unit")},
		{"web app", func() error { _, err := build.App(root, os.Stdout); return err }},
		{"server", run(root, "go", "build", "-o", binary, "./server")},
		{"phone against server", run(web, "npm", "run", "--silent", "proxy")},
		{"browser tests", func() error { return browserTests(web) }},
	}
}

// withoutC does something where Go takes no C compiler.
func withoutC(do func() error) func() error {
	return func() error {
		os.Setenv("CGO_ENABLED", "0")
		defer os.Unsetenv("CGO_ENABLED")
		return do()
	}
}

func browserTests(web string) error {
	browser, err := build.Browser(web, os.Stdout)
	if err != nil {
		return err
	}
	os.Setenv("CORYMB_CHROMIUM", browser)
	return build.Run(web, os.Stdout, "npm", "run", "--silent", "browser")
}
