package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// Verified is what Verify found.
type Verified struct {
	Changes      int64 // kept in the log
	Entities     int
	Incarnations int
	Faults       []string // sentences; none if all is well
}

// Verify merges the whole log anew and compares the result with the merge state, and checks that
// every incarnation's changes are settled exactly once. An error means that it could not look.
func (s *Store) Verify(ctx context.Context) (Verified, error) {
	s.writing.Lock() // both readings must see the same log
	defer s.writing.Unlock()
	var found Verified
	merged := changelog.NewState()
	changes, faults, err := s.mergeLog(ctx, merged)
	if err != nil {
		return found, explain("reading the log to verify it", err)
	}
	projected, newest, err := s.State(ctx)
	if err != nil {
		return found, err
	}
	found = Verified{Changes: changes, Entities: merged.Len(), Faults: faults}
	if newest != changes {
		found.Faults = append(found.Faults, fmt.Sprintf("the log holds %d changes, but the farm counted %d", changes, newest))
	}
	if !bytes.Equal(merged.Dump(), projected.Dump()) {
		found.Faults = append(found.Faults, "the merge state is not what the log comes to")
	}
	err = s.verifyIncarnations(ctx, &found)
	return found, explain("counting what is settled", err)
}

func (s *Store) mergeLog(ctx context.Context, into *changelog.State) (changes int64, faults []string, err error) {
	err = s.eachChange(ctx, func(k changelog.Kept, c syncproto.Change) error {
		if c.Identity() != syncproto.IdentityOf(k.Incarnation, k.Seq) || !bytes.Equal(c.Canonical(), k.Bytes) {
			faults = append(faults, fmt.Sprintf("the bytes of arrival %d are not those of its identity", k.Arrival))
		}
		into.Merge(c, k.Order)
		changes++
		return nil
	})
	return changes, faults, err
}

// eachChange visits the whole log in order of arrival.
func (s *Store) eachChange(ctx context.Context, visit func(changelog.Kept, syncproto.Change) error) error {
	newest := s.Newest()
	for at := int64(0); at < newest; {
		tail, err := s.ReadAfter(ctx, at, newest, syncproto.Scopes)
		if err != nil || tail.Arrival == at {
			return err
		}
		for _, k := range tail.Changes {
			var c syncproto.Change
			if err := c.UnmarshalJSON(k.Bytes); err != nil {
				return fmt.Errorf("arrival %d: %w", k.Arrival, err)
			}
			if err := visit(k, c); err != nil {
				return fmt.Errorf("arrival %d: %w", k.Arrival, err)
			}
		}
		at = tail.Arrival
	}
	return nil
}

// Said is what one incarnation alone has said, under the orders that its changes were given.
func (s *Store) Said(ctx context.Context, incarnation string) (*changelog.State, error) {
	said := changelog.NewState()
	err := s.eachChange(ctx, func(k changelog.Kept, c syncproto.Change) error {
		if k.Incarnation == incarnation {
			said.Merge(c, k.Order)
		}
		return nil
	})
	return said, explain("reading what was said before", err)
}

// verifyIncarnations compares each incarnation's settled seq with what was kept and not kept.
func (s *Store) verifyIncarnations(ctx context.Context, found *Verified) error {
	rows, err := s.reader.QueryContext(ctx, `SELECT i.incarnation, i.seq,
		(SELECT count(*) FROM changes c WHERE c.farm = i.farm AND c.incarnation = i.incarnation AND c.seq <= i.seq) +
		(SELECT count(*) FROM outcomes o WHERE o.farm = i.farm AND o.incarnation = i.incarnation AND o.seq <= i.seq)
		FROM incarnations i WHERE i.farm = ?`, s.farm)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var incarnation string
		var settled, there int64
		if err := rows.Scan(&incarnation, &settled, &there); err != nil {
			return err
		}
		found.Incarnations++
		if settled != there {
			found.Faults = append(found.Faults, fmt.Sprintf("incarnation %s has %d changes settled, but %d are there", incarnation, settled, there))
		}
	}
	return rows.Err()
}

// Rebuild throws the merge state away and makes it anew from the log, in one transaction.
func (s *Store) Rebuild(ctx context.Context) error {
	s.writing.Lock()
	defer s.writing.Unlock()
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return explain("rebuilding the merge state", err)
	}
	if err = s.rebuild(ctx, tx); err == nil {
		err = tx.Commit()
	}
	if err != nil {
		err = errors.Join(err, ignoreDone(tx.Rollback()))
	}
	return explain("rebuilding the merge state", err)
}

func (s *Store) rebuild(ctx context.Context, tx *sql.Tx) error {
	if _, err := tx.ExecContext(ctx, "DELETE FROM slots WHERE farm = ?", s.farm); err != nil {
		return err
	}
	bound := s.append.in(tx)
	return s.eachChange(ctx, func(k changelog.Kept, c syncproto.Change) error {
		return putSlotOf(bound, s.farm, c, k.Order)
	})
}
