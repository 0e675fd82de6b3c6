package live

import (
	"encoding/binary"
	"fmt"
	"slices"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// position is how far a phone was told of the log.
type position struct {
	at   int64              // arrival number up to which the phone has what it should
	last syncproto.Identity // of that change
	told int64              // up to which it also knows that
	// Up to catchUp the phone is told what it wrote itself; beyond, its acknowledgements tell it.
	catchUp int64
	packer  *syncproto.Packer // of the reading of the log under way
	// How much of the log is backed up, as the phone was told last.
	backedUp int64
}

// A message of recent news has at most so much, unless a single segment has more.
const (
	newsChanges = syncproto.MaxFrameChanges
	newsBytes   = 256 << 10
)

// greet answers the hello.
func (t *Talk) greet() (Message, bool) {
	h, log := t.heardHello(), t.server.Log
	standing, err := log.Standing(t.ctx, changelog.Asked{
		Incarnation: h.Incarnation, Settled: h.Settled, Cursor: h.Cursor, Scopes: t.member.Scopes,
	})
	if err != nil {
		return t.fail("a phone was not let in", err)
	}
	if standing.IsAnothers(t.member.Device) {
		standing = t.server.notProven(h.Incarnation, standing)
	} else {
		t.saw(changelog.Sighting{Incarnation: h.Incarnation, Device: t.member.Device, Person: h.Person, Unsent: h.Unsent})
	}
	t.catchUp = standing.Newest
	// Frames come only after the welcome. A phone that is told less than what is settled goes on behind
	// that, and knows of no part.
	t.frames.Aside = standing.Staged > 0 && standing.Told == standing.Seq
	t.mu.Lock()
	t.welcomed, t.hello = true, nil
	t.mu.Unlock()
	if standing.Holds {
		t.at, t.told = h.Cursor.Arrival, h.Cursor.Arrival
	}
	w := t.server.welcome(t.member.Scopes, standing)
	t.backedUp = w.BackedUp
	return text(w), true
}

// notProven is told to a device that comes under another's incarnation: what it says of its past is then
// not what the log holds, so it goes on under a new one and loses nothing. A phone that joined again under
// another id does so, and whoever writes in its place gains nothing.
func (s *Server) notProven(incarnation string, standing changelog.Standing) changelog.Standing {
	return changelog.Standing{
		Seq: max(standing.Seq, 1), Told: max(standing.Seq, 1), Newest: standing.Newest, Holds: standing.Holds,
		Hash: syncproto.ChainStart(s.Log.Farm(), "another device's "+incarnation),
	}
}

func (t *Talk) heardHello() *syncproto.Hello {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.hello
}

func (s *Server) welcome(scopes []syncproto.Scope, standing changelog.Standing) syncproto.Welcome {
	w := syncproto.Welcome{
		T: syncproto.TypeWelcome, Version: syncproto.Version, Farm: s.Log.Farm(), Epoch: s.Log.Epoch(),
		Scopes: scopes, Clock: s.clock(), Seq: standing.Seq, Hash: standing.Hash.String(),
		Staged: standing.Staged, StagedHash: stagedHash(standing),
		Orders: orEmpty(standing.Orders), Held: orEmpty(standing.Held), Refused: orEmpty(standing.Refused),
		Arrival: standing.Newest, Life: s.Log.Life(), BackedUp: s.backedUp.Load(), Resume: standing.Holds,
	}
	if standing.Told < standing.Seq {
		w.Told = standing.Told
	}
	return w
}

// stagedHash is empty where nothing is put aside.
func stagedHash(standing changelog.Standing) string {
	if standing.Staged == 0 {
		return ""
	}
	return standing.StagedHash.String()
}

// orEmpty is a list that JSON writes as one.
func orEmpty[E any](list []E) []E {
	if list == nil {
		return []E{}
	}
	return list
}

// tell says what was written up to and with an arrival number: from what is recent where that
// reaches back far enough, else from the log. That there was nothing for this phone is told only
// while it has no frame under way: the next acknowledgement will not be the last.
func (t *Talk) tell(newest int64, idle bool) (Message, bool) {
	if !t.wantsNews {
		return Message{}, false
	}
	batches, fromLog := t.passRecent(newest)
	switch {
	case len(batches) > 0:
		return t.news(newest, batches), true
	case fromLog > 0:
		return t.readLog(fromLog, newest)
	case t.told < t.at && idle:
		return t.news(newest, nil), true
	}
	return Message{}, false
}

// passRecent moves over recent segments and returns the batches for this phone. Where the log is
// needed to go on, it says up to which arrival number.
func (t *Talk) passRecent(newest int64) (batches [][]byte, fromLog int64) {
	bytes, changes := 0, int64(0)
	for t.at < newest {
		s, ok := t.server.recent.following(t.at)
		if !ok {
			return batches, newest
		}
		switch t.use(s) {
		case useSome:
			return batches, s.Arrival
		case useAll:
			bytes += len(s.Batch)
			changes += s.Arrival - s.First + 1
			if len(batches) > 0 && (bytes > newsBytes || changes > newsChanges) {
				return batches, 0
			}
			batches = append(batches, s.Batch)
		}
		t.at, t.last = s.Arrival, s.Last
	}
	return batches, 0
}

// use is how much of a segment a phone is told.
type use int

const (
	useNone use = iota
	useSome
	useAll
)

func (t *Talk) use(s changelog.Segment) use {
	if _, seq, _ := s.Last.Split(); s.Incarnation == t.incarnation && s.First > t.catchUp && seq <= t.ackedSeq() {
		return useNone
	}
	seen := 0
	for _, scope := range s.Scopes {
		if slices.Contains(t.member.Scopes, scope) {
			seen++
		}
	}
	switch seen {
	case 0:
		return useNone
	case len(s.Scopes):
		return useAll
	default:
		return useSome
	}
}

// readLog says the next stretch of the log up to and with an arrival number.
func (t *Talk) readLog(upTo, newest int64) (Message, bool) {
	catchingUp := t.at < t.catchUp
	if catchingUp {
		upTo = min(upTo, t.catchUp)
	}
	tail, err := t.server.Log.ReadAfter(t.ctx, t.at, upTo, t.member.Scopes)
	if err == nil && tail.Arrival <= t.at {
		err = fmt.Errorf("the log ends at arrival %d, before %d", t.at, upTo)
	}
	if err != nil {
		return t.fail("a phone was not told of changes", err)
	}
	t.at, t.last = tail.Arrival, tail.Last
	batch := tail.Batch
	if !catchingUp {
		batch = without(batch, t.incarnation, t.ackedSeq())
	}
	return t.news(newest, t.pack(batch, newest)), true
}

// pack packs a stretch of the log. The names are kept only as long as more follows, for a phone may
// stay for days; a new packer begins anew by itself.
func (t *Talk) pack(batch syncproto.Batch, newest int64) [][]byte {
	var batches [][]byte
	if len(batch.Changes) > 0 {
		if t.packer == nil {
			t.packer = syncproto.NewPacker()
		}
		batches = [][]byte{t.packer.Append(nil, batch)}
	}
	if t.at >= newest {
		t.packer = nil
	}
	return batches
}

// without is a batch, every order of which is told, less what an incarnation wrote.
func without(batch syncproto.Batch, incarnation string, acked int64) syncproto.Batch {
	rest := syncproto.Batch{Origins: batch.Origins, Proven: batch.Proven}
	for i, c := range batch.Changes {
		if c.Incarnation != incarnation || c.Seq > acked {
			rest.Changes = append(rest.Changes, c)
			rest.Orders = append(rest.Orders, batch.Orders[i])
		}
	}
	return rest
}

func (t *Talk) news(newest int64, batches [][]byte) Message {
	t.told = t.at
	n := syncproto.News{Arrival: t.at, Newest: newest, Batches: batches}
	if t.last != "" {
		n.Last = changelog.Place{Life: t.server.Log.Life(), Last: t.last}.String()
	}
	size := 128 // and the batches
	for _, b := range batches {
		size += len(b) + binary.MaxVarintLen32
	}
	return Message{Binary: true, Data: n.Append(make([]byte, 0, size))}
}

// ackedSeq is the highest seq that was acknowledged in this conversation.
func (t *Talk) ackedSeq() int64 {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.acked
}
