package live_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"net"
	"net/http"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"corymb/server/live"
	"corymb/syncproto"
)

// refused reads until the refusal, and checks that the line is closed after it.
func refused(t *testing.T, p *phone) syncproto.Refuse {
	t.Helper()
	r := await[syncproto.Refuse](p)
	if _, err := p.receive(); !websocket.IsCloseError(err, websocket.ClosePolicyViolation) {
		t.Errorf("after the refusal came %v, want a close", err)
	}
	return r
}

func TestAHelloThatCannotGoOnIsRefused(t *testing.T) {
	long := strings.Repeat("a", 129)
	tests := []struct {
		name   string
		change func(h *syncproto.Hello)
		code   syncproto.Code
	}{
		{"no version in common", func(h *syncproto.Hello) { h.Versions = []int{2, 3} }, syncproto.CodeVersion},
		{"no version at all", func(h *syncproto.Hello) { h.Versions = nil }, syncproto.CodeVersion},
		{"another farm", func(h *syncproto.Hello) { h.Farm = uuid.NewString() }, syncproto.CodeFarm},
		{"an incarnation that is no UUID", func(h *syncproto.Hello) { h.Incarnation = "x" }, syncproto.CodeMalformed},
		{"an incarnation in upper case", func(h *syncproto.Hello) { h.Incarnation = strings.ToUpper(h.Incarnation) }, syncproto.CodeMalformed},
		{"a device that is no UUID", func(h *syncproto.Hello) { h.Device = "" }, syncproto.CodeMalformed},
		{"a person too long", func(h *syncproto.Hello) { h.Person = strings.Repeat("a", 129) }, syncproto.CodeMalformed},
		{"fewer than none unsent", func(h *syncproto.Hello) { h.Unsent = -1 }, syncproto.CodeMalformed},
		{"an epoch too long", func(h *syncproto.Hello) { h.Cursor = &syncproto.Cursor{Epoch: long} }, syncproto.CodeMalformed},
		{"a last change too long", func(h *syncproto.Hello) { h.Cursor = &syncproto.Cursor{Last: long} }, syncproto.CodeMalformed},
		{"a place of its own changes too long", func(h *syncproto.Hello) { h.Cursor = &syncproto.Cursor{Own: long} }, syncproto.CodeMalformed},
		{"more settled than a number can say", func(h *syncproto.Hello) { h.Settled = syncproto.MaxInt + 1 }, syncproto.CodeMalformed},
		{"longer than a hello can be", func(h *syncproto.Hello) { h.Device = strings.Repeat("a", 16<<10) }, syncproto.CodeTooLarge},
		{"a cursor below the start", func(h *syncproto.Hello) { h.Cursor = &syncproto.Cursor{Arrival: -1} }, syncproto.CodeMalformed},
		{"not a hello", func(h *syncproto.Hello) { h.T = syncproto.TypePing }, syncproto.CodeMalformed},
	}
	s := startShed(t, nil)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := newPhone(t)
			p.Incarnation = "aaaaaaaa-0000-4000-8000-000000000000"
			p.dial(s)
			hello := p.hello()
			tt.change(&hello)
			p.send(hello)
			if r := refused(t, p); r.Code != tt.code || r.Text == "" {
				t.Errorf("refused with %+v, want %s", r, tt.code)
			}
		})
	}
}

func TestANewerHelloOfAnotherShapeIsRefusedForItsVersion(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.dial(s)
	p.sendRaw(live.Message{Data: []byte(`{"t":"hello","versions":[9],"farm":{"id":1},"cursor":"abc"}`)})
	if r := refused(t, p); r.Code != syncproto.CodeVersion {
		t.Errorf("refused with %+v, want version", r)
	}
}

