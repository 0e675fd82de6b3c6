package store

import (
	"bytes"
	"database/sql"
	"fmt"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// Parts of an operation that is larger than a frame are put aside until its last has come (see
// PROTOCOL.md, section 5.4).

// settlePart takes a frame in that goes on with what was put aside. What it repeats of that must be
// the same.
func (t *transaction) settlePart(f *changelog.Frame, h *head, ack *syncproto.Ack) error {
	parts, err := t.parts(h.no)
	if err != nil {
		return fmt.Errorf("reading what was put aside of incarnation %s: %w", f.Incarnation, err)
	}
	fresh, err := t.behind(parts, f, h)
	if err != nil || fresh.Len() == 0 {
		return err
	}
	before, next := lastOf(parts), fresh.Batch().Changes[0]
	if next.Stamp != before.Stamp || next.Rest != before.Rest-1 {
		// A copy of the phone put an operation of its own in the place of what this conversation had put aside.
		if f.Conversation != nil && f.Conversation.Aside {
			return syncproto.Breachf(syncproto.CodeGap, "another operation was put aside meanwhile, which seq %d does not go on with", next.Seq)
		}
		return syncproto.Breachf(syncproto.CodeSplit, "seq %d does not go on with the operation of seq %d", next.Seq, before.Seq)
	}
	if fresh.Part() {
		return t.putAside(fresh, h)
	}
	if next.Rest != fresh.Len()-1 {
		return syncproto.Breachf(syncproto.CodeSplit, "the last part of the operation of seq %d brings others with it", before.Seq)
	}
	if err := fits(h.staged.bytes + bytesOf(fresh)); err != nil {
		return err
	}
	whole := fresh.After(parts)
	if err := t.dropStaged(h); err != nil {
		return err
	}
	return t.settleOperation(whole, 0, whole.Len(), h, ack)
}

// behind compares what a frame repeats of the parts and is the frame without that.
func (t *transaction) behind(parts []syncproto.Batch, f *changelog.Frame, h *head) (*changelog.Frame, error) {
	n := int(min(h.staged.seq+1-f.Batch().Changes[0].Seq, int64(f.Len())))
	if n == 0 {
		return f, nil
	}
	staged := map[int64]syncproto.Change{}
	for _, part := range parts {
		for _, c := range part.Changes {
			staged[c.Seq] = c
		}
	}
	for _, c := range f.Batch().Changes[:n] {
		if !bytes.Equal(c.Canonical(), staged[c.Seq].Canonical()) {
			return nil, syncproto.Breachf(syncproto.CodeReused, "seq %d was put aside before with other contents", c.Seq)
		}
	}
	return f.Skip(n), nil
}

// lastOf is the last change of some parts.
func lastOf(parts []syncproto.Batch) syncproto.Change {
	changes := parts[len(parts)-1].Changes
	return changes[len(changes)-1]
}

func fits(bytes int64) error {
	if bytes > syncproto.MaxOperationBytes {
		return syncproto.Breachf(syncproto.CodeTooLarge, "an operation of more than %d bytes", syncproto.MaxOperationBytes)
	}
	return nil
}

func bytesOf(f *changelog.Frame) int64 { return int64(syncproto.SizeOf(f.Batch().Changes).Bytes) }

// putAside keeps a part for later. Nothing of it is settled yet.
func (t *transaction) putAside(f *changelog.Frame, h *head) error {
	size := h.staged.bytes + bytesOf(f)
	if err := fits(size); err != nil {
		return err
	}
	if err := t.number(h); err != nil {
		return err
	}
	changes := f.Batch().Changes
	_, err := t.stmt(insStaged).Exec(t.farm.No, h.no, changes[0].Seq, syncproto.AppendAlone(nil, f.Batch()))
	if err != nil {
		return fmt.Errorf("putting a part aside from seq %d of incarnation %s: %w", changes[0].Seq, f.Incarnation, err)
	}
	if h.staged.seq == 0 {
		h.staged.hash = h.hash
	}
	for _, c := range changes {
		t.canonical = c.AppendCanonical(t.canonical[:0])
		h.staged.hash = h.staged.hash.Then(t.canonical)
	}
	h.staged.seq, h.staged.bytes, h.moved = changes[len(changes)-1].Seq, size, true
	return nil
}

// dropStaged forgets what was put aside.
func (t *transaction) dropStaged(h *head) error {
	if h.staged.seq == 0 {
		return nil
	}
	h.staged, h.moved = staged{}, true
	if _, err := t.stmt(delStaged).Exec(t.farm.No, h.no); err != nil {
		return fmt.Errorf("dropping what was put aside: %w", err)
	}
	return nil
}

// parts reads what was put aside, in its order.
func (t *transaction) parts(no int64) ([]syncproto.Batch, error) {
	var parts []syncproto.Batch
	err := each(t.stmt(selStaged), []any{t.farm.No, no}, func(rows *sql.Rows) error {
		var packed sql.RawBytes
		if err := rows.Scan(&packed); err != nil {
			return err
		}
		part, err := syncproto.ReadAlone(packed)
		if err != nil {
			return fmt.Errorf("a part that was put aside: %v", err) // no fault of whoever talks to us
		}
		parts = append(parts, part)
		return nil
	})
	return parts, err
}
