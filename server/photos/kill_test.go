package photos

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// The program that is killed is this test again, which is told by its environment what to send where.
const (
	childFolder = "PHOTOS_TEST_FOLDER"
	childFile   = "PHOTOS_TEST_FILE"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(childFolder); dir != "" {
		if err := sendSlowly(dir, os.Getenv(childFile)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// sendSlowly sends a photo in small pieces, waits for a line before each, and says after it how much is
// here.
func sendSlowly(dir, path string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	p, err := Open(dir, UsualLimits(), time.Now)
	if err != nil {
		return err
	}
	state, err := p.Have(phone, hashOf(data))
	for lines := bufio.NewScanner(os.Stdin); err == nil && !state.Whole && lines.Scan(); {
		at := int(state.Bytes)
		if state, err = send(p, data, at, min(at+2000, len(data))); err == nil {
			fmt.Println(state.Bytes)
		}
	}
	return err
}

func TestKilledBetweenAndInPiecesTheNextProgramGoesOn(t *testing.T) {
	const seed = 20_260_701
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	data, dir, path := noise(t, seed, 200), t.TempDir(), t.TempDir()+"/photo"
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	told, kills := 0, 0
	for ; told < len(data); kills++ {
		told = max(told, runUntilKilled(t, dir, path, 1+rnd.IntN(4)))
		state, err := opened(t, dir).Have(phone, hashOf(data))
		if err != nil || int(state.Bytes) < told {
			t.Fatalf("told were %d bytes, and here are %+v (%v)", told, state, err)
		}
	}
	p := opened(t, dir)
	if state, err := send(p, data, len(data), len(data)); err != nil || !state.Whole {
		t.Fatalf("%+v, %v", state, err)
	}
	checkKept(t, p, data)
	t.Logf("%d kills", kills)
	if kills < 3 {
		t.Error("it was hardly killed")
	}
}

// runUntilKilled runs the program until it has told of some pieces, kills it while it goes on with one
// more, and gives the most that it told.
func runUntilKilled(t *testing.T, dir, path string, pieces int) (told int) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program := exec.Command(self)
	program.Env = append(os.Environ(), childFolder+"="+dir, childFile+"="+path)
	var errs bytes.Buffer
	program.Stderr = &errs
	in, err := program.StdinPipe()
	out, outErr := program.StdoutPipe()
	if err := errors.Join(err, outErr); err != nil {
		t.Fatal(err)
	}
	if err := program.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(in, strings.Repeat("\n", pieces+1)); err != nil {
		t.Fatal(err)
	}
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if _, err := fmt.Sscan(lines.Text(), &told); err != nil {
			t.Fatalf("it says %q", lines.Text())
		}
		if pieces--; pieces == 0 {
			if err := program.Process.Kill(); err != nil && !errors.Is(err, os.ErrProcessDone) {
				t.Fatal(err)
			}
		}
	}
	var exit *exec.ExitError
	if err := program.Wait(); err != nil && !errors.As(err, &exit) || errs.Len() > 0 {
		t.Fatalf("%v: %s", err, &errs)
	}
	return told
}
