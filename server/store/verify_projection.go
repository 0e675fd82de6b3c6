package store

import (
	"context"
	"database/sql"
	"errors"
)

// compareSlots looks for every slot that the log comes to, as a reader would, and counts them.
func (v *verification) compareSlots(s *Store, tx *sql.Tx) error {
	slots := map[int64]int64{} // arrivals by place
	err := each(tx.Stmt(s.read[readPlaces]), []any{s.no}, func(rows *sql.Rows) error {
		var place, arrival int64
		err := rows.Scan(&place, &arrival)
		slots[place] = arrival
		return err
	})
	names := make(map[int64]slotName, len(v.standing)) // by arrival
	for name, k := range v.standing {
		names[k.arrival] = name
	}
	wrong := 0
	for name := range v.standing {
		if !s.finds(name, slots, names) {
			wrong++
		}
	}
	if wrong > 0 || len(slots) != len(v.standing) {
		v.fault("the merge state is not what the log comes to: it has %d slots of %d, and %d of them are wrong", len(slots), len(v.standing), wrong)
	}
	return err
}

// finds tells whether the search for a slot ends at the change that stands there.
func (s *Store) finds(name slotName, slots map[int64]int64, names map[int64]slotName) bool {
	for place := s.placeOf(name); ; place = nextPlace(place) {
		arrival, taken := slots[place]
		other, stands := names[arrival]
		if !taken || !stands {
			return false
		}
		if other == name {
			return true
		}
	}
}

// comparePassed compares the marks of what stands no longer with what the log comes to.
func (v *verification) comparePassed(s *Store, tx *sql.Tx) error {
	var found, wrong int
	err := each(tx.Stmt(s.read[readPassed]), []any{s.no}, func(rows *sql.Rows) error {
		var first, n int64
		var bits []byte
		if err := rows.Scan(&first, &n, &bits); err != nil {
			return err
		}
		if int64(bitmap(bits).count()) != n {
			wrong++
		}
		for i := range 8 * len(bits) {
			if !bitmap(bits).has(i) {
				continue
			}
			found++
			if !v.passed[first+int64(i)] {
				wrong++
			}
		}
		return nil
	})
	if wrong > 0 || found != len(v.passed) {
		v.fault("%d changes are marked as standing no longer, of %d, and %d marks are wrong", found, len(v.passed), wrong)
	}
	return err
}

// Rebuild throws the merge state away and makes it anew from the log.
func (s *Store) Rebuild(ctx context.Context) error {
	if err := s.clearProjection(ctx); err != nil {
		return explain("rebuilding the merge state", err)
	}
	return s.Level(ctx)
}

func (s *Store) clearProjection(ctx context.Context) error {
	s.projecting.Lock() // a slice under way would say afterwards that it is further
	defer s.projecting.Unlock()
	s.writing.Lock()
	defer s.writing.Unlock()
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	for _, text := range []string{
		"DELETE FROM slots WHERE farm = ?", "DELETE FROM passed WHERE farm = ?", "UPDATE farms SET projected = 0 WHERE no = ?",
	} {
		if _, err := tx.ExecContext(ctx, text, s.no); err != nil {
			return errors.Join(err, tx.Rollback())
		}
	}
	if err := tx.Commit(); err != nil {
		return errors.Join(err, ignoreDone(tx.Rollback()))
	}
	s.projected.Store(0)
	return nil
}
