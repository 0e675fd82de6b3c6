package photos

import (
	"io"
	"os"

	"corymb/server/disk"
)

// drive is what is changed of a file system. Tests put one in its place that breaks, or that forgets what
// was not synced.
type drive interface {
	open(path string, flag int) (file, error)
	rename(from, to string) error
	remove(path string) error
	mkdir(path string) error
	syncDir(path string) error
	room(path string) (room disk.Room, known bool, err error)
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

func (files) syncDir(path string) error { return disk.SyncFolder(path) }
func (files) room(path string) (disk.Room, bool, error) {
	return disk.RoomOf(path)
}
