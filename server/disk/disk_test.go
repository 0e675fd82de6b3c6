package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
)

func TestAFolderIsSyncedOrItIsSaidWhyNot(t *testing.T) {
	if err := SyncFolder(t.TempDir()); err != nil {
		t.Error(err)
	}
	if err := SyncFolder(filepath.Join(t.TempDir(), "none")); runtime.GOOS != "windows" && !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a folder that is not there: %v", err)
	}
}

func TestAFullDiskIsToldFromOtherFaults(t *testing.T) {
	full, tooLarge := syscall.ENOSPC, syscall.EFBIG
	if runtime.GOOS == "windows" {
		full, tooLarge = syscall.Errno(112), syscall.Errno(223)
	}
	tests := []struct {
		err            error
		full, tooLarge bool
	}{
		{nil, false, false},
		{fs.ErrPermission, false, false},
		{fmt.Errorf("writing: %w", &os.PathError{Op: "write", Err: full}), true, false},
		{syscall.EDQUOT, runtime.GOOS != "windows", false},
		{errors.Join(fs.ErrClosed, &os.PathError{Op: "write", Err: tooLarge}), false, true},
	}
	for _, tt := range tests {
		if IsFull(tt.err) != tt.full || IsTooLarge(tt.err) != tt.tooLarge {
			t.Errorf("%v: full %v, too large %v", tt.err, IsFull(tt.err), IsTooLarge(tt.err))
		}
	}
}

func TestTheRoomOfADiskIsTold(t *testing.T) {
	room, known, err := RoomOf(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	if known && (room.Free < 0 || room.Size < 1 || room.Free > room.Size) {
		t.Errorf("%+v", room)
	}
	if _, known, err := RoomOf(filepath.Join(t.TempDir(), "none")); known || runtime.GOOS == "linux" && err == nil {
		t.Errorf("of a folder that is not there: %v, %v", known, err)
	}
}
