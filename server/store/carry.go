package store

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"github.com/google/uuid"

	"corymb/syncproto"
)

// Record is one thing that a log consists of, as it is carried out of one database and into another: one of its parts
// is set, and Order beside Change. Who may come, and the parts of large operations that wait for their last, are
// carried nowhere: phones send those again.
type Record struct {
	Incarnation *Incarnation `json:"incarnation,omitempty"`
	// Change is a kept change in its canonical bytes. The first that is carried has arrival number 1, and so on.
	Change json.RawMessage  `json:"change,omitempty"`
	Order  *syncproto.Stamp `json:"order,omitempty"` // nil where it is the change's own stamp

	NotKept *NotKept `json:"not_kept,omitempty"`
	Codes   *Codes   `json:"codes,omitempty"`
	Series  *Series  `json:"series,omitempty"`
}

// Incarnation is how far one is settled: its highest seq, the chain value and stamp of that, and whose it is.
type Incarnation struct {
	ID     string          `json:"id"`
	Device string          `json:"device"`
	Seq    int64           `json:"seq"`
	Stamp  syncproto.Stamp `json:"stamp"`
	Chain  string          `json:"chain"` // lower-case hexadecimal
}

// NotKept is a change that was settled without being kept: it was refused, or Held names what it was kept as before.
type NotKept struct {
	Incarnation string             `json:"incarnation"`
	Seq         int64              `json:"seq"`
	SHA256      string             `json:"sha256"` // of its canonical bytes
	Code        string             `json:"code,omitempty"`
	Text        string             `json:"text,omitempty"`
	Held        syncproto.Identity `json:"held,omitempty"`
}

// Codes is a block of tag codes that a device was given; Leased is in ms since 1970 UTC.
type Codes struct {
	Block  int    `json:"block"`
	Epoch  string `json:"epoch"`
	Device string `json:"device"`
	Leased int64  `json:"leased"`
}

// Series is a series of invoice numbers that was begun; Opened is in ms since 1970 UTC.
type Series struct {
	Series string `json:"series"`
	Epoch  string `json:"epoch"`
	Opened int64  `json:"opened"`
}

// CarryOut hands over all that the log consists of at one moment: incarnations, changes in order of arrival, what was
// not kept, codes, series.
func (s *Store) CarryOut(ctx context.Context, take func(Record) error) error {
	err := s.reading(ctx, func(tx *sql.Tx, _ counters) error {
		for _, carry := range []func(*sql.Tx, func(Record) error) error{
			s.carryIncarnations, s.carryChanges, s.carryNotKept, s.carryCodes, s.carrySeries,
		} {
			if err := errors.Join(ctx.Err(), carry(tx, take)); err != nil {
				return err
			}
		}
		return nil
	})
	return explain("reading the log", err)
}

func (s *Store) carryIncarnations(tx *sql.Tx, take func(Record) error) error {
	return eachRow(tx, `SELECT incarnation, device, seq, stamp_l, stamp_c, hash FROM incarnations
		WHERE farm = ? AND seq > 0 ORDER BY no`, s.no, func(rows *sql.Rows) error {
		var one Incarnation
		var hash []byte
		if err := rows.Scan(&one.ID, &one.Device, &one.Seq, &one.Stamp.L, &one.Stamp.C, &hash); err != nil {
			return err
		}
		one.Chain = fmt.Sprintf("%x", hash)
		return take(Record{Incarnation: &one})
	})
}

func (s *Store) carryChanges(tx *sql.Tx, take func(Record) error) error {
	var canonical []byte
	return each(tx.Stmt(s.read[readLog]), []any{s.no, 0}, func(rows *sql.Rows) error {
		var found segment
		if err := found.scanPassed(rows); err != nil {
			return err
		}
		for i, c := range found.batch.Changes {
			canonical = c.AppendCanonical(canonical[:0])
			record := Record{Change: canonical}
			if order := found.batch.Orders[i]; order != c.Stamp {
				record.Order = &order
			}
			if err := take(record); err != nil {
				return err
			}
		}
		return nil
	})
}

