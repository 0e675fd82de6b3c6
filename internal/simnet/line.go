package simnet

import (
	"encoding/json"

	"corymb/syncproto"
)

// Waits, in milliseconds (PROTOCOL.md, section 5.8).
const (
	silence     = 10_000 // until a ping is sent, and until the line is dead
	firstWait   = 1_000
	longestWait = 30_000
	refusedWait = 300_000 // after a refusal that trying again at once would not heal
)

// line is a conversation, of which nothing outlives it.
type line struct {
	incarnation string // whose changes it carries
	filling     bool   // a former one
	asked       int64  // the seq above which the welcome is to tell what became of the changes
	welcomed    bool
	packer      *syncproto.Packer
	unpacker    *syncproto.Unpacker
	say         []any // JSON messages that wait to be said
	sentTo      int64
	underWay    []int64 // last seqs of the pushes that were not answered
	target      int64   // the arrival number at which the catch-up ends
	life        string  // of the shed's log
	newest      int64   // the farm's newest arrival number, as far as told
	heardAt     int64
	pingedAt    int64
	pinged      bool
}

// Wants tells whether the phone wants a line now.
func (p *Phone) Wants(at Moment) bool { return p.line == nil && at.Now >= p.retryAt }

// Online tells whether the phone holds a line.
func (p *Phone) Online() bool { return p.line != nil }

// Refusal is why the shed last turned the phone away, "" where it did not since.
func (p *Phone) Refusal() syncproto.Code { return p.refusal }

// Wake makes the phone dial at once: the page came to the front, or the network returned. Only a
// person who insists makes it do so after a refusal that is not about to pass.
func (p *Phone) Wake(at Moment, insist bool) {
	if p.line == nil && (insist || p.refusal == "") {
		p.retryAt = at.Now
	}
}

// Connected begins a conversation.
func (p *Phone) Connected(at Moment) {
	r := p.Records()
	l := &line{
		incarnation: r.Incarnation, packer: syncproto.NewPacker(), unpacker: syncproto.NewUnpacker(),
		heardAt: at.Now,
	}
	if p.toFill && len(r.Fill) > 0 {
		l.filling, l.incarnation = true, r.Fill[0]
	}
	log := r.Logs[l.incarnation]
	// A shed that is read anew, or filled, may have judged otherwise than was told before.
	if !l.filling && r.reading().Cursor != nil {
		l.asked = log.Settled
	}
	hello := syncproto.Hello{
		T: syncproto.TypeHello, Versions: []int{syncproto.Version}, Farm: r.Farm, Person: p.person,
		Device: r.Device, Incarnation: l.incarnation, Settled: l.asked, News: !l.filling,
	}
	for _, o := range log.beyond(log.Settled) {
		if !o.Moved {
			hello.Unsent += len(o.Changes)
		}
	}
	if !l.filling {
		hello.Cursor = r.cursor()
	}
	l.say = []any{hello}
	p.line = l
}

// Lost tells that the line broke, or that none was to be had.
func (p *Phone) Lost(at Moment) { p.drop(at) }

// drop lets go of the line and tries again after a while, twice as long each time.
func (p *Phone) drop(at Moment) {
	if p.line != nil && p.line.filling {
		p.fillAt = at.Now + p.wait
	}
	p.toFill = false
	if p.faults.prunes {
		p.prune()
	}
	p.hangUp(at.Now + p.wait)
	p.wait = min(2*p.wait, longestWait)
}

func (p *Phone) prune() {
	r := p.Records()
	log := r.current()
	log.Operations = log.Operations[:log.from(log.Settled)]
	r.Logs[log.Incarnation] = log
}

func (p *Phone) hangUp(retryAt int64) { p.line, p.retryAt = nil, retryAt }

// refuse lets go of a line on which it makes no sense to go on soon.
func (p *Phone) refuse(code syncproto.Code, at Moment) {
	p.toFill = false
	p.fillAt = at.Now + refusedWait
	p.refusal = code
	p.hangUp(at.Now + refusedWait)
}

// Tick lets the phone do what has become due. Call it at least once a second.
func (p *Phone) Tick(at Moment) {
	l := p.line
	if l == nil {
		return
	}
	switch {
	case !l.welcomed && at.Now >= l.heardAt+2*silence, l.pinged && at.Now >= l.pingedAt+silence:
		p.drop(at)
	case l.welcomed && !l.pinged && at.Now >= l.heardAt+silence:
		l.pinged, l.pingedAt = true, at.Now
		l.say = append(l.say, syncproto.Ping{T: syncproto.TypePing})
	case !l.filling && at.Now >= p.fillAt && len(p.Records().Fill) > 0 && p.isIdle():
		p.toFill = true
		p.hangUp(at.Now)
	}
}

// isIdle tells whether the phone's own conversation has nothing under way.
func (p *Phone) isIdle() bool {
	r, l := p.Records(), p.line
	log := r.current()
	return l.welcomed && r.Staging == nil && log.Settled == log.Last()
}

// Say is the next message to send, if there is one now.
func (p *Phone) Say() (Message, bool) {
	l := p.line
	if l == nil {
		return Message{}, false
	}
	if len(l.say) > 0 {
		data, err := json.Marshal(l.say[0])
		if err != nil {
			panic(err) // what is said holds nothing that JSON cannot write
		}
		l.say = l.say[1:]
		return Message{Data: data}, true
	}
	if !l.welcomed || len(l.underWay) >= window {
		return Message{}, false
	}
	log := p.Records().Logs[l.incarnation]
	batch := log.batchAfter(l.sentTo, log.unmoved())
	if len(batch.Changes) == 0 {
		return Message{}, false
	}
	l.sentTo = batch.Changes[len(batch.Changes)-1].Seq
	l.underWay = append(l.underWay, l.sentTo)
	return Message{Binary: true, Data: syncproto.AppendPush(nil, l.packer, batch)}, true
}