func TestAPushBeforeTheWelcomeIsRefused(t *testing.T) {
	s := newShed(t, nil)
	c := newClient()
	talk := s.Begin(everything)
	hello := c.hello()
	talk.Hear(textMessage(hello))
	talk.Hear(c.frame(c.records("b1", "North")...))
	if s.Commit() {
		t.Error("it was queued")
	}
	said := []string{}
	for m, ok := talk.Say(); ok; m, ok = talk.Say() {
		got, err := c.read(m)
		if err != nil {
			t.Fatal(err)
		}
		said = append(said, fmt.Sprintf("%T", got))
	}
	if want := []string{"syncproto.Welcome", "syncproto.Refuse"}; !slices.Equal(said, want) {
		t.Errorf("it said %v, want %v", said, want)
	}
}

func TestAMessageOfTheWrongShapeIsRefusedAndNothingOfItStored(t *testing.T) {
	text := func(s string) func(*phone) live.Message {
		return func(*phone) live.Message { return live.Message{Data: []byte(s)} }
	}
	binary := func(b ...byte) func(*phone) live.Message {
		return func(*phone) live.Message { return live.Message{Binary: true, Data: b} }
	}
	// spoilt is a good push of a change, otherwise.
	spoilt := func(spoil func(*syncproto.Change)) func(*phone) live.Message {
		return func(p *phone) live.Message {
			changes := p.records("b1", "North")
			spoil(&changes[0])
			return p.frame(changes...)
		}
	}
	tests := []struct {
		name string
		make func(p *phone) live.Message
		code syncproto.Code
	}{
		{"not JSON", text("count 3"), syncproto.CodeMalformed},
		{"JSON cut short", text(`{"t":"ping"`), syncproto.CodeMalformed},
		{"not an object", text(`[1,2]`), syncproto.CodeMalformed},
		{"nested twelve thousand deep", text(`{"t":"ping","x":` + strings.Repeat("[", 12_000)), syncproto.CodeMalformed},
		{"a text of more than 16 KiB", text(`{"t":"ping","x":"` + strings.Repeat("x", 16<<10) + `"}`), syncproto.CodeTooLarge},
		{"not UTF-8", text("{\"t\":\"ping\",\"x\":\"\xff\"}"), syncproto.CodeMalformed},
		{"of no kind", text(`{"seq":1}`), syncproto.CodeMalformed},
		{"a message of the server's", text(`{"t":"ack","seq":1}`), syncproto.CodeMalformed},
		{"a second hello", text(`{"t":"hello","versions":[1]}`), syncproto.CodeMalformed},
		{"an empty binary message", binary(), syncproto.CodeMalformed},
		{"a binary message of an unknown kind", binary(9, 1, 1), syncproto.CodeMalformed},
		{"news", binary(syncproto.KindNews, 0, 0, 0, 0), syncproto.CodeMalformed},
		{"a push without a batch", binary(syncproto.KindPush), syncproto.CodeMalformed},
		{"a push of nothing", func(p *phone) live.Message { return p.frame() }, syncproto.CodeMalformed},
		{"a push cut short", func(p *phone) live.Message {
			m := p.frame(p.records("b1", "North")...)
			return live.Message{Binary: true, Data: m.Data[:len(m.Data)-1]}
		}, syncproto.CodeMalformed},
		{"a push with something behind it", func(p *phone) live.Message {
			m := p.frame(p.records("b1", "North")...)
			return live.Message{Binary: true, Data: append(m.Data, 0)}
		}, syncproto.CodeMalformed},
		{"a push as text", func(p *phone) live.Message {
			return live.Message{Data: p.frame(p.records("b1", "North")...).Data}
		}, syncproto.CodeMalformed},
		{"an unknown scope", spoilt(func(c *syncproto.Change) { c.Scope = "world" }), syncproto.CodeMalformed},
		{"a text that is not NFC", spoilt(func(c *syncproto.Change) { c.Value.Text = "Nu\u0308rth" }), syncproto.CodeMalformed},
		{"a NUL", spoilt(func(c *syncproto.Change) { c.Value.Text = "\x00" }), syncproto.CodeMalformed},
		{"a text too long", spoilt(func(c *syncproto.Change) { c.Value.Text = strings.Repeat("x", syncproto.MaxTextBytes+1) }), syncproto.CodeMalformed},
		{"no seq", spoilt(func(c *syncproto.Change) { c.Seq = 0 }), syncproto.CodeMalformed},
		{"an order above its stamp", func(p *phone) live.Message {
			batch := syncproto.Batch{Changes: p.records("b1", "North")}
			batch.Orders = []syncproto.Stamp{{L: batch.Changes[0].Stamp.L + 1}}
			return live.Message{Binary: true, Data: syncproto.AppendPush(nil, p.packer, batch)}
		}, syncproto.CodeMalformed},
		{"another incarnation's change", spoilt(func(c *syncproto.Change) { c.Incarnation = uuid.NewString() }), syncproto.CodeMalformed},
		{"an operation cut short", spoilt(func(c *syncproto.Change) { c.Rest = 1 }), syncproto.CodeSplit},
		{"a gap", spoilt(func(c *syncproto.Change) { c.Seq = 2 }), syncproto.CodeGap},
		{"more than 2,000 changes", func(p *phone) live.Message {
			var changes []syncproto.Change
			for range syncproto.MaxFrameChanges + 1 {
				changes = append(changes, p.records("b1", "North")...)
			}
			return p.frame(changes...)
		}, syncproto.CodeMalformed},
		{"more than 8 MiB, well packed", func(p *phone) live.Message {
			m := p.frame(p.records("b1", "North")...)
			return live.Message{Binary: true, Data: append(m.Data, make([]byte, syncproto.MaxMessageBytes)...)}
		}, syncproto.CodeTooLarge},
	}
	s := startShed(t, nil)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := newPhone(t)
			p.connect(s)
			p.sendRaw(tt.make(p))
			if r := refused(t, p); r.Code != tt.code || r.Text == "" {
				t.Errorf("refused with %+v, want %s", r, tt.code)
			}
			if n := s.farm.Newest(); n != 0 {
				t.Fatalf("%d changes were stored", n)
			}
		})
	}
	p := newPhone(t)
	p.connect(s)
	p.sendRaw(spoilt(func(*syncproto.Change) {})(p))
	if ack := read[syncproto.Ack](p); ack.Seq != 1 {
		t.Errorf("the unspoilt push got %+v", ack)
	}
}

