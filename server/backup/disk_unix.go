//go:build unix

package backup

import (
	"errors"
	"os"
	"syscall"
)

func isNoRoom(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}

func isTooLarge(err error) bool { return errors.Is(err, syscall.EFBIG) }

// syncFolder waits until the names in a folder are on the disk. Some file systems do not know how.
func syncFolder(path string) (err error) {
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, folder.Close()) }()
	if err := folder.Sync(); !errors.Is(err, syscall.EINVAL) && !errors.Is(err, syscall.ENOTSUP) {
		return err
	}
	return nil
}
