package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

// builtIn is where the program was built, if it was.
var builtIn string

// binary builds the program once, as anybody would.
var binary = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "corymb-test")
	if err != nil {
		return "", err
	}
	builtIn = dir
	path := filepath.Join(dir, "corymb")
	if said, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput(); err != nil {
		return "", fmt.Errorf("building the program: %w\n%s", err, said)
	}
	return path, nil
})

func TestMain(m *testing.M) {
	code := m.Run()
	if builtIn != "" {
		_ = os.RemoveAll(builtIn) // a leftover harms nobody
	}
	os.Exit(code)
}

// program prepares a run of the binary.
func program(t testing.TB, args ...string) *exec.Cmd {
	t.Helper()
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	return programAt(t, path, args...)
}

// programAt prepares a run of a binary outside any checkout, so that it builds no web app.
func programAt(t testing.TB, path string, args ...string) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(path, args...)
	cmd.Dir = t.TempDir()
	return cmd
}

// running is a server in a process of its own.
type running struct {
	*exec.Cmd
	address string // host:port
	errs    bytes.Buffer
}

// serving are the arguments that serve a data folder on a free port.
func serving(data string) []string {
	return []string{"serve", "-listen", "127.0.0.1:0", "-data", data}
}

// start serves a data folder on a free port.
func start(t testing.TB, data string) *running {
	t.Helper()
	return launch(t, program(t, serving(data)...))
}

// serveWith is start with more flags.
func serveWith(t testing.TB, data string, flags ...string) *running {
	t.Helper()
	return launch(t, program(t, append(serving(data), flags...)...))
}

// launch starts a program that serves, and waits until it says where.
func launch(t testing.TB, cmd *exec.Cmd) *running {
	t.Helper()
	r := &running{Cmd: cmd}
	r.Stderr = &r.errs
	out, err := r.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = r.Process.Kill() }) // most have ended by now
	link := ""
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if strings.Contains(lines.Text(), "#join/") {
			link = lines.Text()
		}
		if address, ok := strings.CutPrefix(lines.Text(), "Corymb is at http://"); ok {
			r.address = address
			if link != "" {
				join(t, address, link)
			}
			return r
		}
	}
	_ = r.Wait() // what it said tells more
	t.Fatalf("the server did not start: %s", r.errs.String())
	return nil
}

// stop asks the server to end and waits for it.
func (r *running) stop(t testing.TB) {
	t.Helper()
	if err := r.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if err := r.Wait(); err != nil {
		t.Errorf("asked to stop, the server ended with %v: %s", err, r.errs.String())
	}
	if said := complaints(r.errs.String()); said != "" {
		t.Errorf("it complained: %s", said)
	}
}

// complaints are what a server said beyond what it tells of in the course of things.
func complaints(said string) string {
	var rest strings.Builder
	for line := range strings.Lines(said) {
		if !strings.Contains(line, " level=INFO ") {
			rest.WriteString(line)
		}
	}
	return rest.String()
}

func TestACommandLineThatIsWrongIsAnsweredOnceInASentence(t *testing.T) {
	taken := start(t, t.TempDir())
	held := t.TempDir()
	holder := start(t, held)
	tests := []struct {
		name string
		args []string
		code int
		says string
	}{
		{"no command", nil, 2, "usage: corymb COMMAND"},
		{"an unknown command", []string{"serv"}, 2, `there is no command "serv"`},
		{"an unknown flag", []string{"serve", "-port", "1"}, 2, "flag provided but not defined: -port"},
		{"something that is no flag", []string{"serve", "now"}, 2, `takes flags only, not "now"`},
		{"an address on the network", []string{"serve", "-listen", "0.0.0.0:0"}, 1, "needs https"},
		{"every address", []string{"serve", "-listen", ":0"}, 1, "needs https"},
		{"an argument of a command that takes none", []string{"version", "now"}, 2, `takes flags only, not "now"`},
		{"the version", []string{"--version"}, 0, ""},
		{"the licences", []string{"licences"}, 0, ""},
		{"no address", []string{"serve", "-listen", "here"}, 1, "write it like 127.0.0.1:8420"},
		{"a port that is taken", []string{"serve", "-listen", taken.address, "-data", t.TempDir()}, 1, "choose another address with -listen"},
		{"a folder that is in use", []string{"serve", "-listen", "127.0.0.1:0", "-data", held}, 1, "another Corymb is using"},
		{"help", []string{"help"}, 0, ""},
		{"help on a command", []string{"serve", "-h"}, 0, "-listen"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			cmd := program(t, tt.args...)
			var said bytes.Buffer
			cmd.Stderr = &said
			err := cmd.Run()
			var exit *exec.ExitError
			if err != nil && !errors.As(err, &exit) {
				t.Fatal(err)
			}
			if code := cmd.ProcessState.ExitCode(); code != tt.code || strings.Count(said.String(), tt.says) != 1 && tt.says != "" {
				t.Errorf("exit code %d, want %d; it said:\n%s", code, tt.code, said.String())
			}
		})
	}
	taken.stop(t)
	holder.stop(t)
}

func TestAServerWithoutAPhoneNeedsLittleMemory(t *testing.T) {
	r := start(t, t.TempDir())
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", r.Process.Pid))
	if err == nil { // elsewhere than on Linux there is no figure to log
		for line := range strings.Lines(string(status)) {
			if strings.HasPrefix(line, "VmRSS") || strings.HasPrefix(line, "RssAnon") {
				t.Log(strings.TrimSpace(line))
			}
		}
	}
	r.stop(t)
}

// lines is what a program says, to be read while it speaks.
type lines struct {
	mu   sync.Mutex
	said bytes.Buffer
}

func (l *lines) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.said.Write(p)
}

func (l *lines) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.said.String()
}

func (l *lines) waitFor(t testing.TB, text string) {
	t.Helper()
	for range 6000 {
		if strings.Contains(l.String(), text) {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Errorf("it never said %q, but:\n%s", text, l)
}
