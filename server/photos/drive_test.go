package photos

import (
	"errors"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
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
