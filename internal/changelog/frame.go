package changelog

import (
	"fmt"
	"maps"
	"slices"

	"corymb/syncproto"
)

// Frame is a push that was found whole and well-formed. Only NewFrame makes one, so whoever takes a
// Frame need not look at its shape again.
type Frame struct {
	Incarnation  string
	Rights       Rights        // of the sender
	Device       string        // that sends it; empty where none does, as when a file is read in at the shed
	Conversation *Conversation // nil stands alone

	batch syncproto.Batch
}

// DeviceShed stands for the shed itself, where it writes under incarnations of its own.
const DeviceShed = "shed"

// Rights says what the sender of a frame may write.
type Rights interface {
	// Refuses tells why a change may not be written; an empty code lets it pass. The text is for the log.
	Refuses(c syncproto.Change) (code syncproto.Code, text string)
}

// Within are the rights to write whatever is of some scopes.
type Within []syncproto.Scope

// Refuses refuses what is of another scope.
func (w Within) Refuses(c syncproto.Change) (syncproto.Code, string) {
	if slices.Contains(w, c.Scope) {
		return "", ""
	}
	return syncproto.CodeScope, fmt.Sprintf("what is of the %s may not be written here", c.Scope)
}

// Conversation is what the frames of a sender have in common while it talks. Once one is refused, the
// later ones are refused with it. Whoever settles the frames keeps it, so it is not safe for concurrent
// use.
type Conversation struct {
	// Aside says that the sender knows parts of an operation to be put aside, and has not been told
	// what becomes of them.
	Aside bool
}

// NewFrame takes a push in: whole operations, or a part of a large one. The error is a
// *syncproto.Breach.
func NewFrame(incarnation string, rights Rights, b syncproto.Batch) (*Frame, error) {
	if err := b.Check(incarnation); err != nil {
		return nil, err
	}
	return &Frame{Incarnation: incarnation, Rights: rights, batch: b}, nil
}

// Len is the number of changes.
func (f *Frame) Len() int { return len(f.batch.Changes) }

// Batch is all that the frame carries.
func (f *Frame) Batch() syncproto.Batch { return f.batch }

// Part tells whether the frame ends inside an operation, of which it is a part.
func (f *Frame) Part() bool { return f.batch.IsPart() }

// Asks is the order that a change asks for: the one that it had before the server was restored,
// else its stamp.
func (f *Frame) Asks(i int) syncproto.Stamp {
	if f.batch.Orders != nil && f.batch.Orders[i] != syncproto.NoOrder {
		return f.batch.Orders[i]
	}
	return f.batch.Changes[i].Stamp
}

// Skip is the frame without its first n changes. It may be without any then.
func (f *Frame) Skip(n int) *Frame {
	rest := *f
	rest.batch.Changes = f.batch.Changes[n:]
	if f.batch.Orders != nil {
		rest.batch.Orders = f.batch.Orders[n:]
	}
	return &rest
}

// After is the whole operation of which this frame is the last part. The parts before it follow
// each other and this one follows them.
func (f *Frame) After(parts []syncproto.Batch) *Frame {
	whole := *f
	whole.batch = syncproto.Batch{Origins: map[string]syncproto.Origin{}}
	for _, part := range append(slices.Clone(parts), f.batch) {
		whole.batch.Changes = append(whole.batch.Changes, part.Changes...)
		whole.batch.Orders = append(whole.batch.Orders, ordersOf(part)...)
		maps.Copy(whole.batch.Origins, part.Origins)
	}
	return &whole
}

func ordersOf(b syncproto.Batch) []syncproto.Stamp {
	if b.Orders != nil {
		return b.Orders
	}
	return slices.Repeat([]syncproto.Stamp{syncproto.NoOrder}, len(b.Changes))
}

// Sighting is what a hello tells about a device.
type Sighting struct {
	Incarnation string
	Device      string
	Person      string
	Unsent      int
}

// FactsOf is what a change says, without the identities under which it was sent: two changes of the
// same facts are the same record, sent twice.
func FactsOf(c syncproto.Change) []byte {
	if original, ok := c.Original(); ok {
		c = original
	}
	c.Incarnation, c.Seq = "", 0
	return c.Canonical()
}
