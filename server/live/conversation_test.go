package live_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/syncproto"
)

// caller is a client whose conversation has no socket.
type caller struct {
	client
	t      testing.TB
	talk   *live.Talk
	member live.Member
}

// call begins a conversation and is welcomed; change (nil for none) adjusts the hello.
func call(t testing.TB, s *shed, change func(*syncproto.Hello)) (*caller, syncproto.Welcome) {
	t.Helper()
	return callAs(t, s, everything, change)
}

func callAs(t testing.TB, s *shed, member live.Member, change func(*syncproto.Hello)) (*caller, syncproto.Welcome) {
	t.Helper()
	c := &caller{client: newClient(), t: t, member: member}
	return c, c.again(s, change)
}

// again begins the next conversation of a caller.
func (c *caller) again(s *shed, change func(*syncproto.Hello)) syncproto.Welcome {
	c.t.Helper()
	c.talk = s.Begin(c.member)
	hello := c.hello()
	if change != nil {
		change(&hello)
	}
	c.talk.Hear(textMessage(hello))
	return hears[syncproto.Welcome](c)
}

func (c *caller) push(changes ...syncproto.Change) { c.talk.Hear(c.frame(changes...)) }

// hears takes the next message, which must be of a kind.
func hears[M any](c *caller) M {
	c.t.Helper()
	m, ok := c.talk.Say()
	if !ok {
		c.t.Fatalf("nothing was said, want a %T", *new(M))
	}
	got, err := c.client.read(m)
	if err != nil {
		c.t.Fatal(err)
	}
	want, ok := got.(M)
	if !ok {
		c.t.Fatalf("got %T %+v, want a %T", got, got, want)
	}
	return want
}

// silent fails if there is something to say.
func (c *caller) silent() {
	c.t.Helper()
	if m, ok := c.talk.Say(); ok {
		got, err := c.client.read(m)
		c.t.Fatalf("got %T %+v (%v), want silence", got, got, err)
	}
}

func TestASenderHearsOfItsOwnChangesOnlyThatItHasThem(t *testing.T) {
	s := newShed(t, nil)
	ana, _ := call(t, s, nil)
	ben, _ := call(t, s, nil)
	change := ana.records("b1", "North")
	ana.push(change...)
	ana.silent() // it is not on the disk
	s.Commit()
	if ack := hears[syncproto.Ack](ana); ack.Seq != 1 || len(ack.Orders) != 0 || len(ack.Refused) != 0 {
		t.Errorf("ack %+v", ack)
	}
	if own := hears[news](ana); len(own.Batches) != 0 || own.Arrival != 1 || own.last() != change[0].Identity() {
		t.Errorf("an own change came back, or the cursor stood: %+v", own)
	}
	n := hears[news](ben)
	if len(n.Changes) != 1 || string(n.Changes[0].Canonical()) != string(change[0].Canonical()) ||
		n.Orders[0] != change[0].Stamp || n.Arrival != 1 || n.Newest != 1 || n.last() != change[0].Identity() {
		t.Errorf("news %+v", n)
	}
	ana.silent()
	ben.silent()
}

// A phone that pushes much need not hear after each frame that nobody else wrote anything.
func TestThatNothingElseCameIsSaidOnceAllFramesAreAnswered(t *testing.T) {
	s := newShed(t, nil)
	c, _ := call(t, s, nil)
	c.push(c.records("b1", "North")...)
	s.Commit()
	c.push(c.records("b1", "South")...)
	hears[syncproto.Ack](c)
	c.silent()
	s.Commit()
	hears[syncproto.Ack](c)
	if n := hears[news](c); n.Arrival != 2 || len(n.Batches) != 0 {
		t.Errorf("news %+v", n)
	}
}

// A clone of a phone, or a phone that came back before its old line was seen to be dead.
func TestTwoConversationsOfOneIncarnation(t *testing.T) {
	s := newShed(t, nil)
	one, _ := call(t, s, nil)
	other := &caller{client: one.client, t: t}
	other.again(s, nil)
	first := one.records("b1", "North")
	one.push(first...)
	other.push(first...)
	s.Commit()
	for _, c := range []*caller{one, other} {
		if ack := hears[syncproto.Ack](c); ack.Seq != 1 {
			t.Errorf("ack %+v", ack)
		}
		if n := hears[news](c); len(n.Batches) != 0 || n.Arrival != 1 {
			t.Errorf("news %+v", n)
		}
	}
	other.Seq, other.Clock, other.wall = one.Seq, one.Clock, one.wall
	one.push(one.records("b1", "South")...)
	other.push(other.records("b1", "West")...)
	s.Commit()
	if ack := hears[syncproto.Ack](one); ack.Seq != 2 {
		t.Errorf("ack %+v", ack)
	}
	if r := hears[syncproto.Refuse](other); r.Code != syncproto.CodeReused {
		t.Errorf("refused with %+v", r)
	}
	if s.farm.Newest() != 2 || one.talk.Over() || !other.talk.Over() {
		t.Errorf("the log holds %d changes; over %v and %v", s.farm.Newest(), one.talk.Over(), other.talk.Over())
	}
}

