package live_test

import (
	"fmt"
	"slices"
	"sync"
	"testing"

	"corymb/server/live"
	"corymb/syncproto"
)

func TestAPushIsAcknowledgedAndToldToOthers(t *testing.T) {
	s := startShed(t, nil)
	ana, ben := newPhone(t), newPhone(t)
	if w := ana.connect(s); w.Farm != s.farm.Farm() || w.Seq != 0 || w.Resume || w.Hash != syncproto.ChainStart(w.Farm, ana.Incarnation).String() {
		t.Errorf("welcome %+v", w)
	}
	ben.connect(s)
	change := ana.records("b1", "North")
	ana.push(change...)
	if ack := read[syncproto.Ack](ana); ack.Seq != 1 || len(ack.Orders) != 0 || len(ack.Refused) != 0 {
		t.Errorf("ack %+v", ack)
	}
	n := read[news](ben)
	if len(n.Changes) != 1 || string(n.Changes[0].Canonical()) != string(change[0].Canonical()) || n.Arrival != 1 || n.last() != change[0].Identity() {
		t.Errorf("news %+v", n)
	}
	if own := read[news](ana); len(own.Changes) != 0 || own.Arrival != 1 || own.last() != change[0].Identity() {
		t.Errorf("an own change came back, or the cursor stood: %+v", own)
	}
}

func TestAPingIsAnsweredWithTheClock(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.connect(s)
	p.send(syncproto.Ping{T: syncproto.TypePing})
	if pong := read[syncproto.Pong](p); pong.Clock != noon.UnixMilli() {
		t.Errorf("the clock is %d, want %d", pong.Clock, noon.UnixMilli())
	}
}

// Many phones push and listen at once, several frames under way each.
func TestEveryPhoneEndsWithTheSameStateAndHearsEverythingOnce(t *testing.T) {
	const phones, pushes, total = 5, 40, 5 * 40 * 2
	s := startShed(t, nil)
	replicas := make([]*replica, phones)
	var talking sync.WaitGroup
	for i := range replicas {
		p := newPhone(t)
		r := newReplica(&p.client)
		replicas[i] = r
		p.connect(s)
		r.welcomed = true
		var frames []live.Message
		for n := range pushes {
			changes := slices.Concat(r.records("b1", fmt.Sprint(i, n)), r.records(fmt.Sprint("b", n), fmt.Sprint(i)))
			r.mine = append(r.mine, changes...)
			frames = append(frames, p.frame(changes...))
		}
		talking.Go(func() {
			for _, m := range frames {
				if err := write(p.socket, m); err != nil {
					t.Error(err)
				}
			}
		})
		talking.Go(func() {
			for r.at < total || r.acked < 2*pushes {
				m, err := p.receive()
				if err == nil {
					err = r.take(m)
				}
				if err != nil {
					t.Error(err)
					return
				}
			}
		})
	}
	talking.Wait()
	stored, _, err := s.farm.State(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range replicas {
		if string(r.state.Dump()) != string(stored.Dump()) {
			t.Errorf("phone %d ended with another state than the shed", i)
		}
		if len(r.told) > total-2*pushes {
			t.Errorf("phone %d was told %d changes, want %d at most", i, len(r.told), total-2*pushes)
		}
	}
}
