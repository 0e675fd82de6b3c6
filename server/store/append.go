package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/syncproto"
)

// Append settles frames in one transaction and returns a result for each, in order, once all of it
// is on disk. A frame that breaks the protocol is refused alone: nothing of it is stored and the
// others are not harmed. On an error nothing at all was stored.
func (s *Store) Append(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s.appending.begin()
	defer s.appending.end()
	s.writing.Lock()
	defer s.writing.Unlock()
	// A commit under way is finished whoever stops waiting for it. It also spares the driver a
	// goroutine a statement.
	results, err := s.appendLocked(context.WithoutCancel(ctx), frames)
	return results, explain("storing changes", err)
}

func (s *Store) appendLocked(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return nil, err
	}
	t := s.startTransaction(tx, len(frames))
	if err := t.settleAll(frames); err != nil {
		return nil, errors.Join(err, tx.Rollback())
	}
	if err := tx.Commit(); err != nil {
		return nil, errors.Join(err, ignoreDone(tx.Rollback()))
	}
	newest := t.farm.NextArrival - 1
	s.newest.Store(newest)
	for i := range t.results {
		if r := &t.results[i]; r.Breach == nil {
			r.Ack.Arrival = newest
		}
	}
	s.projector.wake()
	// It is on disk, so it is acknowledged whatever becomes of the mark: one that lags behind only
	// sees less of an older copy that is put back later.
	_ = s.mark.write(s.epoch, newest)
	return t.results, nil
}

// ignoreDone drops the complaint that a transaction is over already.
func ignoreDone(err error) error {
	if errors.Is(err, sql.ErrTxDone) {
		return nil
	}
	return err
}

// transaction is one commit of frames under way.
type transaction struct {
	tx      *sql.Tx
	sql     *appendSQL
	bound   appendSQL // as far as they were needed
	id      string    // the farm's
	farm    farmRow
	wall    int64
	today   crop.Date
	heads   map[string]*head
	refused map[*changelog.Conversation]*syncproto.Breach

	results   []changelog.Result
	at        int // the frame being settled
	run       *run
	runOf     int // the last frame that added to the run
	canonical []byte
	verdicts  []verdict
	formers   reading // of the incarnation that was last looked into
	arrivals  *lookup
}

func (s *Store) startTransaction(tx *sql.Tx, frames int) *transaction {
	now := s.now()
	s.run.clear() // a transaction that failed may have left something
	return &transaction{
		tx: tx, sql: &s.append, id: s.farm, farm: farmRow{No: s.no}, wall: now.UnixMilli(), today: crop.DateOf(now),
		heads: map[string]*head{}, refused: map[*changelog.Conversation]*syncproto.Breach{},
		results: make([]changelog.Result, frames), run: &s.run,
	}
}

// stmt is a prepared statement inside the transaction.
func (t *transaction) stmt(i int) *sql.Stmt {
	if t.bound[i] == nil {
		t.bound[i] = t.tx.Stmt(t.sql[i])
	}
	return t.bound[i]
}

func (t *transaction) settleAll(frames []*changelog.Frame) error {
	err := t.stmt(selFarm).QueryRow(t.farm.No).Scan(&t.farm.NextArrival, &t.farm.HighestL, &t.farm.HighestC)
	if err != nil {
		return fmt.Errorf("reading the farm's counters: %w", err)
	}
	for i, f := range frames {
		t.at = i
		ack, breach, err := t.settle(f)
		if err != nil {
			return err
		}
		t.results[i].Ack, t.results[i].Breach = ack, breach // a flush may have told what was written
	}
	return t.finish()
}

// settle takes one frame in. An error ends the transaction.
func (t *transaction) settle(f *changelog.Frame) (syncproto.Ack, *syncproto.Breach, error) {
	if breach, broken := t.refused[f.Conversation]; broken {
		return syncproto.Ack{}, breach, nil
	}
	ack, err := t.settleFrame(f)
	var breach *syncproto.Breach
	if !errors.As(err, &breach) {
		return ack, nil, err
	}
	if f.Conversation != nil {
		t.refused[f.Conversation] = breach
	}
	return syncproto.Ack{}, breach, nil
}
