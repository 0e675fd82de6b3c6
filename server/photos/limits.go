package photos

import "time"

// Limits are how much is taken of a photo, and of all that are unfinished.
type Limits struct {
	Bytes      int64         // of a photo
	Pixels     int64         // of a photo
	Side       int           // pixels of its longer side
	Memory     int64         // bytes that its pixels may take while it is decoded
	Unfinished int64         // bytes of all unfinished photos together; one takes 64 KiB at least
	Keep       time.Duration // how long an unfinished photo is kept after its last piece
	Idle       time.Duration // after which one may be dropped for others where there is no more room
}

// UsualLimits take what phones' cameras make. The memory is enough for 64 million pixels of an ordinary
// JPEG or an 8 bit PNG, and for half of that in the forms that cost more (progressive JPEG, 16 bit PNG,
// lossless WebP).
func UsualLimits() Limits {
	return Limits{
		Bytes: 24 << 20, Pixels: 64_000_000, Side: 30_000, Memory: 256 << 20,
		Unfinished: 1 << 30, Keep: 30 * 24 * time.Hour, Idle: time.Hour,
	}
}
