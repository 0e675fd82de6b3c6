package door

import (
	"fmt"
	"net"
	"net/netip"
	"sync"
	"time"
)

// tellEvery is how often refused connections are told of: whoever opens too many must not fill the log.
const tellEvery = time.Minute

// Limits are how many connections may be open at once.
type Limits struct {
	All  int // of the whole listener
	Each int // from one remote address
	// Many tells of an address that many people come by, such as a reverse proxy's: Each is not for it.
	// nil for none.
	Many func(netip.Addr) bool
	// Tell hears that connections were refused, at most once a minute.
	Tell func(error)
	Now  func() time.Time
}

// Limit closes at once each connection beyond the limits.
func Limit(listener net.Listener, limits Limits) net.Listener {
	return &limited{Listener: listener, limits: limits, from: map[netip.Addr]int{}}
}

type limited struct {
	net.Listener
	limits Limits

	mu      sync.Mutex
	all     int
	from    map[netip.Addr]int // never 0
	refused int                // since it was last told
	told    time.Time
}

func (l *limited) Accept() (net.Conn, error) {
	for {
		conn, err := l.Listener.Accept()
		if err != nil {
			return nil, err
		}
		remote := remoteOf(conn)
		if reason := l.take(remote); reason != "" {
			_ = conn.Close() // it was not heard
			l.tell(reason)
			continue
		}
		return &counted{open: open{conn}, gone: sync.OnceFunc(func() { l.release(remote) })}, nil
	}
}

// take counts a connection, or tells why not.
func (l *limited) take(remote netip.Addr) string {
	l.mu.Lock()
	defer l.mu.Unlock()
	many := l.limits.Many != nil && l.limits.Many(remote)
	switch {
	case l.all >= l.limits.All:
		return fmt.Sprintf("%d are open, the most in all", l.all)
	case !many && l.from[remote] >= l.limits.Each:
		return fmt.Sprintf("%s has %d open, the most from one address; if many people come by it, as by a reverse proxy, say so at the start", remote, l.from[remote])
	}
	l.all++
	l.from[remote]++
	return ""
}

func (l *limited) release(remote netip.Addr) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.all--
	if l.from[remote]--; l.from[remote] == 0 {
		delete(l.from, remote)
	}
}

func (l *limited) tell(reason string) {
	l.mu.Lock()
	l.refused++
	now, refused := l.limits.Now(), l.refused
	due := l.told.IsZero() || now.Sub(l.told) >= tellEvery
	if due {
		l.told, l.refused = now, 0
	}
	l.mu.Unlock()
	if due {
		l.limits.Tell(fmt.Errorf("connections refused since this was last told: %d; of the last: %s", refused, reason))
	}
}

// counted is a connection that is counted until it is closed.
type counted struct {
	open
	gone func()
}

func (c *counted) Close() error {
	defer c.gone()
	return c.Conn.Close()
}

// remoteOf is the address that a connection comes from; none where it is not of the internet.
func remoteOf(conn net.Conn) netip.Addr {
	if tcp, ok := conn.RemoteAddr().(*net.TCPAddr); ok {
		return bare(tcp.AddrPort().Addr())
	}
	return netip.Addr{}
}

// bare is an address as it is compared: an IPv4 address in one form, and without the interface it came by.
func bare(a netip.Addr) netip.Addr { return a.Unmap().WithZone("") }