func TestABreachIsSaidAfterWhatWasQueuedBeforeIt(t *testing.T) {
	s := newShed(t, nil)
	c, _ := call(t, s, nil)
	c.push(c.records("b1", "North")...)
	c.push(c.records("b1", "South")...)
	c.talk.Hear(live.Message{Data: []byte(`{"t":"ping"}`)})
	c.talk.Hear(live.Message{Data: []byte("?")})
	c.push(c.records("b1", "West")...) // of a conversation that is over
	hears[syncproto.Pong](c)
	c.silent()
	s.Commit()
	for seq := int64(1); seq <= 2; seq++ {
		if ack := hears[syncproto.Ack](c); ack.Seq != seq {
			t.Errorf("ack %+v, want seq %d", ack, seq)
		}
	}
	if c.talk.Over() {
		t.Error("it is over before the refusal was said")
	}
	if r := hears[syncproto.Refuse](c); r.Code != syncproto.CodeMalformed {
		t.Errorf("refused with %+v", r)
	}
	c.silent()
	if !c.talk.Over() || s.farm.Newest() != 2 {
		t.Errorf("over %v, %d changes stored, want it over with 2", c.talk.Over(), s.farm.Newest())
	}
}

func TestALargeOperationIsPutAsideUntilItsLastPart(t *testing.T) {
	s := newShed(t, nil)
	c, _ := call(t, s, nil)
	other, _ := call(t, s, nil)
	facts := make([]changelog.Fact, 3_000)
	for i := range facts {
		facts[i] = fact(uuid.NewString(), "North")
	}
	changes := c.operation(facts...)
	c.push(changes[:2_000]...)
	s.Commit()
	if ack := hears[syncproto.Ack](c); ack.Seq != 0 || ack.Staged != 2_000 {
		t.Errorf("ack %+v", ack)
	}
	other.silent()
	w := c.again(s, nil)
	if want := syncproto.ChainStart(w.Farm, c.Incarnation); w.Seq != 0 || w.Staged != 2_000 || w.Hash != want.String() || len(w.StagedHash) != len(w.Hash) || w.StagedHash == w.Hash {
		t.Errorf("welcome %+v", w)
	}
	c.push(changes[2_000:]...)
	s.Commit()
	if ack := hears[syncproto.Ack](c); ack.Seq != 3_000 || ack.Staged != 0 {
		t.Errorf("ack %+v", ack)
	}
	told := 0
	for told < len(changes) {
		told += len(hears[news](other).Changes)
	}
	other.silent()
}

// A phone that has lost its records is told what became of 10,000 of its changes. It goes on behind
// those, although parts of a large operation are put aside behind them all.
func TestAPhoneThatIsToldLessThanIsSettledGoesOnThere(t *testing.T) {
	s := newShed(t, nil)
	c, _ := call(t, s, nil)
	many := func(n int) []syncproto.Change {
		facts := make([]changelog.Fact, n)
		for i := range facts {
			facts[i] = fact("b1", "North")
		}
		return c.operation(facts...)
	}
	var frames [][]syncproto.Change
	for range 6 {
		frames = append(frames, many(syncproto.MaxFrameChanges))
	}
	large := many(3_000)
	frames = append(frames, large[:2_000], large[2_000:])
	push := func(from, to int) (ack syncproto.Ack) {
		for _, changes := range frames[from:to] {
			c.push(changes...)
			s.Commit()
			ack = hears[syncproto.Ack](c)
		}
		return ack
	}
	if ack := push(0, 7); ack.Seq != 12_000 || ack.Staged != 14_000 {
		t.Fatalf("ack %+v", ack)
	}
	w := c.again(s, func(h *syncproto.Hello) { h.News = false })
	if w.Seq != 12_000 || w.Told != 10_000 || w.Staged != 14_000 {
		t.Fatalf("welcomed at %d, told to %d, with %d put aside: the test is not about what it says", w.Seq, w.Told, w.Staged)
	}
	if ack := push(5, 8); ack.Seq != 15_000 || ack.Staged != 0 {
		t.Errorf("ack %+v", ack)
	}
}

