package store

import (
	"crypto/sha256"
	"database/sql"
	"errors"
	"fmt"

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
			v.code, v.text = t.check(c, f.Rights)
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

func (t *transaction) check(c syncproto.Change, rights changelog.Rights) (syncproto.Code, string) {
	if code, text := rights.Refuses(c); code != "" {
		return code, text
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
	facts := digestOfFacts(c)
	was, ok, err := t.keptAs(incarnation, seq)
	if err != nil {
		return verdict{}, err
	}
	if ok && digestOfFacts(was.change) == facts {
		return t.heldBy(was)
	}
	return t.findSentFrom(former, facts)
}

// findSentAgain asks only for incarnations that anything was ever sent again from: they are few.
func (t *transaction) findSentAgain(c syncproto.Change) (verdict, error) {
	named, err := t.isNamedFormer(c.Incarnation)
	if err != nil || !named {
		return verdict{}, err
	}
	return t.findSentFrom(c.Identity(), digestOfFacts(c))
}

// findSentFrom finds the kept change that names a former identity and says certain facts.
func (t *transaction) findSentFrom(former syncproto.Identity, facts [sha256.Size]byte) (verdict, error) {
	var arrival int64
	err := t.stmt(selFormers).QueryRow(t.farm.No, string(former), facts[:]).Scan(&arrival)
	if errors.Is(err, sql.ErrNoRows) {
		return verdict{}, nil
	}
	if err != nil {
		return verdict{}, err
	}
	again, err := t.keptAt(arrival)
	if err != nil {
		return verdict{}, err
	}
	return t.heldBy(again)
}

func (t *transaction) heldBy(k kept) (verdict, error) {
	h, err := t.head(k.change.Incarnation)
	if err != nil {
		return verdict{}, err
	}
	return verdict{held: &k, heldNo: h.no}, nil
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

// keptAs finds the kept change that an identity was settled by: its own, or the one that it was held
// under.
func (t *transaction) keptAs(incarnation string, seq int64) (found kept, ok bool, err error) {
	h, err := t.head(incarnation)
	if err != nil || h.no == 0 || seq > h.seq {
		return kept{}, false, err
	}
	if t.formers.no != h.no {
		t.formers = reading{of: t, no: h.no}
	}
	if found, ok, err = t.formers.seq(seq); err != nil || ok {
		return found, ok, err
	}
	var no, heldSeq int64
	err = t.stmt(selHeld).QueryRow(t.farm.No, h.no, seq).Scan(&no, &heldSeq)
	if errors.Is(err, sql.ErrNoRows) {
		return kept{}, false, nil
	}
	if err != nil {
		return kept{}, false, err
	}
	return (&reading{of: t, no: no}).seq(heldSeq)
}
