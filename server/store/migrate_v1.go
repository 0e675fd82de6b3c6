package store

import (
	"bytes"
	"database/sql"
	"errors"
	"fmt"

	"gorm.io/gorm"
)

// Version 1, before the first release, kept a row a change: its canonical bytes as JSON text. The
// changes, their arrival numbers and their orders stay what they were; only their rows are packed.

// oldTables are those that have a namesake in version 2, or none any more.
var oldTables = []string{"slots", "outcomes", "incarnations", "changes", "farms"}

func fromVersion1(tx *gorm.DB) error {
	for _, table := range oldTables {
		if err := tx.Exec("ALTER TABLE " + table + " RENAME TO old_" + table).Error; err != nil {
			return err
		}
	}
	if err := makeTables(tx); err != nil {
		return err
	}
	for _, text := range []string{
		`INSERT INTO farms (no, id, epoch, next_arrival, highest_l, highest_c, projected)
			SELECT 1, id, epoch, next_arrival, highest_l, highest_c, 0 FROM old_farms`,
		`INSERT INTO incarnations (farm, no, incarnation, seq, hash, stamp_l, stamp_c,
				staged, staged_hash, staged_bytes, device, person, seen, unsent)
			SELECT 1, row_number() OVER (ORDER BY incarnation), incarnation, seq, hash, stamp_l, stamp_c,
				0, x'', 0, device, person, seen, unsent FROM old_incarnations`,
		`INSERT INTO outcomes (farm, incarnation, seq, digest, code, text, held_incarnation, held_seq)
			SELECT 1, i.no, o.seq, o.digest, o.code, o.text, coalesce(h.no, 0), o.held_seq
			FROM old_outcomes o JOIN incarnations i ON i.incarnation = o.incarnation
			LEFT JOIN incarnations h ON h.incarnation = o.held_incarnation`,
	} {
		if err := tx.Exec(text).Error; err != nil {
			return err
		}
	}
	if err := packOldChanges(tx); err != nil {
		return err
	}
	if err := allCameOver(tx); err != nil {
		return err
	}
	for _, table := range oldTables {
		if err := tx.Exec("DROP TABLE old_" + table).Error; err != nil {
			return err
		}
	}
	return nil
}

// allCameOver fails where a row was passed over, as one whose incarnation has none of its own would be.
func allCameOver(tx *gorm.DB) error {
	for _, came := range []struct{ what, old, now string }{
		{"changes", "SELECT count(*) FROM old_changes", "SELECT coalesce(sum(n), 0) FROM segments"},
		{"outcomes", "SELECT count(*) FROM old_outcomes", "SELECT count(*) FROM outcomes"},
		{"incarnations", "SELECT count(*) FROM old_incarnations", "SELECT count(*) FROM incarnations"},
	} {
		var old, now int64
		if err := errors.Join(tx.Raw(came.old).Scan(&old).Error, tx.Raw(came.now).Scan(&now).Error); err != nil {
			return err
		}
		if old != now {
			return fmt.Errorf("%d of %d %s came over; nothing was changed; keep a copy of the data folder and ask for help", now, old, came.what)
		}
	}
	return nil
}

// packOldChanges reads the rows a stretch at a time: the one connection that writes cannot read on
// meanwhile.
func packOldChanges(tx *gorm.DB) error {
	var packing run
	write := func() error {
		if len(packing.batch.Changes) == 0 {
			return nil
		}
		row := segmentRow{
			FarmNo: 1, First: packing.first, N: int64(len(packing.batch.Changes)), Incarnation: packing.no,
			FirstSeq: packing.batch.Changes[0].Seq, Scopes: packing.scopes, Batch: packing.segment().Batch,
		}
		packing.clear()
		return tx.Omit("Farm").Create(&row).Error
	}
	for after := int64(0); ; {
		olds, err := oldChanges(tx, after)
		if err != nil {
			return err
		}
		if len(olds) == 0 {
			return write()
		}
		for _, o := range olds {
			if !packing.takes(o.no, o.change, o.arrival, o.bytes) {
				if err := write(); err != nil {
					return err
				}
			}
			packing.add(o.no, o.change, o.order, o.arrival, o.bytes)
			if err := packOldFormer(tx, o); err != nil {
				return err
			}
			after = o.arrival
		}
	}
}

func packOldFormer(tx *gorm.DB, o oldChange) error {
	former, ok := o.change.Former()
	if !ok {
		return nil
	}
	facts := digestOfFacts(o.change)
	return tx.Exec(appendTexts[insFormer], 1, string(former), facts[:], o.arrival).Error
}

// oldChange is a row of version 1.
type oldChange struct {
	kept
	no    int64 // its incarnation's
	bytes int
}

func oldChanges(tx *gorm.DB, after int64) (olds []oldChange, err error) {
	rows, err := tx.Raw(`SELECT c.arrival, i.no, c.order_l, c.order_c, c.bytes FROM old_changes c
		JOIN incarnations i ON i.incarnation = c.incarnation
		WHERE c.arrival > ? ORDER BY c.arrival LIMIT 5000`, after).Rows()
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	for rows.Next() {
		var o oldChange
		var canonical sql.RawBytes
		if err := rows.Scan(&o.arrival, &o.no, &o.order.L, &o.order.C, &canonical); err != nil {
			return nil, err
		}
		if err := o.change.UnmarshalJSON(canonical); err != nil {
			return nil, fmt.Errorf("arrival %d: %w", o.arrival, err)
		}
		if !bytes.Equal(o.change.Canonical(), canonical) {
			return nil, fmt.Errorf("arrival %d: its bytes are not canonical", o.arrival)
		}
		o.bytes = len(canonical)
		olds = append(olds, o)
	}
	return olds, rows.Err()
}
