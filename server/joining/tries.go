package joining

import (
	"net/netip"
	"sync"
	"time"

	"golang.org/x/time/rate"
)

const (
	// A person mistypes a code a few times; whoever guesses needs millions. Ten at once and one each 10 s,
	// and from all addresses together 60 and one each second, are 660 in ten minutes: of 23^8 codes a
	// guesser finds one with a chance of less than one in a hundred million.
	atOnce    = 10
	each      = 10 * time.Second
	allAtOnce = 60
	allEach   = time.Second
	// mostSources bounds the memory for addresses. Beyond it all are forgotten; the limit over all stays.
	mostSources = 1_024
)

// tries limits how many codes come from an address, and from all together.
type tries struct {
	now func() time.Time

	mu   sync.Mutex
	from map[netip.Prefix]*rate.Limiter
	all  *rate.Limiter
}

func newTries(now func() time.Time) *tries {
	return &tries{now: now, from: map[netip.Prefix]*rate.Limiter{}, all: rate.NewLimiter(rate.Every(allEach), allAtOnce)}
}

// allow counts a code from an address, and tells whether it is looked at.
func (t *tries) allow(from netip.Addr) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	now := t.now()
	return t.of(from).AllowN(now, 1) && t.all.AllowN(now, 1)
}

// of is the limit of an address. Whoever has one address of IPv6 has its whole network of 64 bits.
func (t *tries) of(from netip.Addr) *rate.Limiter {
	bits := 32
	if from = from.Unmap(); from.Is6() {
		bits = 64
	}
	source, err := from.Prefix(bits)
	if err != nil {
		source = netip.Prefix{} // no address: all such share a limit
	}
	if l, ok := t.from[source]; ok {
		return l
	}
	if len(t.from) >= mostSources {
		clear(t.from)
	}
	l := rate.NewLimiter(rate.Every(each), atOnce)
	t.from[source] = l
	return l
}
