package tags

import (
	"fmt"
	"io"
)

// Tag is what one stake tag says.
type Tag struct {
	Code  string // the plant's; what the QR code holds, and nothing else
	Stock string // its name; may be empty
	Bed   string // its name; may be empty
	Line  int    // 1 is the first line; 0 means no place is known
	// Number is the place along the line, from 1.
	Number int
}

// MostCodeBytes is the longest code that still has modules large enough for a phone.
const MostCodeBytes = 128

// Write writes sheets with a tag for each in their order, as PDF. The same tags give the same bytes. The
// error is of type Problems where tags cannot be printed, and nothing was written then.
func Write(w io.Writer, paper Paper, tags []Tag) error {
	if len(tags) == 0 {
		return fmt.Errorf("printing tags: there is no plant to print one for")
	}
	laid := make([]laidTag, len(tags))
	var problems Problems
	for i, tag := range tags {
		if found := problemsOf(tag); len(found) > 0 {
			problems = append(problems, found...)
			continue
		}
		one, err := layOut(tag)
		if err != nil {
			return err
		}
		laid[i] = one
	}
	if len(problems) > 0 {
		return problems
	}
	return draw(w, paper, laid)
}
