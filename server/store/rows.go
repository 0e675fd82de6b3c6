package store

import (
	"crypto/sha256"
	"database/sql"
	"errors"
	"fmt"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// The rows that a transaction reads and writes.

// head is how far an incarnation has come within the transaction.
type head struct {
	incarnation string
	no          int64 // its number; 0 before it has a row
	seq         int64
	hash        syncproto.Hash
	stamp       syncproto.Stamp
	staged      staged
	device      string // whose it is, once anything of it is settled or put aside; empty for nobody's yet
	moved       bool

	named bool // a kept change names one of this incarnation as its former identity
	asked bool // whether that is so was looked up
}

// staged is how far the parts of a large operation have come, beyond what is settled.
type staged struct {
	seq   int64 // 0 for none
	hash  syncproto.Hash
	bytes int64 // canonical
}

// head finds how far an incarnation has come, counting this transaction.
func (t *transaction) head(incarnation string) (*head, error) {
	if h, ok := t.heads[incarnation]; ok {
		return h, nil
	}
	h, err := scanHead(t.stmt(selHead), t.farm.No, t.id, incarnation)
	if err != nil {
		return nil, err
	}
	t.heads[incarnation] = &h
	return &h, nil
}

func scanHead(statement *sql.Stmt, no int64, farm, incarnation string) (head, error) {
	h := head{incarnation: incarnation}
	var hash, stagedHash []byte
	err := statement.QueryRow(no, incarnation).Scan(&h.no, &h.seq, &hash, &h.stamp.L, &h.stamp.C,
		&h.staged.seq, &stagedHash, &h.staged.bytes, &h.device)
	if errors.Is(err, sql.ErrNoRows) {
		h.hash = syncproto.ChainStart(farm, incarnation)
		return h, nil
	}
	if err == nil && (copy(h.hash[:], hash) != len(h.hash) || copy(h.staged.hash[:], stagedHash) != len(h.hash) && h.staged.seq > 0) {
		err = errors.New("its chain value is cut short")
	}
	if err != nil {
		return h, fmt.Errorf("reading how far incarnation %s is: %w", incarnation, err)
	}
	return h, nil
}

// begun tells whether anything of it is settled or put aside.
func (h *head) begun() bool { return h.seq > 0 || h.staged.seq > 0 }

// belongsTo holds an incarnation to the device that wrote under it first. What no device sends passes: a
// file read in at the shed is the phone's that saved it, which may still come.
func (h *head) belongsTo(device string) error {
	switch {
	case !h.begun() || h.device == "":
		h.device = device
	case device != "" && device != h.device:
		return syncproto.Breachf(syncproto.CodeReused, "another device writes under this incarnation")
	}
	return nil
}

// number gives an incarnation its number when the first row that bears it is written.
func (t *transaction) number(h *head) error {
	if h.no > 0 {
		return nil
	}
	if err := t.stmt(insHead).QueryRow(t.farm.No, h.incarnation, h.hash[:]).Scan(&h.no); err != nil {
		return fmt.Errorf("noting incarnation %s: %w", h.incarnation, err)
	}
	return nil
}

// finish writes the last segment and the counters that the transaction moved.
func (t *transaction) finish() error {
	if err := t.flush(); err != nil {
		return err
	}
	for _, h := range t.heads {
		if !h.moved {
			continue
		}
		stagedHash := []byte{}
		if h.staged.seq > 0 {
			stagedHash = h.staged.hash[:]
		}
		_, err := t.stmt(updHead).Exec(h.seq, h.hash[:], h.stamp.L, h.stamp.C, h.staged.seq, stagedHash, h.staged.bytes, h.device, t.farm.No, h.no)
		if err != nil {
			return fmt.Errorf("writing how far incarnation %s is: %w", h.incarnation, err)
		}
	}
	_, err := t.stmt(updFarm).Exec(t.farm.NextArrival, t.farm.HighestL, t.farm.HighestC, t.farm.No)
	return err
}

// keep puts a change into the log: it joins the run, which is written when it is full or another
// begins. Its canonical bytes are in t.canonical.
func (t *transaction) keep(f *changelog.Frame, c syncproto.Change, order syncproto.Stamp, h *head) error {
	if err := t.keepIt(c, order, h); err != nil {
		return err
	}
	t.run.derive(f, t.runOf == t.at)
	t.runOf = t.at
	return nil
}

// keepIt is keep of a change that came without a frame.
func (t *transaction) keepIt(c syncproto.Change, order syncproto.Stamp, h *head) error {
	arrival := t.farm.NextArrival
	if !t.run.takes(h.no, c, arrival, len(t.canonical)) {
		if err := t.flush(); err != nil {
			return err
		}
	}
	t.run.add(h.no, c, order, arrival, len(t.canonical))
	t.farm.NextArrival++
	if order.Compare(t.farm.highest()) > 0 {
		t.farm.HighestL, t.farm.HighestC = order.L, order.C
	}
	former, ok := c.Former()
	if !ok {
		return nil
	}
	return t.noteFormer(former, c, arrival)
}

func (t *transaction) noteFormer(former syncproto.Identity, c syncproto.Change, arrival int64) error {
	if incarnation, _, err := former.Split(); err == nil {
		h, err := t.head(incarnation)
		if err != nil {
			return err
		}
		h.named = true
	}
	facts := digestOfFacts(c)
	_, err := t.stmt(insFormer).Exec(t.farm.No, string(former), facts[:], arrival)
	return err
}

// digestOfFacts stands for what a change says: see formerRow.
func digestOfFacts(c syncproto.Change) [sha256.Size]byte {
	return sha256.Sum256(changelog.FactsOf(c))
}

// flush writes the run as a segment.
func (t *transaction) flush() error {
	if len(t.run.batch.Changes) == 0 {
		return nil
	}
	written := t.run.segment()
	firstSeq := t.run.batch.Changes[0].Seq
	_, err := t.stmt(insSegment).Exec(t.farm.No, t.run.first, len(t.run.batch.Changes), t.run.no, firstSeq, t.run.scopes, written.Batch)
	if err != nil {
		return fmt.Errorf("writing the changes from seq %d of incarnation %s: %w", firstSeq, written.Incarnation, err)
	}
	t.results[t.runOf].Written = append(t.results[t.runOf].Written, written)
	t.run.clear()
	return nil
}

// writeOutcome notes a change that is not kept. Its canonical bytes are in t.canonical.
func (t *transaction) writeOutcome(h *head, seq int64, o outcomeRow) error {
	digest := sha256.Sum256(t.canonical)
	return t.noteOutcome(h, seq, digest[:], o)
}

// noteOutcome is writeOutcome of a change of which the SHA-256 alone is known.
func (t *transaction) noteOutcome(h *head, seq int64, digest []byte, o outcomeRow) error {
	_, err := t.stmt(insOutcome).Exec(t.farm.No, h.no, seq, digest, o.Code, o.Text, o.HeldIncarnation, o.HeldSeq)
	return err
}

// each visits the rows of a query.
func each(statement *sql.Stmt, args []any, visit func(*sql.Rows) error) error {
	return eachUntil(statement, args, func(rows *sql.Rows) (bool, error) { return false, visit(rows) })
}

// eachUntil visits the rows of a query until one is enough.
func eachUntil(statement *sql.Stmt, args []any, visit func(*sql.Rows) (enough bool, err error)) error {
	rows, err := statement.Query(args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if enough, err := visit(rows); err != nil || enough {
			return err
		}
	}
	return rows.Err()
}
