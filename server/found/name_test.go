package found

import (
	"context"
	"errors"
	"io"
	"net/netip"
	"slices"
	"strings"
	"testing"
	"time"
)

// network is one that a test moves: what links there are, who answers to the name, what fails.
type network struct {
	links    []Link
	linksErr error
	takenBy  string
	openErr  error

	open   []string // the addresses answered with, by each responder that is open
	told   []string
	probes int
}

type closing func()

func (c closing) Close() error { c(); return nil }

func (n *network) answering() *answering {
	return &answering{
		Config: Config{
			Name:  "shed.local",
			Links: func() ([]Link, error) { return n.links, n.linksErr },
			Tell: func(err error) {
				text := "answered"
				if err != nil {
					text = err.Error()
				}
				n.told = append(n.told, text)
			},
		},
		taken: func(context.Context, string, Reach, []netip.Addr) (netip.Addr, bool, error) {
			n.probes++
			by, err := netip.ParseAddr(n.takenBy)
			return by, err == nil, nil
		},
		open: func(_ string, r Reach) (io.Closer, error) {
			if n.openErr != nil {
				return nil, n.openErr
			}
			with := strings.Join(texts(r.Addresses()), " ")
			n.open = append(n.open, with)
			return closing(func() { n.open = slices.DeleteFunc(n.open, func(o string) bool { return o == with }) }), nil
		},
	}
}

// wifi is a network in which this machine has an address.
func wifi(address string) []Link { return []Link{link(2, "wlan0", running, address)} }

func TestTheNameIsAnsweredAsThingsAre(t *testing.T) {
	in := func(address string) func(*network) { return func(n *network) { n.links = wifi(address) } }
	out := func(n *network) { n.links = nil }
	tests := []struct {
		name  string
		looks []func(*network)
		open  string // at last
		told  []string
	}{
		{
			"it stays where it is", []func(*network){in("192.168.7.20/24"), in("192.168.7.20/24")},
			"192.168.7.20", []string{"answered"},
		},
		{
			"it gets another address", []func(*network){in("192.168.7.20/24"), in("192.168.7.30/24")},
			"192.168.7.30", []string{"answered"},
		},
		{
			"the wifi comes late", []func(*network){out, out, in("192.168.7.20/24")},
			"192.168.7.20", []string{"in no network", "answered"},
		},
		{
			"the wifi goes", []func(*network){in("192.168.7.20/24"), out},
			"", []string{"answered", "in no network"},
		},
		{
			"another machine has the name, and gives it up",
			[]func(*network){
				func(n *network) { n.links, n.takenBy = wifi("192.168.7.20/24"), "192.168.7.9" },
				func(*network) {},
				func(n *network) { n.takenBy = "" },
			},
			"192.168.7.20", []string{"the machine at 192.168.7.9", "answered"},
		},
		{
			"the port cannot be had, and then can",
			[]func(*network){
				func(n *network) { n.links, n.openErr = wifi("192.168.7.20/24"), errors.New("in use") },
				func(*network) {},
				func(n *network) { n.openErr = nil },
			},
			"192.168.7.20", []string{"answering to shed.local: in use; phones can still come by the address", "answered"},
		},
		{
			"the system does not tell of its networks for once",
			[]func(*network){
				in("192.168.7.20/24"),
				func(n *network) { n.linksErr = errors.New("no such call") },
				func(n *network) { n.linksErr = nil },
			},
			"192.168.7.20", []string{"answered", "no such call", "answered"},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			n := &network{}
			a := n.answering()
			for _, look := range tt.looks {
				look(n)
				a.look(t.Context())
			}
			if got := strings.Join(n.open, ", "); got != tt.open {
				t.Errorf("answered with %q, want %q", got, tt.open)
			}
			if !slices.EqualFunc(n.told, tt.told, strings.Contains) {
				t.Errorf("told %q, want %q", n.told, tt.told)
			}
		})
	}
}

func TestANameThatIsAnsweredIsNotAskedForAgain(t *testing.T) {
	n := &network{links: wifi("192.168.7.20/24")}
	a := n.answering()
	for range 3 {
		a.look(t.Context())
	}
	if n.probes != 1 {
		t.Errorf("it asked %d times", n.probes)
	}
}

func TestAnsweringEndsWithTheContext(t *testing.T) {
	n := &network{links: wifi("192.168.7.20/24")}
	a, poll := n.answering(), make(chan time.Time)
	a.Poll = poll
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan struct{})
	go func() { a.run(ctx); close(ended) }()
	poll <- time.Time{} // taken once it answers
	stop()
	<-ended
	if len(n.open) != 0 {
		t.Errorf("it still answers with %q", n.open)
	}
}

func TestAStopWhileTheNetworkIsAskedIsNoProblemToTell(t *testing.T) {
	n := &network{links: wifi("192.168.7.20/24")}
	a := n.answering()
	ctx, stop := context.WithCancel(t.Context())
	stop()
	a.look(ctx)
	if len(n.told) != 0 || len(n.open) != 0 {
		t.Errorf("told %q, answered with %q", n.told, n.open)
	}
}
