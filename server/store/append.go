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
	b, err := s.startBatch(tx)
	if err != nil {
		return nil, errors.Join(err, tx.Rollback())
	}
	results := make([]changelog.Result, len(frames))
	for i, f := range frames {
		if results[i], err = b.settle(f); err != nil {
			return nil, errors.Join(err, tx.Rollback())
		}
	}
	if err := b.finish(); err != nil {
		return nil, errors.Join(err, tx.Rollback())
	}
	if err := tx.Commit(); err != nil {
		return nil, errors.Join(err, ignoreDone(tx.Rollback()))
	}
	newest := b.farm.NextArrival - 1
	s.newest.Store(newest)
	for i := range results {
		results[i].Newest = newest
	}
	// It is on disk, so it is acknowledged whatever becomes of the mark: one that lags behind only
	// sees less of an older copy that is put back later.
	_ = s.mark.write(s.epoch, newest)
	return results, nil
}

// ignoreDone drops the complaint that a transaction is over already.
func ignoreDone(err error) error {
	if errors.Is(err, sql.ErrTxDone) {
		return nil
	}
	return err
}

// batch is one transaction of frames under way.
type batch struct {
	sql     appendSQL
	farm    farmRow
	wall    int64
	today   crop.Date
	heads   map[string]*head
	refused map[uint64]*syncproto.Breach // by conversation
}

// head is how far an incarnation has come within the batch.
type head struct {
	seq   int64
	hash  syncproto.Hash
	stamp syncproto.Stamp
	moved bool
}

func (s *Store) startBatch(tx *sql.Tx) (*batch, error) {
	now := s.now()
	b := &batch{
		sql: s.append.in(tx), farm: farmRow{ID: s.farm}, wall: now.UnixMilli(), today: crop.DateOf(now),
		heads: map[string]*head{}, refused: map[uint64]*syncproto.Breach{},
	}
	err := b.sql[selFarm].QueryRow(s.farm).Scan(&b.farm.NextArrival, &b.farm.HighestL, &b.farm.HighestC)
	if err != nil {
		return nil, fmt.Errorf("reading the farm's counters: %w", err)
	}
	return b, nil
}

// settle takes one frame in. A breach is told in the result; an error ends the batch.
func (b *batch) settle(f *changelog.Frame) (changelog.Result, error) {
	breach, broken := b.refused[f.Conversation]
	if broken {
		return changelog.Result{Breach: breach}, nil
	}
	ack, err := b.settleFrame(f)
	if !errors.As(err, &breach) {
		return changelog.Result{Ack: ack}, err
	}
	if f.Conversation != 0 {
		b.refused[f.Conversation] = breach
	}
	return changelog.Result{Breach: breach}, nil
}

// settleFrame finds out everything that can refuse the frame before it writes anything.
func (b *batch) settleFrame(f *changelog.Frame) (syncproto.Ack, error) {
	ack := syncproto.Ack{T: syncproto.TypeAck, Orders: []syncproto.SeqOrder{}, Refused: []syncproto.Refusal{}}
	h, err := b.head(f.Incarnation)
	if err != nil {
		return ack, err
	}
	first, _ := f.Change(0)
	if first.Seq > h.seq+1 {
		return ack, syncproto.Breachf(syncproto.CodeGap, "seq %d came, but %d is the next", first.Seq, h.seq+1)
	}
	fresh := int(min(h.seq+1-first.Seq, int64(f.Len())))
	if err := b.settleAgain(f, fresh, &ack); err != nil {
		return ack, err
	}
	if fresh < f.Len() {
		if c, _ := f.Change(fresh); h.seq > 0 && c.Stamp.Compare(h.stamp) <= 0 {
			return ack, syncproto.Breachf(syncproto.CodeMalformed, "the stamp of seq %d does not lie after that of seq %d", c.Seq, h.seq)
		}
	}
	for from := fresh; from < f.Len(); {
		c, _ := f.Change(from)
		to := from + c.Rest + 1
		if err := b.settleOperation(f, from, to, h, &ack); err != nil {
			return ack, err
		}
		from = to
	}
	ack.Seq = h.seq
	return ack, nil
}

// settleOperation judges the changes from..to-1 together and writes what became of each.
func (b *batch) settleOperation(f *changelog.Frame, from, to int, h *head, ack *syncproto.Ack) error {
	verdicts, err := b.judge(f, from, to)
	if err != nil {
		return err
	}
	for i, v := range verdicts {
		c, bytes := f.Change(from + i)
		var err error
		switch {
		case v.held != nil:
			err = b.writeHeld(c, bytes, *v.held)
			ack.Orders = append(ack.Orders, syncproto.SeqOrder{Seq: c.Seq, Order: v.held.order})
		case v.code != "":
			err = b.writeRefused(c, bytes, v)
			ack.Refused = append(ack.Refused, syncproto.Refusal{Seq: c.Seq, Code: v.code, Text: v.text})
		default:
			order := changelog.OrderFor(f.Asks(from+i), b.wall, b.farm.highest())
			err = b.writeKept(c, bytes, order)
			ack.Orders = append(ack.Orders, syncproto.SeqOrder{Seq: c.Seq, Order: order})
		}
		if err != nil {
			return fmt.Errorf("writing change %s: %w", c.Identity(), err)
		}
		h.seq, h.hash, h.stamp, h.moved = c.Seq, h.hash.Then(bytes), c.Stamp, true
	}
	return nil
}
