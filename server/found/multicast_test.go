package found

import (
	"context"
	"io"
	"net"
	"net/netip"
	"slices"
	"testing"
	"time"

	"github.com/pion/mdns/v2"
	"golang.org/x/net/dns/dnsmessage"
	"golang.org/x/net/ipv4"
)

// group is where names are asked for (RFC 6762, section 3).
var group = &net.UDPAddr{IP: net.IPv4(224, 0, 0, 251), Port: 5353}

// loopback is a network of this machine alone, in which a test can ask without anybody else hearing it.
func loopback(t *testing.T) Reach {
	t.Helper()
	links, err := Links()
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(links, func(l Link) bool { return l.Flags&net.FlagLoopback != 0 })
	if i < 0 {
		t.Fatal("this machine has no loopback")
	}
	return Reach{links[i]}
}

func answerOnLoopback(t *testing.T, name string) io.Closer {
	t.Helper()
	conn, err := multicast(loopback(t), mdns.WithLocalNames(name), mdns.WithIncludeLoopback(true))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = conn.Close() }) // a test may have closed it
	return conn
}

// asker asks as a phone does, by packets of its own.
type asker struct {
	t    *testing.T
	conn *net.UDPConn
}

func newAsker(t *testing.T) asker {
	t.Helper()
	conn, err := net.ListenUDP("udp4", &net.UDPAddr{IP: net.IPv4(127, 0, 0, 1)})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = conn.Close() })
	over := ipv4.NewPacketConn(conn)
	if err := over.SetMulticastInterface(&loopback(t)[0].Interface); err != nil {
		t.Fatal(err)
	}
	if err := over.SetMulticastLoopback(true); err != nil {
		t.Fatal(err)
	}
	return asker{t, conn}
}

func (a asker) ask(id uint16, name string, of dnsmessage.Type) {
	a.t.Helper()
	packet, err := (&dnsmessage.Message{
		Header:    dnsmessage.Header{ID: id},
		Questions: []dnsmessage.Question{{Name: dnsmessage.MustNewName(name), Type: of, Class: dnsmessage.ClassINET}},
	}).Pack()
	if err != nil {
		a.t.Fatal(err)
	}
	if _, err := a.conn.WriteTo(packet, group); err != nil {
		a.t.Fatal(err)
	}
}

func (a asker) hear() dnsmessage.Message {
	a.t.Helper()
	packet := make([]byte, 9000)
	n, err := a.conn.Read(packet)
	if err != nil {
		a.t.Fatal(err)
	}
	var m dnsmessage.Message
	if err := m.Unpack(packet[:n]); err != nil {
		a.t.Fatal(err)
	}
	return m
}

func TestANameIsAnsweredWithTheAddressOfTheNetworkItIsAskedIn(t *testing.T) {
	answerOnLoopback(t, "shed-of-a-test.local")
	phone := newAsker(t)
	phone.ask(7, "Shed-Of-A-Test.local.", dnsmessage.TypeA)
	m := phone.hear()
	if m.ID != 7 || !m.Response || len(m.Answers) != 1 {
		t.Fatalf("heard %+v", m)
	}
	a, ok := m.Answers[0].Body.(*dnsmessage.AResource)
	if !ok || netip.AddrFrom4(a.A).String() != "127.0.0.1" {
		t.Errorf("the answer is %+v", m.Answers[0])
	}
}

// What is asked last is answered, so what was asked before it was not.
func TestNoOtherQuestionIsAnswered(t *testing.T) {
	answerOnLoopback(t, "shed-of-a-test.local")
	phone := newAsker(t)
	phone.ask(1, "barn-of-a-test.local.", dnsmessage.TypeA)
	phone.ask(2, "of-a-test.local.", dnsmessage.TypeA)
	phone.ask(3, "_services._dns-sd._udp.local.", dnsmessage.TypePTR)
	phone.ask(4, "shed-of-a-test.local.", dnsmessage.TypeTXT)
	phone.ask(5, "shed-of-a-test.local.", dnsmessage.TypeA)
	if m := phone.hear(); m.ID != 5 {
		t.Errorf("question %d was answered: %+v", m.ID, m)
	}
}

func TestANameIsTakenWhereAnotherMachineAnswersToIt(t *testing.T) {
	answerOnLoopback(t, "shed-of-a-test.local")
	here := netip.MustParseAddr("127.0.0.1")
	tests := []struct {
		name, asked string
		ours        []netip.Addr
		taken       bool
	}{
		{"another machine", "shed-of-a-test.local", nil, true},
		{"this machine", "shed-of-a-test.local", []netip.Addr{here}, false},
		{"nobody", "nobody-of-a-test.local", nil, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			by, taken, err := askOnLoopback(t, tt.asked, tt.ours)
			if err != nil || taken != tt.taken || taken && by != here {
				t.Errorf("taken %v, by %v (%v)", taken, by, err)
			}
		})
	}
}

func askOnLoopback(t *testing.T, name string, ours []netip.Addr) (netip.Addr, bool, error) {
	t.Helper()
	conn, err := multicast(loopback(t), mdns.WithQueryInterval(10*time.Millisecond), mdns.WithIncludeLoopback(true))
	if err != nil {
		t.Fatal(err)
	}
	return ask(context.Background(), conn, name, ours)
}

func TestWhatIsNoNetworkCannotBeJoined(t *testing.T) {
	gone := Reach{link(99999, "gone0", running, "192.168.7.20/24")}
	if conn, err := respond("shed-of-a-test.local", gone); err == nil {
		_ = conn.Close()
		t.Error("it answers in no network")
	}
}
