package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// Limits of one stretch of the log: as many changes as a frame may carry, and about as many bytes
// as a slow link carries in a minute.
const (
	tailChanges = syncproto.MaxFrameChanges
	tailBytes   = 1 << 20
)

// ReadAfter reads the log behind an arrival number, up to and with another, as far as one frame
// goes. Only changes of the given scopes are returned, but all count for Arrival and Last; with
// nothing to read, these are the number that was asked for and no identity.
func (s *Store) ReadAfter(ctx context.Context, after, upTo int64, scopes []syncproto.Scope) (changelog.Tail, error) {
	tail := changelog.Tail{Arrival: after}
	rows, err := s.tail[selTail].QueryContext(ctx, s.farm, after, upTo, tailChanges)
	if err != nil {
		return tail, explain("reading the change log", err)
	}
	defer rows.Close()
	size := 0
	for rows.Next() {
		var k changelog.Kept
		if err := rows.Scan(&k.Arrival, &k.Incarnation, &k.Seq, &k.Scope, &k.Order.L, &k.Order.C, &k.Bytes); err != nil {
			return tail, explain("reading the change log", err)
		}
		wanted := slices.Contains(scopes, k.Scope)
		if wanted && size > 0 && size+len(k.Bytes) > tailBytes {
			break
		}
		tail.Arrival, tail.Last = k.Arrival, syncproto.IdentityOf(k.Incarnation, k.Seq)
		if wanted {
			size += len(k.Bytes)
			tail.Changes = append(tail.Changes, k)
		}
	}
	return tail, explain("reading the change log", rows.Err())
}

// Standing tells how far an incarnation is, and whether a cursor (nil for none) holds for a reader
// of these scopes, all at one moment.
func (s *Store) Standing(ctx context.Context, incarnation string, cursor *syncproto.Cursor, scopes []syncproto.Scope) (changelog.Standing, error) {
	tx, err := s.begin(ctx)
	if err != nil {
		return changelog.Standing{}, explain("asking how far a phone is", err)
	}
	defer func() { _ = tx.Rollback() }() // it only reads
	standing, err := s.standing(tx, incarnation)
	if err == nil && cursor != nil {
		standing.Holds, err = s.cursorHolds(tx, *cursor, scopes)
	}
	return standing, explain("asking how far a phone is", err)
}

func (s *Store) standing(tx *sql.Tx, incarnation string) (changelog.Standing, error) {
	h, err := scanHead(tx.Stmt(s.tail[selStanding]), s.farm, incarnation)
	if err != nil {
		return changelog.Standing{}, err
	}
	standing := changelog.Standing{Seq: h.seq, Hash: h.hash, Stamp: h.stamp, Refused: []syncproto.Refusal{}}
	if err := tx.Stmt(s.tail[selNewest]).QueryRow(s.farm).Scan(&standing.Newest); err != nil {
		return standing, err
	}
	err = each(tx.Stmt(s.tail[selRefused]), []any{s.farm, incarnation}, func(rows *sql.Rows) error {
		var r syncproto.Refusal
		err := rows.Scan(&r.Seq, &r.Code, &r.Text)
		standing.Refused = append(standing.Refused, r)
		return err
	})
	return standing, err
}

// cursorHolds tells whether a phone that read up to the cursor can go on from there.
func (s *Store) cursorHolds(tx *sql.Tx, cursor syncproto.Cursor, scopes []syncproto.Scope) (bool, error) {
	if cursor.Epoch != s.epoch || !slices.Equal(cursor.Scopes, scopes) {
		return false, nil
	}
	if cursor.Arrival == 0 {
		return cursor.Last == "", nil
	}
	var incarnation string
	var seq int64
	err := tx.Stmt(s.tail[selArrival]).QueryRow(s.farm, cursor.Arrival).Scan(&incarnation, &seq)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("looking for arrival %d: %w", cursor.Arrival, err)
	}
	return cursor.Last == syncproto.IdentityOf(incarnation, seq), nil
}
