// Package live speaks syncproto with phones over websockets: it commits the frames of many phones
// together and tells each what the others wrote.
package live

import (
	"context"
	"log/slog"
	"maps"
	"net/http"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// Log is the change log behind the conversations. Its methods may be called at once.
type Log interface {
	Farm() string
	Epoch() string
	Life() string
	// Newest is the arrival number of the last change.
	Newest() int64
	// Standing tells how far an incarnation is and whether a cursor holds.
	Standing(ctx context.Context, asked changelog.Asked) (changelog.Standing, error)
	// Seen notes what a hello told. It waits for nothing.
	Seen(said changelog.Sighting)
	// Append settles frames together and returns once they are on disk.
	Append(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error)
	// ReadAfter reads the log behind one arrival number, up to and with another, as far as one
	// frame goes.
	ReadAfter(ctx context.Context, after, upTo int64, scopes []syncproto.Scope) (changelog.Tail, error)
}

// Config is what a Server needs to know. Zero durations stand for those of PROTOCOL.md.
type Config struct {
	Log Log
	// Admit says who asks for a conversation. A *syncproto.Breach tells the phone why it gets none.
	Admit func(r *http.Request) (Member, error)
	// Secure tells whether a request came by https; nil where the connection itself tells.
	Secure func(r *http.Request) bool
	Now    func() time.Time
	Logger *slog.Logger

	HelloWithin time.Duration // from the connection to its hello
	SilentFor   time.Duration // after which a line is taken for dead
	WriteWithin time.Duration // for a piece of a message to leave
	Linger      time.Duration // for the other side to hear why it was refused
}

// Member is whoever holds a conversation: a device, for a person whose rights it has.
type Member struct {
	Device string
	Person string
	Scopes []syncproto.Scope // that it may read
	Rights changelog.Rights  // to write
}

// Server holds the conversations with phones. Serve it at /sync while Run runs; or hold
// conversations without sockets, by Begin and Commit.
type Server struct {
	Config
	upgrader websocket.Upgrader
	queue    queue
	recent   recent
	backedUp atomic.Int64

	mu       sync.Mutex
	conns    map[*conn]struct{}
	begun    int // connections so far
	hangings int // calls of HangUp so far
	stopped  bool
}

// New makes a server. It takes no connection before Run.
func New(config Config) *Server {
	s := &Server{Config: config, queue: newQueue(), conns: map[*conn]struct{}{}}
	for _, d := range []struct {
		setting  *time.Duration
		standard time.Duration
	}{
		{&s.HelloWithin, 10 * time.Second}, {&s.SilentFor, 60 * time.Second},
		{&s.WriteWithin, 30 * time.Second}, {&s.Linger, 2 * time.Second},
	} {
		if *d.setting == 0 {
			*d.setting = d.standard
		}
	}
	s.recent.newest = s.Log.Newest()
	s.upgrader = websocket.Upgrader{
		EnableCompression: true,
		// Idle phones are many: a small buffer for reading, and those for writing shared.
		ReadBufferSize: 1024, WriteBufferSize: pieceBytes, WriteBufferPool: &sync.Pool{},
		CheckOrigin: s.sameOrigin,
		Error:       refuseUpgrade,
	}
	return s
}

// Run commits what phones push until the context ends; then it closes every conversation, commits
// what was taken in, and returns.
func (s *Server) Run(ctx context.Context) {
	var committing sync.WaitGroup
	committing.Go(s.commitAll)
	<-ctx.Done()
	s.hangUp()
	s.queue.close()
	committing.Wait()
}

// hangUp ends every conversation and waits until each is over.
func (s *Server) hangUp() {
	s.mu.Lock()
	s.stopped = true
	open := slices.Collect(maps.Keys(s.conns))
	for _, c := range open {
		c.stop()
	}
	s.mu.Unlock()
	// Whoever does not even hear that it is over is cut off.
	cut := time.AfterFunc(2*s.Linger, func() {
		for _, c := range open {
			_ = c.socket.Close() // it is being given up
		}
	})
	defer cut.Stop()
	for _, c := range open {
		<-c.over
	}
}

// ServeHTTP makes a websocket of the request, and leaves the conversation to goroutines of its own:
// what HTTP holds for a request is then free.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	socket, err := s.upgrader.Upgrade(w, r, nil)
	if err != nil {
		return // the upgrader has answered
	}
	before := s.hungUp()
	member, err := s.Admit(r)
	c := newConn(s, socket, member)
	if err != nil {
		c.talk.breakOff(s.notAdmitted(err))
	}
	if !s.enter(c, before) {
		c.bye(websocket.CloseGoingAway, ending)
		_ = socket.Close() // it never conversed
		return
	}
	go func() {
		defer close(c.over) // only when it no longer counts among the open ones
		c.converse()
		s.leave(c)
	}()
}

func (s *Server) leave(c *conn) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.conns, c)
}

// notAdmitted is what a phone is told that gets no conversation. A browser does not tell a page why an
// upgrade was refused, so it is told in words of the protocol.
func (s *Server) notAdmitted(err error) *syncproto.Breach {
	if breach := asBreach(err, nil); breach != nil {
		return breach
	}
	s.Logger.Error("a phone was not let in", "error", err)
	return busy()
}

func (s *Server) hungUp() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.hangings
}

// mostOfDevice is how many connections a device may have: one at a time, and what it has not noticed yet
// to be dead. A further one ends the oldest.
const mostOfDevice = 4

// enter counts a connection among the others, unless all of them have ended. Whoever was admitted before
// somebody was hung up on, and enters after, asks again: it may be the same.
func (s *Server) enter(c *conn, hungUpBefore int) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.stopped {
		return false
	}
	s.begun++
	c.number = s.begun
	if s.hangings != hungUpBefore {
		c.stop()
	}
	s.conns[c] = struct{}{}
	s.limitDevice(c)
	return true
}

// limitDevice ends the oldest connection of the device of c if there are too many.
func (s *Server) limitDevice(c *conn) {
	if c.member.Device == "" {
		return
	}
	var oldest *conn
	others := 0
	for other := range s.conns {
		if other.member.Device != c.member.Device || other.ctx.Err() != nil {
			continue
		}
		others++
		if oldest == nil || other.number < oldest.number {
			oldest = other
		}
	}
	if others > mostOfDevice {
		oldest.stop()
	}
}

// HangUp ends the conversations of some members. Their phones ask again, and are then told what they may
// now, or why nothing.
func (s *Server) HangUp(which func(Member) bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.hangings++
	for c := range s.conns {
		if which(c.member) {
			c.stop()
		}
	}
}

// Connected lists the devices that hold a conversation.
func (s *Server) Connected() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	var devices []string
	for c := range s.conns {
		if c.talk.isWelcome() && c.ctx.Err() == nil {
			devices = append(devices, c.member.Device)
		}
	}
	return devices
}

// BackedUp has phones told up to which arrival number a good backup holds the log, 0 for none: those that
// are here at once, others in their welcome.
func (s *Server) BackedUp(arrival int64) {
	if s.backedUp.Swap(arrival) != arrival {
		s.recent.moved.ring()
	}
}

// Open is the number of connections.
func (s *Server) Open() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.conns)
}

// Waiting is the number of frames that wait for a commit.
func (s *Server) Waiting() int { return s.queue.len() }

func (s *Server) clock() int64 { return s.Now().UnixMilli() }
