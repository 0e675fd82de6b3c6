package photos

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
)

// Hash is the SHA-256 of a photo's bytes, by which it is known.
type Hash [sha256.Size]byte

// ParseHash reads a hash written as 64 lowercase hexadecimal digits. Nothing else passes, so a hash that
// was parsed is safe as a file's name.
func ParseHash(text string) (h Hash, err error) {
	if len(text) != hex.EncodedLen(len(h)) {
		return h, fmt.Errorf("a hash has %d digits, not %d", hex.EncodedLen(len(h)), len(text))
	}
	if _, err := hex.Decode(h[:], []byte(text)); err != nil || h.String() != text {
		return Hash{}, fmt.Errorf("%q is not a hash: it has lowercase hexadecimal digits", text)
	}
	return h, nil
}

func (h Hash) String() string { return hex.EncodeToString(h[:]) }
