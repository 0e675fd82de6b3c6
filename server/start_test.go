//go:build unix

package main

import (
	"bytes"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// browser stands in for the person's own.
type browser struct{ bin, shown string }

// newBrowser makes one that writes down what it is to show and ends as the script says.
func newBrowser(t *testing.T, ends string) browser {
	t.Helper()
	dir := t.TempDir()
	b := browser{bin: filepath.Join(dir, "bin"), shown: filepath.Join(dir, "shown")}
	name, _ := opener(runtime.GOOS)
	if err := os.Mkdir(b.bin, 0o700); err != nil {
		t.Fatal(err)
	}
	script := "#!/bin/sh\necho \"$1\" >> '" + b.shown + "'\n" + ends + "\n"
	if err := os.WriteFile(filepath.Join(b.bin, name), []byte(script), 0o700); err != nil {
		t.Fatal(err)
	}
	return b
}

// starting prepares a start on a free port before this browser.
func (b browser) starting(t *testing.T, data string) *exec.Cmd {
	t.Helper()
	cmd := program(t, "start", "-listen", "127.0.0.1:0", "-data", data)
	cmd.Env = append(cmd.Environ(), "PATH="+b.bin+":"+os.Getenv("PATH"))
	return cmd
}

// waitsFor waits until the browser was shown so many addresses.
func (b browser) waitsFor(t *testing.T, n int) []string {
	t.Helper()
	for range 6000 {
		said, _ := os.ReadFile(b.shown) // not there before the first
		if shown := strings.Fields(string(said)); len(shown) >= n {
			return shown
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("the browser was not opened %d times", n)
	return nil
}

func TestAStartOpensTheBrowserAndASecondOneOnlyThat(t *testing.T) {
	data, b := t.TempDir(), newBrowser(t, "exit 0")
	first := launch(t, b.starting(t, data))
	b.waitsFor(t, 1)
	said, err := b.starting(t, data).CombinedOutput()
	if err != nil || !strings.Contains(string(said), "Corymb runs already, at http://"+first.address) {
		t.Errorf("the second start ended with %v and said:\n%s", err, said)
	}
	for _, url := range b.waitsFor(t, 2) {
		if at, _, _ := strings.Cut(url, "/#join/"); at != "http://"+first.address {
			t.Errorf("the browser shows %s, the farm is at %s", url, first.address)
		}
	}
	first.stop(t)
	if _, err := os.Stat(filepath.Join(data, addressName)); !os.IsNotExist(err) {
		t.Errorf("stopped, it leaves its address behind (%v)", err)
	}
}

func TestAFarmServedFromACommandLineIsShownByAStartToo(t *testing.T) {
	data, b := t.TempDir(), newBrowser(t, "exit 0")
	served := start(t, data)
	if said, err := b.starting(t, data).CombinedOutput(); err != nil {
		t.Errorf("the start ended with %v and said:\n%s", err, said)
	}
	if shown := b.waitsFor(t, 1); shown[0] != "http://"+served.address {
		t.Errorf("the browser shows %s, the farm is at %s", shown[0], served.address)
	}
	served.stop(t)
}

func TestWithoutABrowserAStartServesAllTheSameAndSaysWhereToLook(t *testing.T) {
	b := newBrowser(t, "exit 3")
	cmd := b.starting(t, t.TempDir())
	var said lines
	cmd.Stdout = &said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	link := b.waitsFor(t, 1)[0]
	url, _, invited := strings.Cut(link, "/#join/")
	if !invited {
		t.Errorf("of a new farm it shows %s, which makes nobody its owner", link)
	}
	said.waitFor(t, "No browser could be opened from here (exit status 3). Open "+link+" in one.")
	response, err := http.Get(url + "/api/farm")
	if err != nil {
		t.Fatal(err)
	}
	_ = response.Body.Close()
	if response.StatusCode != http.StatusUnauthorized {
		t.Errorf("to nobody it answers %s", response.Status)
	}
}

// An address that a killed process left may be anybody's by now.
func TestAnAddressThatAnotherFarmHasByNowIsNotShown(t *testing.T) {
	data, other := t.TempDir(), start(t, t.TempDir())
	noteAddress(data, "http://"+other.address, "another farm", os.Stderr)
	if url, found := servedAt(t.Context(), data); found {
		t.Errorf("%s was taken for it", url)
	}
	noteAddress(data, "http://127.0.0.1:1", "a farm", os.Stderr) // nobody is there
	if url, found := servedAt(t.Context(), data); found {
		t.Errorf("%s was taken for it", url)
	}
	other.stop(t)
}

// The port is taken, so that the release ends; what it has made by then shows what it was about to do.
func TestAReleaseWithoutACommandStartsTheFarmInTheHomeFolder(t *testing.T) {
	if held, err := net.Listen("tcp", "127.0.0.1:8420"); err == nil { // else somebody else holds it
		defer held.Close()
	}
	path := filepath.Join(t.TempDir(), "corymb")
	stamp := "-X corymb/webapp.release=yes -X corymb/server/about.version=1.2.0"
	if said, err := exec.Command("go", "build", "-ldflags", stamp, "-o", path, ".").CombinedOutput(); err != nil {
		t.Fatalf("building a release: %v\n%s", err, said)
	}
	home := t.TempDir()
	cmd := programAt(t, path)
	cmd.Env = append(cmd.Environ(), "HOME="+home)
	said, err := cmd.CombinedOutput()
	if err == nil || !bytes.Contains(said, []byte("listening on :8420")) {
		t.Errorf("it ended with %v and said:\n%s", err, said)
	}
	if _, err := os.Stat(filepath.Join(home, "Corymb", "corymb.db")); err != nil {
		t.Error(err)
	}
	said, err = programAt(t, path, "-version").CombinedOutput()
	if err != nil || !bytes.HasPrefix(said, []byte("corymb 1.2.0\n"+runtime.Version())) {
		t.Errorf("-version ended with %v and said:\n%s", err, said)
	}
}
