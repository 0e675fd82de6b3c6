package door

import (
	"net"
	"net/netip"
	"strings"
	"testing"
	"time"
)

// clock is a time that a test moves.
type clock struct{ at time.Time }

func (c *clock) now() time.Time { return c.at }

var here = netip.MustParseAddr("127.0.0.1")

// limitedBy counts how often it was told of refusals.
func limitedBy(t *testing.T, limits Limits) (net.Listener, *clock, *[]string) {
	t.Helper()
	c, told := &clock{time.Date(2026, 6, 10, 12, 0, 0, 0, time.UTC)}, &[]string{}
	limits.Now = c.now
	limits.Tell = func(err error) { *told = append(*told, err.Error()) }
	return Limit(listen(t), limits), c, told
}

func TestConnectionsBeyondTheLimitsAreClosed(t *testing.T) {
	tests := []struct {
		name   string
		limits Limits
		taken  int
		says   string
	}{
		{"in all", Limits{All: 2, Each: 9}, 2, "the most in all"},
		{"from one address", Limits{All: 9, Each: 3}, 3, "127.0.0.1 has 3 open"},
		{"by a proxy, in all alone", Limits{All: 4, Each: 1, Many: func(a netip.Addr) bool { return a == here }}, 4, "the most in all"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l, _, told := limitedBy(t, tt.limits)
			var taken []net.Conn
			for range tt.taken {
				dial(t, l)
				taken = append(taken, accept(t, l))
			}
			refused := dial(t, l)
			next := make(chan net.Conn)
			go func() {
				conn, err := l.Accept()
				if err != nil {
					t.Error(err)
				}
				next <- conn
			}()
			mustBeClosed(t, refused)
			if err := taken[0].Close(); err != nil {
				t.Fatal(err)
			}
			dial(t, l)
			_ = (<-next).Close()
			if len(*told) != 1 || !strings.Contains((*told)[0], tt.says) {
				t.Errorf("it told %q, want %q", *told, tt.says)
			}
		})
	}
}

func TestAConnectionClosedTwiceMakesRoomForOne(t *testing.T) {
	l, _, _ := limitedBy(t, Limits{All: 1, Each: 1})
	dial(t, l)
	conn := accept(t, l)
	_, _ = conn.Close(), conn.Close()
	if in := l.(*limited); in.all != 0 || len(in.from) != 0 {
		t.Errorf("%d counted in all, %v by address", in.all, in.from)
	}
}

func TestRefusalsAreToldOnceAMinute(t *testing.T) {
	l, c, told := limitedBy(t, Limits{All: 0, Each: 9})
	go func() { _, _ = l.Accept() }()
	for range 3 {
		mustBeClosed(t, dial(t, l))
	}
	in := l.(*limited)
	wait := func(refused int) { // the last is counted after it was closed
		for {
			in.mu.Lock()
			done := in.refused == refused
			in.mu.Unlock()
			if done {
				return
			}
			time.Sleep(time.Millisecond)
		}
	}
	wait(2)
	in.mu.Lock()
	c.at = c.at.Add(tellEvery)
	in.mu.Unlock()
	mustBeClosed(t, dial(t, l))
	wait(0)
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	if len(*told) != 2 || !strings.Contains((*told)[0], "told: 1;") || !strings.Contains((*told)[1], "told: 3;") {
		t.Errorf("it told %q", *told)
	}
}
