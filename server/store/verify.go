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
	Incarnations int      // of which something is settled
	Faults       []string // sentences; none if all is well
}

// Verify merges the whole log anew and compares the result with the merge state and with what else is
// noted of it, and checks that every incarnation's changes are settled exactly once and have the chain
// value that was told, and that invoices are numbered without a gap. An error means that it could not look.
func (s *Store) Verify(ctx context.Context) (Verified, error) {
	if err := s.levelAndLock(ctx); err != nil { // nothing may change between the readings
		return Verified{}, err
	}
	defer s.writing.Unlock()
	v := newVerification()
	v.state, v.standing, v.passed = changelog.NewState(), map[slotName]kept{}, map[int64]bool{}
	err := s.reading(ctx, func(tx *sql.Tx, at counters) error {
		if err := v.checkLog(s, tx, at); err != nil {
			return err
		}
		if at.projected != at.newest {
			v.fault("the merge state is made up to arrival %d of %d", at.projected, at.newest)
		}
		return errors.Join(v.compareSlots(s, tx), v.comparePassed(s, tx))
	})
	v.found.Entities = v.state.Len()
	return v.found, explain("verifying the log", err)
}

// VerifyLog is Verify without the merge state, which can be made anew from the log. That takes most of the
// time and nearly all of the memory.
func (s *Store) VerifyLog(ctx context.Context) (Verified, error) {
	s.writing.Lock()
	defer s.writing.Unlock()
	v := newVerification()
	err := s.reading(ctx, func(tx *sql.Tx, farm counters) error { return v.checkLog(s, tx, farm) })
	return v.found, explain("verifying the log", err)
}

// levelAndLock stops all writing at a moment when the projection is level with the log.
func (s *Store) levelAndLock(ctx context.Context) error {
	for {
		if err := s.Level(ctx); err != nil {
			return err
		}
		s.writing.Lock()
		if s.projected.Load() == s.Newest() {
			return nil
		}
		s.writing.Unlock()
	}
}

// verification is what the log comes to, read anew.
type verification struct {
	found  Verified
	chains map[string]*chain
	noted  noted
	billed billed

	state    *changelog.State // nil where the merge state is not asked for, as are
	standing map[slotName]kept
	passed   map[int64]bool // by arrival
}

func newVerification() *verification {
	return &verification{chains: map[string]*chain{}, noted: newNoted(), billed: newBilled()}
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

// checkLog reads the log and compares it with what is noted of it.
func (v *verification) checkLog(s *Store, tx *sql.Tx, farm counters) error {
	if err := v.readLog(s, tx); err != nil {
		return err
	}
	if v.found.Changes != farm.newest {
		v.fault("the log holds %d changes, but the farm counted %d", v.found.Changes, farm.newest)
	}
	return errors.Join(v.checkIncarnations(s, tx), v.checkStaged(s, tx), v.checkNoted(s, tx), v.checkInvoices(s, tx))
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
	v.noted.take(k)
	v.billed.take(k)
	v.follow(s, k)
	if v.state != nil {
		v.merge(k)
	}
}

// follow goes on with the chain of a change's incarnation.
func (v *verification) follow(s *Store, k kept) {
	c, ok := v.chains[k.change.Incarnation]
	if !ok {
		c = &chain{hash: syncproto.ChainStart(s.farm, k.change.Incarnation)}
		v.chains[k.change.Incarnation] = c
	}
	c.kept++
	if k.change.Seq != c.seq+1 {
		c.broken = true
	}
	if k.change.Seq <= c.seq {
		v.fault("arrival %d has seq %d of incarnation %s, which was at %d before", k.arrival, k.change.Seq, k.change.Incarnation, c.seq)
	}
	c.seq, c.hash = k.change.Seq, c.hash.Then(k.change.Canonical())
}

func (v *verification) merge(k kept) {
	v.state.Merge(k.change, k.order)
	name := k.name()
	before, taken := v.standing[name]
	if taken && before.beats(k) {
		v.passed[k.arrival] = true
		return
	}
	if taken {
		v.passed[before.arrival] = true
	}
	v.standing[name] = k
}
