package photos

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"corymb/server/disk"
)

// onDisk is a disk that says how much room there is.
type onDisk struct {
	unsynced
	is    disk.Room
	known bool
	err   error
}

func (d *onDisk) room(string) (disk.Room, bool, error) { return d.is, d.known, d.err }

func TestPhotosHaveTheirRoom(t *testing.T) {
	dir := t.TempDir()
	first, second := noise(t, 1, 64), noise(t, 2, 64)
	p := opened(t, dir)
	sendAll(t, p, first)
	small, err := os.Stat(p.path(hashOf(first)) + smallSuffix)
	if err != nil {
		t.Fatal(err)
	}
	taken := int64(len(first)) + small.Size()
	if p.kept != taken {
		t.Errorf("%d bytes are counted of %d", p.kept, taken)
	}
	for _, tt := range []struct {
		name string
		room int64
		code Code
	}{
		{"not a byte too few", taken + int64(len(second)), ""},
		{"a byte too few", taken + int64(len(second)) - 1, CodeNoRoom},
	} {
		t.Run(tt.name, func(t *testing.T) {
			limits := UsualLimits()
			limits.Room = tt.room
			p, err := open(dir, limits, time.Now, unsynced{}) // which weighs what is there
			if err != nil {
				t.Fatal(err)
			}
			state, err := send(p, second, 0, len(second))
			if tt.code == "" {
				if err != nil || !state.Whole {
					t.Errorf("%+v, %v", state, err)
				}
				if err := p.deletePhoto(hashOf(second)); err != nil || p.kept != taken {
					t.Errorf("afterwards %d bytes are counted of %d (%v)", p.kept, taken, err)
				}
				return
			}
			if checkRefused(t, err, tt.code); len(left(t, p)) != 1 {
				t.Errorf("left are %v", left(t, p))
			}
			if state, err := send(p, first, len(first), len(first)); err != nil || !state.Whole {
				t.Errorf("what is here: %+v, %v", state, err)
			}
		})
	}
}

func TestTheRestOfTheDiskIsForTheRecords(t *testing.T) {
	data := noise(t, 1, 64)
	size := int64(len(data))
	const gb, large = 1_000_000_000, 1_000 * 1_000_000_000
	errAsking := errors.New("the disk does not answer")
	tests := []struct {
		name string
		disk onDisk
		code Code
		err  error
	}{
		{"a large disk with room", onDisk{is: disk.Room{Free: 5*gb + size, Size: large}, known: true}, "", nil},
		{"a large disk whose spare would be touched", onDisk{is: disk.Room{Free: 5*gb + size - 1, Size: large}, known: true}, CodeFull, nil},
		{"a small disk with room", onDisk{is: disk.Room{Free: gb/20 + size, Size: gb}, known: true}, "", nil},
		{"a small disk whose spare would be touched", onDisk{is: disk.Room{Free: gb/20 + size - 1, Size: gb}, known: true}, CodeFull, nil},
		{"a disk of which nothing is known", onDisk{}, "", nil},
		{"a disk that does not answer", onDisk{err: errAsking}, "", errAsking},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, err := open(t.TempDir(), UsualLimits(), time.Now, &tt.disk)
			if err != nil {
				t.Fatal(err)
			}
			state, err := send(p, data, 0, len(data))
			switch {
			case tt.code != "":
				checkRefused(t, err, tt.code)
			case !errors.Is(err, tt.err) || state.Whole != (tt.err == nil):
				t.Errorf("%+v, %v", state, err)
			}
		})
	}
}

func TestAThumbnailIsCountedOnce(t *testing.T) {
	p, data := opened(t, t.TempDir()), noise(t, 1, 64)
	sendAll(t, p, data)
	counted := p.kept
	if err := p.delete(p.path(hashOf(data)) + smallSuffix); err != nil {
		t.Fatal(err)
	}
	checkKept(t, p, data) // which has it made again
	if p.kept != counted {
		t.Errorf("%d bytes are counted, before %d", p.kept, counted)
	}
	if again := opened(t, filepath.Dir(p.dir)); again.kept != counted {
		t.Errorf("at the next start %d bytes are counted, before %d", again.kept, counted)
	}
}
