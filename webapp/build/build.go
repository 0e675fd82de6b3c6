// Package build makes the web app from its sources whenever they are newer than what was built.
package build

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// ErrNoCheckout says that a directory lies in no checkout of Corymb.
var ErrNoCheckout = errors.New("this directory lies in no checkout of Corymb")

// Root finds the repository's root from a directory inside it.
func Root(dir string) (string, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return "", fmt.Errorf("finding the repository's root: %w", err)
	}
	for {
		mod, err := os.ReadFile(filepath.Join(dir, "go.mod"))
		if err == nil && strings.HasPrefix(string(mod), "module corymb\n") {
			return dir, nil
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			return "", ErrNoCheckout
		}
		dir = parent
	}
}

// App builds the web app below root if it is stale and returns the built files. What npm and the
// build say goes to log.
func App(root string, log io.Writer) (fs.FS, error) {
	web := filepath.Join(root, "webapp")
	stale, err := Stale(web)
	if err != nil {
		return nil, err
	}
	if stale {
		if err := Anew(root, log); err != nil {
			return nil, err
		}
	}
	return os.DirFS(filepath.Join(web, "dist")), nil
}

// Anew builds the web app below root, stale or not.
func Anew(root string, log io.Writer) error {
	web := filepath.Join(root, "webapp")
	if err := Packages(web, log); err != nil {
		return err
	}
	if err := build(web, log); err != nil {
		return fmt.Errorf("building the web app: %w", err)
	}
	return nil
}

// build dates what it built at its start: a source saved meanwhile is newer.
func build(web string, log io.Writer) error {
	start := time.Now()
	fmt.Fprintln(log, "Building the web app …")
	if err := Run(web, log, "npm", "run", "--silent", "build"); err != nil {
		return err
	}
	return os.Chtimes(filepath.Join(web, "dist", "index.html"), start, start)
}

// Packages installs what package-lock.json names, unless that is installed already.
func Packages(web string, log io.Writer) error {
	lock, err := modified(filepath.Join(web, "package-lock.json"))
	if err != nil {
		return fmt.Errorf("looking at the web app's package-lock.json: %w", err)
	}
	installed, err := modified(filepath.Join(web, "node_modules", ".package-lock.json"))
	if err == nil && !installed.Before(lock) {
		return nil
	}
	fmt.Fprintln(log, "Installing the web app's packages …")
	if err := Run(web, log, "npm", "ci", "--no-audit", "--no-fund"); err != nil {
		return fmt.Errorf("installing the web app's packages: %w", err)
	}
	return nil
}

// Run runs a program in dir, its output to log.
func Run(dir string, log io.Writer, name string, args ...string) error {
	return RunWith(dir, nil, log, name, args...)
}

// RunWith does so with more in its environment.
func RunWith(dir string, env []string, log io.Writer, name string, args ...string) error {
	if _, err := exec.LookPath(name); err != nil {
		return fmt.Errorf("%s is not installed: Corymb is built with Go 1.26, Node 20 or newer (with npm) and gcc", name)
	}
	cmd := exec.Command(name, args...)
	cmd.Dir, cmd.Stdout, cmd.Stderr = dir, log, log
	cmd.Env = append(os.Environ(), env...)
	// What it started and left running may hold its output open: that keeps nobody waiting.
	cmd.WaitDelay = 10 * time.Second
	if err := cmd.Run(); err != nil && !errors.Is(err, exec.ErrWaitDelay) {
		return fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return nil
}

// sources are what the built app is made from. Directories count with their own times too, so that
// a removed file makes the build stale.
var sources = []string{"src", "public", "index.html", "package.json", "package-lock.json", "vite.config.ts", "tsconfig.json"}

// Stale tells whether any source below web is newer than the built app, or nothing was built.
func Stale(web string) (bool, error) {
	built, err := modified(filepath.Join(web, "dist", "index.html"))
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	if err != nil {
		return false, fmt.Errorf("looking at the built web app: %w", err)
	}
	for _, name := range sources {
		newest, err := newestBelow(filepath.Join(web, name))
		if err != nil {
			return false, fmt.Errorf("looking at the web app's sources: %w", err)
		}
		if newest.After(built) {
			return true, nil
		}
	}
	return false, nil
}

func newestBelow(path string) (time.Time, error) {
	var newest time.Time
	err := filepath.WalkDir(path, func(_ string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		if info.ModTime().After(newest) {
			newest = info.ModTime()
		}
		return nil
	})
	return newest, err
}

func modified(path string) (time.Time, error) {
	info, err := os.Stat(path)
	if err != nil {
		return time.Time{}, err
	}
	return info.ModTime(), nil
}
