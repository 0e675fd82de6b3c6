package live_test

import (
	"testing"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/syncproto"
)

// asDevice may read and write everything.
func asDevice(id string) live.Member {
	return live.Member{Device: id, Scopes: syncproto.Scopes, Rights: changelog.Within(syncproto.Scopes)}
}

// A member with a program of their own knows from the news under which identities others write, and how
// their chains go on.
func TestNobodyWritesUnderTheIncarnationOfAnotherDevice(t *testing.T) {
	s := newShed(t, nil)
	owner, _ := callAs(t, s, asDevice("d1"), nil)
	first := owner.records("b1", "North")
	owner.push(first...)
	s.Commit()
	hears[syncproto.Ack](owner)

	thief := &caller{client: owner.client, t: t, member: asDevice("d2")}
	w := thief.again(s, nil)
	real := syncproto.ChainStart(s.farm.Farm(), owner.Incarnation).Then(first[0].Canonical()).String()
	if w.Seq == 0 || w.Hash == real {
		t.Errorf("the thief's past is taken for proven: %+v", w)
	}
	thief.push(thief.records("b1", "Mine")...)
	s.Commit()
	if r := hears[syncproto.Refuse](thief); r.Code != syncproto.CodeReused {
		t.Errorf("the thief's change is answered %+v", r)
	}

	owner.push(owner.records("b1", "South")...)
	s.Commit()
	if ack := hears[syncproto.Ack](owner); ack.Seq != 2 {
		t.Errorf("the phone itself is answered %+v", ack)
	}
	if w := owner.again(s, nil); w.Seq != 2 {
		t.Errorf("and is welcomed with %+v", w)
	}
}

func TestWhoSpeaksFirstUnderAnIncarnationDoesNotHaveItYet(t *testing.T) {
	s := newShed(t, nil)
	thief, _ := callAs(t, s, asDevice("d2"), nil)
	owner := &caller{client: thief.client, t: t, member: asDevice("d1")}
	owner.again(s, nil)
	owner.push(owner.records("b1", "North")...)
	s.Commit()
	if ack := hears[syncproto.Ack](owner); ack.Seq != 1 {
		t.Errorf("who writes first is answered %+v", ack)
	}
	thief.packer = syncproto.NewPacker()
	thief.push(thief.records("b1", "Mine")...)
	s.Commit()
	if r := hears[syncproto.Refuse](thief); r.Code != syncproto.CodeReused {
		t.Errorf("who only spoke first is answered %+v", r)
	}
}
