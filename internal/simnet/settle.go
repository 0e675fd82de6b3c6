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

// fates are what the word says of an operation's changes that it settles beyond those known to be
// settled: what is named nowhere was kept under its stamp. The others keep the fate that they have.
func (w word) fates(o Operation, settled int64) []Fate {
	fates := slices.Clone(o.Fates)
	isNews := func(seq int64) bool { return seq > settled && seq <= w.seq && seq >= o.first() && seq <= o.last() }
	for i, c := range o.Changes {
		if isNews(c.Seq) {
			fates[i] = Fate{Order: c.Stamp}
		}
	}
	note := func(seq int64, fate Fate) {
		if isNews(seq) {
			fates[seq-o.first()] = fate
		}
	}
	for _, told := range w.orders {
		note(told.Seq, Fate{Order: told.Order})
	}
	for _, seq := range w.held {
		note(seq, Fate{Order: syncproto.NoOrder, Held: true})
	}
	for _, refusal := range w.refused {
		note(refusal.Seq, Fate{Order: syncproto.NoOrder, Refused: refusal.Code})
	}
	return fates
}

// settle notes what became of changes beyond those known to be settled. Those of the phone's own
// conversation that were kept join what is confirmed, for the shed does not tell them again; a former
// incarnation's come as news.
func settle(r *Records, log Log, former bool, w word, at Moment) {
	for _, o := range w.orders {
		r.Clock.Receive(at.Wall, o.Order)
	}
	for i := log.from(log.Settled); i < len(log.Operations) && log.Operations[i].first() <= w.seq; i++ {
		o := &log.Operations[i]
		o.Fates = w.fates(*o, log.Settled)
		for k, fate := range o.Fates {
			isNews := o.Changes[k].Seq > log.Settled && o.Changes[k].Seq <= w.seq
			if !former && isNews && fate.Order != syncproto.NoOrder {
				r.confirm(Told{Change: o.Changes[k], Order: fate.Order})
			}
		}
	}
}

// confirm adds to what is shown, and to a reading anew, as far as the person may still read it.
func (r *Records) confirm(told Told) {
	r.Reading.confirm(told)
	if r.Staging != nil {
		r.Staging.confirm(told)
	}
}

func (r *Reading) confirm(told Told) {
	if r.Cursor == nil || slices.Contains(r.Cursor.Scopes, told.Change.Scope) {
		r.Told = append(r.Told, told)
	}
}

// told takes news in, together with the cursor that it moves.
func (p *Phone) told(news syncproto.News, at Moment) error {
	l := p.line
	if !l.welcomed || l.filling {
		return syncproto.Breachf(syncproto.CodeMalformed, "news that was not asked for")
	}
	told, err := unpack(l.unpacker, news.Batches)
	if err != nil {
		return err
	}
	if r := p.Records(); p.faults.movesCursor {
		moved := *r.reading().Cursor
		moved.Arrival, moved.Last = news.Arrival, news.Last
		r.reading().Cursor = &moved
	}
	err = p.disk.store(func(r *Records) {
		reading := r.reading()
		reading.Told = append(reading.Told, told...)
		moved := *reading.Cursor
		moved.Arrival, moved.Last = news.Arrival, news.Last
		reading.Cursor = &moved
		for _, t := range told {
			if !p.faults.hearsNoClock {
				r.Clock.Receive(at.Wall, t.Order)
			}
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

// unpack reads the batches of a message of news.
func unpack(u *syncproto.Unpacker, batches [][]byte) ([]Told, error) {
	var told []Told
	for _, packed := range batches {
		batch, err := u.Read(packed)
		if err != nil {
			return nil, err
		}
		for i, c := range batch.Changes {
			if batch.Orders == nil || batch.Orders[i] == syncproto.NoOrder {
				return nil, syncproto.Breachf(syncproto.CodeMalformed, "news of %s without its order", c.Identity())
			}
			told = append(told, Told{Change: c, Order: batch.Orders[i]})
		}
	}
	return told, nil
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
