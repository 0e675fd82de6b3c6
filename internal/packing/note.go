package packing

import (
	"fmt"
	"strings"
)

// Note is a warning or a fault: what is odd or wrong, where, as a code for whoever translates it and as a sentence.
type Note struct {
	Code  string `json:"code"`
	Where string `json:"where,omitempty"` // supply or demand
	ID    string `json:"id,omitempty"`
	Key   string `json:"key,omitempty"`
	Text  string `json:"text"`
}

// Codes of notes.
const (
	CodeNotJSON    = "not_json"
	CodeUnknownKey = "unknown_key"
	CodeRepeated   = "repeated_key"
	CodeMissing    = "missing"
	CodeAssumed    = "assumed"
	CodeKind       = "wrong_kind"
	CodeTooLarge   = "too_large"
	CodeNegative   = "negative"
	CodeZero       = "zero"
	CodeDuplicate  = "duplicate"
	CodeGrade      = "unknown_grade"
	CodeDate       = "no_date"
	CodeLimits     = "limits_cross"
	CodeFloor      = "floor_above_prices"
	CodeUnmet      = "minimums_unmet"
)

// Faults are why a day cannot be planned, all of them.
type Faults []Note

func (f Faults) Error() string {
	var lines []string
	for _, note := range f {
		lines = append(lines, note.Text)
	}
	return strings.Join(lines, "\n")
}

// entry names a thing of the day in sentences: by its id where it has one, else by its place.
type entry struct {
	where string // supply or demand, or empty for the day itself
	id    string
	place int // from 1
}

func (e entry) String() string {
	switch {
	case e.where == "":
		return "the day"
	case e.id == "":
		return fmt.Sprintf("%s number %d", e.where, e.place)
	}
	return fmt.Sprintf("%s %q", e.where, e.id)
}

func (e entry) note(code, key, format string, args ...any) Note {
	text := fmt.Sprintf(format, args...)
	if key != "" {
		text = fmt.Sprintf("%q %s", key, text)
	}
	return Note{Code: code, Where: e.where, ID: e.id, Key: key, Text: fmt.Sprintf("%s: %s", e, text)}
}
