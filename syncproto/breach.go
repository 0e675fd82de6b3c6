package syncproto

import (
	"fmt"
	"slices"
)

// Breach is what ends a conversation: the other side broke the protocol, or cannot be served now.
type Breach struct {
	Code Code
	Text string
}

// Error is the code and the sentence.
func (b *Breach) Error() string { return string(b.Code) + ": " + b.Text }

// Refuse is the message that tells the other side.
func (b *Breach) Refuse() Refuse { return Refuse{T: TypeRefuse, Code: b.Code, Text: b.Text} }

// Breachf makes a breach.
func Breachf(code Code, format string, args ...any) *Breach {
	return &Breach{Code: code, Text: fmt.Sprintf(format, args...)}
}

// Check tells what keeps a conversation from being opened with this hello. It returns a *Breach.
func (h Hello) Check() error {
	if !isUUID(h.Incarnation) || !isUUID(h.Device) {
		return Breachf(CodeMalformed, "incarnation %.40q and device %.40q must both be UUIDs in lower case", h.Incarnation, h.Device)
	}
	for _, name := range []string{h.Farm, h.Person} {
		if err := checkText(name, MaxNameBytes); err != nil {
			return Breachf(CodeMalformed, "farm or person of the hello: %v", err)
		}
	}
	if h.Unsent < 0 || h.Settled < 0 || h.Settled > MaxInt || h.Cursor != nil && (h.Cursor.Arrival < 0 || h.Cursor.Arrival > MaxInt) {
		return Breachf(CodeMalformed, "settled, unsent or arrival of the hello is out of bounds")
	}
	return nil
}

// Check tells what keeps the changes from being taken as one frame of an incarnation, whatever the
// server holds already: limits, sequence, whole operations, stamps. It returns a *Breach. A frame
// that is a part of a large operation passes: see IsPart.
func (b Batch) Check(incarnation string) error {
	if len(b.Changes) == 0 {
		return Breachf(CodeMalformed, "a push without changes")
	}
	if len(b.Changes) > MaxFrameChanges {
		return Breachf(CodeTooLarge, "a push of %d changes: the most is %d", len(b.Changes), MaxFrameChanges)
	}
	if least := b.leastBytes(); least > MaxFrameBytes { // before its texts are looked at: a name may be repeated often
		return Breachf(CodeTooLarge, "a push of more than %d canonical bytes", MaxFrameBytes)
	}
	for i, c := range b.Changes {
		if c.Incarnation != incarnation {
			return Breachf(CodeMalformed, "change %d of the push is of incarnation %q, but the hello named %q", i+1, c.Incarnation, incarnation)
		}
		if err := c.Check(); err != nil {
			return Breachf(CodeMalformed, "change %s: %v", c.Identity(), err)
		}
		if i == 0 {
			continue
		}
		if err := follows(b.Changes[i-1], c); err != nil {
			return err
		}
	}
	if err := b.checkSize(); err != nil {
		return err
	}
	first, last := b.Changes[0], b.Changes[len(b.Changes)-1]
	if last.Rest != 0 && first.Stamp != last.Stamp {
		return Breachf(CodeSplit, "the push ends at seq %d with %d changes of its operation to come, and holds others", last.Seq, last.Rest)
	}
	if b.IsPart() && !SizeOf(b.Changes).sufficesForPart() {
		return Breachf(CodeSplit, "the push ends at seq %d inside an operation, and is too short for a part of a large one", last.Seq)
	}
	return b.checkOrders()
}

// checkSize holds a frame against the limits of its bytes and lists. Most are far below and need not
// be measured.
func (b Batch) checkSize() error {
	most, elements := 0, 0
	for i := range b.Changes {
		most += b.Changes[i].MostBytes()
		elements += b.Changes[i].elements()
	}
	if elements > MaxFrameElements {
		return Breachf(CodeTooLarge, "a push with %d elements of lists: the most is %d", elements, MaxFrameElements)
	}
	if most > MaxFrameBytes && !SizeOf(b.Changes).FitsFrame() {
		return Breachf(CodeTooLarge, "a push of more than %d canonical bytes", MaxFrameBytes)
	}
	return nil
}

func (b Batch) leastBytes() int {
	least := 0
	for i := range b.Changes {
		least += b.Changes[i].leastBytes()
	}
	return least
}

// IsPart tells whether a frame that passed Check ends inside its operation, of which it is a part.
func (b Batch) IsPart() bool { return b.Changes[len(b.Changes)-1].Rest != 0 }

// follows tells what is wrong with one change coming right after another.
func follows(before, c Change) error {
	switch {
	case c.Seq != before.Seq+1:
		return Breachf(CodeGap, "seq %d came after %d in one push", c.Seq, before.Seq)
	case before.Rest > 0 && c.Rest != before.Rest-1:
		return Breachf(CodeSplit, "seq %d says that %d changes of its operation follow, but seq %d says %d", before.Seq, before.Rest, c.Seq, c.Rest)
	case before.Rest > 0 && c.Stamp != before.Stamp:
		return Breachf(CodeMalformed, "seq %d is of one operation with seq %d, but has another stamp", c.Seq, before.Seq)
	case before.Rest == 0 && c.Stamp.Compare(before.Stamp) <= 0:
		return Breachf(CodeMalformed, "the stamp of seq %d does not lie after that of seq %d", c.Seq, before.Seq)
	}
	return nil
}

func (b Batch) checkOrders() error {
	for i, order := range b.Orders {
		if order == NoOrder {
			continue
		}
		if c := b.Changes[i]; !order.Valid() || order.Compare(c.Stamp) > 0 {
			return Breachf(CodeMalformed, "the order of seq %d is out of bounds or above its stamp", c.Seq)
		}
	}
	return nil
}

// PickVersion is the highest version that both sides speak; ok is false if there is none.
func PickVersion(theirs []int) (version int, ok bool) {
	if slices.Contains(theirs, Version) {
		return Version, true
	}
	return 0, false
}

func isUUID(s string) bool {
	_, ok := parseUUID(s)
	return ok
}
