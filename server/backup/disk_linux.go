package backup

import (
	"os"

	"golang.org/x/sys/unix"
)

// letGoOfCached asks the system to forget what it holds of a file that is on the disk, so that reading it
// back reads the disk. Where it does not, the file is read from memory.
func letGoOfCached(file *os.File) {
	_ = unix.Fadvise(int(file.Fd()), 0, 0, unix.FADV_DONTNEED)
}
