package photos

import (
	"fmt"

	"corymb/server/disk"
)

// Code names why something was refused.
type Code string

const (
	CodeType     Code = "type"      // not a JPEG, PNG or WebP
	CodeTooLarge Code = "too_large" // more bytes than a photo may have, or none
	CodePixels   Code = "pixels"    // more pixels than can be decoded safely
	CodeDamaged  Code = "damaged"   // cannot be decoded
	CodeTrailing Code = "trailing"  // something follows the picture
	CodeHash     Code = "hash"      // what came is not what was announced
	CodeOffset   Code = "offset"    // a piece does not go on where the last one ended
	CodeLength   Code = "length"    // longer than announced, or announced with another length
	CodeCrowded  Code = "crowded"   // too many photos are unfinished
	CodeFull     Code = "full"      // the disk is full, or so nearly that the rest is for the records
	CodeNoRoom   Code = "no_room"   // the farm's photos have all the room that they may take
	CodeRemoved  Code = "removed"   // an owner removed it
)

// Refusal says why a photo or a piece of one was not taken. What comes again as it was is refused again,
// but for CodeHash, CodeCrowded, CodeFull and CodeNoRoom. Its text is for a person.
type Refusal struct {
	Code Code
	Text string
}

func (r *Refusal) Error() string { return r.Text }

// Final tells whether the photo itself was refused and its pieces are gone.
func (r *Refusal) Final() bool {
	switch r.Code {
	case CodeType, CodePixels, CodeDamaged, CodeTrailing, CodeHash, CodeRemoved:
		return true
	}
	return false
}

func refusef(code Code, format string, args ...any) error {
	return &Refusal{code, fmt.Sprintf(format, args...)}
}

func refuseRemoved() error {
	return refusef(CodeRemoved, "An owner removed this photo from the farm, so it is not taken again. The record it belongs to is safe.")
}

// storing says what an error while storing means to a person where that is a full disk.
func storing(err error) error {
	if disk.IsFull(err) {
		return refuseFull()
	}
	return err
}

func refuseFull() error {
	return refusef(CodeFull, "The shed's disk is full, so no photo can be stored. What was recorded is safe, and the photo stays on the phone. Free some room on the shed's computer; the phone then sends it again.")
}
