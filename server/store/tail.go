package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"slices"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// tailBytes is about as much of the log as a slow link carries in a minute.
const tailBytes = 1 << 20

// ReadAfter reads the log behind an arrival number, up to and with another, as far as one batch
// goes. Only changes of the given scopes that still stand are returned, but all count for Arrival
// and Last; with nothing to read, these are the number that was asked for and no identity.
func (s *Store) ReadAfter(ctx context.Context, after, upTo int64, scopes []syncproto.Scope) (changelog.Tail, error) {
	t := tailing{tail: changelog.Tail{Arrival: after, Batch: syncproto.Batch{Proven: true}}, upTo: min(upTo, s.Newest()), scopes: scopes}
	if t.upTo <= after {
		return t.tail, nil
	}
	err := t.read(ctx, s)
	return t.tail, explain("reading the change log", err)
}

// tailing is a stretch of the log being read.
type tailing struct {
	tail   changelog.Tail
	upTo   int64
	scopes []syncproto.Scope
	bytes  int
	names  int
}

func (t *tailing) read(ctx context.Context, s *Store) error {
	rows, err := s.read[readTail].QueryContext(ctx, s.no, t.tail.Arrival, t.upTo, scopeBits(t.scopes...))
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var row packedSegment
		if err := row.scan(rows); err != nil {
			return err
		}
		// A segment read in two stretches would be unpacked twice.
		if n := len(t.tail.Batch.Changes); n > 0 && n+int(row.n) > syncproto.MaxFrameChanges {
			return nil
		}
		found, err := row.unpack()
		if err != nil {
			return err
		}
		if full := t.take(found); full {
			return nil
		}
	}
	if err := rows.Err(); err != nil {
		return err
	}
	t.tail.Arrival = t.upTo
	t.tail.Last, err = s.identityAt(ctx, t.upTo)
	return err
}

// take adds a segment's changes; it tells whether the stretch is full.
func (t *tailing) take(s segment) (full bool) {
	from := max(0, int(t.tail.Arrival+1-s.first))
	to := min(len(s.batch.Changes), int(t.upTo+1-s.first))
	for i := from; i < to; i++ {
		c := s.batch.Changes[i]
		if !s.passed.has(i) && slices.Contains(t.scopes, c.Scope) {
			if !t.hasRoom(c) {
				t.addOrigins(s.batch.Origins)
				return true
			}
			t.tail.Batch.Changes = append(t.tail.Batch.Changes, c)
			t.tail.Batch.Orders = append(t.tail.Batch.Orders, s.batch.Orders[i])
		}
		t.tail.Arrival, t.tail.Last = s.first+int64(i), c.Identity()
	}
	t.addOrigins(s.batch.Origins)
	return false
}

func (t *tailing) addOrigins(origins map[string]syncproto.Origin) {
	if t.tail.Batch.Origins == nil {
		t.tail.Batch.Origins = origins // read for this alone
		return
	}
	maps.Copy(t.tail.Batch.Origins, origins)
}

// hasRoom tells whether a change still fits, and counts it.
func (t *tailing) hasRoom(c syncproto.Change) bool {
	n := len(t.tail.Batch.Changes)
	bytes, names := t.bytes+c.MostBytes(), t.names+namesOf(c)
	if n > 0 && (n == syncproto.MaxFrameChanges || bytes > tailBytes || names > segmentNames) {
		return false
	}
	t.bytes, t.names = bytes, names
	return true
}

func (s *Store) identityAt(ctx context.Context, arrival int64) (syncproto.Identity, error) {
	return scanIdentity(s.read[readIdentity].QueryRowContext(ctx, s.no, arrival), arrival)
}

func scanIdentity(row *sql.Row, arrival int64) (syncproto.Identity, error) {
	var incarnation string
	var seq int64
	if err := row.Scan(&incarnation, &seq); err != nil {
		return "", fmt.Errorf("looking for arrival %d: %w", arrival, err)
	}
	return syncproto.IdentityOf(incarnation, seq), nil
}

// Standing tells how far an incarnation is, what became of its changes that the phone does not know
// of, and whether its cursor holds, all at one moment.
func (s *Store) Standing(ctx context.Context, asked changelog.Asked) (changelog.Standing, error) {
	tx, err := s.begin(ctx)
	if err != nil {
		return changelog.Standing{}, explain("asking how far a phone is", err)
	}
	defer func() { _ = tx.Rollback() }() // it only reads
	standing, err := s.standing(tx, asked)
	return standing, explain("asking how far a phone is", err)
}