func TestAPhoneThatWantsNoNewsGetsNone(t *testing.T) {
	s := newShed(t, nil)
	writer, _ := call(t, s, nil)
	writer.push(writer.records("b1", "North")...)
	s.Commit()
	filler, w := call(t, s, func(h *syncproto.Hello) { h.News = false })
	if w.Arrival != 1 {
		t.Errorf("welcome %+v", w)
	}
	filler.silent()
	writer.push(writer.records("b1", "South")...)
	filler.push(filler.records("b1", "West")...)
	s.Commit()
	if ack := hears[syncproto.Ack](filler); ack.Seq != 1 {
		t.Errorf("ack %+v", ack)
	}
	filler.silent()
}

func TestWhatALaterVersionAddsIsPassedOver(t *testing.T) {
	s := newShed(t, nil)
	c := &caller{client: newClient(), t: t, talk: s.Begin(everything)}
	hello := c.hello()
	hello.Versions = []int{1, 2}
	data := strings.Replace(string(textMessage(hello).Data), `{`, `{"colour":{"of":["a"]},`, 1)
	c.talk.Hear(live.Message{Data: []byte(`{"t":"greetings","from":2}`)})
	c.silent()
	c.talk.Hear(live.Message{Data: []byte(data)})
	if w := hears[syncproto.Welcome](c); w.Version != 1 {
		t.Errorf("welcome %+v", w)
	}
	c.talk.Hear(live.Message{Data: []byte(`{"t":"pull","from":7}`)})
	c.talk.Hear(live.Message{Data: []byte(`{"t":"ping","urgent":true}`)})
	hears[syncproto.Pong](c)
	c.silent()
}

func TestTheWelcomeTellsWhatBecameOfEarlierChanges(t *testing.T) {
	s := newShed(t, nil)
	c, fresh := call(t, s, nil)
	if fresh.Orders == nil || fresh.Held == nil || fresh.Refused == nil {
		t.Errorf("a list of the welcome is null: %+v", fresh)
	}
	late := c.records("b1", "North")
	late[0].Stamp.L = noon.UnixMilli() + 3_600_000 // an hour ahead
	c.push(late...)
	s.Commit()
	ack := hears[syncproto.Ack](c)
	if len(ack.Orders) != 1 || ack.Orders[0].Order.Compare(late[0].Stamp) >= 0 {
		t.Fatalf("ack %+v, want an order below the stamp", ack)
	}
	if w := c.again(s, nil); !slices.Equal(w.Orders, ack.Orders) {
		t.Errorf("welcome %+v, want the orders of %+v", w, ack)
	}
	if w := c.again(s, func(h *syncproto.Hello) { h.Settled = 1 }); len(w.Orders) != 0 {
		t.Errorf("what the phone knew was told again: %+v", w)
	}
}

// Nothing piles up: whoever holds the line is told when to wait.
func TestAPhoneHasOnlySoMuchUnderWay(t *testing.T) {
	s := newShed(t, nil)
	c, _ := call(t, s, nil)
	frames := 0
	for ; c.talk.Room(); frames++ {
		if frames > 4 {
			t.Fatal("there is always room")
		}
		facts := make([]changelog.Fact, syncproto.MaxFrameChanges)
		for i := range facts {
			facts[i] = fact("b1", "North")
		}
		c.push(c.operation(facts...)...)
	}
	s.Commit()
	if c.talk.Room() {
		t.Error("there is room before an answer was said")
	}
	hears[syncproto.Ack](c)
	if !c.talk.Room() {
		t.Errorf("there is no room after an answer, with %d frames under way", frames-1)
	}
}

func TestAllPhonesTogetherHaveOnlySoMuchQueued(t *testing.T) {
	s := newShed(t, nil)
	idle, _ := call(t, s, nil)
	for pushing := 0; idle.talk.Room(); pushing++ {
		if pushing > 20 {
			t.Fatal("there is always room")
		}
		c, _ := call(t, s, nil)
		for c.talk.Room() && idle.talk.Room() {
			facts := make([]changelog.Fact, syncproto.MaxFrameChanges)
			for i := range facts {
				facts[i] = fact("b1", "North")
			}
			c.push(c.operation(facts...)...)
		}
	}
	if !s.Begin(everything).Room() {
		t.Error("a hello, for which there is little time, would be kept waiting")
	}
	if !s.Commit() || !idle.talk.Room() {
		t.Error("a commit made no room")
	}
}
