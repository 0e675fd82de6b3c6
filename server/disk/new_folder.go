package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// NewFolder is a folder that has its name only once it is complete: until Finish it is another beside it.
type NewFolder struct {
	Dir string // absolute, behind any link
}

// Unmade is where a new folder may be made: one that is not there, or is empty.
func Unmade(dir string) (NewFolder, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return NewFolder{}, err
	}
	if behind, err := filepath.EvalSymlinks(dir); err == nil {
		dir = behind
	}
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return NewFolder{dir}, nil
	case err != nil:
		return NewFolder{}, fmt.Errorf("looking into %s: %w; name an empty folder, or one that is not there yet, with -data", dir, err)
	case len(entries) > 0:
		return NewFolder{}, fmt.Errorf("%s is not empty, and nothing is ever written over a farm: move it away, or name another folder with -data", dir)
	}
	return NewFolder{dir}, nil
}

// Unfinished is the folder to fill.
func (f NewFolder) Unfinished() string { return f.Dir + ".partial" }

// Make makes the folder to fill.
func (f NewFolder) Make() error {
	path := f.Unfinished()
	err := os.MkdirAll(filepath.Dir(path), 0o700)
	if err == nil {
		err = os.Mkdir(path, 0o700)
	}
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there, which may be what is left of a try that was broken off: delete it, or move it away, and try again", path)
	}
	if err != nil {
		return fmt.Errorf("making a folder to fill: %w", err)
	}
	return nil
}

// Finish gives the filled folder its name, which an empty folder may have: not every system renames over it.
func (f NewFolder) Finish() error {
	err := os.Remove(f.Dir)
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	if err == nil {
		err = os.Rename(f.Unfinished(), f.Dir)
	}
	if err != nil {
		return fmt.Errorf("%w; if %s is the top of a disk, name a folder in it", err, f.Dir)
	}
	return SyncFolder(filepath.Dir(f.Dir))
}

// Drop deletes what was filled of a folder that came to nothing.
func (f NewFolder) Drop() error { return os.RemoveAll(f.Unfinished()) }
