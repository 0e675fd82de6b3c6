package photos

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

func TestUnfinishedPhotosHaveTheirRoom(t *testing.T) {
	limits, c := UsualLimits(), newClock()
	limits.Unfinished = 4 * leastRoom
	p, err := Open(t.TempDir(), limits, c.now)
	if err != nil {
		t.Fatal(err)
	}
	photo := func(i int) []byte { return noise(t, uint64(i), 64) }
	for i := range 4 {
		if _, err := send(p, photo(i), 0, 20); err != nil {
			t.Fatal(err)
		}
		c.move(time.Minute)
	}
	_, err = send(p, photo(4), 0, 20)
	checkRefused(t, err, CodeCrowded)
	if state, err := send(p, photo(1), 20, 40); err != nil || state.Bytes != 40 {
		t.Errorf("one that is on its way: %+v, %v", state, err)
	}
	c.move(limits.Idle - time.Minute) // the first and the third have waited long, the second has not
	for _, i := range []int{4, 5} {
		if _, err := send(p, photo(i), 0, 20); err != nil {
			t.Errorf("after a while: %v", err)
		}
	}
	_, err = send(p, photo(6), 0, 20)
	checkRefused(t, err, CodeCrowded)
	for i, want := range []int64{0, 40, 0, 20, 20, 20, 0} {
		if state, err := p.Have(phone, hashOf(photo(i))); err != nil || state.Bytes != want {
			t.Errorf("photo %d: %+v, %v, want %d", i, state, err, want)
		}
	}
	if names := left(t, p); len(names) != 4 || p.used != limits.Unfinished {
		t.Errorf("left are %v and %d bytes of room", names, p.used)
	}
	sendAll(t, opened(t, filepath.Dir(p.dir)), photo(6))
}

func TestPiecesThatNobodyGoesOnWithAreDropped(t *testing.T) {
	c, dir := newClock(), t.TempDir()
	p, err := Open(dir, UsualLimits(), c.now)
	if err != nil {
		t.Fatal(err)
	}
	old, newer, newest := noise(t, 1, 64), noise(t, 2, 64), noise(t, 3, 64)
	for _, data := range [][]byte{old, newer} {
		if _, err := send(p, data, 0, 100); err != nil {
			t.Fatal(err)
		}
		c.move(20 * 24 * time.Hour)
	}
	if _, err := send(p, newest, 0, 100); err != nil {
		t.Fatal(err)
	}
	for i, data := range [][]byte{old, newer, newest} {
		state, err := p.Have(phone, hashOf(data))
		if want := int64(100 * min(i, 1)); err != nil || state.Bytes != want {
			t.Errorf("%d: %+v, %v", i, state, err)
		}
	}
	c.move(UsualLimits().Keep)
	if p, err = Open(dir, UsualLimits(), c.now); err != nil || len(left(t, p)) != 0 {
		t.Errorf("at the next start are left %v (%v)", left(t, p), err)
	}
}

func TestWhatIsOnTheDiskIsFoundAgainAtTheStart(t *testing.T) {
	dir := t.TempDir()
	p, data, other, empty := opened(t, dir), noise(t, 1, 64), noise(t, 2, 64), noise(t, 3, 64)
	sendAll(t, p, data)
	if _, err := send(p, other, 0, 500); err != nil {
		t.Fatal(err)
	}
	put := func(name string, content []byte) {
		if err := os.WriteFile(filepath.Join(p.dir, unfinishedDir, name), content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	put(hashOf(data).String()+".7000."+strings.Repeat("0a", 16), data)                // beside the photo that it became
	put(hashOf(empty).String()+".7000."+strings.Repeat("0a", 16), nil)                // made, and nothing written
	put(hashOf([]byte("x")).String()+".4."+strings.Repeat("0a", 16), []byte("xxxx+")) // longer than announced
	somebodys := []string{"note.txt"}
	for _, end := range []string{".+9." + strings.Repeat("0a", 16), ".09." + strings.Repeat("0a", 16), ".9." + strings.Repeat("0A", 16), ".9", ".9.0a"} {
		somebodys = append(somebodys, hashOf([]byte("y")).String()+end) // nearly as they are written here
	}
	for _, name := range somebodys {
		put(name, []byte("somebody's"))
	}
	p = opened(t, dir)
	if state, err := p.Have(phone, hashOf(other)); err != nil || state != (State{Bytes: 500, Size: int64(len(other))}) {
		t.Errorf("%+v, %v", state, err)
	}
	if p.used != leastRoom {
		t.Errorf("%d bytes of room are counted", p.used)
	}
	if state, err := send(p, other, 500, len(other)); err != nil || !state.Whole {
		t.Errorf("gone on with: %+v, %v", state, err)
	}
	names := left(t, p)
	want := append([]string{hashOf(data).String(), hashOf(other).String()}, somebodys...)
	slices.Sort(names)
	if slices.Sort(want); !slices.Equal(names, want) {
		t.Errorf("left are %v, want %v", names, want)
	}
	list, err := p.List()
	whole := []Hash{hashOf(data), hashOf(other)}
	slices.SortFunc(whole, func(a, b Hash) int { return bytes.Compare(a[:], b[:]) })
	if err != nil || !slices.Equal(list, whole) {
		t.Errorf("listed are %v, %v", list, err)
	}
}

func TestAThumbnailThatIsMissingIsMadeAgain(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 1, 64)
	sendAll(t, p, data)
	if err := os.Remove(p.path(hashOf(data)) + smallSuffix); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		checkKept(t, p, data)
	}
}

