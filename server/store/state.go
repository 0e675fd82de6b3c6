package store

import (
	"context"
	"database/sql"
	"fmt"

	"corymb/internal/changelog"
)

// State reads the merge state and the arrival number of the last change in it.
func (s *Store) State(ctx context.Context) (*changelog.State, int64, error) {
	state := changelog.NewState()
	var newest int64
	err := s.reading(ctx, func(tx *sql.Tx, farm counters) error {
		newest = farm.newest
		return s.eachKept(tx, 0, func(k kept) { state.Merge(k.change, k.order) })
	})
	return state, newest, explain("reading the farm", err)
}

// Entity reads the merge state of one entity, in a state that holds nothing else.
func (s *Store) Entity(ctx context.Context, entityType, id string) (*changelog.State, error) {
	state := changelog.NewState()
	merge := func(k kept) {
		if k.change.Type == entityType && k.change.ID == id {
			state.Merge(k.change, k.order)
		}
	}
	err := s.reading(ctx, func(tx *sql.Tx, farm counters) error {
		if err := s.eachOfEntity(tx, entityType, id, merge); err != nil {
			return err
		}
		return s.eachKept(tx, farm.projected, merge)
	})
	return state, explain("reading "+entityType+" "+id, err)
}

// Said is what one incarnation alone has said, under the orders that its changes were given.
func (s *Store) Said(ctx context.Context, incarnation string) (*changelog.State, error) {
	said := changelog.NewState()
	err := s.reading(ctx, func(tx *sql.Tx, _ counters) error {
		return each(tx.Stmt(s.read[readOf]), []any{s.no, incarnation}, func(rows *sql.Rows) error {
			return eachOfRow(rows, 0, func(k kept) { said.Merge(k.change, k.order) })
		})
	})
	return said, explain("reading what was said before", err)
}

// counters is how far the log and its projection are at one moment.
type counters struct {
	newest    int64
	projected int64
}

// reading reads one moment of the database.
func (s *Store) reading(ctx context.Context, read func(*sql.Tx, counters) error) error {
	tx, err := s.begin(ctx)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }() // it only reads
	var farm counters
	if err := tx.Stmt(s.read[readFarm]).QueryRow(s.no).Scan(&farm.newest, &farm.projected); err != nil {
		return fmt.Errorf("reading the farm's counters: %w", err)
	}
	return read(tx, farm)
}

// eachKept visits the changes behind an arrival number that are not known to stand no longer.
func (s *Store) eachKept(tx *sql.Tx, after int64, visit func(kept)) error {
	return each(tx.Stmt(s.read[readLog]), []any{s.no, after}, func(rows *sql.Rows) error {
		return eachOfRow(rows, after, visit)
	})
}

func eachOfRow(rows *sql.Rows, after int64, visit func(kept)) error {
	var found segment
	if err := found.scanPassed(rows); err != nil {
		return err
	}
	for i := range found.batch.Changes {
		k, _ := found.at(found.first + int64(i))
		if k.arrival > after && !found.passed.has(i) {
			visit(k)
		}
	}
	return nil
}

// eachOfEntity visits the changes that stand in the slots of an entity, as far as the projection is;
// a few of others may be among them.
func (s *Store) eachOfEntity(tx *sql.Tx, entityType, id string, visit func(kept)) error {
	low, high := placesOf(entityType, id)
	var arrivals []int64
	err := each(tx.Stmt(s.read[readEntity]), []any{s.no, low, high}, func(rows *sql.Rows) error {
		var arrival int64
		err := rows.Scan(&arrival)
		arrivals = append(arrivals, arrival)
		return err
	})
	if err != nil {
		return err
	}
	log := lookup{tx: tx, statement: s.read[readAt], no: s.no}
	for _, arrival := range arrivals {
		k, err := log.at(arrival)
		if err != nil {
			return err
		}
		visit(k)
	}
	return nil
}
