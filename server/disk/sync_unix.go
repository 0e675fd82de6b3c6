//go:build unix

package disk

import (
	"errors"
	"fmt"
	"os"
	"syscall"
)

// SyncFolder waits until the names in a folder are on the disk. Some file systems do not know how, and
// write them by themselves.
func SyncFolder(path string) error {
	folder, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("making names in a folder outlast a power cut: %w", err)
	}
	err = folder.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) {
		err = nil
	}
	return errors.Join(err, folder.Close())
}

// IsFull tells of a fault whether there is no room left on the disk, or for this account.
func IsFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}

// IsTooLarge tells of a fault whether the file system holds no file as large as that.
func IsTooLarge(err error) bool { return errors.Is(err, syscall.EFBIG) }
