package live_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"net"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"corymb/syncproto"
)

// refused reads until the refusal, and checks that the line is closed after it.
func refused(t *testing.T, p *phone) syncproto.Refuse {
	t.Helper()
	for {
		kind, data := p.next()
		if kind != syncproto.TypeRefuse {
			continue
		}
		var r syncproto.Refuse
		if err := json.Unmarshal(data, &r); err != nil {
			t.Fatal(err)
		}
		if _, _, err := p.socket.ReadMessage(); !websocket.IsCloseError(err, websocket.ClosePolicyViolation) {
			t.Errorf("after the refusal came %v, want a close", err)
		}
		return r
	}
}

func TestAHelloThatCannotGoOnIsRefused(t *testing.T) {
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
	p.sendRaw(websocket.TextMessage, []byte(`{"t":"hello","versions":[9],"farm":{"id":1},"cursor":"abc"}`))
	if r := refused(t, p); r.Code != syncproto.CodeVersion {
		t.Errorf("refused with %+v, want version", r)
	}
}

// pushText is a good push of one change as text, to be spoilt.
func pushText(p *phone) string {
	data, _ := json.Marshal(syncproto.Push{T: syncproto.TypePush, Changes: p.records("b1", "North")}) // cannot fail
	return string(data)
}

func TestAFrameOfTheWrongShapeIsRefusedAndNothingOfItStored(t *testing.T) {
	replace := func(old, new string) func(p *phone) []byte {
		return func(p *phone) []byte { return []byte(strings.Replace(pushText(p), old, new, 1)) }
	}
	text := func(s string) func(*phone) []byte { return func(*phone) []byte { return []byte(s) } }
	tests := []struct {
		name string
		make func(p *phone) []byte
		code syncproto.Code
	}{
		{"not JSON", text("count 3"), syncproto.CodeMalformed},
		{"JSON cut short", text(`{"t":"push","changes":[`), syncproto.CodeMalformed},
		{"not an object", text(`[1,2]`), syncproto.CodeMalformed},
		{"not UTF-8", text("{\"t\":\"ping\",\"x\":\"\xff\"}"), syncproto.CodeMalformed},
		{"an unknown type", text(`{"t":"pull"}`), syncproto.CodeMalformed},
		{"a message of the server's", text(`{"t":"ack","seq":1}`), syncproto.CodeMalformed},
		{"a second hello", text(`{"t":"hello","versions":[1]}`), syncproto.CodeMalformed},
		{"a push without changes", text(`{"t":"push"}`), syncproto.CodeMalformed},
		{"a push of nothing", text(`{"t":"push","changes":[]}`), syncproto.CodeMalformed},
		{"changes that are no list", text(`{"t":"push","changes":{"a":1}}`), syncproto.CodeMalformed},
		{"a null change", text(`{"t":"push","changes":[null]}`), syncproto.CodeMalformed},
		{"nested a million deep", text(`{"t":"push","changes":` + strings.Repeat("[", 1_000_000)), syncproto.CodeMalformed},
		{"a value nested deep", replace(`"North"`, strings.Repeat("[", 5000)+strings.Repeat("]", 5000)), syncproto.CodeMalformed},
		{"a part too few", replace(`,{},0]`, `,{}]`), syncproto.CodeMalformed},
		{"the reserved part used", replace(`,{},0]`, `,{},1]`), syncproto.CodeMalformed},
		{"a seq with a fraction", replace(`",1,`, `",1.5,`), syncproto.CodeMalformed},
		{"an unknown scope", replace(`"field"`, `"world"`), syncproto.CodeMalformed},
		{"a text that is not NFC", replace("North", "Nu\u0308rth"), syncproto.CodeMalformed},
		{"a lone surrogate", replace("North", `\ud800`), syncproto.CodeMalformed},
		{"a NUL", replace("North", `\u0000`), syncproto.CodeMalformed},
		{"a text too long", replace("North", strings.Repeat("x", syncproto.MaxTextBytes+1)), syncproto.CodeMalformed},
		{"a number beyond 2^53", replace(`"North"`, "9007199254740992"), syncproto.CodeMalformed},
		{"an order above its stamp", replace(`0]]}`, `0]],"orders":[[1,253402300799999,0]]}`), syncproto.CodeMalformed},
		{"an order of another change", replace(`0]]}`, `0]],"orders":[[2,1,0]]}`), syncproto.CodeMalformed},
		{"another incarnation's change", func(p *phone) []byte {
			return []byte(strings.Replace(pushText(p), p.Incarnation, uuid.NewString(), 1))
		}, syncproto.CodeMalformed},
		{"an operation cut short", replace(`,0,"","field"`, `,1,"","field"`), syncproto.CodeSplit},
		{"a gap", replace(`",1,`, `",2,`), syncproto.CodeGap},
		{"more than 2,000 changes", func(p *phone) []byte {
			var changes []syncproto.Change
			for range syncproto.MaxFrameChanges + 1 {
				changes = append(changes, p.records("b1", "North")...)
			}
			data, _ := json.Marshal(syncproto.Push{T: syncproto.TypePush, Changes: changes}) // cannot fail
			return data
		}, syncproto.CodeTooLarge},
		{"more than 4 MiB, well packed", func(p *phone) []byte {
			return []byte(pushText(p) + strings.Repeat(" ", syncproto.MaxFrameBytes))
		}, syncproto.CodeTooLarge},
	}
	s := startShed(t, nil)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := newPhone(t)
			p.connect(s)
			p.sendRaw(websocket.TextMessage, tt.make(p))
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
	p.sendRaw(websocket.TextMessage, []byte(pushText(p)))
	if ack := read[syncproto.Ack](p, syncproto.TypeAck); ack.Seq != 1 {
		t.Errorf("the unspoilt push got %+v", ack)
	}
}

