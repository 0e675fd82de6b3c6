package live_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"sync"
	"testing"

	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
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

func TestAPingIsAnsweredWithTheClock(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.connect(s)
	p.send(syncproto.Ping{T: syncproto.TypePing})
	if pong := read[syncproto.Pong](p, syncproto.TypePong); pong.Clock != noon.UnixMilli() {
		t.Errorf("the clock is %d, want %d", pong.Clock, noon.UnixMilli())
	}
}

// The line broke between commit and acknowledgement: the phone hears of its own changes in the
// catch-up, and pushing them again changes nothing.
func TestALostAcknowledgementLosesAndDoublesNothing(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.connect(s)
	change := p.records("b1", "North")
	p.push(change...)
	order := read[syncproto.Ack](p, syncproto.TypeAck).Orders[0].Order // the phone did not get this
	_ = p.socket.Close()
	w := p.connect(s)
	if want := syncproto.ChainStart(w.Farm, p.Incarnation).Then(change[0].Canonical()); w.Seq != 1 || w.Hash != want.String() || w.Arrival != 1 {
		t.Errorf("welcome %+v", w)
	}
	news := read[syncproto.News](p, syncproto.TypeNews)
	if len(news.Changes) != 1 || news.Changes[0].Identity() != change[0].Identity() || news.Orders[0] != order {
		t.Errorf("the catch-up brought %+v", news)
	}
	p.push(change...)
	if ack := read[syncproto.Ack](p, syncproto.TypeAck); ack.Seq != 1 || ack.Orders[0].Order != order {
		t.Errorf("pushed again: %+v", ack)
	}
	if n := s.farm.Newest(); n != 1 {
		t.Errorf("the log holds %d changes, want 1", n)
	}
}

func TestACursorThatHoldsGoesOnFromThere(t *testing.T) {
	s := startShed(t, nil)
	writer := newPhone(t)
	w := writer.connect(s)
	first, second := writer.records("b1", "North"), writer.records("b1", "South")
	writer.push(first...)
	read[syncproto.Ack](writer, syncproto.TypeAck)
	writer.push(second...)
	tests := []struct {
		name   string
		cursor *syncproto.Cursor
		resume bool
		bring  int
	}{
		{"fresh", nil, false, 2},
		{"after the first", &syncproto.Cursor{Epoch: w.Epoch, Scopes: w.Scopes, Arrival: 1, Last: first[0].Identity()}, true, 1},
		{"of another epoch", &syncproto.Cursor{Epoch: "x", Scopes: w.Scopes, Arrival: 1, Last: first[0].Identity()}, false, 2},
	}
	for s.farm.Newest() < 2 {
		writer.next()
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := newPhone(t)
			p.cursor = tt.cursor
			if w := p.connect(s); w.Resume != tt.resume || w.Arrival != 2 {
				t.Errorf("welcome %+v", w)
			}
			news := read[syncproto.News](p, syncproto.TypeNews)
			if len(news.Changes) != tt.bring || news.Arrival != 2 || news.Newest != 2 {
				t.Errorf("news %+v, want %d changes", news, tt.bring)
			}
		})
	}
}

func TestOnlyTheScopesOfThePersonAreToldAndTaken(t *testing.T) {
	s := startShed(t, func(c *live.Config) {
		c.Scopes = func(person string) []syncproto.Scope {
			if person == "crew" {
				return []syncproto.Scope{syncproto.ScopeField}
			}
			return syncproto.Scopes
		}
	})
	owner, crew := newPhone(t), newPhone(t)
	owner.connect(s)
	crew.dial(s)
	hello := crew.hello()
	hello.Person = "crew"
	crew.send(hello)
	if w := read[syncproto.Welcome](crew, syncproto.TypeWelcome); !slices.Equal(w.Scopes, syncproto.Scopes[:1]) {
		t.Errorf("scopes %v", w.Scopes)
	}
	money := owner.records("b1", "North")
	money[0].Scope = syncproto.ScopeMoney
	owner.push(money...)
	if news := read[syncproto.News](crew, syncproto.TypeNews); len(news.Changes) != 0 || news.Arrival != 1 {
		t.Errorf("the crew was told %+v", news)
	}
	forbidden := crew.records("b1", "South")
	forbidden[0].Scope = syncproto.ScopeMoney
	crew.push(forbidden...)
	if ack := read[syncproto.Ack](crew, syncproto.TypeAck); ack.Seq != 1 || len(ack.Refused) != 1 || ack.Refused[0].Code != syncproto.CodeScope {
		t.Errorf("ack %+v", ack)
	}
}

