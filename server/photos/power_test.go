package photos

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

var errPower = errors.New("the power is gone")

// powered is a disk that knows what a power cut would leave of it. It assumes no more of a file system
// than POSIX promises: a synced file has its bytes, but a name only once its folder is synced as well.
type powered struct {
	files
	root  string
	names map[string]*inode // as they are
	kept  map[string]*inode // as they are on the disk
	steps int               // until it fails; below zero for never

	forgetsFiles, forgetsFolders bool // it only says that it synced
	failsToSync                  error
}

// unsynced is a disk that takes no time to sync, for tests that cut no power.
type unsynced struct{ files }

func (unsynced) syncDir(string) error { return nil }

func (d unsynced) open(path string, flag int) (file, error) {
	f, err := d.files.open(path, flag)
	return unsyncedFile{f}, err
}

type unsyncedFile struct{ file }

func (unsyncedFile) Sync() error { return nil }

// inode is a file, or a folder where it is one.
type inode struct {
	folder bool
	live   []byte // what was written, synced or not
	synced []byte
}

func newPowered(root string) *powered {
	return &powered{root: root, names: map[string]*inode{}, kept: map[string]*inode{}, steps: -1}
}

func (d *powered) step() error {
	if d.steps == 0 {
		return errPower
	}
	d.steps--
	return nil
}

func (d *powered) open(path string, flag int) (file, error) {
	if err := d.step(); err != nil {
		return nil, err
	}
	f, err := d.files.open(path, flag)
	if err != nil {
		return nil, err
	}
	n := d.names[path]
	if n == nil {
		n = &inode{}
		d.names[path] = n
	}
	if flag&os.O_TRUNC != 0 {
		n.live = nil
	}
	return &poweredFile{file: f, disk: d, inode: n}, nil
}

func (d *powered) rename(from, to string) error {
	if err := d.step(); err != nil {
		return err
	}
	d.names[to] = d.names[from]
	delete(d.names, from)
	return d.files.rename(from, to)
}

func (d *powered) remove(path string) error {
	if err := d.step(); err != nil {
		return err
	}
	delete(d.names, path)
	return d.files.remove(path)
}

func (d *powered) mkdir(path string) error {
	if err := d.step(); err != nil {
		return err
	}
	if d.names[path] == nil {
		d.names[path] = &inode{folder: true}
	}
	return d.files.mkdir(path)
}

func (d *powered) syncDir(path string) error {
	if err := d.step(); err != nil || d.forgetsFolders {
		return err
	}
	in := func(name string, _ *inode) bool { return filepath.Dir(name) == path }
	maps.DeleteFunc(d.kept, in)
	for name, n := range d.names {
		if in(name, n) {
			d.kept[name] = n
		}
	}
	return nil
}

type poweredFile struct {
	file
	disk  *powered
	inode *inode
}

func (f *poweredFile) WriteAt(b []byte, at int64) (int, error) {
	if err := f.disk.step(); err != nil {
		return 0, err
	}
	f.inode.live = append(f.inode.live[:at], b...)
	return f.file.WriteAt(b, at)
}

func (f *poweredFile) Sync() error {
	if err := errors.Join(f.disk.step(), f.disk.failsToSync); err != nil || f.disk.forgetsFiles {
		return err
	}
	f.inode.synced = slices.Clone(f.inode.live)
	return nil
}

// cut is a folder as it is found after a power cut: only what was synced, or (where rnd is not nil) with
// some of what the disk had begun to write of itself.
func (d *powered) cut(t *testing.T, rnd *rand.Rand) string {
	t.Helper()
	names := maps.Clone(d.kept)
	if rnd != nil {
		for _, name := range slices.Sorted(maps.Keys(d.names)) {
			if rnd.IntN(2) == 0 {
				names[name] = d.names[name]
			}
		}
		for _, name := range slices.Sorted(maps.Keys(names)) {
			if d.names[name] == nil && rnd.IntN(2) == 0 {
				delete(names, name)
			}
		}
	}
	root := t.TempDir()
	for _, name := range slices.Sorted(maps.Keys(names)) { // a folder before what is in it
		path := filepath.Join(root, name[len(d.root):])
		var err error
		if names[name].folder {
			err = os.Mkdir(path, 0o700)
		} else {
			err = os.WriteFile(path, names[name].found(rnd), 0o600)
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) { // a file whose folder is lost is lost
			t.Fatal(err)
		}
	}
	return root
}

// found is what a file holds after a power cut: of what was not synced perhaps some sectors, and nothing
// where others should be.
func (n *inode) found(rnd *rand.Rand) []byte {
	if rnd == nil || rnd.IntN(2) == 0 || len(n.live) <= len(n.synced) {
		return n.synced
	}
	found := slices.Clone(n.live[:len(n.synced)+rnd.IntN(len(n.live)-len(n.synced)+1)])
	for at := len(n.synced); at < len(found); at += 512 {
		if rnd.IntN(2) == 0 {
			clear(found[at:min(at+512, len(found))])
		}
	}
	return found
}

// sending is what phones were told of their photos.
type sending struct {
	photos [][]byte
	told   map[Hash]State
}

func newSending(t *testing.T) *sending {
	return &sending{photos: [][]byte{noise(t, 1, 40), noise(t, 2, 50)}, told: map[Hash]State{}}
}

// run sends the photos in pieces, from where the shed has them, until all are whole or something fails.
func (s *sending) run(root string, disk disk) error {
	p, err := open(root, UsualLimits(), time.Now, disk)
	if err != nil {
		return err
	}
	for _, data := range s.photos {
		state, err := p.Have(hashOf(data))
		for err == nil && !state.Whole {
			s.told[hashOf(data)] = state
			at := int(state.Bytes)
			state, err = send(p, data, at, min(at+len(data)/2, len(data)))
		}
		if err != nil {
			return err
		}
		s.told[hashOf(data)] = state
	}
	return nil
}

