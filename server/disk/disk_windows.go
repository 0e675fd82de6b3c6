package disk

import (
	"errors"
	"fmt"
	"syscall"

	"golang.org/x/sys/windows"
)

// System error codes of Windows
// (https://learn.microsoft.com/en-us/windows/win32/debug/system-error-codes--0-499-, from memory).
const (
	errorHandleDiskFull = syscall.Errno(39)
	errorDiskFull       = syscall.Errno(112)
	errorFileTooLarge   = syscall.Errno(223)
)

// SyncFolder does nothing: Windows has no such call, and writes names by itself.
func SyncFolder(string) error { return nil }

// IsFull tells of a fault whether there is no room left on the disk.
func IsFull(err error) bool {
	return errors.Is(err, errorDiskFull) || errors.Is(err, errorHandleDiskFull)
}

// IsTooLarge tells of a fault whether the file system holds no file as large as that.
func IsTooLarge(err error) bool { return errors.Is(err, errorFileTooLarge) }

// RoomOf is the room of the disk that a folder is on; known is false where the system does not tell.
func RoomOf(folder string) (room Room, known bool, err error) {
	path, err := windows.UTF16PtrFromString(folder)
	if err != nil {
		return room, false, fmt.Errorf("asking for the room of the disk of %s: %w", folder, err)
	}
	var free, size uint64
	if err := windows.GetDiskFreeSpaceEx(path, &free, &size, nil); err != nil {
		return room, false, fmt.Errorf("asking for the room of the disk of %s: %w", folder, err)
	}
	return Room{Free: int64(free), Size: int64(size)}, true, nil
}
