package changelog

import (
	"strconv"
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

// OwnPlace is what a cursor carries of where the log stood when a phone last heard of its own changes.
func OwnPlace(arrival int64, life string) string { return strconv.FormatInt(arrival, 10) + "/" + life }

// ParseOwnPlace reads it.
func ParseOwnPlace(s string) (arrival int64, life string, ok bool) {
	number, life, ok := strings.Cut(s, "/")
	arrival, err := strconv.ParseInt(number, 10, 64)
	return arrival, life, ok && err == nil
}
