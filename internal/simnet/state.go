package simnet

import (
	"corymb/internal/changelog"
	"corymb/syncproto"
)

// State is what the phone shows: what the shed confirmed, and over it what was recorded here and is
// not settled. It is not to be altered.
func (p *Phone) State() *changelog.State {
	if p.shown != nil {
		return p.shown
	}
	r := p.Records()
	p.shown = changelog.NewState()
	for _, told := range r.Reading.Told {
		p.shown.Merge(told.Change, told.Order)
	}
	log := r.current()
	for _, o := range log.beyond(log.Settled) {
		for i, c := range o.Changes {
			order := o.Fates[i].Order
			if order == syncproto.NoOrder {
				order = c.Stamp
			}
			p.shown.Merge(c, order)
		}
	}
	return p.shown
}

// Unsettled is how many changes wait to be settled, under any incarnation.
func (p *Phone) Unsettled() int {
	r := p.Records()
	n := 0
	for _, log := range r.Logs {
		for _, o := range log.beyond(log.Settled) {
			if !o.Moved {
				n += len(o.Changes)
			}
		}
	}
	return n
}

// Level tells whether the phone is online with nothing to send, and has read all that the shed has
// told it of.
func (p *Phone) Level() bool {
	l := p.line
	if l == nil || !l.welcomed || l.filling {
		return false
	}
	r := p.Records()
	return p.Unsettled() == 0 && len(r.Fill) == 0 && r.Staging == nil &&
		r.Reading.Cursor != nil && r.Reading.Cursor.Arrival >= l.newest
}
