package store

import (
	"crypto/sha256"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// The rows that a batch reads and writes.

// head finds how far an incarnation has come, counting this batch.
func (b *batch) head(incarnation string) (*head, error) {
	if h, ok := b.heads[incarnation]; ok {
		return h, nil
	}
	h, err := scanHead(b.sql[selHead], b.farm.ID, incarnation)
	if err != nil {
		return nil, err
	}
	b.heads[incarnation] = &h
	return &h, nil
}

func scanHead(statement *sql.Stmt, farm, incarnation string) (head, error) {
	h := head{hash: syncproto.ChainStart(farm, incarnation)}
	var hash []byte
	err := statement.QueryRow(farm, incarnation).Scan(&h.seq, &hash, &h.stamp.L, &h.stamp.C)
	if errors.Is(err, sql.ErrNoRows) {
		return h, nil
	}
	if err == nil && copy(h.hash[:], hash) != len(h.hash) {
		err = errors.New("its chain value is cut short")
	}
	if err != nil {
		return h, fmt.Errorf("reading how far incarnation %s is: %w", incarnation, err)
	}
	return h, nil
}

// finish writes the counters that the batch moved.
func (b *batch) finish() error {
	for incarnation, h := range b.heads {
		if !h.moved {
			continue
		}
		if _, err := b.sql[putHead].Exec(b.farm.ID, incarnation, h.seq, h.hash[:], h.stamp.L, h.stamp.C); err != nil {
			return fmt.Errorf("writing how far incarnation %s is: %w", incarnation, err)
		}
	}
	_, err := b.sql[updFarm].Exec(b.farm.NextArrival, b.farm.HighestL, b.farm.HighestC, b.farm.ID)
	return err
}

// writeKept puts a change into the log and its slot.
func (b *batch) writeKept(c syncproto.Change, canonical []byte, order syncproto.Stamp) error {
	former, _ := c.Former()
	_, err := b.sql[insChange].Exec(b.farm.ID, b.farm.NextArrival, c.Incarnation, c.Seq,
		string(c.Scope), order.L, order.C, string(former), canonical)
	if err != nil {
		return err
	}
	b.farm.NextArrival++
	if order.Compare(b.farm.highest()) > 0 {
		b.farm.HighestL, b.farm.HighestC = order.L, order.C
	}
	return putSlotOf(b.sql, b.farm.ID, c, order)
}

// putSlotOf lets a change compete for its slot.
func putSlotOf(bound appendSQL, farm string, c syncproto.Change, order syncproto.Stamp) error {
	slot := changelog.SlotOf(c)
	extra := []byte{}
	if len(c.Extra) > 0 {
		var err error
		if extra, err = json.Marshal(c.Extra); err != nil {
			return err
		}
	}
	_, err := bound[putSlot].Exec(farm, c.Type, c.ID, string(slot.Op), slot.Field, slot.Part, string(c.Op),
		c.Value.AppendCanonical(nil), extra, order.L, order.C, c.Incarnation, c.Seq, c.Person)
	return err
}

func (b *batch) writeRefused(c syncproto.Change, canonical []byte, v verdict) error {
	return b.writeOutcome(c, canonical, outcomeRow{Code: string(v.code), Text: v.text})
}

func (b *batch) writeHeld(c syncproto.Change, canonical []byte, h held) error {
	return b.writeOutcome(c, canonical, outcomeRow{HeldIncarnation: h.incarnation, HeldSeq: h.seq})
}

func (b *batch) writeOutcome(c syncproto.Change, canonical []byte, o outcomeRow) error {
	digest := sha256.Sum256(canonical)
	_, err := b.sql[insOutcome].Exec(b.farm.ID, c.Incarnation, c.Seq, digest[:], o.Code, o.Text, o.HeldIncarnation, o.HeldSeq)
	return err
}

// settledBetween reads what became of the changes from..to of an incarnation, by seq.
func (b *batch) settledBetween(incarnation string, from, to int64) (map[int64]settled, error) {
	found := make(map[int64]settled, to-from+1)
	err := each(b.sql[selKeptRange], []any{b.farm.ID, incarnation, from, to}, func(rows *sql.Rows) error {
		var seq int64
		var canonical sql.RawBytes
		var s settled
		err := rows.Scan(&seq, &canonical, &s.order.L, &s.order.C)
		s.digest = sha256.Sum256(canonical)
		found[seq] = s
		return err
	})
	if err != nil {
		return nil, err
	}
	return found, each(b.sql[selOutcomeRange], []any{b.farm.ID, incarnation, from, to}, func(rows *sql.Rows) error {
		var seq int64
		var digest []byte
		var s settled
		err := rows.Scan(&seq, &digest, &s.code, &s.text, &s.order.L, &s.order.C)
		copy(s.digest[:], digest)
		found[seq] = s
		return err
	})
}

// each visits the rows of a query.
func each(statement *sql.Stmt, args []any, visit func(*sql.Rows) error) error {
	rows, err := statement.Query(args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := visit(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}
