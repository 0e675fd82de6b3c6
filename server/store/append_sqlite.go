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
	insHead
	updHead
	selCovering
	selAt
	selOutcomes
	selHeld
	selFormers
	selNamed
	insSegment
	insOutcome
	insFormer
	selStaged
	insStaged
	delStaged
	appendStatements
)

const (
	// A segment as the log's readers take it: see segment.scan.
	segmentColumns = `s.first, s.n, s.first_seq, s.batch`
	// Those that hold seqs ?3 to ?4 of incarnation ?2, in their order.
	coveringSeqs = `s.farm = ?1 AND s.incarnation = ?2 AND s.first_seq <= ?4 AND s.first_seq + s.n > ?3
		AND s.first_seq >= coalesce((SELECT max(first_seq) FROM segments
			WHERE farm = ?1 AND incarnation = ?2 AND first_seq <= ?3), 0)
		ORDER BY s.first_seq`
	// The one that may hold arrival ?2.
	lastUpTo = `s.farm = ?1 AND s.first = (SELECT max(first) FROM segments WHERE farm = ?1 AND first <= ?2)`
)

var appendTexts = [appendStatements]string{
	selFarm: `SELECT next_arrival, highest_l, highest_c FROM farms WHERE no = ?`,
	updFarm: `UPDATE farms SET next_arrival = ?, highest_l = ?, highest_c = ? WHERE no = ?`,
	selHead: `SELECT no, seq, hash, stamp_l, stamp_c, staged, staged_hash, staged_bytes, device FROM incarnations
		WHERE farm = ? AND incarnation = ?`,
	insHead: `INSERT INTO incarnations (farm, no, incarnation, seq, hash, stamp_l, stamp_c,
			staged, staged_hash, staged_bytes, device, person, seen, unsent)
		SELECT ?1, coalesce(max(no), 0) + 1, ?2, 0, ?3, 0, 0, 0, x'', 0, '', '', 0, 0
		FROM incarnations WHERE farm = ?1 RETURNING no`,
	updHead: `UPDATE incarnations SET seq = ?, hash = ?, stamp_l = ?, stamp_c = ?,
			staged = ?, staged_hash = ?, staged_bytes = ?, device = ?
		WHERE farm = ? AND no = ?`,
	selCovering: `SELECT ` + segmentColumns + ` FROM segments s WHERE ` + coveringSeqs,
	selAt:       `SELECT ` + segmentColumns + ` FROM segments s WHERE ` + lastUpTo,
	selOutcomes: `SELECT seq, digest, code, text FROM outcomes
		WHERE farm = ? AND incarnation = ? AND seq BETWEEN ? AND ? ORDER BY seq`,
	selHeld: `SELECT held_incarnation, held_seq FROM outcomes
		WHERE farm = ? AND incarnation = ? AND seq = ? AND held_incarnation <> 0`,
	selFormers: `SELECT arrival FROM formers WHERE farm = ? AND former = ? AND facts = ?`,
	selNamed:   `SELECT EXISTS (SELECT 1 FROM formers WHERE farm = ? AND former > ? AND former < ?)`,
	insSegment: `INSERT INTO segments (farm, first, n, incarnation, first_seq, scopes, batch)
		VALUES (?, ?, ?, ?, ?, ?, ?)`,
	insOutcome: `INSERT INTO outcomes (farm, incarnation, seq, digest, code, text, held_incarnation, held_seq)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
	// An operation may say the same twice; the first is found.
	insFormer: `INSERT INTO formers (farm, former, facts, arrival) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING`,
	selStaged: `SELECT batch FROM staged WHERE farm = ? AND incarnation = ? ORDER BY first_seq`,
	insStaged: `INSERT INTO staged (farm, incarnation, first_seq, batch) VALUES (?, ?, ?, ?)`,
	delStaged: `DELETE FROM staged WHERE farm = ? AND incarnation = ?`,
}

// keepApart refuses a segment that holds a seq of its incarnation, or an arrival number, that another
// holds. The unique index cannot: it sees where segments begin, not how far they reach.
const keepApart = `CREATE TRIGGER IF NOT EXISTS segments_apart BEFORE INSERT ON segments
	WHEN EXISTS (SELECT 1 FROM segments WHERE farm = NEW.farm AND incarnation = NEW.incarnation
			AND first_seq + n > NEW.first_seq AND first_seq = (SELECT max(first_seq) FROM segments
				WHERE farm = NEW.farm AND incarnation = NEW.incarnation AND first_seq < NEW.first_seq + NEW.n))
		OR EXISTS (SELECT 1 FROM segments WHERE farm = NEW.farm AND first + n > NEW.first
			AND first = (SELECT max(first) FROM segments WHERE farm = NEW.farm AND first < NEW.first + NEW.n))
	BEGIN SELECT RAISE(ABORT, 'another segment holds some of its changes'); END`

func (a *appendSQL) prepare(db *sql.DB) error { return prepare(db, a[:], appendTexts[:]) }

// readSQL holds the statements that read the log, prepared once on the readers.
type readSQL [readStatements]*sql.Stmt

const (
	readTail = iota
	readLog
	readOf
	readCovering
	readAt
	readIdentity
	readLife
	readHead
	readOutcomes
	readFarm
	readSlots
	readEntity
	readPlaces
	readBits
	readPassed
	readStatements
)

const withPassed = ` FROM segments s LEFT JOIN passed p ON p.farm = s.farm AND p.first = s.first WHERE `

var readTexts = [readStatements]string{
	// What stands behind arrival ?2 up to ?3, of segments that have something in the scopes of ?4.
	readTail: `SELECT ` + segmentColumns + `, p.bits` + withPassed + `s.farm = ?1
		AND s.first >= coalesce((SELECT max(first) FROM segments WHERE farm = ?1 AND first <= ?2 + 1), 0)
		AND s.first + s.n > ?2 + 1 AND s.first <= ?3
		AND s.scopes & ?4 <> 0 AND (p.n IS NULL OR p.n < s.n) ORDER BY s.first`,
	readLog: `SELECT ` + segmentColumns + `, p.bits` + withPassed + `s.farm = ?1 AND s.first > ?2
		ORDER BY s.first`,
	readOf: `SELECT ` + segmentColumns + `, NULL FROM segments s JOIN incarnations i
			ON i.farm = s.farm AND i.no = s.incarnation
		WHERE s.farm = ? AND i.incarnation = ? ORDER BY s.first_seq`,
	readCovering: `SELECT ` + segmentColumns + `, NULL FROM segments s WHERE ` + coveringSeqs,
	readAt:       appendTexts[selAt],
	readIdentity: `SELECT i.incarnation, s.first_seq + ?2 - s.first FROM segments s JOIN incarnations i
			ON i.farm = s.farm AND i.no = s.incarnation
		WHERE ` + lastUpTo + ` AND s.first + s.n > ?2`,
	// Up to which arrival the log of life ?2 is this one's too.
	readLife: `SELECT coalesce((SELECT min(after) FROM lives WHERE farm = l.farm AND no > l.no),
			(SELECT next_arrival - 1 FROM farms WHERE no = l.farm))
		FROM lives l WHERE l.farm = ?1 AND l.life = ?2`,
	readHead:     appendTexts[selHead],
	readOutcomes: appendTexts[selOutcomes],
	readFarm:     `SELECT next_arrival - 1, projected FROM farms WHERE no = ?`,
	readEntity:   `SELECT arrival FROM slots WHERE farm = ? AND place BETWEEN ? AND ? ORDER BY arrival`,
	readPlaces:   `SELECT place, arrival FROM slots WHERE farm = ?`,
	readSlots: `SELECT place, arrival FROM slots
		WHERE farm = ?1 AND place IN (SELECT value FROM json_each(?2))`,
	readBits:   `SELECT bits FROM passed WHERE farm = ? AND first = ?`,
	readPassed: `SELECT first, n, bits FROM passed WHERE farm = ? ORDER BY first`,
}

func (r *readSQL) prepare(db *sql.DB) error { return prepare(db, r[:], readTexts[:]) }

// What the projector writes. All slots are told in one JSON text: a statement for each would keep
// appends waiting several times as long.
const (
	putSlots = `INSERT INTO slots (farm, place, arrival)
		SELECT ?1, value ->> 0, value ->> 1 FROM json_each(?2) WHERE true
		ON CONFLICT (farm, place) DO UPDATE SET arrival = excluded.arrival`
	putPassed = `INSERT INTO passed (farm, first, n, bits) VALUES (?, ?, ?, ?)
		ON CONFLICT (farm, first) DO UPDATE SET n = excluded.n, bits = excluded.bits`
	updProjected = `UPDATE farms SET projected = ? WHERE no = ?`
)

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
