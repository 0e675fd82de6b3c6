package backup

import (
	"errors"
	"syscall"
)

// System error codes of Windows
// (https://learn.microsoft.com/en-us/windows/win32/debug/system-error-codes--0-499-, from memory).
const (
	errorHandleDiskFull = syscall.Errno(39)
	errorDiskFull       = syscall.Errno(112)
	errorFileTooLarge   = syscall.Errno(223)
)

func isNoRoom(err error) bool {
	return errors.Is(err, errorDiskFull) || errors.Is(err, errorHandleDiskFull)
}

func isTooLarge(err error) bool { return errors.Is(err, errorFileTooLarge) }

// syncFolder does nothing: Windows has no such call, and writes names by itself.
func syncFolder(string) error { return nil }
