package photos

import (
	"errors"
	"io"
	"os"
	"runtime"
)

// disk is what is changed of a file system. Tests put one in its place that breaks, or that forgets what
// was not synced.
type disk interface {
	open(path string, flag int) (file, error)
	rename(from, to string) error
	remove(path string) error
	mkdir(path string) error
	syncDir(path string) error
}

type file interface {
	io.WriterAt
	io.Closer
	Sync() error
}

// files is the real one.
type files struct{}

func (files) open(path string, flag int) (file, error) { return os.OpenFile(path, flag, 0o600) }
func (files) rename(from, to string) error             { return os.Rename(from, to) }
func (files) remove(path string) error                 { return os.Remove(path) }
func (files) mkdir(path string) error                  { return os.Mkdir(path, 0o700) }

// syncDir makes the names in a folder outlast a power cut. Windows cannot sync a folder.
func (files) syncDir(path string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