// broken says what is not as it was told, or as it must be, in a folder that was found. Where a disk began
// to write of itself, the name of an unfinished photo may be gone before its new one is there: then its
// phone, which was not told that it is whole, sends it from the beginning.
func (s *sending) broken(root string, ofItself bool) error {
	p, err := open(root, UsualLimits(), time.Now, unsynced{})
	if err != nil {
		return err
	}
	for i, data := range s.photos {
		state, err := p.Have(hashOf(data))
		if err != nil {
			return err
		}
		if told := s.told[hashOf(data)]; state.Bytes < told.Bytes && !ofItself || told.Whole && !state.Whole {
			return fmt.Errorf("photo %d was told to be %+v and is %+v", i, told, state)
		}
		if err := sendAsAPhoneDoes(p, data); err != nil {
			return fmt.Errorf("photo %d, of which were found %+v: %w", i, state, err)
		}
		if found, err := os.ReadFile(p.path(hashOf(data))); err != nil || hashOf(found) != hashOf(data) {
			return fmt.Errorf("photo %d stands there with %d other bytes, and %v", i, len(found), err)
		}
		if small, err := os.ReadFile(p.path(hashOf(data)) + smallSuffix); err == nil {
			if _, err := decodeConfig(small); err != nil {
				return fmt.Errorf("the thumbnail of photo %d: %w", i, err)
			}
		}
	}
	return nil
}

// sendAsAPhoneDoes sends what lacks, and all once more where the shed found that what it has is not the
// photo.
func sendAsAPhoneDoes(p *Photos, data []byte) error {
	state, err := p.Have(hashOf(data))
	for tries := 0; err == nil && !state.Whole && tries < 2; tries++ {
		state, err = send(p, data, int(state.Bytes), len(data))
		if refusal := new(Refusal); errors.As(err, &refusal) && refusal.Code == CodeHash && tries == 0 {
			err = nil
		}
	}
	return err
}

// faults cuts the power at each step in turn, and says what was then not as it was told, until that is
// enough.
func faults(t *testing.T, seed uint64, enough int, change func(*powered)) (found []error, cuts int) {
	t.Helper()
	rnd := rand.New(rand.NewPCG(seed, 0))
	for ended := false; !ended && len(found) < enough; cuts++ {
		root := t.TempDir()
		s, disk := newSending(t), newPowered(root)
		change(disk)
		disk.steps = cuts
		err := s.run(root, disk)
		if ended = err == nil; !ended && !errors.Is(err, errPower) {
			t.Fatal(err)
		}
		for _, rnd := range []*rand.Rand{nil, rnd, rnd, rnd} {
			if err := s.broken(disk.cut(t, rnd), rnd != nil); err != nil {
				found = append(found, fmt.Errorf("cut at step %d: %w", cuts, err))
			}
		}
	}
	return found, cuts
}

func TestWhatAPhoneWasToldOutlastsAPowerCut(t *testing.T) {
	const seed = 1
	found, cuts := faults(t, seed, 10, func(*powered) {})
	t.Logf("seed %d, %d cuts, four outcomes each", seed, cuts)
	for _, err := range found {
		t.Error(err)
	}
	if cuts < 20 {
		t.Errorf("there were only %d cuts", cuts)
	}
}

// Were nothing synced, the test above would see it.
func TestADiskThatForgetsLosesWhatWasTold(t *testing.T) {
	for name, change := range map[string]func(*powered){
		"files":   func(d *powered) { d.forgetsFiles = true },
		"folders": func(d *powered) { d.forgetsFolders = true },
	} {
		if found, _ := faults(t, 2, 1, change); len(found) == 0 {
			t.Errorf("%s are not synced, and nothing is lost", name)
		}
	}
}

// A kill leaves what was written but not synced. The next program must not take it for synced.
func TestWhatAKilledProgramWroteOutlastsAPowerCutOnceItIsTold(t *testing.T) {
	for kills, ended := 0, false; !ended; kills++ {
		for _, cut := range []int{-1, 6, 9} { // once all is sent; about when the next program first tells what it has
			root := t.TempDir()
			s, disk := newSending(t), newPowered(root)
			disk.steps = kills
			ended = s.run(root, disk) == nil
			disk.steps = cut
			if err := s.run(root, disk); err != nil && !errors.Is(err, errPower) { // the next program
				t.Fatal(err)
			}
			if err := s.broken(disk.cut(t, nil), false); err != nil {
				t.Errorf("killed at step %d, cut at step %d: %v", kills, cut, err)
			}
		}
	}
}

func TestAPieceThatCouldNotBeSyncedIsSyncedBeforeItsPhotoIsKept(t *testing.T) {
	root := t.TempDir()
	s, disk := newSending(t), newPowered(root)
	p, err := open(root, UsualLimits(), time.Now, disk)
	if err != nil {
		t.Fatal(err)
	}
	data := s.photos[0]
	disk.failsToSync = errors.New("the disk stumbles")
	if state, err := send(p, data, 0, len(data)); !errors.Is(err, disk.failsToSync) || state.Whole {
		t.Errorf("%+v, %v", state, err)
	}
	disk.failsToSync = nil
	state, err := send(p, data, len(data), len(data))
	if err != nil || !state.Whole {
		t.Fatalf("%+v, %v", state, err)
	}
	s.told[hashOf(data)] = state
	if err := s.broken(disk.cut(t, nil), false); err != nil {
		t.Error(err)
	}
}
