package photos

import "time"

// Limits are how much is taken of a photo, of all photos, and of those that are unfinished.
type Limits struct {
	Bytes      int64         // of a photo
	Pixels     int64         // of a photo
	Side       int           // pixels of its longer side
	Memory     int64         // bytes that its pixels may take while it is decoded
	Room       int64         // bytes of all photos together, with their thumbnails and what is unfinished
	Spare      int64         // bytes of the disk that stay free, of a small disk only a twentieth of it
	Unfinished int64         // bytes of all unfinished photos together; one takes 64 KiB at least
	Each       int           // unfinished photos of one sender
	Keep       time.Duration // how long an unfinished photo is kept after its last piece
	Idle       time.Duration // after which one may be dropped for others where there is no more room
	Unnamed    time.Duration // how long a photo is kept that no change names
}

// UsualLimits take what phones' cameras make. The memory is enough for 64 million pixels of an ordinary
// JPEG or an 8 bit PNG, and for half of that in the forms that cost more (progressive JPEG, 16 bit PNG,
// lossless WebP). The room is that of some 30,000 photos as phones make them small.
//
// A phone sends its changes before its photos, so one that no change names is that of a phone which was lost
// in between, or whose changes an older copy of the database lacks. Either may come back: it is let go of
// after longer than a browser keeps a phone's leave to come (httpapi, 400 days) and two winters take.
func UsualLimits() Limits {
	return Limits{
		Bytes: 24 << 20, Pixels: 64_000_000, Side: 30_000, Memory: 256 << 20,
		Room: 20e9, Spare: 5e9, Unfinished: 1 << 30, Each: 8, Keep: 30 * 24 * time.Hour, Idle: time.Hour,
		Unnamed: 550 * 24 * time.Hour,
	}
}
