package photos

import (
	"fmt"
	"io/fs"
	"os"
)

// spareShare is the part of a disk that stays free at most, so that a small one holds photos too.
const spareShare = 20

// checkRoom refuses what is still to come of a photo where it would pass the room of all photos, or take
// what is left of the disk for the records. It is for whoever has the lock.
func (p *Photos) checkRoom(more int64) error {
	if p.kept+p.used+more > p.limits.Room {
		return refusef(CodeNoRoom, "The farm's photos have all the room that they may take, %.1f GB. What was recorded is safe, and the photo stays on the phone and is sent later. An owner can delete photos, or start Corymb in the shed with a larger -photo-room.", float64(p.limits.Room)/1e9)
	}
	room, known, err := p.disk.room(p.dir)
	if err != nil {
		return err
	}
	if known && room.Free-more < min(p.limits.Spare, room.Size/spareShare) {
		return refuseFull()
	}
	return nil
}

// weigh finds out how much room photos and their thumbnails take.
func (p *Photos) weigh() error {
	return p.visit(func(_ Hash, entry fs.DirEntry) error {
		info, err := entry.Info()
		if err != nil {
			return fmt.Errorf("looking how large a photo is: %w", err)
		}
		p.kept += info.Size()
		return nil
	})
}

// sizeOf is how many bytes a file has, 0 where there is none.
func sizeOf(path string) int64 {
	info, err := os.Stat(path)
	if err != nil {
		return 0 // whoever goes on with it will be told
	}
	return info.Size()
}