func (s *Store) carryNotKept(tx *sql.Tx, take func(Record) error) error {
	return eachRow(tx, `SELECT i.incarnation, o.seq, o.digest, o.code, o.text, coalesce(h.incarnation, ''), o.held_seq
		FROM outcomes o JOIN incarnations i ON i.farm = o.farm AND i.no = o.incarnation
		LEFT JOIN incarnations h ON h.farm = o.farm AND h.no = o.held_incarnation
		WHERE o.farm = ? ORDER BY i.no, o.seq`, s.no, func(rows *sql.Rows) error {
		var one NotKept
		var digest []byte
		var held string
		var heldSeq int64
		if err := rows.Scan(&one.Incarnation, &one.Seq, &digest, &one.Code, &one.Text, &held, &heldSeq); err != nil {
			return err
		}
		one.SHA256 = fmt.Sprintf("%x", digest)
		if held != "" {
			one.Held = syncproto.IdentityOf(held, heldSeq)
		}
		return take(Record{NotKept: &one})
	})
}

func (s *Store) carryCodes(tx *sql.Tx, take func(Record) error) error {
	return eachRow(tx, `SELECT block, epoch, device, leased FROM leases WHERE farm = ? ORDER BY block`, s.no, func(rows *sql.Rows) error {
		var one Codes
		if err := rows.Scan(&one.Block, &one.Epoch, &one.Device, &one.Leased); err != nil {
			return err
		}
		return take(Record{Codes: &one})
	})
}

func (s *Store) carrySeries(tx *sql.Tx, take func(Record) error) error {
	return eachRow(tx, `SELECT series, epoch, opened FROM invoice_series WHERE farm = ? ORDER BY series`, s.no, func(rows *sql.Rows) error {
		var one Series
		if err := rows.Scan(&one.Series, &one.Epoch, &one.Opened); err != nil {
			return err
		}
		return take(Record{Series: &one})
	})
}

// Unfit says that a record is not as CarryOut gives it.
type Unfit struct{ Text string }

func (e *Unfit) Error() string { return e.Text }

func unfit(format string, args ...any) error { return &Unfit{fmt.Sprintf(format, args...)} }

// CarryIn makes a database of a farm in an empty folder and fills it with what next returns, until that returns io.EOF,
// in the order of CarryOut; an *Unfit is of what came last. The farm begins in an epoch of its own. What came is verified: faults are sentences, and
// where there are any, or an error, the folder is to be thrown away.
func CarryIn(ctx context.Context, dir, farm string, next func() (Record, error), now func() time.Time) (found Verified, err error) {
	if _, err := uuid.Parse(farm); err != nil {
		return found, unfit("%.60q is not the id of a farm", farm)
	}
	s, err := OpenStill(dir, now)
	if err != nil {
		return found, err
	}
	if err = s.carryIn(ctx, farm, next); err == nil {
		found, err = s.VerifyLog(ctx)
	}
	return found, errors.Join(err, s.Close())
}

func (s *Store) carryIn(ctx context.Context, farm string, next func() (Record, error)) error {
	s.writing.Lock()
	defer s.writing.Unlock()
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return explain("filling "+filepath.Join(s.dir, FileName), err)
	}
	s.farm = farm
	c := carrying{transaction: s.startTransaction(tx, 1)}
	err = c.fill(ctx, next)
	if err != nil {
		return errors.Join(err, ignoreDone(tx.Rollback()))
	}
	if err := tx.Commit(); err != nil {
		return explain("filling "+filepath.Join(s.dir, FileName), err)
	}
	s.newest.Store(c.farm.NextArrival - 1)
	return s.mark.write(s.epoch, s.Newest())
}

// carrying is the filling of an empty database, in one transaction.
type carrying struct {
	*transaction
}

