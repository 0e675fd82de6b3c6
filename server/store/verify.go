package store

import (
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
// every incarnation's changes are settled exactly once and have the chain value that was told. An
// error means that it could not look.
func (s *Store) Verify(ctx context.Context) (Verified, error) {
	if err := s.Level(ctx); err != nil {
		return Verified{}, err
	}
	s.writing.Lock() // nothing may be appended or projected between the readings
	defer s.writing.Unlock()
	v := verification{state: changelog.NewState(), standing: map[string]kept{}, passed: map[int64]bool{}, chains: map[string]*chain{}}
	err := s.reading(ctx, func(tx *sql.Tx, farm counters) error {
		if err := v.readLog(s, tx); err != nil {
			return err
		}
		if v.found.Changes != farm.newest {
			v.fault("the log holds %d changes, but the farm counted %d", v.found.Changes, farm.newest)
		}
		if farm.projected != farm.newest {
			v.fault("the merge state is made up to arrival %d of %d", farm.projected, farm.newest)
		}
		return errors.Join(v.compareSlots(s, tx), v.comparePassed(s, tx), v.checkIncarnations(s, tx))
	})
	v.found.Entities = v.state.Len()
	return v.found, explain("verifying the log", err)
}

// verification is what the log comes to, read anew.
type verification struct {
	found    Verified
	state    *changelog.State
	standing map[string]kept // by place
	passed   map[int64]bool  // by arrival
	chains   map[string]*chain
}

// chain is an incarnation's chain as far as all of its changes are in the log.
type chain struct {
	seq    int64
	hash   syncproto.Hash
	broken bool // a change was not kept, so the chain cannot be followed
	kept   int64
}

func (v *verification) fault(format string, args ...any) {
	v.found.Faults = append(v.found.Faults, fmt.Sprintf(format, args...))
}

func (v *verification) readLog(s *Store, tx *sql.Tx) error {
	return each(tx.Stmt(s.read[readLog]), []any{s.no, 0}, func(rows *sql.Rows) error {
		var found segment
		if err := found.scanPassed(rows); err != nil {
			return err
		}
		if found.first != v.found.Changes+1 {
			v.fault("after arrival %d comes %d", v.found.Changes, found.first)
		}
		for i := range found.batch.Changes {
			k, _ := found.at(found.first + int64(i))
			if k.change.Seq != found.firstSeq+int64(i) {
				v.fault("arrival %d has seq %d in a segment from seq %d", k.arrival, k.change.Seq, found.firstSeq)
			}
			v.take(s, k)
		}
		return nil
	})
}

func (v *verification) take(s *Store, k kept) {
	v.found.Changes++
	v.state.Merge(k.change, k.order)
	c, ok := v.chains[k.change.Incarnation]
	if !ok {
		c = &chain{hash: syncproto.ChainStart(s.farm, k.change.Incarnation)}
		v.chains[k.change.Incarnation] = c
	}
	c.kept++
	if k.change.Seq != c.seq+1 {
		c.broken = true
	}
	c.seq, c.hash = k.change.Seq, c.hash.Then(k.change.Canonical())

	place := string(placeOf(k.change))
	before, taken := v.standing[place]
	if taken && changelog.EntryOf(k.change, k.order).Compare(changelog.EntryOf(before.change, before.order)) < 0 {
		v.passed[k.arrival] = true
		return
	}
	if taken {
		v.passed[before.arrival] = true
	}
	v.standing[place] = k
}

func (v *verification) compareSlots(s *Store, tx *sql.Tx) error {
	var found, wrong int
	err := each(tx.Stmt(s.read[readPlaces]), []any{s.no}, func(rows *sql.Rows) error {
		var place []byte
		var held kept
		if err := rows.Scan(&place, &held.order.L, &held.order.C, &held.arrival); err != nil {
			return err
		}
		found++
		if k, ok := v.standing[string(place)]; !ok || k.arrival != held.arrival || k.order != held.order {
			wrong++
		}
		return nil
	})
	if wrong > 0 || found != len(v.standing) {
		v.fault("the merge state is not what the log comes to: it has %d slots of %d, and %d of them are wrong", found, len(v.standing), wrong)
	}
	return err
}

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

// checkIncarnations compares each incarnation's settled seq with what was kept and not kept, and its
// chain value with that of its changes.
func (v *verification) checkIncarnations(s *Store, tx *sql.Tx) error {
	rows, err := tx.Query(`SELECT i.incarnation, i.seq, i.hash,
		(SELECT count(*) FROM outcomes o WHERE o.farm = i.farm AND o.incarnation = i.no)
		FROM incarnations i WHERE i.farm = ?`, s.no)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var incarnation string
		var settled, notKept int64
		var hash []byte
		if err := rows.Scan(&incarnation, &settled, &hash, &notKept); err != nil {
			return err
		}
		v.found.Incarnations++
		c, ok := v.chains[incarnation]
		if !ok {
			c = &chain{hash: syncproto.ChainStart(s.farm, incarnation)}
		}
		if settled != c.kept+notKept {
			v.fault("incarnation %s has %d changes settled, but %d are there", incarnation, settled, c.kept+notKept)
		}
		if notKept == 0 && !c.broken && string(hash) != string(c.hash[:]) {
			v.fault("the chain value of incarnation %s is not that of its changes", incarnation)
		}
		delete(v.chains, incarnation)
	}
	for incarnation := range v.chains {
		v.fault("the log holds changes of incarnation %s, of which nothing is known", incarnation)
	}
	return rows.Err()
}

// Rebuild throws the merge state away and makes it anew from the log.
func (s *Store) Rebuild(ctx context.Context) error {
	if err := s.clearProjection(ctx); err != nil {
		return explain("rebuilding the merge state", err)
	}
	return s.Level(ctx)
}

func (s *Store) clearProjection(ctx context.Context) error {
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
