package syncproto

import (
	"crypto/sha256"
	"encoding/hex"
)

// Hash is the chain value after some change of an incarnation.
type Hash [sha256.Size]byte

// ChainStart is the chain value of an incarnation before its first change. The farm is part of it,
// so that a log cannot be replayed into another farm.
func ChainStart(farm, incarnation string) Hash {
	return sha256.Sum256([]byte("corymb chain 1\n" + farm + "\n" + incarnation + "\n"))
}

// Then is the chain value after the change with these canonical bytes: SHA-256(h ‖ canonical).
func (h Hash) Then(canonical []byte) Hash {
	d := sha256.New()
	d.Write(h[:])
	d.Write(canonical)
	return Hash(d.Sum(nil))
}

// String is the hash in lower-case hexadecimal.
func (h Hash) String() string { return hex.EncodeToString(h[:]) }
