package backup

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"hash"
	"io"
	"strings"
)

// A backup ends with the SHA-256 of all that comes before, in hexadecimal, as the end of the ZIP's comment:
// the checksums within do not cover the archive's own structure.

const (
	sealDigits = 2 * sha256.Size
	sealText   = "Corymb backup. SHA-256 of everything before these 64 digits: "
)

// sealComment is the comment with room for the seal.
func sealComment() string { return sealText + strings.Repeat("0", sealDigits) }

// sealing passes on what is written, and puts the seal in the place of the last digits.
type sealing struct {
	to   io.Writer
	sum  hash.Hash
	held []byte // the last that came, which may be the room for the seal
}

func newSealing(to io.Writer) *sealing { return &sealing{to: to, sum: sha256.New()} }

func (s *sealing) Write(p []byte) (int, error) {
	s.held = append(s.held, p...)
	passes := max(0, len(s.held)-sealDigits)
	s.sum.Write(s.held[:passes])
	if _, err := s.to.Write(s.held[:passes]); err != nil {
		return 0, err
	}
	s.held = append(s.held[:0], s.held[passes:]...)
	return len(p), nil
}

// seal ends the file.
func (s *sealing) seal() error {
	_, err := io.WriteString(s.to, hex.EncodeToString(s.sum.Sum(nil)))
	return err
}

var errSeal = errors.New("its last 64 digits are not the SHA-256 of what comes before them: it is cut short or damaged, or was altered")

// checkSeal reads a whole file.
func checkSeal(file io.ReaderAt, size int64, through func(io.Reader) io.Reader) error {
	if size < sealDigits {
		return errSeal
	}
	sum := sha256.New()
	if _, err := io.Copy(sum, through(io.NewSectionReader(file, 0, size-sealDigits))); err != nil {
		return err
	}
	seal := make([]byte, sealDigits)
	if _, err := file.ReadAt(seal, size-sealDigits); err != nil {
		return err
	}
	if string(seal) != hex.EncodeToString(sum.Sum(nil)) {
		return errSeal
	}
	return nil
}
