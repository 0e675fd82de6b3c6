package simnet

import (
	"encoding/json"
	"errors"
	"fmt"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// Hear takes a message from the shed. What cannot be stored, or breaks the protocol, ends the
// conversation; what went wrong is returned, and the phone has seen to it.
func (p *Phone) Hear(m Message, at Moment) error {
	if p.line == nil {
		return nil
	}
	p.line.heardAt, p.line.pinged = at.Now, false
	err := p.answer(m, at)
	switch {
	case err == nil:
	case errors.Is(err, ErrFull):
		p.drop(at)
	default:
		p.refuse(syncproto.CodeMalformed, at)
	}
	return err
}

func (p *Phone) answer(m Message, at Moment) error {
	if m.Binary {
		news, err := syncproto.ReadNews(m.Data)
		if err != nil {
			return err
		}
		return p.told(news, at)
	}
	kind, err := syncproto.TypeOf(m.Data)
	if err != nil {
		return err
	}
	switch kind {
	case syncproto.TypeWelcome:
		return read(m.Data, at, p.welcomed)
	case syncproto.TypeRefuse:
		return read(m.Data, at, p.refused)
	case syncproto.TypeAck:
		return read(m.Data, at, p.acknowledged)
	default:
		return nil // a pong, or of a later version
	}
}

func read[M any](data []byte, at Moment, then func(M, Moment) error) error {
	var message M
	if err := json.Unmarshal(data, &message); err != nil {
		return fmt.Errorf("reading what the shed says: %w", err)
	}
	return then(message, at)
}

func (p *Phone) refused(m syncproto.Refuse, at Moment) error {
	switch m.Code {
	case syncproto.CodeBusy, syncproto.CodeGap:
		p.drop(at)
	case syncproto.CodeReused:
		if p.reusedBefore {
			p.refuse(m.Code, at)
			return nil
		}
		// The next welcome tells a copy of a phone that its past is another's.
		p.reusedBefore = true
		p.hangUp(at.Now)
	default:
		p.refuse(m.Code, at)
	}
	return nil
}

func (p *Phone) welcomed(w syncproto.Welcome, at Moment) error {
	l, r := p.line, p.Records()
	if l.welcomed || w.Version != syncproto.Version || r.Farm != "" && r.Farm != w.Farm {
		return fmt.Errorf("the shed of farm %s welcomes in version %d, a phone of farm %q", w.Farm, w.Version, r.Farm)
	}
	if r.Farm == "" {
		if err := p.disk.store(func(r *Records) { r.join(w.Farm) }); err != nil {
			return err
		}
	}
	if !r.Logs[l.incarnation].proves(r.Farm, w.Seq, w.Hash) {
		return p.unproven(w, at)
	}
	if !l.filling && r.reading().Cursor != nil && r.isOlder(w) {
		return p.readAnew(at)
	}
	if err := p.disk.store(func(r *Records) { p.takeWelcome(r, w, at) }); err != nil {
		return err
	}
	l.welcomed, l.target, l.newest, l.life = true, w.Arrival, w.Arrival, w.Life
	log := p.Records().Logs[l.incarnation]
	l.sentTo = log.Settled
	if log.Settled == w.Seq && w.Staged > w.Seq && log.proves(r.Farm, w.Staged, w.StagedHash) {
		l.sentTo = w.Staged
	}
	p.unprovenBefore, p.refusal, p.wait, p.shown = false, "", firstWait, nil
	return p.goOnFilling(at)
}

// readAnew asks for everything, also what became of the phone's own changes: what was confirmed may
// not be what this shed has.
func (p *Phone) readAnew(at Moment) error {
	err := p.disk.store(func(r *Records) {
		r.Fill = r.formersToFill()
		r.Reading.Cursor, r.Staging = nil, nil
	})
	if err != nil {
		return err
	}
	p.shown = nil
	p.hangUp(at.Now)
	return nil
}

// takeWelcome notes what a shed that follows the phone's past tells of it.
func (p *Phone) takeWelcome(r *Records, w syncproto.Welcome, at Moment) {
	older := r.isOlder(w)
	log := r.Logs[p.line.incarnation]
	// What lies beyond is settled too, but of that nothing is said before it is pushed again.
	known := w.Known(p.line.asked)
	log.Settled = p.line.asked
	settle(r, log, p.line.filling, word{seq: known, orders: w.Orders, held: w.Held, refused: w.Refused}, at)
	log.Settled = known // which may be less than it was
	r.Logs[log.Incarnation] = log
	if p.line.filling {
		return
	}
	if older {
		r.Fill = r.formersToFill()
	}
	r.Epoch, r.Own = w.Epoch, changelog.OwnPlace(w.Arrival, w.Life)
	if r.reading().Cursor == nil {
		r.Staging = &Reading{Cursor: &syncproto.Cursor{Epoch: w.Epoch, Scopes: w.Scopes}}
	}
	r.complete(w.Arrival)
}

func (p *Phone) acknowledged(ack syncproto.Ack, at Moment) error {
	l := p.line
	if p.faults.ignoresOrders {
		ack.Orders = nil
	}
	if !l.welcomed || max(ack.Seq, ack.Staged) > l.sentTo {
		return fmt.Errorf("the shed acknowledges seq %d, of %d sent", max(ack.Seq, ack.Staged), l.sentTo)
	}
	err := p.disk.store(func(r *Records) {
		log := r.Logs[l.incarnation]
		settle(r, log, l.filling, word{seq: ack.Seq, orders: ack.Orders, held: ack.Held, refused: ack.Refused}, at)
		log.Settled = max(log.Settled, ack.Seq)
		if !l.filling {
			r.Own = changelog.OwnPlace(ack.Arrival, l.life)
		}
		r.Logs[log.Incarnation] = log
	})
	if err != nil {
		return err
	}
	for len(l.underWay) > 0 && l.underWay[0] <= max(ack.Seq, ack.Staged) {
		l.underWay = l.underWay[1:]
		p.reusedBefore = false
	}
	p.shown = nil
	return p.goOnFilling(at)
}

// goOnFilling ends the conversation of a former incarnation once the shed has all of it.
func (p *Phone) goOnFilling(at Moment) error {
	if !p.line.filling {
		return nil
	}
	log := p.Records().Logs[p.line.incarnation]
	if log.Settled < log.unmoved() {
		return nil
	}
	if err := p.disk.store(func(r *Records) { r.filled(log.Incarnation) }); err != nil {
		return err
	}
	p.hangUp(at.Now)
	p.toFill = len(p.Records().Fill) > 0
	return nil
}
