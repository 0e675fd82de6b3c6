package changelog

import "corymb/syncproto"

// Frame is a push that was found whole and well-formed. Only NewFrame makes one, so whoever takes a
// Frame need not look at its shape again.
type Frame struct {
	Incarnation string
	Scopes      []syncproto.Scope // what the sender may write
	// Conversation groups frames: once one was refused, the later ones of the same conversation
	// are refused with it. 0 stands alone.
	Conversation uint64

	changes []syncproto.Change
	bytes   [][]byte
	orders  map[int64]syncproto.Stamp
}

// NewFrame takes a push in. The error is a *syncproto.Breach.
func NewFrame(incarnation string, scopes []syncproto.Scope, p syncproto.Push) (*Frame, error) {
	if err := p.Check(incarnation); err != nil {
		return nil, err
	}
	f := &Frame{Incarnation: incarnation, Scopes: scopes, changes: p.Changes}
	f.bytes = make([][]byte, len(p.Changes))
	for i, c := range p.Changes {
		f.bytes[i] = c.Canonical()
	}
	f.orders = make(map[int64]syncproto.Stamp, len(p.Orders))
	for _, o := range p.Orders {
		f.orders[o.Seq] = o.Order
	}
	return f, nil
}

// Len is the number of changes.
func (f *Frame) Len() int { return len(f.changes) }

// Change is change i and its canonical bytes.
func (f *Frame) Change(i int) (syncproto.Change, []byte) { return f.changes[i], f.bytes[i] }

// Asks is the order that a change asks for: the one that it had before the server was restored,
// else its stamp.
func (f *Frame) Asks(i int) syncproto.Stamp {
	if known, ok := f.orders[f.changes[i].Seq]; ok {
		return known
	}
	return f.changes[i].Stamp
}

// Result is what became of a frame: settled, or refused as a whole.
type Result struct {
	Ack    syncproto.Ack
	Breach *syncproto.Breach // nothing of the frame was stored; Ack is empty
	Newest int64             // the farm's newest arrival number after it
}

// Standing is how far a server is with one incarnation, all of it at one moment.
type Standing struct {
	Seq     int64 // highest settled, 0 for none
	Hash    syncproto.Hash
	Stamp   syncproto.Stamp // of that change
	Refused []syncproto.Refusal
	Newest  int64 // the farm's newest arrival number
	Holds   bool  // the cursor that was asked about holds
}

// Sighting is what a hello tells about a device.
type Sighting struct {
	Incarnation string
	Device      string
	Person      string
	Unsent      int
}

// Kept is a change as the log holds it.
type Kept struct {
	Incarnation string
	Seq         int64
	Scope       syncproto.Scope
	Order       syncproto.Stamp
	Arrival     int64
	Bytes       []byte // canonical
}

// Tail is a stretch of the log in order of arrival.
type Tail struct {
	Changes []Kept             // of the scopes that were asked for
	Arrival int64              // of the last change passed, whatever its scope
	Last    syncproto.Identity // that change's
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
