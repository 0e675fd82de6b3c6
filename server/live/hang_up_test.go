package live_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/syncproto"
)

// byHeader admits devices by a header, unless they are withdrawn.
func byHeader(withdrawn map[string]bool, before func()) func(*http.Request) (live.Member, error) {
	return func(r *http.Request) (live.Member, error) {
		device := r.Header.Get("Device")
		refused := withdrawn[device]
		before()
		if refused {
			return live.Member{}, syncproto.Breachf(syncproto.CodeWithdrawn, "withdrawn")
		}
		return live.Member{Device: device, Scopes: syncproto.Scopes, Rights: changelog.Within(syncproto.Scopes)}, nil
	}
}

func dialAs(t *testing.T, s *shed, device string) *websocket.Conn {
	t.Helper()
	socket, _, err := websocket.DefaultDialer.Dial(s.url, http.Header{"Device": {device}})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = socket.Close() })
	c := newClient()
	if err := socket.WriteJSON(c.hello()); err != nil {
		t.Fatal(err)
	}
	return socket
}

// says reads what the shed says first, as its kind or the code of a refusal, "" where the line is cut.
func says(t *testing.T, socket *websocket.Conn) string {
	t.Helper()
	_ = socket.SetReadDeadline(time.Now().Add(10 * time.Second)) // never fails in gorilla
	var m struct{ T, Code string }
	if err := socket.ReadJSON(&m); err != nil {
		return ""
	}
	return m.T + m.Code
}

func TestHangingUpEndsTheLinesOfADeviceAndNoOther(t *testing.T) {
	withdrawn := map[string]bool{}
	s := startShed(t, func(c *live.Config) { c.Admit = byHeader(withdrawn, func() {}) })
	ana, ben := dialAs(t, s, "ana"), dialAs(t, s, "ben")
	if says(t, ana) != "welcome" || says(t, ben) != "welcome" {
		t.Fatal("they are not welcome")
	}
	withdrawn["ben"] = true
	s.HangUp(func(m live.Member) bool { return m.Device == "ben" })
	if said := says(t, ben); said != "" {
		t.Errorf("who was hung up on hears %q", said)
	}
	if said := says(t, dialAs(t, s, "ben")); said != "refusewithdrawn" {
		t.Errorf("and hears %q the next time", said)
	}
	if err := ana.WriteJSON(syncproto.Ping{T: syncproto.TypePing}); err != nil {
		t.Fatal(err)
	}
	if said := says(t, ana); said != "pong" {
		t.Errorf("the other hears %q", said)
	}
	if devices := strings.Join(s.Connected(), " "); devices != "ana" {
		t.Errorf("connected are %q", devices)
	}
}

// Whoever is withdrawn between being admitted and being counted would else stay.
func TestWhoIsHungUpOnWhileComingInAsksAgain(t *testing.T) {
	var s *shed
	once := true
	s = startShed(t, func(c *live.Config) {
		c.Admit = byHeader(nil, func() {
			if once {
				once = false
				s.HangUp(func(live.Member) bool { return true })
			}
		})
	})
	if said := says(t, dialAs(t, s, "ben")); said != "" {
		t.Errorf("it hears %q", said)
	}
	if said := says(t, dialAs(t, s, "ben")); said != "welcome" {
		t.Errorf("and %q the next time", said)
	}
}

func TestADeviceHasFourLinesAtMost(t *testing.T) {
	s := startShed(t, func(c *live.Config) { c.Admit = byHeader(nil, func() {}) })
	var lines []*websocket.Conn
	for range 5 {
		lines = append(lines, dialAs(t, s, "ana"))
		if said := says(t, lines[len(lines)-1]); said != "welcome" {
			t.Fatalf("line %d hears %q", len(lines), said)
		}
	}
	if said := says(t, lines[0]); said != "" {
		t.Errorf("the oldest line hears %q", said)
	}
	if err := lines[1].WriteJSON(syncproto.Ping{T: syncproto.TypePing}); err != nil {
		t.Fatal(err)
	}
	if said := says(t, lines[1]); said != "pong" {
		t.Errorf("the next hears %q", said)
	}
}
