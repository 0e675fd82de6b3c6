package syncproto

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"
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
		return Breachf(CodeMalformed, "incarnation %q and device %q must both be UUIDs in lower case", h.Incarnation, h.Device)
	}
	for _, name := range []string{h.Farm, h.Person} {
		if err := checkText(name, MaxNameBytes); err != nil {
			return Breachf(CodeMalformed, "farm or person of the hello: %v", err)
		}
	}
	if h.Unsent < 0 || h.Cursor != nil && h.Cursor.Arrival < 0 {
		return Breachf(CodeMalformed, "unsent and arrival of the hello cannot be below zero")
	}
	return nil
}

// Check tells what keeps the changes from being taken as one frame of an incarnation, whatever the
// server holds already: limits, sequence, whole operations, stamps. It returns a *Breach.
func (p Push) Check(incarnation string) error {
	if len(p.Changes) == 0 {
		return Breachf(CodeMalformed, "a push without changes")
	}
	if len(p.Changes) > MaxFrameChanges || len(p.Orders) > len(p.Changes) {
		return Breachf(CodeTooLarge, "a push of %d changes and %d orders: the most is %d changes and an order each",
			len(p.Changes), len(p.Orders), MaxFrameChanges)
	}
	for i, c := range p.Changes {
		if c.Incarnation != incarnation {
			return Breachf(CodeMalformed, "change %d of the push is of incarnation %q, but the hello named %q", i+1, c.Incarnation, incarnation)
		}
		if err := c.Check(); err != nil {
			return Breachf(CodeMalformed, "change %s: %v", c.Identity(), err)
		}
		if i == 0 {
			continue
		}
		if err := follows(p.Changes[i-1], c); err != nil {
			return err
		}
	}
	if last := p.Changes[len(p.Changes)-1]; last.Rest != 0 {
		return Breachf(CodeSplit, "the push ends at seq %d with %d changes of its operation to come", last.Seq, last.Rest)
	}
	return p.checkOrders()
}

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

func (p Push) checkOrders() error {
	first := p.Changes[0].Seq
	for i, o := range p.Orders {
		at := o.Seq - first
		if at < 0 || at >= int64(len(p.Changes)) || i > 0 && o.Seq <= p.Orders[i-1].Seq {
			return Breachf(CodeMalformed, "the orders name seq %d, which is not of this push or not in turn", o.Seq)
		}
		if !o.Order.Valid() || o.Order.Compare(p.Changes[at].Stamp) > 0 {
			return Breachf(CodeMalformed, "the order of seq %d is out of bounds or above its stamp", o.Seq)
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
	_, err := uuid.Parse(s)
	return err == nil && len(s) == 36 && strings.ToLower(s) == s
}