func TestWhatIsNotHereWaitsForNoOthersThumbnail(t *testing.T) {
	p := opened(t, t.TempDir())
	if err := p.beginDecoding(context.Background()); err != nil { // another's
		t.Fatal(err)
	}
	defer p.endDecoding()
	patience, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	if _, err := p.Small(patience, Hash{1}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
}

func TestAPhotoThatRotIsSaidAndNotServed(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 1, 64)
	sendAll(t, p, data)
	if err := os.WriteFile(p.path(hashOf(data)), []byte("<html>not it"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := p.Open(hashOf(data)); err == nil || !strings.Contains(err.Error(), "backup") {
		t.Errorf("%v", err)
	}
}

func TestOnePictureIsDecodedAtATime(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 1, 64)
	if err := p.beginDecoding(context.Background()); err != nil {
		t.Fatal(err)
	}
	gone, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := p.Write(gone, phone, hashOf(data), int64(len(data)), 0, bytes.NewReader(data)); !errors.Is(err, context.Canceled) {
		t.Errorf("another was decoded meanwhile: %v", err)
	}
	p.endDecoding()
	if state, err := send(p, data, len(data), len(data)); err != nil || !state.Whole {
		t.Errorf("afterwards: %+v, %v", state, err)
	}
}

// fullDisk has no room for writing, and once it has, all is well.
type fullDisk struct {
	files
	cause error
	full  func(path string) bool
}

func (d *fullDisk) open(path string, flag int) (file, error) {
	f, err := d.files.open(path, flag)
	if err == nil && d.full(path) {
		return fullFile{f, d.cause}, nil
	}
	return f, err
}

type fullFile struct {
	file
	cause error
}

// WriteAt writes half of it, as a disk does that becomes full.
func (f fullFile) WriteAt(b []byte, at int64) (int, error) {
	n, err := f.file.WriteAt(b[:len(b)/2], at)
	return n, errors.Join(err, f.cause)
}

func TestAFullDiskIsSaidAndLosesNothing(t *testing.T) {
	data := noise(t, 9, 300)
	tests := []struct {
		name string
		full func(path string) bool
	}{
		{"for the pieces", func(path string) bool { return !strings.HasSuffix(path, smallSuffix) }},
		{"for the thumbnail", func(path string) bool { return strings.HasSuffix(path, smallSuffix) }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			disk := &fullDisk{cause: syscall.ENOSPC, full: func(string) bool { return false }}
			p, err := open(t.TempDir(), UsualLimits(), time.Now, disk)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := send(p, data, 0, 1000); err != nil {
				t.Fatal(err)
			}
			disk.full = tt.full
			state, err := send(p, data, 1000, len(data))
			checkRefused(t, err, CodeFull)
			if state.Whole || state.Bytes < 1000 {
				t.Errorf("%+v", state)
			}
			disk.full = func(string) bool { return false }
			if state, err = send(p, data, int(state.Bytes), len(data)); err != nil || !state.Whole {
				t.Errorf("with room again: %+v, %v", state, err)
			}
			checkKept(t, p, data)
		})
	}
	t.Run("another fault is none", func(t *testing.T) {
		p, err := open(t.TempDir(), UsualLimits(), time.Now, &fullDisk{cause: syscall.EIO, full: func(string) bool { return true }})
		if err != nil {
			t.Fatal(err)
		}
		_, err = send(p, data, 0, 1000)
		var refusal *Refusal
		if !errors.Is(err, syscall.EIO) || errors.As(err, &refusal) {
			t.Errorf("%v", err)
		}
	})
}
