package live_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/syncproto"
)

// replica is what a phone makes of its conversations: it holds changes with their orders, and checks
// the rules of what it is told as it comes.
type replica struct {
	*client
	state    *changelog.State
	mine     []syncproto.Change // mine[i] has seq i+1
	orders   map[int64]syncproto.Stamp
	acked    int64
	at       int64
	told     map[syncproto.Identity]int
	welcomed bool
}

func newReplica(c *client) *replica {
	return &replica{client: c, state: changelog.NewState(), orders: map[int64]syncproto.Stamp{}, told: map[syncproto.Identity]int{}}
}

// take merges one message.
func (r *replica) take(m any) error {
	if _, ok := m.(syncproto.Welcome); ok == r.welcomed {
		return fmt.Errorf("a %T came; welcomed: %v", m, r.welcomed)
	}
	switch m := m.(type) {
	case syncproto.Welcome:
		r.welcomed = true
	case syncproto.Ack:
		return r.takeAck(m)
	case news:
		return r.takeNews(m)
	case syncproto.Pong:
	default:
		return fmt.Errorf("%T %+v", m, m)
	}
	return nil
}

func (r *replica) takeAck(ack syncproto.Ack) error {
	if ack.Seq <= r.acked || ack.Seq > int64(len(r.mine)) || len(ack.Refused)+len(ack.Held) > 0 {
		return fmt.Errorf("ack %+v came after that of seq %d", ack, r.acked)
	}
	for _, o := range ack.Orders {
		r.orders[o.Seq] = o.Order
	}
	for _, c := range r.mine[r.acked:ack.Seq] {
		order, ok := r.orders[c.Seq]
		if !ok {
			order = c.Stamp
		}
		r.state.Merge(c, order)
	}
	r.acked = ack.Seq
	return nil
}

func (r *replica) takeNews(n news) error {
	if n.Arrival <= r.at || n.Newest < n.Arrival {
		return fmt.Errorf("news to arrival %d of %d came at %d", n.Arrival, n.Newest, r.at)
	}
	r.at = n.Arrival
	if incarnation, seq, err := n.last().Split(); err != nil || incarnation == r.Incarnation && seq > r.acked {
		return fmt.Errorf("news passed own change %s before its acknowledgement, at seq %d (%v)", n.Last, r.acked, err)
	}
	for i, c := range n.Changes {
		if c.Incarnation == r.Incarnation {
			return fmt.Errorf("own change %s came back", c.Identity())
		}
		if r.told[c.Identity()]++; r.told[c.Identity()] > 1 {
			return fmt.Errorf("%s was told again", c.Identity())
		}
		r.state.Merge(c, n.Orders[i])
	}
	return nil
}

// step is a phone that is stepped by hand; what it pushes is heard later, in order.
type step struct {
	*replica
	talk  *live.Talk
	line  []live.Message // on the way to the server
	pongs int
}

// Whatever the interleaving of hearing, committing and saying: answers come in order, news never
// passes an own change, nothing comes twice or back, and all end alike.
func TestAnyInterleavingKeepsTheOrderOfAnswersAndNews(t *testing.T) {
	s := newShed(t, nil)
	for seed := range uint64(12) {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			rnd := rand.New(rand.NewPCG(seed, 3))
			// Another server on the same log each time, so that some begin with history.
			if err := interleave(&shed{Server: live.New(s.Config), farm: s.farm}, rnd); err != nil {
				t.Error(err)
			}
		})
	}
}

func interleave(s *shed, rnd *rand.Rand) error {
	phones := make([]*step, 2+rnd.IntN(4))
	for i := range phones {
		c := newClient()
		p := &step{replica: newReplica(&c), talk: s.Begin(everything)}
		hello := c.hello()
		p.line = append(p.line, textMessage(hello))
		phones[i] = p
	}
	for range 400 {
		p := phones[rnd.IntN(len(phones))]
		if err := p.act(s, rnd); err != nil {
			return err
		}
	}
	return settle(s, phones)
}

func (p *step) act(s *shed, rnd *rand.Rand) error {
	switch n := rnd.IntN(10); {
	case n < 3 && p.welcomed:
		changes := p.records(fmt.Sprint("b", rnd.IntN(5)), fmt.Sprint(rnd.IntN(100)))
		p.mine = append(p.mine, changes...)
		p.line = append(p.line, p.frame(changes...))
	case n == 3 && p.welcomed:
		p.line = append(p.line, live.Message{Data: []byte(`{"t":"ping"}`)})
		p.pongs++
	case n < 6 && len(p.line) > 0:
		p.talk.Hear(p.line[0])
		p.line = p.line[1:]
	case n < 8:
		s.Commit()
	default:
		_, err := p.hearOne()
		return err
	}
	return nil
}

func (p *step) hearOne() (bool, error) {
	m, ok := p.talk.Say()
	if !ok {
		return false, nil
	}
	got, err := p.client.read(m)
	if err != nil {
		return true, err
	}
	if _, ok := got.(syncproto.Pong); ok {
		p.pongs--
	}
	return true, p.take(got)
}

// settle lets everything arrive and checks that all is well.
func settle(s *shed, phones []*step) error {
	for _, p := range phones {
		for ; len(p.line) > 0; p.line = p.line[1:] {
			p.talk.Hear(p.line[0])
		}
	}
	for s.Commit() {
	}
	written := 0
	for _, p := range phones {
		written += len(p.mine)
		for more := true; more; {
			var err error
			if more, err = p.hearOne(); err != nil {
				return err
			}
		}
	}
	return alike(s, phones, written)
}

func alike(s *shed, phones []*step, written int) error {
	stored, _, err := s.farm.State(context.Background())
	if err != nil {
		return err
	}
	for i, p := range phones {
		if p.acked != int64(len(p.mine)) || p.pongs != 0 || p.at != s.farm.Newest() {
			return fmt.Errorf("phone %d: %d of %d acknowledged, %d pings unanswered, told up to %d of %d", i, p.acked, len(p.mine), p.pongs, p.at, s.farm.Newest())
		}
		if !slices.Equal(p.state.Dump(), stored.Dump()) {
			return fmt.Errorf("phone %d ended with another state than the shed", i)
		}
		live := 0
		for _, q := range phones {
			for _, c := range q.mine {
				live += p.told[c.Identity()]
			}
		}
		// What stood no longer when it was read may be left out, but only out of the log.
		if live > written-len(p.mine) {
			return fmt.Errorf("phone %d was told %d changes of the others' %d", i, live, written-len(p.mine))
		}
	}
	return nil
}
