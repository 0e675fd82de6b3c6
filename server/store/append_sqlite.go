package store

import (
	"database/sql"
	"fmt"
)

// The hot path in SQLite's dialect. Text is compared as bytes (its BINARY collation, the default),
// as Go compares it; another dialect must ask for that.

// appendSQL holds the statements of an append, prepared once on the writer.
type appendSQL [appendStatements]*sql.Stmt

const (
	selFarm = iota
	updFarm
	selHead
	putHead
	selKeptRange
	selOutcomeRange
	selKeptAt
	selHeldAs
	selFormer
	insChange
	insOutcome
	putSlot
	appendStatements
)

var appendTexts = [appendStatements]string{
	selFarm: `SELECT next_arrival, highest_l, highest_c FROM farms WHERE id = ?`,
	updFarm: `UPDATE farms SET next_arrival = ?, highest_l = ?, highest_c = ? WHERE id = ?`,
	selHead: `SELECT seq, hash, stamp_l, stamp_c FROM incarnations WHERE farm = ? AND incarnation = ?`,
	putHead: `INSERT INTO incarnations (farm, incarnation, seq, hash, stamp_l, stamp_c, device, person, seen, unsent)
		VALUES (?, ?, ?, ?, ?, ?, '', '', 0, 0)
		ON CONFLICT (farm, incarnation) DO UPDATE
		SET seq = excluded.seq, hash = excluded.hash, stamp_l = excluded.stamp_l, stamp_c = excluded.stamp_c`,
	selKeptRange: `SELECT seq, bytes, order_l, order_c FROM changes
		WHERE farm = ? AND incarnation = ? AND seq BETWEEN ? AND ?`,
	selOutcomeRange: `SELECT o.seq, o.digest, o.code, o.text, coalesce(c.order_l, 0), coalesce(c.order_c, 0) FROM outcomes o
		LEFT JOIN changes c ON c.farm = o.farm AND c.incarnation = o.held_incarnation AND c.seq = o.held_seq
		WHERE o.farm = ? AND o.incarnation = ? AND o.seq BETWEEN ? AND ?`,
	selKeptAt: `SELECT incarnation, seq, bytes, order_l, order_c FROM changes
		WHERE farm = ? AND incarnation = ? AND seq = ?`,
	selHeldAs: `SELECT c.incarnation, c.seq, c.bytes, c.order_l, c.order_c FROM outcomes o
		JOIN changes c ON c.farm = o.farm AND c.incarnation = o.held_incarnation AND c.seq = o.held_seq
		WHERE o.farm = ? AND o.incarnation = ? AND o.seq = ?`,
	selFormer: `SELECT incarnation, seq, bytes, order_l, order_c FROM changes
		WHERE farm = ? AND former = ? AND former <> ''`,
	insChange: `INSERT INTO changes (farm, arrival, incarnation, seq, scope, order_l, order_c, former, bytes)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
	insOutcome: `INSERT INTO outcomes (farm, incarnation, seq, digest, code, text, held_incarnation, held_seq)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
	putSlot: `INSERT INTO slots (farm, type, id, op, field, part, entry_op, value, extra, order_l, order_c, incarnation, seq, person)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (farm, type, id, op, field, part) DO UPDATE
		SET entry_op = excluded.entry_op, value = excluded.value, extra = excluded.extra,
			order_l = excluded.order_l, order_c = excluded.order_c,
			incarnation = excluded.incarnation, seq = excluded.seq, person = excluded.person
		WHERE (excluded.order_l, excluded.order_c, excluded.incarnation, excluded.seq)
			> (slots.order_l, slots.order_c, slots.incarnation, slots.seq)`,
}

func (a *appendSQL) prepare(db *sql.DB) error { return prepare(db, a[:], appendTexts[:]) }

// in makes the statements run inside a transaction.
func (a *appendSQL) in(tx *sql.Tx) appendSQL {
	var bound appendSQL
	for i, statement := range a {
		bound[i] = tx.Stmt(statement)
	}
	return bound
}

// tailSQL holds the statements that phones' reading needs, prepared once on the readers.
type tailSQL [tailStatements]*sql.Stmt

const (
	selTail = iota
	selArrival
	selStanding
	selRefused
	selNewest
	tailStatements
)

var tailTexts = [tailStatements]string{
	selTail: `SELECT arrival, incarnation, seq, scope, order_l, order_c, bytes FROM changes
		WHERE farm = ? AND arrival > ? AND arrival <= ? ORDER BY arrival LIMIT ?`,
	selArrival:  `SELECT incarnation, seq FROM changes WHERE farm = ? AND arrival = ?`,
	selStanding: appendTexts[selHead],
	selRefused: `SELECT seq, code, text FROM outcomes
		WHERE farm = ? AND incarnation = ? AND code <> '' ORDER BY seq`,
	selNewest: `SELECT next_arrival - 1 FROM farms WHERE id = ?`,
}

func (t *tailSQL) prepare(db *sql.DB) error { return prepare(db, t[:], tailTexts[:]) }

func prepare(db *sql.DB, into []*sql.Stmt, texts []string) error {
	for i, text := range texts {
		statement, err := db.Prepare(text)
		if err != nil {
			return fmt.Errorf("preparing %q: %w", text, err)
		}
		into[i] = statement
	}
	return nil
}
