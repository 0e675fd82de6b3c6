package live

import (
	"context"
	"encoding/json"
	"fmt"
	"unicode/utf8"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// session is the server's side of one conversation, without its socket.
type session struct {
	*Server
	conversation uint64
	incarnation  string
	scopes       []syncproto.Scope
	// at is how far the phone has been told of the log. Up to catchUp that includes what it wrote
	// itself; beyond, its acknowledgements tell it.
	at      int64
	catchUp int64
}

// hello opens the conversation: it returns the welcome, or a *syncproto.Breach.
func (s *session) hello(ctx context.Context, data []byte) (syncproto.Welcome, error) {
	var none syncproto.Welcome
	if kind, err := kindOf(data); err != nil || kind != syncproto.TypeHello {
		return none, syncproto.Breachf(syncproto.CodeMalformed, "the first message must be a hello")
	}
	// Another version's hello may have another shape, so its versions are read alone first.
	var speaks struct{ Versions []int }
	if err := json.Unmarshal(data, &speaks); err != nil {
		return none, malformed("the hello", err)
	}
	version, ok := syncproto.PickVersion(speaks.Versions)
	if !ok {
		return none, syncproto.Breachf(syncproto.CodeVersion, "this shed speaks version %d of the protocol, the phone %v", syncproto.Version, speaks.Versions)
	}
	var h syncproto.Hello
	if err := json.Unmarshal(data, &h); err != nil {
		return none, malformed("the hello", err)
	}
	if err := h.Check(); err != nil {
		return none, err
	}
	if h.Farm != "" && h.Farm != s.Log.Farm() {
		return none, syncproto.Breachf(syncproto.CodeFarm, "this shed keeps farm %s, the phone is of farm %s", s.Log.Farm(), h.Farm)
	}
	return s.welcome(ctx, version, h)
}

func (s *session) welcome(ctx context.Context, version int, h syncproto.Hello) (syncproto.Welcome, error) {
	s.incarnation, s.scopes = h.Incarnation, s.Scopes(h.Person)
	standing, err := s.Log.Standing(ctx, h.Incarnation, h.Cursor, s.scopes)
	if err != nil {
		return syncproto.Welcome{}, s.failed("a phone was not let in", err)
	}
	said := changelog.Sighting{Incarnation: h.Incarnation, Device: h.Device, Person: h.Person, Unsent: h.Unsent}
	if err := s.Log.Seen(ctx, said); err != nil { // a full disk keeps nobody from reading
		s.Logger.Warn("a phone's visit was not noted", "error", err)
	}
	s.catchUp = standing.Newest
	if standing.Holds {
		s.at = h.Cursor.Arrival
	}
	return syncproto.Welcome{
		T: syncproto.TypeWelcome, Version: version, Farm: s.Log.Farm(), Epoch: s.Log.Epoch(),
		Scopes: s.scopes, Seq: standing.Seq, Hash: standing.Hash.String(), Clock: s.clock(),
		Arrival: standing.Newest, Resume: standing.Holds, Refused: standing.Refused,
	}, nil
}

// push reads a push into a frame, or returns a *syncproto.Breach.
func (s *session) push(data []byte) (*changelog.Frame, error) {
	var p syncproto.Push
	if err := json.Unmarshal(data, &p); err != nil {
		return nil, malformed("the push", err)
	}
	frame, err := changelog.NewFrame(s.incarnation, s.scopes, p)
	if err != nil {
		return nil, err
	}
	frame.Conversation = s.conversation
	return frame, nil
}

// tell makes the next news out of the log up to and with an arrival number, and moves on. The
// error is a *syncproto.Breach.
func (s *session) tell(ctx context.Context, upTo int64) ([]byte, error) {
	tail, err := s.Log.ReadAfter(ctx, s.at, upTo, s.scopes)
	if err != nil {
		return nil, s.failed("a phone was not told of changes", err)
	}
	if tail.Arrival == s.at {
		return nil, s.failed("a phone was not told of changes", fmt.Errorf("the log ends at arrival %d, before %d", s.at, upTo))
	}
	own := func(k changelog.Kept) bool { return k.Incarnation == s.incarnation && k.Arrival > s.catchUp }
	s.at = tail.Arrival
	return appendNews(nil, tail, own, upTo), nil
}

// failed logs what went wrong here and words it for the phone.
func (s *session) failed(what string, err error) *syncproto.Breach {
	s.Logger.Error(what, "error", err)
	return busy()
}

func (s *Server) clock() int64 { return s.Now().UnixMilli() }

func malformed(what string, err error) *syncproto.Breach {
	return syncproto.Breachf(syncproto.CodeMalformed, "%s is not of its shape: %v", what, err)
}

// kindOf reads a message's "t". Text that is not UTF-8 is no message.
func kindOf(data []byte) (string, error) {
	if !utf8.Valid(data) {
		return "", syncproto.Breachf(syncproto.CodeMalformed, "the message is not UTF-8")
	}
	kind, err := syncproto.TypeOf(data)
	if err != nil {
		return "", malformed("the message", err)
	}
	return kind, nil
}
