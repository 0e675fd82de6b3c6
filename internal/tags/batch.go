package tags

import (
	"fmt"
	"io"
	"strings"
)

// A print batch of colour cards has a code of six signs too, "K7M 4QE": five at random and the same check. There
// are 6.4 million, and a farm has a few, so no shed needs to lease them.
const batchSigns = 5

// NewBatch makes the code of a batch of what random gives: each byte below the largest multiple of the number of
// signs is one sign, its remainder; the others are passed over, so that all signs are as likely.
func NewBatch(random io.Reader) (string, error) {
	radix := len(letters)
	values := make([]int, 0, batchSigns+1)
	one := make([]byte, 1)
	for len(values) < batchSigns {
		if _, err := io.ReadFull(random, one); err != nil {
			return "", fmt.Errorf("making the code of a batch of cards: %w", err)
		}
		if v := int(one[0]); v < 256/radix*radix {
			values = append(values, v%radix)
		}
	}
	values = append(values, check(values, radix, 2))
	var text strings.Builder
	for _, v := range values {
		text.WriteByte(letters[v])
	}
	return text.String(), nil
}

// ParseBatch reads the code of a batch however it was typed: "k7m 4qe" is "K7M4QE". The error says what to do.
func ParseBatch(typed string) (string, error) {
	if !IsCode(typed) {
		return "", fmt.Errorf("%.30q is not the code of a batch of cards, which is six signs like K7M 4QE and checks itself: look at it again", typed)
	}
	return plainCode(typed), nil
}

// shownBatch is a code as people read it, in two groups.
func shownBatch(batch string) string { return batch[:3] + " " + batch[3:] }