func TestNothingIsHeardBeforeAHello(t *testing.T) {
	s := startShed(t, nil)
	for _, m := range []live.Message{
		{Binary: true, Data: []byte{syncproto.KindPush}}, {Binary: true, Data: []byte{9}}, {Data: []byte(`{"t":"pong"}`)},
	} {
		p := newPhone(t)
		p.dial(s)
		p.sendRaw(m)
		if r := refused(t, p); r.Code != syncproto.CodeMalformed {
			t.Errorf("%v was refused with %+v", m, r)
		}
	}
}

// A hello is heard before anything is known of whoever sends it: nothing grows with it.
func TestALongHelloIsNeitherAnsweredAtLengthNorReadOn(t *testing.T) {
	s := newShed(t, nil)
	for _, tt := range []struct {
		name, text string
		code       syncproto.Code
	}{
		{"thousands of versions", `{"t":"hello","versions":[` + strings.Repeat("9,", 8_000) + `9]}`, syncproto.CodeVersion},
		{"millions of versions", `{"t":"hello","versions":[` + strings.Repeat("9,", 2_000_000) + `1]}`, syncproto.CodeTooLarge},
	} {
		c := &caller{client: newClient(), t: t, talk: s.Begin(everything)}
		c.talk.Hear(live.Message{Data: []byte(tt.text)})
		if r := hears[syncproto.Refuse](c); r.Code != tt.code || len(r.Text) > 200 {
			t.Errorf("%s: refused with %s and a text of %d bytes", tt.name, r.Code, len(r.Text))
		}
	}
}

func TestATextThatIsTooLongIsRefusedBeforeItHasCome(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.dial(s)
	header := []byte{0x81, 0xff, 0, 0, 0, 0, 0, 0x40, 0, 0, 0, 0, 0, 0} // a masked text frame of 4 MiB
	if _, err := p.socket.NetConn().Write(append(header, make([]byte, 20<<10)...)); err != nil {
		t.Fatal(err)
	}
	if r := read[syncproto.Refuse](p); r.Code != syncproto.CodeTooLarge {
		t.Errorf("refused with %+v", r)
	}
}

