package syncproto

import (
	"crypto/sha1"
	"encoding/hex"
	"fmt"

	"github.com/google/uuid"
)

// Limits of the names that one direction of a conversation may hold. A batch within its own limits
// never needs more.
const (
	maxNames     = 1 << 18
	maxNameBytes = 8 << 20
)

// uuidLen is the length of a UUID as text.
const uuidLen = 36

// Origin is what a visit's id was derived from (PROTOCOL.md, section 6). Ids that can be derived
// again need no room of their own.
type Origin struct {
	Namespace string // the incarnation, a UUID
	Person    string
	Subject   string
	Recorded  string
	Purpose   string
}

// ID is the UUID of version 5 (RFC 9562) that the origin gives; ok is false where the namespace is
// no UUID in lower case.
func (o Origin) ID() (id string, ok bool) {
	space, ok := parseUUID(o.Namespace)
	if !ok {
		return "", false
	}
	return derivedID(space, o), true
}

func derivedID(space uuid.UUID, o Origin) string {
	name := make([]byte, 0, 256)
	name = append(name, space[:]...)
	name = append(append(name, o.Person...), '\n')
	name = append(append(name, o.Subject...), '\n')
	name = append(append(name, o.Recorded...), '\n')
	name = append(name, o.Purpose...)
	sum := sha1.Sum(name)
	id := uuid.UUID(sum[:16])
	id[6] = id[6]&0x0f | 5<<4
	id[8] = id[8]&0x3f | 0x80
	return textOfUUID(id)
}

// originParts is how many parts an origin has.
const originParts = 5

// part is a part of the origin, in the order of the columns that hold them.
func (o *Origin) part(i int) string {
	return [originParts]string{o.Namespace, o.Person, o.Subject, o.Recorded, o.Purpose}[i]
}

// packedNames gives numbers to texts in the order in which they are first packed.
type packedNames struct {
	numbers map[string]int64
	bytes   int

	// Collected for the batch under way, and numbered when all are known.
	texts   []string
	uuids   []uuid.UUID
	uuidsAs []string
}

const pending = -1

func newPackedNames() *packedNames { return &packedNames{numbers: map[string]int64{}} }

// collect notes a text that the batch needs.
func (n *packedNames) collect(text string) {
	if _, ok := n.numbers[text]; ok {
		return
	}
	n.numbers[text] = pending
	n.bytes += len(text)
	if id, ok := parseUUID(text); ok {
		n.uuids, n.uuidsAs = append(n.uuids, id), append(n.uuidsAs, text)
		return
	}
	n.texts = append(n.texts, text)
}

// number gives numbers to what was collected: texts, then UUIDs.
func (n *packedNames) number() {
	next := int64(len(n.numbers) - len(n.texts) - len(n.uuids))
	for _, names := range [][]string{n.texts, n.uuidsAs} {
		for _, name := range names {
			n.numbers[name] = next
			next++
		}
	}
}

func (n *packedNames) isFull() bool { return len(n.numbers) > maxNames || n.bytes > maxNameBytes }

func (n *packedNames) settle() {
	n.texts, n.uuids, n.uuidsAs = n.texts[:0], n.uuids[:0], n.uuidsAs[:0]
}

// readNames holds texts by number.
type readNames struct {
	texts []string
	bytes int
}

func (n *readNames) add(text string) error {
	n.bytes += len(text)
	if len(n.texts) >= maxNames || n.bytes > maxNameBytes {
		return Breachf(CodeTooLarge, "names of more than %d bytes, or more than %d of them", maxNameBytes, maxNames)
	}
	n.texts = append(n.texts, text)
	return nil
}

// derivedName is an id with what it was derived from.
type derivedName struct {
	id     string
	origin Origin
}

func derive(parts [originParts]string) (derivedName, error) {
	for _, part := range parts {
		if len(part) > MaxNameBytes {
			return derivedName{}, fmt.Errorf("an id is derived from a text of %d bytes", len(part))
		}
	}
	o := Origin{Namespace: parts[0], Person: parts[1], Subject: parts[2], Recorded: parts[3], Purpose: parts[4]}
	id, ok := o.ID()
	if !ok {
		return derivedName{}, fmt.Errorf("an id is derived in namespace %q, which is no UUID", o.Namespace)
	}
	return derivedName{id, o}, nil
}

// parseUUID reads a UUID of the one form that stands for its bytes: 36 characters in lower case.
func parseUUID(s string) (id uuid.UUID, ok bool) {
	if len(s) != uuidLen || s[8] != '-' || s[13] != '-' || s[18] != '-' || s[23] != '-' {
		return id, false
	}
	at := 0
	for i := 0; i < uuidLen; {
		if i == 8 || i == 13 || i == 18 || i == 23 { // nowhere else may a hyphen stand
			i++
			continue
		}
		high, okHigh := nibble(s[i])
		low, okLow := nibble(s[i+1])
		if !okHigh || !okLow {
			return id, false
		}
		id[at] = high<<4 | low
		at++
		i += 2
	}
	return id, true
}

func nibble(c byte) (byte, bool) {
	switch {
	case c >= '0' && c <= '9':
		return c - '0', true
	case c >= 'a' && c <= 'f':
		return c - 'a' + 10, true
	default:
		return 0, false
	}
}

func textOfUUID(id uuid.UUID) string {
	var text [uuidLen]byte
	hex.Encode(text[:8], id[:4])
	hex.Encode(text[9:13], id[4:6])
	hex.Encode(text[14:18], id[6:8])
	hex.Encode(text[19:23], id[8:10])
	hex.Encode(text[24:], id[10:])
	text[8], text[13], text[18], text[23] = '-', '-', '-', '-'
	return string(text[:])
}
