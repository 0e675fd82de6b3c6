// Package live speaks syncproto with phones over websockets: it commits the frames of many phones
// together and tells each what the others wrote.
package live

import (
	"context"
	"log/slog"
	"net/http"
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
	// Scopes says what a person may read and write.
	Scopes func(person string) []syncproto.Scope
	Now    func() time.Time
	Logger *slog.Logger

	HelloWithin time.Duration // from the connection to its hello
	SilentFor   time.Duration // after which a line is taken for dead
	WriteWithin time.Duration // for a piece of a message to leave
	Linger      time.Duration // for the other side to hear why it was refused
}

// Server holds the conversations with phones. Serve it at /sync while Run runs; or hold
// conversations without sockets, by Begin and Commit.
type Server struct {
	Config
	upgrader websocket.Upgrader
	queue    queue
	recent   recent
	backedUp atomic.Int64

	mu      sync.Mutex
	conns   map[*conn]struct{}
	stopped bool
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
		CheckOrigin: sameOrigin,
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
	open := make([]*conn, 0, len(s.conns))
	for c := range s.conns {
		open = append(open, c)
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
	c := newConn(s, socket)
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.stopped {
		c.stop()
	}
	s.conns[c] = struct{}{}
	go func() {
		c.converse()
		s.mu.Lock()
		defer s.mu.Unlock()
		delete(s.conns, c)
	}()
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