// replica is what a phone makes of a conversation: it holds changes with their orders, and checks
// the rules of news as they come.
type replica struct {
	*phone
	state *changelog.State
	mine  map[syncproto.Identity]syncproto.Change
	acked int64
	at    int64
	told  map[syncproto.Identity]int
}

// take merges one message.
func (r *replica) take(kind string, data []byte) error {
	switch kind {
	case syncproto.TypeAck:
		var ack syncproto.Ack
		if err := json.Unmarshal(data, &ack); err != nil {
			return err
		}
		for _, o := range ack.Orders {
			r.state.Merge(r.mine[syncproto.IdentityOf(r.Incarnation, o.Seq)], o.Order)
		}
		r.acked = ack.Seq
	case syncproto.TypeNews:
		var news syncproto.News
		if err := json.Unmarshal(data, &news); err != nil {
			return err
		}
		return r.takeNews(news)
	}
	return nil
}

func (r *replica) takeNews(news syncproto.News) error {
	if news.Arrival <= r.at || len(news.Changes) != len(news.Orders) {
		return fmt.Errorf("news to arrival %d with %d orders came at %d", news.Arrival, len(news.Orders), r.at)
	}
	r.at = news.Arrival
	if incarnation, seq, err := news.Last.Split(); err != nil || incarnation == r.Incarnation && seq > r.acked {
		return fmt.Errorf("news passed own change %s before its acknowledgement, at seq %d (%v)", news.Last, r.acked, err)
	}
	for i, c := range news.Changes {
		if c.Incarnation == r.Incarnation {
			return fmt.Errorf("own change %s came back", c.Identity())
		}
		r.told[c.Identity()]++
		r.state.Merge(c, news.Orders[i])
	}
	return nil
}

// Many phones push and listen at once, several frames under way each.
func TestEveryPhoneEndsWithTheSameStateAndHearsEverythingOnce(t *testing.T) {
	const phones, pushes, total = 5, 40, 5 * 40 * 2
	s := startShed(t, nil)
	replicas := make([]*replica, phones)
	var talking sync.WaitGroup
	for i := range replicas {
		r := &replica{phone: newPhone(t), state: changelog.NewState(), mine: map[syncproto.Identity]syncproto.Change{}, told: map[syncproto.Identity]int{}}
		replicas[i] = r
		r.connect(s)
		var frames [][]byte
		for n := range pushes {
			changes := slices.Concat(r.records("b1", fmt.Sprint(i, n)), r.records(fmt.Sprint("b", n), fmt.Sprint(i)))
			for _, c := range changes {
				r.mine[c.Identity()] = c
			}
			data, err := json.Marshal(syncproto.Push{T: syncproto.TypePush, Changes: changes})
			if err != nil {
				t.Fatal(err)
			}
			frames = append(frames, data)
		}
		talking.Go(func() {
			for _, data := range frames {
				if err := r.socket.WriteMessage(websocket.TextMessage, data); err != nil {
					t.Error(err)
				}
			}
		})
		talking.Go(func() {
			for r.at < total || r.acked < 2*pushes {
				_, data, err := r.socket.ReadMessage()
				if err == nil {
					var kind string
					if kind, err = syncproto.TypeOf(data); err == nil {
						err = r.take(kind, data)
					}
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
		if len(r.told) != total-2*pushes {
			t.Errorf("phone %d was told %d changes, want %d", i, len(r.told), total-2*pushes)
		}
		for id, n := range r.told {
			if n != 1 {
				t.Errorf("phone %d was told %s %d times", i, id, n)
			}
		}
	}
}
