package changelog

import (
	"strings"

	"corymb/syncproto"
)

// Place is a point in a farm's log that a phone can name later: the last change before it, and during
// which life of the database the phone was there. Numbers and changes alone would not tell an older
// copy that has gone on differently since.
type Place struct {
	Life string // letters and digits
	Last syncproto.Identity
}

// String is what a cursor carries.
func (p Place) String() string { return string(p.Last) + "/" + p.Life }

// ParsePlace reads what a cursor carries.
func ParsePlace(s string) (p Place, ok bool) {
	last, life, ok := strings.Cut(s, "/")
	return Place{Life: life, Last: syncproto.Identity(last)}, ok
}
