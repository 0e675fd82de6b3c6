package store

import (
	"database/sql"
	"fmt"
)

// What a transaction reads of the log, which includes what it has written itself.

// reading finds changes of one incarnation by seq. The segment found last is kept, since most
// lookups follow each other.
type reading struct {
	of   *transaction
	no   int64
	last segment
}

// seq is the kept change with a seq; ok is false where none was kept.
func (r *reading) seq(seq int64) (found kept, ok bool, err error) {
	if k, ok := r.of.run.seq(r.no, seq); ok {
		return k, true, nil
	}
	at := seq - r.last.firstSeq
	if at < 0 || at >= int64(len(r.last.batch.Changes)) {
		if err := r.load(seq); err != nil {
			return kept{}, false, err
		}
		at = seq - r.last.firstSeq
	}
	found, ok = r.last.at(r.last.first + at)
	return found, ok, nil
}

func (r *reading) load(seq int64) error {
	r.last = segment{firstSeq: seq}
	return each(r.of.stmt(selCovering), []any{r.of.farm.No, r.no, seq, seq}, func(rows *sql.Rows) error {
		return r.last.scan(rows)
	})
}

// keptAt is the change with an arrival number, which is there.
func (t *transaction) keptAt(arrival int64) (kept, error) {
	if k, ok := t.run.at(arrival); ok {
		return k, nil
	}
	if t.arrivals == nil {
		t.arrivals = &lookup{tx: t.tx, statement: t.sql[selAt], no: t.farm.No}
	}
	return t.arrivals.at(arrival)
}

// lookup finds changes by arrival number. The segment found last is kept.
type lookup struct {
	tx        *sql.Tx
	statement *sql.Stmt
	no        int64
	last      segment
}

// at is the change with an arrival number, which is there.
func (l *lookup) at(arrival int64) (kept, error) {
	if found, ok := l.last.at(arrival); ok {
		return found, nil
	}
	err := each(l.tx.Stmt(l.statement), []any{l.no, arrival}, func(rows *sql.Rows) error { return l.last.scan(rows) })
	if err != nil {
		return kept{}, err
	}
	found, ok := l.last.at(arrival)
	if !ok {
		return kept{}, fmt.Errorf("the log has no arrival %d", arrival)
	}
	return found, nil
}
