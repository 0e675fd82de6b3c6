// Package door lets connections of https and of plain http in by one port, and no more of them than a
// farm has use for.
package door

import (
	"net"
	"slices"
	"sync"
	"time"
)

const (
	// handshake is the first byte of a connection of TLS: the content type of its first record (RFC 8446,
	// section 5.1). No request of http begins with it.
	handshake = 0x16
	// firstByteWithin is how long a connection may say nothing. Browsers open some ahead of need.
	firstByteWithin = 10 * time.Second
	// mostUndecided is how many connections may say nothing at once.
	mostUndecided = 128
)

// Split accepts the connections of a listener and hands those that begin as TLS does to secure, as they
// came, and all others to plain. One that says nothing keeps nobody waiting: it is closed after 10
// seconds, or when it is the oldest of too many. Closing both ends closes the listener, and whatever no
// server has accepted yet; so http.Server's Shutdown leaves nothing open.
func Split(listener net.Listener) (secure, plain net.Listener) {
	return split(listener, firstByteWithin, mostUndecided)
}

func split(listener net.Listener, within time.Duration, most int) (secure, plain net.Listener) {
	d := &door{listener: listener, within: within, most: most, failed: make(chan error), shut: make(chan struct{})}
	d.secure, d.plain = newEnd(d), newEnd(d)
	d.ends = 2
	go d.acceptAll()
	return d.secure, d.plain
}

// door is a listener whose connections are told apart.
type door struct {
	listener      net.Listener
	within        time.Duration
	most          int
	secure, plain *end
	failed        chan error
	shut          chan struct{} // closed with the last end

	mu        sync.Mutex
	ends      int        // that are open
	undecided []net.Conn // the oldest first
}

func (d *door) acceptAll() {
	for {
		conn, err := d.listener.Accept()
		if err == nil {
			d.admit(conn)
			continue
		}
		select {
		case d.failed <- err: // whoever accepts knows whether to try again, and how soon
		case <-d.shut:
			return
		}
	}
}

// admit waits apart for what a connection says first. Where too many wait, the oldest goes: whoever has
// something to say says it within a moment.
func (d *door) admit(conn net.Conn) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.ends == 0 {
		_ = conn.Close() // it has not been heard yet
		return
	}
	d.undecided = append(d.undecided, conn)
	if len(d.undecided) > d.most {
		_ = d.undecided[0].Close() // its reader ends with it
		d.undecided = slices.Delete(d.undecided, 0, 1)
	}
	go d.decide(conn)
}

func (d *door) decide(conn net.Conn) {
	first := make([]byte, 1)
	_ = conn.SetReadDeadline(time.Now().Add(d.within)) // where it fails, so does reading
	_, err := conn.Read(first)
	if waited := d.settle(conn); !waited || err != nil {
		_ = conn.Close() // it said nothing
		return
	}
	_ = conn.SetReadDeadline(time.Time{})
	to := d.plain
	if first[0] == handshake {
		to = d.secure
	}
	to.hand(&begun{open: open{conn}, first: first})
}

// settle tells whether a connection was still waited for, and waits for it no more.
func (d *door) settle(conn net.Conn) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	i := slices.Index(d.undecided, conn)
	if i >= 0 {
		d.undecided = slices.Delete(d.undecided, i, i+1)
	}
	return i >= 0
}

// endClosed closes the door with its last end.
func (d *door) endClosed() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.ends--; d.ends > 0 {
		return nil
	}
	close(d.shut)
	for _, conn := range d.undecided {
		_ = conn.Close() // it said nothing
	}
	d.undecided = nil
	return d.listener.Close()
}

// end is the listener for one kind of connections.
type end struct {
	door   *door
	conns  chan net.Conn
	closed chan struct{}
	close  func() error
}

func newEnd(d *door) *end {
	e := &end{door: d, conns: make(chan net.Conn), closed: make(chan struct{})}
	e.close = sync.OnceValue(func() error {
		close(e.closed)
		return d.endClosed()
	})
	return e
}

func (e *end) hand(conn net.Conn) {
	select {
	case e.conns <- conn:
	case <-e.closed:
		_ = conn.Close() // nobody serves this kind any more
	}
}

func (e *end) Accept() (net.Conn, error) {
	select {
	case <-e.closed:
		return nil, net.ErrClosed
	default:
	}
	select {
	case conn := <-e.conns:
		return conn, nil
	case err := <-e.door.failed:
		return nil, err
	case <-e.closed:
		return nil, net.ErrClosed
	}
}

func (e *end) Close() error   { return e.close() }
func (e *end) Addr() net.Addr { return e.door.listener.Addr() }

// open is a connection that can still be closed for writing alone: http.Server does so, for its last
// answer to be read.
type open struct{ net.Conn }

func (c open) CloseWrite() error {
	if half, ok := c.Conn.(interface{ CloseWrite() error }); ok {
		return half.CloseWrite()
	}
	return nil
}

// begun is a connection whose first bytes were read already.
type begun struct {
	open
	first []byte
}

func (c *begun) Read(p []byte) (int, error) {
	if len(c.first) == 0 {
		return c.Conn.Read(p)
	}
	n := copy(p, c.first)
	c.first = c.first[n:]
	return n, nil
}
