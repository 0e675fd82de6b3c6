package found

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/netip"
	"slices"
	"time"
)

// ErrNoNetwork says that no phone can reach this machine at all.
var ErrNoNetwork = errors.New("this machine is in no network that phones could be in: join the farm's wifi, or plug in its cable")

// ErrTaken says that the name is another machine's.
var ErrTaken = errors.New("the name is taken")

// Config is what Answer needs to know.
type Config struct {
	Name  string                 // such as shed.local
	Links func() ([]Link, error) // such as Links
	Poll  <-chan time.Time       // each time, the links are looked at again
	// Tell hears what keeps the name from being answered, once until it changes, and nil once it is answered.
	Tell func(error)
}

// Answer answers the question of phones where a name under .local is (multicast DNS, RFC 6762), with
// the address of this machine in the network that they ask in, until the context ends. What does not
// work is told and tried again at the next poll: without it, phones still find the farm by its address.
func Answer(ctx context.Context, config Config) {
	a := answering{Config: config, taken: takenBy, open: respond}
	a.run(ctx)
}

type answering struct {
	Config
	// taken tells who else answers to a name.
	taken func(ctx context.Context, name string, reach Reach, ours []netip.Addr) (netip.Addr, bool, error)
	// open answers to a name until it is closed.
	open func(name string, reach Reach) (io.Closer, error)

	reach     Reach
	responder io.Closer // nil where the name is not answered
	told      string
}

func (a *answering) run(ctx context.Context) {
	for {
		a.look(ctx)
		select {
		case <-a.Poll:
		case <-ctx.Done():
			a.stop()
			return
		}
	}
}

// look answers the name by the links as they are now.
func (a *answering) look(ctx context.Context) {
	links, err := a.Links()
	if err != nil {
		a.tell(err)
		return
	}
	if reach := ReachOf(links); !reach.equal(a.reach) {
		a.stop()
		a.reach = reach
	}
	if a.responder == nil {
		a.responder, err = a.start(ctx, links)
	}
	if ctx.Err() == nil {
		a.tell(err)
	}
}

// start asks whether the name is free (RFC 6762, section 8.1), and answers to it if so.
func (a *answering) start(ctx context.Context, links []Link) (io.Closer, error) {
	if len(a.reach) == 0 {
		return nil, ErrNoNetwork
	}
	by, taken, err := a.taken(ctx, a.Name, a.reach, addressesOf(links))
	switch {
	case err != nil:
		return nil, fmt.Errorf("asking the network for %s: %w; phones can still come by the address", a.Name, err)
	case taken:
		return nil, fmt.Errorf("%w: %s is what the machine at %s calls itself, and phones would go there; rename that one, or give the farm another name", ErrTaken, a.Name, by)
	case ctx.Err() != nil:
		return nil, ctx.Err()
	}
	responder, err := a.open(a.Name, a.reach)
	if err != nil {
		return nil, fmt.Errorf("answering to %s: %w; phones can still come by the address", a.Name, err)
	}
	return responder, nil
}

func (a *answering) stop() {
	if a.responder == nil {
		return
	}
	if err := a.responder.Close(); err != nil {
		a.tell(fmt.Errorf("answering to %s no more: %w", a.Name, err))
	}
	a.responder = nil
}

// tell says what is other than was said last.
func (a *answering) tell(err error) {
	text := "answered"
	if err != nil {
		text = err.Error()
	}
	if text != a.told {
		a.told = text
		a.Tell(err)
	}
}

// addressesOf are all addresses of this machine: its own system may answer to the name as well.
func addressesOf(links []Link) []netip.Addr {
	var all []netip.Addr
	for _, link := range links {
		for _, p := range link.Addresses {
			all = append(all, p.Addr().WithZone(""))
		}
	}
	return slices.Clip(all)
}
