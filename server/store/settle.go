package store

import (
	"bytes"
	"crypto/sha256"
	"database/sql"
	"fmt"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// settleFrame finds out everything that can refuse the frame before it writes anything.
func (t *transaction) settleFrame(f *changelog.Frame) (syncproto.Ack, error) {
	ack := syncproto.Ack{T: syncproto.TypeAck}
	h, err := t.head(f.Incarnation)
	if err != nil {
		return ack, err
	}
	if err := h.belongsTo(f.Device); err != nil {
		return ack, err
	}
	first := f.Batch().Changes[0].Seq
	switch {
	case first <= h.seq+1:
		err = t.settleFrom(f, h, &ack)
	case first <= h.staged.seq+1:
		err = t.settlePart(f, h, &ack)
	default:
		err = syncproto.Breachf(syncproto.CodeGap, "seq %d came, but %d is the next", first, max(h.seq, h.staged.seq)+1)
	}
	// A copy of the phone may have said more than this frame: that is not this one's to know.
	last := first + int64(f.Len()) - 1
	if ack.Seq = min(h.seq, last); last > h.seq {
		ack.Staged = min(h.staged.seq, last)
	}
	if f.Conversation != nil {
		f.Conversation.Aside = ack.Staged > 0
	}
	return ack, err
}

// settleFrom takes a frame in that begins at or before the next change to be settled. It drops what
// was put aside of an operation that begins there too.
func (t *transaction) settleFrom(f *changelog.Frame, h *head, ack *syncproto.Ack) error {
	known := int(min(h.seq+1-f.Batch().Changes[0].Seq, int64(f.Len())))
	if err := t.settleAgain(f, h, known, ack); err != nil || known == f.Len() {
		return err
	}
	fresh := f.Skip(known)
	if c := fresh.Batch().Changes[0]; h.seq > 0 && c.Stamp.Compare(h.stamp) <= 0 {
		return syncproto.Breachf(syncproto.CodeMalformed, "the stamp of seq %d does not lie after that of seq %d", c.Seq, h.seq)
	}
	if err := t.dropStaged(h); err != nil {
		return err
	}
	if fresh.Part() {
		return t.putAside(fresh, h)
	}
	for from := 0; from < fresh.Len(); {
		to := from + fresh.Batch().Changes[from].Rest + 1
		if err := t.settleOperation(fresh, from, to, h, ack); err != nil {
			return err
		}
		from = to
	}
	return nil
}

// settleOperation judges the changes from..to-1 together and writes what becomes of each.
func (t *transaction) settleOperation(f *changelog.Frame, from, to int, h *head, ack *syncproto.Ack) error {
	if err := t.number(h); err != nil {
		return err
	}
	verdicts, err := t.judge(f, from, to)
	if err != nil {
		return err
	}
	highest := t.farm.highest() // before the operation: what shares a stamp shares its order
	for i, v := range verdicts {
		c := f.Batch().Changes[from+i]
		t.canonical = c.AppendCanonical(t.canonical[:0])
		var err error
		switch {
		case v.held != nil:
			err = t.writeOutcome(h, c.Seq, outcomeRow{HeldIncarnation: v.heldNo, HeldSeq: v.held.change.Seq})
			ack.Held = append(ack.Held, c.Seq)
		case v.code != "":
			err = t.writeOutcome(h, c.Seq, outcomeRow{Code: string(v.code), Text: v.text})
			tellRefusal(ack, c.Seq, v.code, v.text)
		default:
			order := changelog.OrderFor(f.Asks(from+i), t.wall, highest)
			err = t.keep(f, c, order, h)
			tellOrder(ack, c, order)
		}
		if err != nil {
			return fmt.Errorf("writing change %s: %w", c.Identity(), err)
		}
		h.seq, h.hash, h.stamp, h.moved = c.Seq, h.hash.Then(t.canonical), c.Stamp, true
	}
	return nil
}

// tellOrder names an order only where it is not the stamp.
func tellOrder(ack *syncproto.Ack, c syncproto.Change, order syncproto.Stamp) {
	if order != c.Stamp {
		ack.Orders = append(ack.Orders, syncproto.SeqOrder{Seq: c.Seq, Order: order})
	}
}

// mostReasons is how many refusals of an answer say why, for whoever looks into it: what each says may be
// long, and an operation has many changes.
const mostReasons = 2_000

func tellRefusal(ack *syncproto.Ack, seq int64, code syncproto.Code, why string) {
	if len(ack.Refused) >= mostReasons {
		why = ""
	}
	ack.Refused = append(ack.Refused, syncproto.Refusal{Seq: seq, Code: code, Text: why})
}

// settleAgain answers for the first n changes of a frame, which are settled already: with the same
// bytes they are settled again, with other bytes the sender is not who it was.
func (t *transaction) settleAgain(f *changelog.Frame, h *head, n int, ack *syncproto.Ack) error {
	if n == 0 {
		return nil
	}
	// A copy of the phone came to the end of the operation first: an acknowledgement of this frame alone
	// would leave open what became of the parts before it, which the next welcome tells.
	if f.Conversation != nil && f.Conversation.Aside {
		return syncproto.Breachf(syncproto.CodeGap, "the operation that seq %d goes on with was settled meanwhile", f.Batch().Changes[0].Seq)
	}
	changes := f.Batch().Changes[:n]
	outcomes, err := t.outcomes(h.no, changes[0].Seq, changes[n-1].Seq)
	if err != nil {
		return fmt.Errorf("reading what incarnation %s has settled: %w", f.Incarnation, err)
	}
	log := reading{of: t, no: h.no}
	for _, c := range changes {
		canonical := c.AppendCanonical(t.canonical[:0])
		if o, ok := outcomes[c.Seq]; ok {
			if o.digest != sha256.Sum256(canonical) {
				return reused(c.Seq)
			}
			o.tell(c.Seq, ack)
			continue
		}
		was, ok, err := log.seq(c.Seq)
		if err != nil {
			return fmt.Errorf("reading what incarnation %s has settled: %w", f.Incarnation, err)
		}
		if !ok || !bytes.Equal(was.change.Canonical(), canonical) {
			return reused(c.Seq)
		}
		tellOrder(ack, c, was.order)
	}
	return nil
}

func reused(seq int64) error {
	return syncproto.Breachf(syncproto.CodeReused, "seq %d was settled before with other contents", seq)
}

// outcome is what became of a change that was not kept.
type outcome struct {
	digest [sha256.Size]byte
	code   syncproto.Code // empty where held under another identity
	text   string
}

func (o outcome) tell(seq int64, ack *syncproto.Ack) {
	if o.code == "" {
		ack.Held = append(ack.Held, seq)
		return
	}
	tellRefusal(ack, seq, o.code, o.text)
}

func scanOutcome(rows *sql.Rows) (seq int64, o outcome, err error) {
	var digest []byte
	err = rows.Scan(&seq, &digest, &o.code, &o.text)
	copy(o.digest[:], digest)
	return seq, o, err
}

// outcomes reads what was not kept of the changes from..to of an incarnation, by seq.
func (t *transaction) outcomes(no, from, to int64) (map[int64]outcome, error) {
	found := map[int64]outcome{}
	err := each(t.stmt(selOutcomes), []any{t.farm.No, no, from, to}, func(rows *sql.Rows) error {
		seq, o, err := scanOutcome(rows)
		found[seq] = o
		return err
	})
	return found, err
}
