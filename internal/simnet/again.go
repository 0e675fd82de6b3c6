package simnet

import (
	"maps"
	"slices"

	"corymb/syncproto"
)

// unproven sees to it that the shed gets everything it may lack although it does not know the past
// that the phone has (PROTOCOL.md, section 5.2).
func (p *Phone) unproven(w syncproto.Welcome, at Moment) error {
	l := p.line
	incarnation := p.newID().String()
	take := func(r *Records) { r.reincarnate(incarnation, w, p.faults) }
	if l.filling {
		take = func(r *Records) { r.sayFormerAgain(l.incarnation, incarnation) }
	}
	if err := p.disk.store(take); err != nil {
		return err
	}
	p.shown, p.counts = nil, nil
	p.toFill = false
	if p.unprovenBefore {
		p.drop(at)
	} else {
		p.hangUp(at.Now)
	}
	p.unprovenBefore = true
	return nil
}

// reincarnate takes a new incarnation and says again under it what is not known to be settled, and
// everything where the shed may be an older copy: then what was acknowledged proves nothing. What it
// holds it settles again without keeping it twice.
func (r *Records) reincarnate(incarnation string, w syncproto.Welcome, without faults) {
	old := r.current()
	again := Log{Incarnation: incarnation}
	older := r.isOlder(w)
	for i := range old.Operations {
		if o := &old.Operations[i]; !o.Moved && (older || o.last() > old.Settled) {
			o.Moved = true
			if !without.forgetsUnproven {
				again = again.with(r.Farm, saidAgain(*o, incarnation, again.Last()+1, without))
			}
		}
	}
	r.Logs[old.Incarnation], r.Logs[incarnation] = old, again
	r.Incarnation, r.Formers = incarnation, append([]string{old.Incarnation}, r.Formers...)
	r.Epoch, r.Fill = w.Epoch, r.formersToFill()
	// A copy of this phone may have pushed under the same incarnation while this one was online, and
	// the shed took that for its own and did not tell it. So everything is read from the start.
	r.Reading.Cursor, r.Staging = nil, nil
}

// isOlder tells whether the shed may have been replaced by an older copy since the phone last read
// from it. Other scopes look the same, and do no harm.
func (r *Records) isOlder(w syncproto.Welcome) bool {
	return r.Epoch != "" && r.Epoch != w.Epoch || r.reading().Cursor != nil && !w.Resume ||
		w.Seq < r.current().Settled
}

// saidAgain is an operation under a new incarnation: the same facts and stamp, and the identity
// under which each was first framed. A restored shed is to give each the order that it had.
func saidAgain(o Operation, incarnation string, first int64, without faults) Operation {
	again := Operation{Origins: o.Origins}
	for i, c := range o.Changes {
		former, ok := c.Former()
		if !ok {
			former = c.Identity()
		}
		c.Incarnation, c.Seq = incarnation, first+int64(i)
		if !without.namesNoFormer {
			c.Extra = withExtra(c.Extra, syncproto.ExtraFormer, syncproto.Text(string(former)))
		}
		again.Changes = append(again.Changes, c)
		again.Fates = append(again.Fates, Fate{Order: o.Fates[i].Order})
	}
	return again
}

func withExtra(extra map[string]syncproto.Value, name string, v syncproto.Value) map[string]syncproto.Value {
	extra = maps.Clone(extra)
	if extra == nil {
		extra = map[string]syncproto.Value{}
	}
	extra[name] = v
	return extra
}

// sayFormerAgain says again, under an incarnation that does nothing else, what was settled under a
// former one: its stamps lie before those of the current.
func (r *Records) sayFormerAgain(former, incarnation string) {
	old := r.Logs[former]
	again := Log{Incarnation: incarnation}
	for i := range old.Operations {
		if o := &old.Operations[i]; !o.Moved {
			o.Moved = true
			again = again.with(r.Farm, saidAgain(*o, incarnation, again.Last()+1, faults{}))
		}
	}
	r.Logs[former], r.Logs[incarnation] = old, again
	r.Formers = slices.Insert(r.Formers, slices.Index(r.Formers, former), incarnation)
	r.Fill[slices.Index(r.Fill, former)] = incarnation
}

// formersToFill lists the former incarnations of which something still stands for itself.
func (r *Records) formersToFill() []string {
	var fill []string
	for _, incarnation := range r.Formers {
		if r.Logs[incarnation].unmoved() > 0 {
			fill = append(fill, incarnation)
		}
	}
	return fill
}

// filled notes that the shed holds all of a former incarnation.
func (r *Records) filled(incarnation string) {
	r.Fill = slices.DeleteFunc(slices.Clone(r.Fill), func(f string) bool { return f == incarnation })
}
