package live

import (
	"context"
	"encoding/json"
	"errors"
	"sync"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// Message is one message of the wire, either way.
type Message struct {
	Binary bool
	Data   []byte
}

// Talk is one conversation without its socket: whoever holds the socket lets it hear what came, and
// sends what it says. Hear, Say and the committer may each run in a goroutine of their own.
type Talk struct {
	server  *Server
	member  Member
	frames  changelog.Conversation
	ctx     context.Context // of what it reads of the log
	stirred chan struct{}   // holds a token when there may be something to say
	roomy   chan struct{}   // holds a token when there may be room again

	// Hear's alone: names that the phone has sent.
	unpacker *syncproto.Unpacker

	// Written by Hear before it sets greeted, and not again.
	incarnation string
	wantsNews   bool

	position // Say's alone

	mu       sync.Mutex
	sighting changelog.Sighting // what is known of the phone; nothing while it only fills in
	greeted  bool               // a hello was heard
	hello    *syncproto.Hello   // until it is answered
	welcomed bool
	acked    int64    // highest seq that was acknowledged here
	queued   int      // frames that the committer has
	weight   int      // of frames that were heard, until they are answered
	answers  []answer // that are to be said, in the order of the frames
	pongs    int      // that are to be said
	breach   *syncproto.Breach
	spent    bool              // a frame was refused: nothing more is stored
	ended    *syncproto.Breach // that was said: the conversation is over
}

// answer is what became of a frame.
type answer struct {
	ack    syncproto.Ack
	breach *syncproto.Breach
	weight int
}

// talkWeight bounds what a phone may have under way: four frames of 2,000 changes, or many more
// small ones. Beyond it the phone is not read until something is answered.
const talkWeight = 2 << 20

// Begin begins a conversation with whoever was admitted.
func (s *Server) Begin(member Member) *Talk {
	return &Talk{
		server: s, member: member, ctx: context.Background(),
		stirred: make(chan struct{}, 1), roomy: make(chan struct{}, 1),
	}
}

// Room tells whether the phone should be heard further now: a hello always. Hear takes a message all
// the same.
func (t *Talk) Room() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return !t.greeted || t.weight < talkWeight && !t.server.queue.isFull()
}

// Over tells that the refusal was said: nothing more comes.
func (t *Talk) Over() bool { return t.farewell() != nil }

// farewell is the refusal that was said, or nil.
func (t *Talk) farewell() *syncproto.Breach {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.ended
}

// Say returns the next message to send, if there is one now: the welcome first, then
// acknowledgements, pongs, what is backed up, and news. What ends the conversation comes after the
// answers to what was heard before. It may read the log.
func (t *Talk) Say() (Message, bool) {
	// Looked at before the answers: whatever of its own the phone could be told of is answered by now.
	newest := t.server.recent.upTo()
	switch due := t.due(); {
	case due.greeting:
		return t.greet()
	case due.breach != nil:
		return text(due.breach.Refuse()), true
	case due.ack != nil:
		return text(due.ack), true
	case due.pong:
		return text(syncproto.Pong{T: syncproto.TypePong, Clock: t.server.clock()}), true
	case due.silence:
		return Message{}, false
	case t.backedUp != t.server.backedUp.Load():
		return t.tellBackup(), true
	default:
		return t.tell(newest, due.idle)
	}
}

func (t *Talk) tellBackup() Message {
	t.backedUp = t.server.backedUp.Load()
	return text(syncproto.Backup{T: syncproto.TypeBackup, Arrival: t.backedUp})
}

// due is what is to be said now; if nothing is set, news.
type due struct {
	greeting bool
	breach   *syncproto.Breach
	ack      *syncproto.Ack
	pong     bool
	silence  bool
	idle     bool // no frame is under way
}

