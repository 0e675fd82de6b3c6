package store

import (
	"bytes"
	"crypto/sha256"
	"database/sql"
	"fmt"
	"slices"

	"corymb/internal/changelog"
	"corymb/internal/farm"
	"corymb/syncproto"
)

// verdict is what is to become of one change: held already under another identity, refused, or
// (the zero verdict) kept.
type verdict struct {
	held *held
	code syncproto.Code
	text string
}

// held is a kept change, found by identity.
type held struct {
	incarnation string
	seq         int64
	bytes       []byte
	order       syncproto.Stamp
}

// judge decides about the changes from..to-1 of a frame, which are one operation. If one is
// refused, so are all that are not held already.
func (b *batch) judge(f *changelog.Frame, from, to int) ([]verdict, error) {
	verdicts := make([]verdict, to-from)
	anyRefused := false
	for i := range verdicts {
		c, _ := f.Change(from + i)
		found, err := b.findHeld(c)
		if err != nil {
			return nil, fmt.Errorf("looking for what change %s was before: %w", c.Identity(), err)
		}
		verdicts[i] = verdict{held: found}
		if found != nil {
			continue
		}
		if verdicts[i].code, verdicts[i].text = b.check(c, f.Scopes); verdicts[i].code != "" {
			anyRefused = true
		}
	}
	if !anyRefused {
		return verdicts, nil
	}
	for i := range verdicts {
		if v := &verdicts[i]; v.held == nil && v.code == "" {
			v.code, v.text = syncproto.CodeTogether, "another change of the same operation was refused"
		}
	}
	return verdicts, nil
}

func (b *batch) check(c syncproto.Change, scopes []syncproto.Scope) (syncproto.Code, string) {
	if !slices.Contains(scopes, c.Scope) {
		return syncproto.CodeScope, fmt.Sprintf("what is of the %s may not be written here", c.Scope)
	}
	return farm.Check(c, b.today)
}

// findHeld finds the kept change with the same facts that was sent before under another identity:
// under the former one that the change names, as what that one was settled by, or sent again from
// the same former identity already.
func (b *batch) findHeld(c syncproto.Change) (*held, error) {
	former, ok := c.Former()
	if !ok {
		return nil, nil
	}
	incarnation, seq, err := former.Split()
	if err != nil {
		return nil, nil // not an identity: it stays an unknown part of the change
	}
	facts := changelog.FactsOf(c)
	lookups := []struct {
		statement int
		args      []any
	}{
		{selKeptAt, []any{b.farm.ID, incarnation, seq}},
		{selHeldAs, []any{b.farm.ID, incarnation, seq}},
		{selFormer, []any{b.farm.ID, string(former)}},
	}
	for _, l := range lookups {
		candidates, err := queryHeld(b.sql[l.statement], l.args)
		if err != nil {
			return nil, err
		}
		for _, candidate := range candidates {
			same, err := sameFacts(candidate, facts)
			if err != nil || same {
				return &candidate, err
			}
		}
	}
	return nil, nil
}

func queryHeld(statement *sql.Stmt, args []any) ([]held, error) {
	rows, err := statement.Query(args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var found []held
	for rows.Next() {
		var h held
		if err := rows.Scan(&h.incarnation, &h.seq, &h.bytes, &h.order.L, &h.order.C); err != nil {
			return nil, err
		}
		found = append(found, h)
	}
	return found, rows.Err()
}

func sameFacts(h held, facts []byte) (bool, error) {
	var c syncproto.Change
	if err := c.UnmarshalJSON(h.bytes); err != nil {
		return false, fmt.Errorf("change %s in the log: %w", syncproto.IdentityOf(h.incarnation, h.seq), err)
	}
	return bytes.Equal(changelog.FactsOf(c), facts), nil
}

// settleAgain answers for the first n changes of a frame, which are settled already: with the same
// bytes they are settled again, with other bytes the sender is not who it was.
func (b *batch) settleAgain(f *changelog.Frame, n int, ack *syncproto.Ack) error {
	if n == 0 {
		return nil
	}
	first, _ := f.Change(0)
	settled, err := b.settledBetween(f.Incarnation, first.Seq, first.Seq+int64(n)-1)
	if err != nil {
		return fmt.Errorf("reading what incarnation %s has settled: %w", f.Incarnation, err)
	}
	for i := range n {
		c, canonical := f.Change(i)
		was, ok := settled[c.Seq]
		if !ok || was.digest != sha256.Sum256(canonical) {
			return syncproto.Breachf(syncproto.CodeReused, "seq %d was settled before with other contents", c.Seq)
		}
		if was.code != "" {
			ack.Refused = append(ack.Refused, syncproto.Refusal{Seq: c.Seq, Code: was.code, Text: was.text})
			continue
		}
		ack.Orders = append(ack.Orders, syncproto.SeqOrder{Seq: c.Seq, Order: was.order})
	}
	return nil
}

// settled is what became of a change earlier.
type settled struct {
	digest [sha256.Size]byte
	order  syncproto.Stamp
	code   syncproto.Code
	text   string
}
