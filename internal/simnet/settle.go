package simnet

import (
	"slices"

	"corymb/syncproto"
)

// word is the shed's word on changes of an incarnation up to a seq.
type word struct {
	seq     int64
	orders  []syncproto.SeqOrder
	held    []int64
	refused []syncproto.Refusal
}

// fates are what the word says of the changes of an operation: what is named nowhere was kept under
// its stamp.
func (w word) fates(o Operation) []Fate {
	fates := make([]Fate, len(o.Changes))
	for i, c := range o.Changes {
		fates[i] = Fate{Order: c.Stamp}
	}
	first, last := o.first(), o.last()
	for _, told := range w.orders {
		if told.Seq >= first && told.Seq <= last {
			fates[told.Seq-first] = Fate{Order: told.Order}
		}
	}
	for _, seq := range w.held {
		if seq >= first && seq <= last {
			fates[seq-first] = Fate{Order: syncproto.NoOrder, Held: true}
		}
	}
	for _, refusal := range w.refused {
		if refusal.Seq >= first && refusal.Seq <= last {
			fates[refusal.Seq-first] = Fate{Order: syncproto.NoOrder, Refused: refusal.Code}
		}
	}
	return fates
}

// settle notes what became of the operations beyond those known to be settled. Changes of the phone's
// own conversation that were kept join what is confirmed, for the shed does not tell them again; a
// former incarnation's come as news.
func settle(r *Records, log Log, former bool, w word, at Moment) {
	for _, o := range w.orders {
		r.Clock.Receive(at.Wall, o.Order)
	}
	for i := log.from(log.Settled); i < len(log.Operations); i++ {
		o := &log.Operations[i]
		if o.last() > w.seq {
			return
		}
		o.Fates = w.fates(*o)
		for k, fate := range o.Fates {
			if !former && fate.Order != syncproto.NoOrder {
				r.confirm(Told{Change: o.Changes[k], Order: fate.Order})
			}
		}
	}
}

// confirm adds to what is shown, and to a reading anew.
func (r *Records) confirm(told Told) {
	r.Reading.Told = append(r.Reading.Told, told)
	if r.Staging != nil {
		r.Staging.Told = append(r.Staging.Told, told)
	}
}

// told takes news in, together with the cursor that it moves.
func (p *Phone) told(news syncproto.News, at Moment) error {
	l := p.line
	if !l.welcomed || l.filling {
		return syncproto.Breachf(syncproto.CodeMalformed, "news that was not asked for")
	}
	var told []Told
	for _, packed := range news.Batches {
		batch, err := l.unpacker.Read(packed)
		if err != nil {
			return err
		}
		for i, c := range batch.Changes {
			if batch.Orders == nil || batch.Orders[i] == syncproto.NoOrder {
				return syncproto.Breachf(syncproto.CodeMalformed, "news of %s without its order", c.Identity())
			}
			told = append(told, Told{Change: c, Order: batch.Orders[i]})
		}
	}
	err := p.disk.store(func(r *Records) {
		reading := r.reading()
		reading.Told = append(reading.Told, told...)
		moved := *reading.Cursor
		moved.Arrival, moved.Last = news.Arrival, news.Last
		reading.Cursor = &moved
		for _, t := range told {
			r.Clock.Receive(at.Wall, t.Order)
			r.noteOwn(t)
		}
		r.complete(l.target)
	})
	if err != nil {
		return err
	}
	l.newest = max(l.newest, news.Newest)
	p.shown = nil
	return nil
}

// noteOwn takes the shed's last word on a change of the phone's own: one that was restored may have
// given it another order, or keep what it refused before.
func (r *Records) noteOwn(t Told) {
	log, own := r.Logs[t.Change.Incarnation]
	if !own || t.Change.Seq > log.Settled {
		return
	}
	c, ok := log.change(t.Change.Seq)
	if ok && slices.Equal(c.Canonical(), t.Change.Canonical()) { // not a copy's
		log.decide(c.Seq, Fate{Order: t.Order})
	}
}

// complete lets a reading anew take the old one's place once it has come far enough.
func (r *Records) complete(target int64) {
	if r.Staging != nil && r.Staging.Cursor.Arrival >= target {
		r.Reading, r.Staging = *r.Staging, nil
	}
}
