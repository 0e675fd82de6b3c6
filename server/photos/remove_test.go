package photos

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// checkRemoved looks whether nothing of a photo is here, and that it is told to be removed.
func checkRemoved(t *testing.T, p *Photos, data []byte) {
	t.Helper()
	h := hashOf(data)
	for _, path := range []string{p.path(h), p.path(h) + smallSuffix} {
		if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s is still there (%v)", path, err)
		}
	}
	if _, err := p.Open(h); !errors.Is(err, ErrRemoved) {
		t.Errorf("it can be opened: %v", err)
	}
	if _, err := p.Small(context.Background(), h); !errors.Is(err, ErrRemoved) {
		t.Errorf("it has a thumbnail: %v", err)
	}
	if state, err := p.Have(phone, h); err != nil || state != (State{}) {
		t.Errorf("of it are here %+v (%v)", state, err)
	}
	state, err := send(p, data, 0, len(data))
	if checkRefused(t, err, CodeRemoved); state != (State{}) {
		t.Errorf("sent again: %+v", state)
	}
	if p.kept != 0 || p.used != 0 || len(p.uploads) != 0 {
		t.Errorf("%d and %d bytes are counted", p.kept, p.used)
	}
}

func TestARemovedPhotoIsGoneAndNotTakenAgain(t *testing.T) {
	ctx, data := context.Background(), noise(t, 1, 64)
	tests := map[string]func(p *Photos){
		"that is here whole": func(p *Photos) { sendAll(t, p, data) },
		"that has not come":  func(*Photos) {},
		"of which some came": func(p *Photos) {
			if _, err := send(p, data, 0, 100); err != nil {
				t.Fatal(err)
			}
		},
		"that was removed": func(p *Photos) {
			if err := p.Remove(ctx, hashOf(data)); err != nil {
				t.Fatal(err)
			}
		},
	}
	for name, before := range tests {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			p := opened(t, dir)
			before(p)
			if err := p.Remove(ctx, hashOf(data)); err != nil {
				t.Fatal(err)
			}
			checkRemoved(t, p, data)
			checkRemoved(t, opened(t, dir), data)
		})
	}
}

func TestAPhotoThatIsRemovedWhileItComesIsNotKept(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 2, 64)
	line, end := io.Pipe()
	came := make(chan error)
	go func() {
		_, err := p.Write(context.Background(), phone, hashOf(data), int64(len(data)), 0, line)
		came <- err
	}()
	if _, err := end.Write(data[:100]); err != nil {
		t.Fatal(err)
	}
	if err := p.Remove(context.Background(), hashOf(data)); err != nil {
		t.Fatal(err)
	}
	if _, err := end.Write(data[100:]); err != nil {
		t.Fatal(err)
	}
	_ = end.Close() // it never fails
	checkRefused(t, <-came, CodeRemoved)
	checkRemoved(t, p, data)
}

func TestARemovalThatWasToldOutlastsAPowerCut(t *testing.T) {
	const seed = 3
	t.Logf("seed %d", seed)
	rnd, data := rand.New(rand.NewPCG(seed, 0)), noise(t, seed, 40)
	cuts := 0
	for told := false; !told; cuts++ {
		drive := newPowered(t.TempDir())
		p, err := open(drive.root, UsualLimits(), time.Now, drive)
		if err != nil {
			t.Fatal(err)
		}
		sendAll(t, p, data)
		drive.steps = cuts
		err = p.Remove(context.Background(), hashOf(data))
		if told = err == nil; !told && !errors.Is(err, errPower) {
			t.Fatal(err)
		}
		for _, rnd := range []*rand.Rand{nil, rnd, rnd, rnd} {
			p, err := open(drive.cut(t, rnd), UsualLimits(), time.Now, unsynced{})
			if err != nil {
				t.Fatal(err)
			}
			if told || p.isRemoved(hashOf(data)) {
				checkRemoved(t, p, data)
			} else {
				checkKept(t, p, data)
			}
		}
	}
	if cuts < 5 {
		t.Errorf("there were only %d cuts", cuts)
	}
}

func TestAPhotoThatNoChangeNamesIsLetGoOfAfterAStatedTime(t *testing.T) {
	ctx, c, dir := context.Background(), newClock(), t.TempDir()
	p, err := open(dir, UsualLimits(), c.now, unsynced{})
	if err != nil {
		t.Fatal(err)
	}
	named, late, never := noise(t, 1, 64), noise(t, 2, 64), noise(t, 3, 64)
	for _, data := range [][]byte{named, late, never} {
		sendAll(t, p, data)
	}
	known := map[Hash]bool{hashOf(named): true}
	letGo := func(want int) {
		t.Helper()
		gone, err := p.LetGo(ctx, func(h Hash) bool { return known[h] })
		if err != nil || gone != want {
			t.Errorf("%d went, want %d (%v)", gone, want, err)
		}
	}
	c.move(2 * UsualLimits().Unnamed) // nobody has looked yet
	letGo(0)
	c.move(UsualLimits().Unnamed - time.Second)
	letGo(0)
	if p, err = open(dir, UsualLimits(), c.now, unsynced{}); err != nil {
		t.Fatal(err)
	}
	known[hashOf(late)] = true
	c.move(2 * time.Second)
	letGo(1)
	for _, data := range [][]byte{named, late} {
		checkKept(t, p, data)
	}
	if _, err := p.Open(hashOf(never)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("it is still here: %v", err)
	}
	delete(known, hashOf(late)) // an older copy of the database was put back: its time begins anew
	letGo(0)
	sendAll(t, p, never) // its phone came back
	letGo(0)
	if notes, err := os.ReadDir(filepath.Join(p.dir, unnamedDir)); err != nil || len(notes) != 2 {
		t.Errorf("noted are %v (%v)", notes, err)
	}
}

func TestANoteThatCannotBeReadBeginsAnew(t *testing.T) {
	ctx, c := context.Background(), newClock()
	p, err := open(t.TempDir(), UsualLimits(), c.now, unsynced{})
	if err != nil {
		t.Fatal(err)
	}
	data := noise(t, 1, 64)
	sendAll(t, p, data)
	note := p.noteOf(unnamedDir, hashOf(data))
	for _, text := range [][]byte{nil, []byte("1999"), []byte(c.now().Add(time.Hour).Format(time.RFC3339))} {
		if err := os.WriteFile(note, text, 0o600); err != nil {
			t.Fatal(err)
		}
		if gone, err := p.LetGo(ctx, func(Hash) bool { return false }); gone != 0 || err != nil {
			t.Errorf("%q: %d went (%v)", text, gone, err)
		}
		if now, err := os.ReadFile(note); err != nil || bytes.Equal(now, text) {
			t.Errorf("%q stays (%v)", text, err)
		}
	}
}
