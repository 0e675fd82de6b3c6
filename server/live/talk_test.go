package live_test

import (
	"testing"

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
	if ack := read[syncproto.Ack](ana, syncproto.TypeAck); ack.Seq != 1 || len(ack.Orders) != 1 || len(ack.Refused) != 0 {
		t.Errorf("ack %+v", ack)
	}
	news := read[syncproto.News](ben, syncproto.TypeNews)
	if len(news.Changes) != 1 || string(news.Changes[0].Canonical()) != string(change[0].Canonical()) || news.Arrival != 1 || news.Last != change[0].Identity() {
		t.Errorf("news %+v", news)
	}
	if own := read[syncproto.News](ana, syncproto.TypeNews); len(own.Changes) != 0 || own.Arrival != 1 || own.Last != change[0].Identity() {
		t.Errorf("an own change came back, or the cursor stood: %+v", own)
	}
}
