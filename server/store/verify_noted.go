package store

import (
	"crypto/sha256"
	"database/sql"
	"errors"

	"corymb/syncproto"
)

// What is noted beside the log so that it need not be read: which scopes a segment has, which change
// was sent again from which identity, and the highest order.

// noted is what should be noted, as far as the log was read.
type noted struct {
	scopes  map[int64]int64 // by first arrival of the segment
	formers map[formerKey]int64
	highest syncproto.Stamp
}

// formerKey finds the first arrival that names a former identity and says certain facts.
type formerKey struct {
	former syncproto.Identity
	facts  [sha256.Size]byte
}

func newNoted() noted {
	return noted{scopes: map[int64]int64{}, formers: map[formerKey]int64{}}
}

// take counts a change in; the log is read in order of arrival.
func (n *noted) take(k kept) {
	n.scopes[k.first] |= scopeBits(k.change.Scope)
	if k.order.Compare(n.highest) > 0 {
		n.highest = k.order
	}
	former, ok := k.change.Former()
	if !ok {
		return
	}
	key := formerKey{former, digestOfFacts(k.change)}
	if _, before := n.formers[key]; !before {
		n.formers[key] = k.arrival
	}
}

// checkNoted compares what is noted with what should be.
func (v *verification) checkNoted(s *Store, tx *sql.Tx) error {
	return errors.Join(v.checkScopes(s, tx), v.checkFormers(s, tx), v.checkHighest(s, tx))
}

func (v *verification) checkScopes(s *Store, tx *sql.Tx) error {
	return eachRow(tx, "SELECT first, scopes FROM segments WHERE farm = ?", s.no, func(rows *sql.Rows) error {
		var first, scopes int64
		err := rows.Scan(&first, &scopes)
		if want := v.noted.scopes[first]; err == nil && scopes != want {
			v.fault("the segment at arrival %d is noted with scopes %v, but its changes have %v", first, scopesOf(scopes), scopesOf(want))
		}
		return err
	})
}

func (v *verification) checkFormers(s *Store, tx *sql.Tx) error {
	wrong := 0
	left := len(v.noted.formers)
	err := eachRow(tx, "SELECT former, facts, arrival FROM formers WHERE farm = ?", s.no, func(rows *sql.Rows) error {
		var key formerKey
		var facts []byte
		var arrival int64
		if err := rows.Scan(&key.former, &facts, &arrival); err != nil {
			return err
		}
		copy(key.facts[:], facts)
		if want, ok := v.noted.formers[key]; ok && want == arrival && len(facts) == len(key.facts) {
			left--
		} else {
			wrong++
		}
		return nil
	})
	if wrong > 0 || left > 0 {
		v.fault("of %d changes that name a former identity %d are not noted, and %d are noted that are not there", len(v.noted.formers), left, wrong)
	}
	return err
}

func (v *verification) checkHighest(s *Store, tx *sql.Tx) error {
	return eachRow(tx, "SELECT highest_l, highest_c FROM farms WHERE no = ?", s.no, func(rows *sql.Rows) error {
		var highest syncproto.Stamp
		err := rows.Scan(&highest.L, &highest.C)
		if err == nil && highest != v.noted.highest {
			v.fault("the highest order is noted as %v, but in the log it is %v", highest, v.noted.highest)
		}
		return err
	})
}