// A kilobyte on the wire can inflate to a thousand; a bomb of a gigabyte must not be unpacked.
func TestADeflateBombIsRefusedBeforeItIsInflated(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.connect(s)
	const size = 256 << 20
	bomb := bytes.Repeat([]byte(" "), size)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_ = write(p.socket, live.Message{Binary: true, Data: bomb}) // it may be cut off before all is sent, and reads on
	if r := refused(t, p); r.Code != syncproto.CodeTooLarge {
		t.Errorf("refused with %+v", r)
	}
	runtime.ReadMemStats(&after)
	// A buffer grows by doubling, in all to four times what a message may be; under the race detector
	// bytes.Buffer makes each of its steps twice.
	if grown := after.TotalAlloc - before.TotalAlloc; grown > 12*syncproto.MaxMessageBytes {
		t.Errorf("%d bytes were allocated for a bomb of %d", grown, size)
	}
}

func TestAFrameThatAnnouncesTooMuchEndsTheLine(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.connect(s)
	header := binary.BigEndian.AppendUint64([]byte{0x81, 0xff}, syncproto.MaxMessageBytes+1) // a masked text frame
	if _, err := p.socket.NetConn().Write(append(header, 0, 0, 0, 0)); err != nil {
		t.Fatal(err)
	}
	if _, _, err := p.socket.ReadMessage(); !websocket.IsCloseError(err, websocket.CloseMessageTooBig) {
		t.Errorf("the line ended with %v", err)
	}
}

func TestCorruptCompressionIsRefused(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.connect(s)
	// A text frame with RSV1 (RFC 7692) whose payload is no deflate stream, masked with zeros.
	frame := []byte{0xc1, 0x84, 0, 0, 0, 0, 0xff, 0xff, 0xff, 0xff}
	if _, err := p.socket.NetConn().Write(frame); err != nil {
		t.Fatal(err)
	}
	if r := refused(t, p); r.Code != syncproto.CodeMalformed {
		t.Errorf("refused with %+v", r)
	}
}

func TestWhatWasPushedBeforeABadFrameIsAcknowledgedFirst(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.connect(s)
	for range 3 {
		p.push(p.records("b1", "North")...)
	}
	p.sendRaw(live.Message{Data: []byte("?")})
	var acked []int64
	for said := p.next(); ; said = p.next() {
		if _, ok := said.(syncproto.Refuse); ok {
			break
		}
		if ack, ok := said.(syncproto.Ack); ok {
			acked = append(acked, ack.Seq)
		}
	}
	if !slices.Equal(acked, []int64{1, 2, 3}) {
		t.Errorf("acknowledged %v, want 1 2 3", acked)
	}
}

func TestOtherSitesPagesAreKeptOut(t *testing.T) {
	for _, secure := range []bool{false, true} {
		s := startShed(t, func(c *live.Config) { c.Secure = func(*http.Request) bool { return secure } })
		host := strings.TrimPrefix(s.url, "ws://")
		_, port, err := net.SplitHostPort(host)
		if err != nil {
			t.Fatal(err)
		}
		plain, own := 101, 403
		if secure {
			plain, own = 403, 101
		}
		tests := []struct {
			origin string
			status int
		}{
			{"", 101}, {"http://" + host, plain}, {"https://" + host, own}, {"ftp://" + host, 403},
			{"http://evil.example", 403}, {"https://evil.example", 403}, {"http://evil.example:" + port, 403}, {"null", 403},
		}
		for _, tt := range tests {
			t.Run(fmt.Sprintf("origin %q, by https %v", tt.origin, secure), func(t *testing.T) {
				header := map[string][]string{}
				if tt.origin != "" {
					header["Origin"] = []string{tt.origin}
				}
				socket, answer, err := websocket.DefaultDialer.Dial(s.url, header)
				if answer == nil || answer.StatusCode != tt.status {
					t.Fatalf("answered %+v (%v), want %d", answer, err, tt.status)
				}
				if err == nil {
					_ = socket.Close() // the test is over
				}
			})
		}
	}
}
