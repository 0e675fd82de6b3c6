package live

import (
	"context"
	"errors"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// inFlight is how many frames of one phone may be on their way to the disk. Beyond it the phone is
// not read until one is answered.
const inFlight = 4

// conn is one conversation on its socket: a reader (the goroutine of converse) and a writer.
type conn struct {
	session
	socket *websocket.Conn
	ctx    context.Context
	stop   context.CancelFunc
	over   chan struct{} // closed at the very end

	room    chan struct{}         // holds a token for each frame under way
	results chan changelog.Result // has as much room, so that the committer never waits
	pongs   chan struct{}
	refused bool // the committer's: nothing more of this conversation is stored

	mu     sync.Mutex
	ending bool
}

func newConn(s *Server, socket *websocket.Conn) *conn {
	ctx, stop := context.WithCancel(context.Background())
	return &conn{
		session: session{Server: s, conversation: s.conversations.Add(1)},
		socket:  socket, ctx: ctx, stop: stop, over: make(chan struct{}),
		room: make(chan struct{}, inFlight), results: make(chan changelog.Result, inFlight),
		pongs: make(chan struct{}, 1),
	}
}

// converse holds the conversation until its end.
func (c *conn) converse() {
	defer close(c.over)
	defer context.AfterFunc(c.ctx, c.end)()
	defer c.stop()
	// gorilla counts what came over the wire; what it inflates to is counted where it is read.
	c.socket.SetReadLimit(2 * syncproto.MaxFrameBytes)
	if welcome, ok := c.greet(); ok {
		var writing sync.WaitGroup
		writing.Go(func() { c.write(welcome) })
		defer writing.Wait()
		for c.take() {
		}
	}
	c.discard()
	_ = c.socket.Close() // whatever it says, the line is given up
	c.stop()
}

// greet answers the hello.
func (c *conn) greet() (syncproto.Welcome, bool) {
	data, err := c.next(c.HelloWithin)
	if err != nil {
		c.refuse(asBreach(err, syncproto.Breachf(syncproto.CodeMalformed, "no hello came within %s", c.HelloWithin)))
		return syncproto.Welcome{}, false
	}
	welcome, err := c.hello(c.ctx, data)
	if err != nil {
		c.refuse(asBreach(err, busy()))
		return syncproto.Welcome{}, false
	}
	return welcome, true
}

// take reads one message and passes it on; false ends the reading.
func (c *conn) take() bool {
	data, err := c.next(c.SilentFor)
	var frame *changelog.Frame
	if err == nil {
		frame, err = c.understand(data)
	}
	breach := asBreach(err, nil)
	switch {
	case breach == nil && err != nil:
		c.stop() // the line broke
		return false
	case breach == nil && frame == nil:
		return c.ctx.Err() == nil
	}
	return c.submit(job{from: c, frame: frame, breach: breach}) && breach == nil
}

// understand returns the frame of a push; a ping is answered and has none.
func (c *conn) understand(data []byte) (*changelog.Frame, error) {
	kind, err := kindOf(data)
	if err != nil {
		return nil, err
	}
	switch kind {
	case syncproto.TypePush:
		return c.push(data)
	case syncproto.TypePing:
		select {
		case c.pongs <- struct{}{}:
		case <-c.ctx.Done():
		}
		return nil, nil
	default:
		return nil, syncproto.Breachf(syncproto.CodeMalformed, "a message of kind %q was not expected", kind)
	}
}

// submit queues a job for the committer, waiting while this phone or all phones have enough queued.
func (c *conn) submit(j job) bool {
	select {
	case c.room <- struct{}{}:
	case <-c.ctx.Done():
		return false
	}
	select {
	case c.queue <- j:
		return true
	case <-c.ctx.Done():
		return false
	}
}

// write tells the phone whatever is to tell, in this order: acknowledgements, pongs, news.
func (c *conn) write(welcome syncproto.Welcome) {
	defer c.stop()
	if c.send(encode(welcome)) != nil {
		return
	}
	for c.ctx.Err() == nil {
		newest, moved := c.news.now()
		if !c.answer() { // whatever was handed over before newest moved
			return
		}
		if c.at < newest {
			if !c.inform(newest) {
				return
			}
			continue
		}
		select {
		case r := <-c.results:
			if !c.reply(r) {
				return
			}
		case <-c.pongs:
			if !c.pong() {
				return
			}
		case <-moved:
		case <-c.ctx.Done():
		}
	}
	c.bye(websocket.CloseGoingAway, "the shed is stopping")
}

// answer sends every result and pong that waits; false ends the writing.
func (c *conn) answer() bool {
	for {
		select {
		case r := <-c.results:
			if !c.reply(r) {
				return false
			}
		case <-c.pongs:
			if !c.pong() {
				return false
			}
		default:
			return true
		}
	}
}

func (c *conn) reply(r changelog.Result) bool {
	<-c.room
	if r.Breach != nil {
		c.refuse(r.Breach)
		return false
	}
	return c.send(encode(r.Ack)) == nil
}

func (c *conn) pong() bool {
	return c.send(encode(syncproto.Pong{T: syncproto.TypePong, Clock: c.clock()})) == nil
}

func (c *conn) inform(upTo int64) bool {
	news, err := c.tell(c.ctx, upTo)
	if err != nil {
		if c.ctx.Err() == nil {
			c.refuse(asBreach(err, busy()))
		}
		return false
	}
	return c.send(news) == nil
}

// asBreach is the breach within an error, or another where it holds none.
func asBreach(err error, otherwise *syncproto.Breach) *syncproto.Breach {
	var breach *syncproto.Breach
	if errors.As(err, &breach) {
		return breach
	}
	return otherwise
}

// expect gives the other side so long to be heard from again.
func (c *conn) expect(within time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if !c.ending {
		_ = c.socket.SetReadDeadline(time.Now().Add(within)) // a broken line shows when it is read
	}
}

// end gives the other side a last while, to read what was written and close.
func (c *conn) end() {
	c.mu.Lock()
	defer c.mu.Unlock()
	if !c.ending {
		c.ending = true
		_ = c.socket.SetReadDeadline(time.Now().Add(c.Linger)) // as above
	}
}