func (c carrying) fill(ctx context.Context, next func() (Record, error)) error {
	if _, err := c.tx.Exec(`UPDATE farms SET id = ? WHERE no = ?`, c.id, c.transaction.farm.No); err != nil {
		return explain("naming the farm", err)
	}
	c.transaction.farm.NextArrival = 1
	for {
		record, err := next()
		if errors.Is(err, io.EOF) {
			return explain("storing changes", c.finish())
		}
		if err = errors.Join(err, ctx.Err()); err != nil {
			return err
		}
		if err := c.take(record); err != nil {
			return err
		}
	}
}

func (c carrying) take(r Record) error {
	switch {
	case r.Incarnation != nil:
		return c.takeIncarnation(*r.Incarnation)
	case r.Change != nil:
		return c.takeChange(r.Change, r.Order)
	case r.NotKept != nil:
		return c.takeNotKept(*r.NotKept)
	case r.Codes != nil:
		return c.insert(`INSERT INTO leases (farm, block, epoch, device, leased) VALUES (?, ?, ?, ?, ?)`, r.Codes.Block, r.Codes.Epoch, r.Codes.Device, r.Codes.Leased)
	case r.Series != nil:
		return c.insert(`INSERT INTO invoice_series (farm, series, epoch, opened) VALUES (?, ?, ?, ?)`, r.Series.Series, r.Series.Epoch, r.Series.Opened)
	default:
		return unfit("it says nothing that this version knows")
	}
}

func (c carrying) insert(text string, args ...any) error {
	_, err := c.tx.Exec(text, append([]any{c.transaction.farm.No}, args...)...)
	return explain("storing what was given out", err)
}

func (c carrying) takeIncarnation(one Incarnation) error {
	if _, again := c.heads[one.ID]; again {
		return unfit("it tells of incarnation %s twice", one.ID)
	}
	chain, err := digestOf(one.Chain)
	if err != nil {
		return unfit("the chain value of incarnation %s: %v", one.ID, err)
	}
	h := &head{incarnation: one.ID, seq: one.Seq, hash: chain, stamp: one.Stamp, device: one.Device, moved: true}
	c.heads[one.ID] = h
	return c.number(h)
}

// known is an incarnation that was told before.
func (c carrying) known(incarnation string) (*head, error) {
	h, ok := c.heads[incarnation]
	if !ok || h.no == 0 {
		return nil, unfit("it is of incarnation %.60s, which was not told before", incarnation)
	}
	return h, nil
}

func (c carrying) takeChange(canonical []byte, told *syncproto.Stamp) error {
	var change syncproto.Change
	err := change.UnmarshalJSON(canonical)
	if err == nil {
		err = change.Check()
	}
	if err != nil {
		return unfit("it is not a change (%v)", err)
	}
	c.canonical = change.AppendCanonical(c.canonical[:0])
	if !bytes.Equal(c.canonical, canonical) {
		return unfit("its change is not written as changes are")
	}
	h, err := c.known(change.Incarnation)
	if err != nil {
		return err
	}
	order := change.Stamp
	if told != nil {
		order = *told
	}
	err = c.keepIt(change, order, h)
	c.results[0].Written = nil // nobody waits for it
	return explain("storing changes", err)
}

func (c carrying) takeNotKept(one NotKept) error {
	h, err := c.known(one.Incarnation)
	if err != nil {
		return err
	}
	row := outcomeRow{Code: one.Code, Text: one.Text}
	if one.Held != "" {
		incarnation, seq, err := one.Held.Split()
		if err != nil {
			return unfit("it was held as %.80q, which is no identity", one.Held)
		}
		held, err := c.known(incarnation)
		if err != nil {
			return err
		}
		row.HeldIncarnation, row.HeldSeq = held.no, seq
	}
	digest, err := digestOf(one.SHA256)
	if err != nil {
		return err
	}
	return explain("storing what was not kept", c.noteOutcome(h, one.Seq, digest[:], row))
}

func digestOf(text string) (digest syncproto.Hash, err error) {
	read, err := hex.DecodeString(text)
	if err != nil || copy(digest[:], read) != len(read) || len(read) != len(digest) {
		return digest, unfit("%.80q is not 64 hexadecimal digits", text)
	}
	return digest, nil
}
