//go:build linux || darwin

package disk

import (
	"fmt"

	"golang.org/x/sys/unix"
)

// RoomOf is the room of the disk that a folder is on; known is false where the system does not tell.
func RoomOf(folder string) (room Room, known bool, err error) {
	var s unix.Statfs_t
	if err := unix.Statfs(folder, &s); err != nil {
		return room, false, fmt.Errorf("asking for the room of the disk of %s: %w", folder, err)
	}
	block := int64(s.Bsize)
	return Room{Free: int64(s.Bavail) * block, Size: int64(s.Blocks) * block}, s.Blocks > 0, nil
}
