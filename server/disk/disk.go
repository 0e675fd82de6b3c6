// Package disk asks of a disk what Go's own library does not: that names outlast a power cut, that a folder is there
// whole or not at all, how much room is left, and whether a fault means that there is none.
package disk

// Room is how much a disk holds, in bytes.
type Room struct {
	Free int64 // for whoever this program runs as
	Size int64
}
