package live

import (
	"context"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"corymb/syncproto"
)

// conn holds a Talk on its socket: a reader (the goroutine of converse) and a writer.
type conn struct {
	*Server
	member  Member
	number  int // in the order of their beginning
	talk    *Talk
	socket  *websocket.Conn
	ctx     context.Context
	stop    context.CancelFunc
	over    chan struct{} // closed when the server has let go of it
	helloBy time.Time     // when the hello must have come

	mu     sync.Mutex
	ending bool
}

func newConn(s *Server, socket *websocket.Conn, member Member) *conn {
	ctx, stop := context.WithCancel(context.Background())
	c := &conn{
		Server: s, member: member, talk: s.Begin(member), socket: socket, ctx: ctx, stop: stop,
		over: make(chan struct{}), helloBy: time.Now().Add(s.HelloWithin),
	}
	c.talk.ctx = ctx
	return c
}

// converse holds the conversation until its end.
func (c *conn) converse() {
	defer context.AfterFunc(c.ctx, c.end)()
	defer c.stop()
	// gorilla counts what came over the wire; what it inflates to is counted where it is read.
	c.socket.SetReadLimit(syncproto.MaxMessageBytes)
	var writing sync.WaitGroup
	writing.Go(c.write)
	for c.talk.listens() && c.awaitRoom() && c.hear() {
	}
	c.discard()
	if !c.talk.listens() {
		writing.Wait() // why it ends is still to be said
	}
	_ = c.socket.Close() // whatever it says, the line is given up
	c.stop()
	writing.Wait()
	c.tellBreach()
}

// tellBreach tells the log which device broke the protocol, and how. Of others than those that joined
// nothing is told: there would be no end.
func (c *conn) tellBreach() {
	if breach := c.talk.farewell(); breach != nil && c.member.Device != "" && breach.Code != syncproto.CodeBusy {
		c.Logger.Warn("a conversation was refused", "device", c.member.Device, "code", breach.Code)
	}
}

// awaitRoom waits while this phone or all phones have enough under way; false ends the reading.
func (c *conn) awaitRoom() bool {
	for c.ctx.Err() == nil {
		drained := c.queue.drained.listen() // before looking, so that nothing is missed between
		if c.talk.Room() {
			return true
		}
		select {
		case <-drained:
		case <-c.talk.roomy:
		case <-c.ctx.Done():
		}
	}
	return false
}

// hear reads one message and lets the conversation hear it; false ends the reading.
func (c *conn) hear() bool {
	greeted := c.talk.isGreeted()
	deadline := func() time.Time { return time.Now().Add(c.SilentFor) }
	if !greeted {
		deadline = func() time.Time { return c.helloBy } // however much comes meanwhile
	}
	err := c.next(deadline, c.talk.Hear)
	breach := asBreach(err, nil)
	if err != nil && breach == nil && !greeted {
		breach = syncproto.Breachf(syncproto.CodeMalformed, "no hello came within %s", c.HelloWithin)
	}
	switch {
	case breach != nil:
		c.talk.breakOff(breach)
		return false
	case err != nil:
		c.stop() // the line broke
		return false
	}
	return true
}

// ending is why a connection is closed that did nothing wrong.
const ending = "the line ends here; connect again"

// write sends what the conversation says, until it is over.
func (c *conn) write() {
	defer c.stop()
	for c.ctx.Err() == nil {
		moved := c.recent.moved.listen() // before it is asked, so that nothing is missed between
		if !c.sayAll() {
			return
		}
		select {
		case <-moved:
		case <-c.talk.stirred:
		case <-c.ctx.Done():
		}
	}
	c.bye(websocket.CloseGoingAway, ending)
}

// sayAll sends whatever is to be said now; false ends the writing.
func (c *conn) sayAll() bool {
	for c.ctx.Err() == nil {
		m, ok := c.talk.Say()
		if !ok {
			return true
		}
		if c.send(m) != nil {
			return false // the line broke; the phone tries again
		}
		if breach := c.talk.farewell(); breach != nil {
			c.bye(websocket.ClosePolicyViolation, string(breach.Code))
			return false
		}
	}
	return true
}

func (c *conn) bye(code int, reason string) {
	farewell := websocket.FormatCloseMessage(code, reason)
	_ = c.socket.WriteControl(websocket.CloseMessage, farewell, time.Now().Add(c.WriteWithin)) // a courtesy
	c.stop()
}

// expect gives the other side until a deadline to be heard from again.
func (c *conn) expect(deadline time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if !c.ending {
		_ = c.socket.SetReadDeadline(deadline) // a broken line shows when it is read
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
