package build

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

// ErrNoBrowser says what to do where no browser could be found or installed.
var ErrNoBrowser = errors.New("the browser tests need Chromium or Chrome, and none could be found or installed: " +
	"install one (Debian: apt-get install chromium) or name its program in CORYMB_CHROMIUM, then run this again")

// Browser finds a Chromium or Chrome, or installs one: Debian's where apt may, else the one that
// Playwright downloads.
func Browser(web string, log io.Writer) (string, error) {
	if path, ok := installedBrowser(); ok {
		return path, nil
	}
	if path, ok := debianPackage(web, "chromium", log); ok {
		return path, nil
	}
	fmt.Fprintln(log, "Downloading Playwright's Chromium …")
	if err := Run(web, log, "npx", "playwright-core", "install", "chromium"); err != nil {
		return "", fmt.Errorf("%w (%w)", ErrNoBrowser, err)
	}
	ask := exec.Command("node", "-p", "require('playwright-core').chromium.executablePath()")
	ask.Dir = web
	path, err := ask.Output()
	if err != nil {
		return "", fmt.Errorf("%w (%w)", ErrNoBrowser, err)
	}
	return strings.TrimSpace(string(path)), nil
}

// HeadlessShell finds Debian's Chromium without a window's own parts, or installs it where apt may; "" where it
// cannot be had. It draws the same pages at some half of the processor's time, but knows no camera.
func HeadlessShell(web string, log io.Writer) string {
	const name = "chromium-headless-shell"
	if path, err := exec.LookPath(name); err == nil {
		return path
	}
	path, _ := debianPackage(web, name, log)
	return path
}

// debianPackage installs a package where apt may, and finds the program of the same name. What failed is in the log.
func debianPackage(web, name string, log io.Writer) (string, bool) {
	if _, err := exec.LookPath("apt-get"); err != nil || os.Geteuid() != 0 {
		return "", false
	}
	fmt.Fprintf(log, "Installing Debian's %s …\n", name)
	err := errors.Join(
		Run(web, log, "apt-get", "update", "-q"),
		Run(web, log, "apt-get", "install", "-q", "-y", "--no-install-recommends", name),
	)
	if err != nil {
		return "", false
	}
	path, err := exec.LookPath(name)
	return path, err == nil
}

func installedBrowser() (string, bool) {
	if named := os.Getenv("CORYMB_CHROMIUM"); named != "" {
		return named, true
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, true
		}
	}
	var known []string
	switch runtime.GOOS {
	case "darwin":
		known = []string{"/Applications/Google Chrome.app/Contents/MacOS/Google Chrome", "/Applications/Chromium.app/Contents/MacOS/Chromium"}
	case "windows":
		known = []string{filepath.Join(os.Getenv("ProgramFiles"), "Google", "Chrome", "Application", "chrome.exe")}
	}
	for _, path := range known {
		if _, err := os.Stat(path); err == nil {
			return path, true
		}
	}
	return "", false
}