func TestABinaryMessageIsRefused(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.connect(s)
	p.sendRaw(websocket.BinaryMessage, []byte(pushText(p)))
	if r := refused(t, p); r.Code != syncproto.CodeMalformed {
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
	p.sendRaw(websocket.TextMessage, bomb)
	if r := refused(t, p); r.Code != syncproto.CodeTooLarge {
		t.Errorf("refused with %+v", r)
	}
	runtime.ReadMemStats(&after)
	if grown := after.TotalAlloc - before.TotalAlloc; grown > size/4 {
		t.Errorf("%d bytes were allocated for a bomb of %d", grown, size)
	}
}

func TestAFrameThatAnnouncesTooMuchEndsTheLine(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.connect(s)
	header := binary.BigEndian.AppendUint64([]byte{0x81, 0xff}, 3*syncproto.MaxFrameBytes) // a masked text frame
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
	p.sendRaw(websocket.TextMessage, []byte("?"))
	var acked []int64
	for {
		kind, data := p.next()
		if kind == syncproto.TypeRefuse {
			break
		}
		if kind == syncproto.TypeAck {
			var ack syncproto.Ack
			if err := json.Unmarshal(data, &ack); err != nil {
				t.Fatal(err)
			}
			acked = append(acked, ack.Seq)
		}
	}
	if !slices.Equal(acked, []int64{1, 2, 3}) {
		t.Errorf("acknowledged %v, want 1 2 3", acked)
	}
}

func TestOtherSitesPagesAreKeptOut(t *testing.T) {
	s := startShed(t, nil)
	host := strings.TrimPrefix(s.url, "ws://")
	_, port, err := net.SplitHostPort(host)
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		origin string
		status int
	}{
		{"", 101}, {"http://" + host, 101}, {"https://" + host, 101},
		{"http://evil.example", 403}, {"http://evil.example:" + port, 403}, {"null", 403},
	}
	for _, tt := range tests {
		t.Run(fmt.Sprintf("origin %q", tt.origin), func(t *testing.T) {
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
