package live

import (
	"encoding/json"
	"unicode/utf8"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// mostText bounds what a phone says as text: a hello or a ping, of one version or another.
const mostText = 16 << 10

// Hear takes one message. It waits for nothing: a frame is queued, everything else is noted to be
// answered. A breach of the protocol ends the conversation after what came before was answered;
// later messages are passed over.
func (t *Talk) Hear(m Message) {
	if !t.listens() {
		return
	}
	hear := t.hearText
	if m.Binary {
		hear = t.hearBinary
	}
	if err := hear(m.Data); err != nil {
		t.breakOff(asBreach(err, malformed("the message", err)))
	}
}

// listens tells whether what is heard still matters.
func (t *Talk) listens() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.breach == nil && t.ended == nil
}

// isGreeted tells whether a hello was heard.
func (t *Talk) isGreeted() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.greeted
}

// isWelcome tells whether the welcome was said.
func (t *Talk) isWelcome() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.welcomed
}

func (t *Talk) hearText(data []byte) error {
	if len(data) > mostText { // whoever holds a socket has not read further
		return tooLong(mostText)
	}
	if !utf8.Valid(data) {
		return syncproto.Breachf(syncproto.CodeMalformed, "the message is not UTF-8")
	}
	kind, err := syncproto.TypeOf(data)
	if err != nil {
		return malformed("the message", err)
	}
	switch kind {
	case syncproto.TypeHello:
		return t.hearHello(data)
	case syncproto.TypePing:
		return t.hearPing()
	case "", syncproto.TypeWelcome, syncproto.TypeRefuse, syncproto.TypeAck, syncproto.TypePong, syncproto.TypeBackup:
		return syncproto.Breachf(syncproto.CodeMalformed, "a message of kind %q was not expected", kind)
	default:
		return nil // of a later version
	}
}

func (t *Talk) hearPing() error {
	if !t.isGreeted() {
		return notGreeted()
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.pongs++
	poke(t.stirred)
	return nil
}

func (t *Talk) hearHello(data []byte) error {
	if t.isGreeted() {
		return syncproto.Breachf(syncproto.CodeMalformed, "a second hello")
	}
	hello, err := t.server.readHello(data)
	if err != nil {
		return err
	}
	t.incarnation, t.wantsNews = hello.Incarnation, hello.News
	t.mu.Lock()
	defer t.mu.Unlock()
	t.hello, t.greeted = &hello, true
	poke(t.stirred)
	return nil
}

// readHello reads a hello that may go on.
func (s *Server) readHello(data []byte) (syncproto.Hello, error) {
	var hello syncproto.Hello
	// Another version's hello may have another shape, so its versions are read alone first.
	var speaks struct{ Versions []int }
	if err := json.Unmarshal(data, &speaks); err != nil {
		return hello, malformed("the hello", err)
	}
	if _, ok := syncproto.PickVersion(speaks.Versions); !ok {
		return hello, syncproto.Breachf(syncproto.CodeVersion, "this shed speaks version %d of the protocol, the phone only others", syncproto.Version)
	}
	if err := json.Unmarshal(data, &hello); err != nil {
		return hello, malformed("the hello", err)
	}
	if err := hello.Check(); err != nil {
		return hello, err
	}
	if err := checkCursor(hello.Cursor); err != nil {
		return hello, err
	}
	if hello.Farm != "" && hello.Farm != s.Log.Farm() {
		return hello, syncproto.Breachf(syncproto.CodeFarm, "this shed keeps farm %s, the phone is of farm %s", s.Log.Farm(), hello.Farm)
	}
	return hello, nil
}

// checkCursor refuses a cursor that this server cannot have given out. nil is none.
func checkCursor(c *syncproto.Cursor) error {
	if c == nil {
		return nil
	}
	if max(len(c.Epoch), len(c.Last), len(c.Own)) > syncproto.MaxNameBytes {
		return syncproto.Breachf(syncproto.CodeMalformed, "epoch, last and own of a cursor have at most %d bytes each", syncproto.MaxNameBytes)
	}
	return nil
}

// hearBinary queues a push; phones send nothing else in binary. One before the welcome cannot know
// what is settled.
func (t *Talk) hearBinary(data []byte) error {
	if !t.isWelcome() {
		return syncproto.Breachf(syncproto.CodeMalformed, "a push before the welcome")
	}
	if t.unpacker == nil {
		t.unpacker = syncproto.NewUnpacker()
	}
	batch, err := syncproto.ReadPush(data, t.unpacker)
	if err != nil {
		return err
	}
	frame, err := changelog.NewFrame(t.incarnation, t.member.Rights, batch)
	if err != nil {
		return err
	}
	frame.Conversation, frame.Device = &t.frames, t.member.Device
	return t.enqueue(frame, weightOf(frame, len(data)))
}

func (t *Talk) enqueue(frame *changelog.Frame, weight int) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	if !t.server.queue.put(job{frame: frame, from: t, weight: weight}) {
		return busy()
	}
	t.queued++
	t.weight += weight
	return nil
}

func notGreeted() *syncproto.Breach {
	return syncproto.Breachf(syncproto.CodeMalformed, "the first message must be a hello")
}

func tooLong(most int) *syncproto.Breach {
	return syncproto.Breachf(syncproto.CodeTooLarge, "a message of this kind is at most %d bytes", most)
}

func malformed(what string, err error) *syncproto.Breach {
	return syncproto.Breachf(syncproto.CodeMalformed, "%s is not of its shape: %v", what, err)
}
