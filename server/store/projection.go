package store

import (
	"cmp"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// The projection of the log: which change stands in each slot, and which stand no longer.

// sliceChanges bounds a transaction of the projector, whose writing an append may have to wait for.
const sliceChanges = 5_000

// projection is a slice of the log being projected. Nobody else writes what it reads.
type projection struct {
	tx       *sql.Tx // reads
	sql      *readSQL
	no       int64
	placeOf  func(slotName) int64
	most     int64 // changes, about
	from     int64 // arrival up to which the log is projected already
	upTo     int64 // and with this slice
	standing map[slotName]kept
	filled   map[int64]slotName // places that this slice has come to
	put      map[int64]int64    // arrivals by place, to be written
	passed   map[int64]bitmap   // by first arrival of the segment, to be written
}

// slotName names a slot among all of a farm. Scopes compete apart: who may not read the change that
// stands must still be told the one below it.
type slotName struct {
	scope  syncproto.Scope
	entity changelog.EntityKey
	slot   changelog.SlotKey
}

func (k kept) name() slotName {
	entity := changelog.EntityKey{Type: k.change.Type, ID: k.change.ID}
	return slotName{k.change.Scope, entity, changelog.SlotOf(k.change)}
}

// beats tells which of two changes stands in the slot of both.
func (k kept) beats(o kept) bool {
	return changelog.EntryOf(k.change, k.order).Compare(changelog.EntryOf(o.change, o.order)) > 0
}

func (s *Store) newProjection(tx *sql.Tx) *projection {
	return &projection{
		tx: tx, sql: &s.read, no: s.no, placeOf: s.placeOf, most: s.slice, standing: map[slotName]kept{}, filled: map[int64]slotName{},
		put: map[int64]int64{}, passed: map[int64]bitmap{},
	}
}

// slice reads the next segments and finds out what they change.
func (p *projection) slice() error {
	var newest int64
	if err := p.tx.Stmt(p.sql[readFarm]).QueryRow(p.no).Scan(&newest, &p.from); err != nil {
		return fmt.Errorf("reading how far the merge state is: %w", err)
	}
	if p.upTo = p.from; p.from >= newest {
		return nil
	}
	err := eachUntil(p.tx.Stmt(p.sql[readLog]), []any{p.no, p.from}, func(rows *sql.Rows) (bool, error) {
		var s segment
		if err := s.scanPassed(rows); err != nil {
			return false, err
		}
		err := p.take(s)
		return p.upTo-p.from >= p.most, err
	})
	if err != nil {
		return err
	}
	return p.settle()
}

// take lets the changes of a segment compete with those of the slice before them.
func (p *projection) take(s segment) error {
	for i := range s.batch.Changes {
		k, _ := s.at(s.first + int64(i))
		name := k.name()
		if before, ok := p.standing[name]; ok {
			if before.beats(k) {
				k, before = before, k
			}
			if err := p.pass(before); err != nil {
				return err
			}
		}
		p.standing[name] = k
	}
	p.upTo = s.first + int64(len(s.batch.Changes)) - 1
	return nil
}

// contender is what stands in a slot of the slice, on its way to the slot's place.
type contender struct {
	kept
	name  slotName
	place int64
}

// settle finds the place of each slot and lets the change that stands there compete.
func (p *projection) settle() error {
	waiting := make([]contender, 0, len(p.standing))
	for name, k := range p.standing {
		waiting = append(waiting, contender{k, name, p.placeOf(name)})
	}
	for len(waiting) > 0 {
		there, err := p.there(waiting)
		if err != nil {
			return err
		}
		taken := waiting
		waiting = waiting[:0:0]
		for _, c := range taken {
			settled, err := p.compete(c, there)
			if err != nil {
				return err
			}
			if !settled { // another slot has the place
				c.place = nextPlace(c.place)
				waiting = append(waiting, c)
			}
		}
	}
	return nil
}

// compete puts a change into its place if that is free or its own; there is what stands in places.
func (p *projection) compete(c contender, there map[int64]kept) (settled bool, err error) {
	if _, ok := p.filled[c.place]; ok {
		return false, nil // each slot comes once, so this is another's
	}
	before, ok := there[c.place]
	if ok && before.name() != c.name {
		return false, nil
	}
	p.filled[c.place] = c.name
	if ok && before.beats(c.kept) {
		return true, p.pass(c.kept)
	}
	p.put[c.place] = c.arrival
	if ok {
		err = p.pass(before)
	}
	return true, err
}

// there reads which changes stand in the places that are asked for.
func (p *projection) there(asked []contender) (map[int64]kept, error) {
	places := []byte{'['}
	for i, c := range asked {
		if i > 0 {
			places = append(places, ',')
		}
		places = strconv.AppendInt(places, c.place, 10)
	}
	arrivals := map[int64]int64{} // by place
	err := each(p.tx.Stmt(p.sql[readSlots]), []any{p.no, string(append(places, ']'))}, func(rows *sql.Rows) error {
		var place, arrival int64
		err := rows.Scan(&place, &arrival)
		arrivals[place] = arrival
		return err
	})
	if err != nil {
		return nil, err
	}
	found := make(map[int64]kept, len(arrivals))
	log := lookup{tx: p.tx, statement: p.sql[readAt], no: p.no}
	// In order of arrival, each segment is read once.
	for _, place := range slices.SortedFunc(maps.Keys(arrivals), func(a, b int64) int { return cmp.Compare(arrivals[a], arrivals[b]) }) {
		if found[place], err = log.at(arrivals[place]); err != nil {
			return nil, err
		}
	}
	return found, nil
}

// pass notes that a change stands no longer.
func (p *projection) pass(k kept) error {
	bits, ok := p.passed[k.first]
	if !ok && k.first <= p.from {
		err := p.tx.Stmt(p.sql[readBits]).QueryRow(p.no, k.first).Scan((*[]byte)(&bits))
		if err != nil && !errors.Is(err, sql.ErrNoRows) {
			return fmt.Errorf("reading what has passed of the segment at %d: %w", k.first, err)
		}
	}
	p.passed[k.first] = bits.with(int(k.arrival - k.first))
	return nil
}

// writeProjection writes what a slice has changed, in one transaction.
func (s *Store) writeProjection(p *projection) error {
	tx, err := s.writer.Begin()
	if err != nil {
		return err
	}
	if err = p.write(tx); err == nil {
		err = tx.Commit()
	}
	if err != nil {
		return errors.Join(err, ignoreDone(tx.Rollback()))
	}
	return nil
}

func (p *projection) write(tx *sql.Tx) error {
	for _, first := range slices.Sorted(maps.Keys(p.passed)) {
		bits := p.passed[first]
		if _, err := tx.Exec(putPassed, p.no, first, bits.count(), []byte(bits)); err != nil {
			return fmt.Errorf("writing what has passed: %w", err)
		}
	}
	if _, err := tx.Exec(putSlots, p.no, p.slots()); err != nil {
		return fmt.Errorf("writing what stands: %w", err)
	}
	_, err := tx.Exec(updProjected, p.upTo, p.no)
	return err
}

// slots are the places and arrivals to be written, as JSON. In the order of the places, SQLite fills
// its pages better.
func (p *projection) slots() string {
	text := []byte{'['}
	for i, place := range slices.Sorted(maps.Keys(p.put)) {
		if i > 0 {
			text = append(text, ',')
		}
		text = strconv.AppendInt(append(text, '['), place, 10)
		text = strconv.AppendInt(append(text, ','), p.put[place], 10)
		text = append(text, ']')
	}
	return string(append(text, ']'))
}