func (t *Talk) due() due {
	t.mu.Lock()
	defer t.mu.Unlock()
	switch {
	case t.ended != nil:
		return due{silence: true}
	case !t.greeted && t.breach != nil:
		return t.end(t.breach)
	case !t.greeted:
		return due{silence: true}
	case !t.welcomed:
		return due{greeting: true}
	case len(t.answers) > 0:
		return t.nextAnswer()
	case t.pongs > 0:
		t.pongs--
		return due{pong: true}
	case t.breach != nil && t.queued == 0:
		return t.end(t.breach)
	case t.breach != nil:
		return due{silence: true}
	}
	return due{idle: t.queued == 0}
}

func (t *Talk) nextAnswer() due {
	next := t.answers[0]
	t.answers = t.answers[1:]
	if len(t.answers) == 0 {
		t.answers = nil // lets go of what was said
	}
	t.weight -= next.weight
	poke(t.roomy)
	if next.breach != nil {
		return t.end(next.breach)
	}
	return due{ack: &next.ack}
}

// end notes that a refusal is being said. Whoever calls holds the lock.
func (t *Talk) end(b *syncproto.Breach) due {
	t.ended = b
	t.answers = nil
	return due{breach: b}
}

// fail ends the conversation at once, because the log cannot be read.
func (t *Talk) fail(what string, err error) (Message, bool) {
	if t.ctx.Err() != nil {
		return Message{}, false // nobody listens any more
	}
	t.server.Logger.Error(what, "error", err)
	t.mu.Lock()
	defer t.mu.Unlock()
	return text(t.end(busy()).breach.Refuse()), true
}

// refused tells the committer that nothing more of this conversation is stored.
func (t *Talk) refused() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.spent || t.ended != nil
}

// answer takes what became of a frame. What follows a refusal is not answered.
func (t *Talk) answer(j job, r changelog.Result) {
	t.tellRefused(r.Ack.Refused)
	t.mu.Lock()
	defer t.mu.Unlock()
	t.queued--
	t.acked = max(t.acked, r.Ack.Seq)
	t.settled(j.frame.Len())
	poke(t.stirred)
	if t.spent || t.ended != nil {
		return
	}
	t.spent = r.Breach != nil
	t.answers = append(t.answers, answer{ack: r.Ack, breach: r.Breach, weight: j.weight})
}

// tellRefused tells the log of changes that this device may not write: it holds a role that it has no
// more, or its app was tampered with.
func (t *Talk) tellRefused(refused []syncproto.Refusal) {
	times := 0
	for _, r := range refused {
		if r.Code == syncproto.CodeRole || r.Code == syncproto.CodeScope {
			times++
		}
	}
	if times > 0 {
		t.server.Logger.Warn("changes were refused for the role", "device", t.member.Device, "changes", times)
	}
}

// saw notes what a hello told, unless it is of a former incarnation: that one has nothing unsent.
func (t *Talk) saw(said changelog.Sighting) {
	if !t.wantsNews {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.sighting = said
	t.server.Log.Seen(said)
}

// settled notes that the phone holds fewer changes that were not sent. Whoever calls holds the lock.
func (t *Talk) settled(changes int) {
	if t.sighting.Unsent == 0 {
		return
	}
	t.sighting.Unsent = max(0, t.sighting.Unsent-changes)
	t.server.Log.Seen(t.sighting)
}

// breakOff ends the conversation once what came before is answered.
func (t *Talk) breakOff(b *syncproto.Breach) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.breach == nil {
		t.breach = b
	}
	poke(t.stirred)
}

// asBreach is the breach within an error, or another where it holds none.
func asBreach(err error, otherwise *syncproto.Breach) *syncproto.Breach {
	var breach *syncproto.Breach
	if errors.As(err, &breach) {
		return breach
	}
	return otherwise
}

// text makes a text message. What is sent holds nothing that cannot be written as JSON.
func text(message any) Message {
	data, err := json.Marshal(message)
	if err != nil {
		panic(err)
	}
	return Message{Data: data}
}
