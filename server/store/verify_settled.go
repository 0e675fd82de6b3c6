package store

import (
	"database/sql"
	"fmt"

	"corymb/syncproto"
)

// settledQuery counts what was not kept, and what was kept nevertheless.
var settledQuery = fmt.Sprintf(`SELECT i.incarnation, i.seq, i.hash,
		(SELECT count(*) FROM outcomes o WHERE o.farm = i.farm AND o.incarnation = i.no AND o.seq <= i.seq),
		(SELECT count(*) FROM outcomes o JOIN segments s ON s.farm = o.farm AND s.incarnation = o.incarnation
			AND s.first_seq BETWEEN o.seq - %d AND o.seq AND s.first_seq + s.n > o.seq
			WHERE o.farm = i.farm AND o.incarnation = i.no)
	FROM incarnations i WHERE i.farm = ?`, syncproto.MaxFrameChanges-1)

// checkIncarnations compares each incarnation's settled seq with what was kept and not kept, and its
// chain value with that of its changes.
func (v *verification) checkIncarnations(s *Store, tx *sql.Tx) error {
	err := eachRow(tx, settledQuery, s.no, func(rows *sql.Rows) error {
		var incarnation string
		var settled, notKept, twice int64
		var hash []byte
		if err := rows.Scan(&incarnation, &settled, &hash, &notKept, &twice); err != nil {
			return err
		}
		if settled > 0 { // a phone that was here and wrote nothing has a row too
			v.found.Incarnations++
		}
		c, ok := v.chains[incarnation]
		if !ok {
			c = &chain{hash: syncproto.ChainStart(s.farm, incarnation)}
		}
		if settled != c.kept+notKept {
			v.fault("incarnation %s has %d changes settled, but %d are there", incarnation, settled, c.kept+notKept)
		}
		if twice > 0 {
			v.fault("%d changes of incarnation %s were both kept and not kept", twice, incarnation)
		}
		if notKept == 0 && !c.broken && string(hash) != string(c.hash[:]) {
			v.fault("the chain value of incarnation %s is not that of its changes", incarnation)
		}
		delete(v.chains, incarnation)
		return nil
	})
	for incarnation := range v.chains {
		v.fault("the log holds changes of incarnation %s, of which nothing is known", incarnation)
	}
	return err
}

// checkStaged follows the parts that are put aside of large operations, and compares what they come to
// with what is known of it.
func (v *verification) checkStaged(s *Store, tx *sql.Tx) error {
	ends, err := v.stagedEnds(s, tx)
	if err != nil {
		return err
	}
	err = eachRow(tx, `SELECT incarnation, staged, staged_hash FROM incarnations WHERE farm = ? AND staged > 0`, s.no, func(rows *sql.Rows) error {
		var incarnation string
		var seq int64
		var hash []byte
		err := rows.Scan(&incarnation, &seq, &hash)
		if h := ends[incarnation]; h.seq != seq || string(h.hash[:]) != string(hash) {
			v.fault("of incarnation %s what is put aside ends at seq %d, not %d, or has another chain value", incarnation, h.seq, seq)
		}
		delete(ends, incarnation)
		return err
	})
	for incarnation := range ends {
		v.fault("of incarnation %s something is put aside of which nothing is known", incarnation)
	}
	return err
}

// stagedEnds goes on from what is settled of each incarnation with what is put aside.
func (v *verification) stagedEnds(s *Store, tx *sql.Tx) (map[string]head, error) {
	ends := map[string]head{}
	err := eachRow(tx, `SELECT i.incarnation, i.seq, i.hash, t.batch FROM staged t
		JOIN incarnations i ON i.farm = t.farm AND i.no = t.incarnation
		WHERE t.farm = ? ORDER BY i.no, t.first_seq`, s.no, func(rows *sql.Rows) error {
		var h head
		var hash, packed []byte
		if err := rows.Scan(&h.incarnation, &h.seq, &hash, &packed); err != nil {
			return err
		}
		copy(h.hash[:], hash)
		if before, ok := ends[h.incarnation]; ok {
			h = before
		}
		part, err := syncproto.ReadAlone(packed)
		for _, c := range part.Changes {
			if c.Seq != h.seq+1 {
				v.fault("of incarnation %s seq %d is put aside after %d", h.incarnation, c.Seq, h.seq)
			}
			h.seq, h.hash = c.Seq, h.hash.Then(c.Canonical())
		}
		ends[h.incarnation] = h
		return err
	})
	return ends, err
}

// eachRow visits the rows of a query about a farm that is made once.
func eachRow(tx *sql.Tx, query string, farm int64, visit func(*sql.Rows) error) error {
	statement, err := tx.Prepare(query)
	if err != nil {
		return err
	}
	defer func() { _ = statement.Close() }() // it only read
	return each(statement, []any{farm}, visit)
}
