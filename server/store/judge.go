package store

import (
	"bytes"
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
	held   *kept
	heldNo int64 // number of the held change's incarnation
	code   syncproto.Code
	text   string
}

// judge decides about the changes from..to-1 of a frame, which are one operation. If one is
// refused, so are all that are not held already. The verdicts hold until the next call.
func (t *transaction) judge(f *changelog.Frame, from, to int) ([]verdict, error) {
	verdicts := t.verdicts[:0]
	anyRefused := false
	for _, c := range f.Batch().Changes[from:to] {
		v, err := t.findHeld(c)
		if err != nil {
			return nil, fmt.Errorf("looking for what change %s was before: %w", c.Identity(), err)
		}
		if v.held == nil {
			v.code, v.text = t.check(c, f.Scopes)
			anyRefused = anyRefused || v.code != ""
		}
		verdicts = append(verdicts, v)
	}
	t.verdicts = verdicts
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

func (t *transaction) check(c syncproto.Change, scopes []syncproto.Scope) (syncproto.Code, string) {
	if !slices.Contains(scopes, c.Scope) {
		return syncproto.CodeScope, fmt.Sprintf("what is of the %s may not be written here", c.Scope)
	}
	return farm.Check(c, t.today)
}

// findHeld finds the kept change with the same facts that was sent before under another identity:
// under the former one that the change names, as what that one was settled by, or sent again from
// the same former identity already. A change that names none may itself have been sent again under
// another identity, which came first.
func (t *transaction) findHeld(c syncproto.Change) (verdict, error) {
	former, ok := c.Former()
	if !ok {
		return t.findSentAgain(c)
	}
	incarnation, seq, err := former.Split()
	if err != nil {
		return verdict{}, nil // not an identity: it stays an unknown part of the change
	}
	candidates, err := t.keptAs(incarnation, seq)
	if err != nil {
		return verdict{}, err
	}
	again, err := t.keptFrom(former)
	if err != nil {
		return verdict{}, err
	}
	return t.sameFacts(c, append(candidates, again...))
}

// findSentAgain asks only for incarnations that anything was ever sent again from: they are few.
func (t *transaction) findSentAgain(c syncproto.Change) (verdict, error) {
	named, err := t.isNamedFormer(c.Incarnation)
	if err != nil || !named {
		return verdict{}, err
	}
	again, err := t.keptFrom(c.Identity())
	if err != nil {
		return verdict{}, err
	}
	return t.sameFacts(c, again)
}

// isNamedFormer tells whether a kept change names one of the incarnation as its former identity.
func (t *transaction) isNamedFormer(incarnation string) (bool, error) {
	h, err := t.head(incarnation)
	if err != nil || h.named {
		return true, err
	}
	if h.asked {
		return false, nil
	}
	h.asked = true
	// An identity is the incarnation, a colon and digits, and ';' follows ':'.
	err = t.stmt(selNamed).QueryRow(t.farm.No, incarnation+":", incarnation+";").Scan(&h.named)
	return h.named, err
}

// sameFacts is the first of some kept changes that says what the change says.
func (t *transaction) sameFacts(c syncproto.Change, candidates []kept) (verdict, error) {
	if len(candidates) == 0 {
		return verdict{}, nil
	}
	facts := changelog.FactsOf(c)
	for _, k := range candidates {
		if bytes.Equal(changelog.FactsOf(k.change), facts) {
			h, err := t.head(k.change.Incarnation)
			if err != nil {
				return verdict{}, err
			}
			return verdict{held: &k, heldNo: h.no}, nil
		}
	}
	return verdict{}, nil
}

// keptAs finds the kept change that an identity was settled by: its own, or the one that it was held
// under.
func (t *transaction) keptAs(incarnation string, seq int64) ([]kept, error) {
	h, err := t.head(incarnation)
	if err != nil || h.no == 0 || seq > h.seq {
		return nil, err
	}
	if t.formers.no != h.no {
		t.formers = reading{of: t, no: h.no}
	}
	own, ok, err := t.formers.seq(seq)
	if err != nil || ok {
		return []kept{own}, err
	}
	var found []kept
	var no, heldSeq int64
	err = each(t.stmt(selHeld), []any{t.farm.No, h.no, seq}, func(rows *sql.Rows) error {
		return rows.Scan(&no, &heldSeq)
	})
	if err != nil || no == 0 {
		return nil, err
	}
	k, ok, err := (&reading{of: t, no: no}).seq(heldSeq)
	if ok {
		found = append(found, k)
	}
	return found, err
}

// keptFrom finds the kept changes that name a former identity.
func (t *transaction) keptFrom(former syncproto.Identity) ([]kept, error) {
	var arrivals []int64
	err := each(t.stmt(selFormers), []any{t.farm.No, string(former)}, func(rows *sql.Rows) error {
		var arrival int64
		err := rows.Scan(&arrival)
		arrivals = append(arrivals, arrival)
		return err
	})
	if err != nil {
		return nil, err
	}
	found := make([]kept, 0, len(arrivals))
	for _, arrival := range arrivals {
		k, err := t.keptAt(arrival)
		if err != nil {
			return nil, err
		}
		found = append(found, k)
	}
	return found, nil
}