func (s *Store) standing(tx *sql.Tx, asked changelog.Asked) (changelog.Standing, error) {
	h, err := scanHead(tx.Stmt(s.read[readHead]), s.no, s.farm, asked.Incarnation)
	if err != nil {
		return changelog.Standing{}, err
	}
	standing := changelog.Standing{Seq: h.seq, Hash: h.hash, Stamp: h.stamp, Staged: h.staged.seq, StagedHash: h.staged.hash, Device: h.device}
	var projected int64
	if err := tx.Stmt(s.read[readFarm]).QueryRow(s.no).Scan(&standing.Newest, &projected); err != nil {
		return standing, err
	}
	standing.Told = min(h.seq, asked.Settled+mostTold)
	if asked.Settled < h.seq {
		if err := s.tellOutcomes(tx, h, asked.Settled, &standing); err != nil {
			return standing, err
		}
	}
	if asked.Cursor != nil {
		standing.Holds, err = s.cursorHolds(tx, *asked.Cursor, asked.Scopes)
	}
	return standing, err
}

// mostTold bounds the changes that a phone is told about when it comes, and with them the welcome. A phone
// has rarely so many under way.
const mostTold = 5 * syncproto.MaxFrameChanges

// tellOutcomes tells what became of the changes above a seq, as an acknowledgement would.
func (s *Store) tellOutcomes(tx *sql.Tx, h head, above int64, standing *changelog.Standing) error {
	var ack syncproto.Ack
	err := each(tx.Stmt(s.read[readOutcomes]), []any{s.no, h.no, above + 1, standing.Told}, func(rows *sql.Rows) error {
		seq, o, err := scanOutcome(rows)
		o.tell(seq, &ack)
		return err
	})
	if err != nil {
		return err
	}
	err = each(tx.Stmt(s.read[readCovering]), []any{s.no, h.no, above + 1, standing.Told}, func(rows *sql.Rows) error {
		var found segment
		err := found.scanPassed(rows)
		for i, c := range found.batch.Changes {
			if c.Seq > above && c.Seq <= standing.Told {
				tellOrder(&ack, c, found.batch.Orders[i])
			}
		}
		return err
	})
	standing.Orders, standing.Held, standing.Refused = ack.Orders, ack.Held, ack.Refused
	return err
}

// cursorHolds tells whether a phone that read up to the cursor can go on from there: the log that it
// read is the beginning of this one.
func (s *Store) cursorHolds(tx *sql.Tx, cursor syncproto.Cursor, scopes []syncproto.Scope) (bool, error) {
	if cursor.Epoch != s.epoch || !slices.Equal(cursor.Scopes, scopes) {
		return false, nil
	}
	if holds, err := s.ownHolds(tx, cursor.Own); err != nil || !holds {
		return false, err
	}
	if cursor.Arrival == 0 {
		return cursor.Last == "", nil
	}
	place, ok := changelog.ParsePlace(cursor.Last)
	if !ok {
		return false, nil
	}
	if holds, err := s.wasHere(tx, place.Life, cursor.Arrival); err != nil || !holds {
		return false, err
	}
	last, err := scanIdentity(tx.Stmt(s.read[readIdentity]).QueryRow(s.no, cursor.Arrival), cursor.Arrival)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	return err == nil && last == place.Last, err
}

// ownHolds tells whether what a phone heard of its own changes, it heard of this log.
func (s *Store) ownHolds(tx *sql.Tx, own string) (bool, error) {
	if own == "" {
		return true, nil
	}
	arrival, life, ok := changelog.ParseOwnPlace(own)
	if !ok {
		return false, nil
	}
	return s.wasHere(tx, life, arrival)
}

// wasHere tells whether the log of a life, up to an arrival number, is the beginning of this one.
func (s *Store) wasHere(tx *sql.Tx, life string, arrival int64) (bool, error) {
	var upTo int64
	err := tx.Stmt(s.read[readLife]).QueryRow(s.no, life).Scan(&upTo)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	return err == nil && arrival <= upTo, err
}
