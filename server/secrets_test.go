package main

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// locked is what many write and one reads.
type locked struct {
	mu   sync.Mutex
	text strings.Builder
}

func (l *locked) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *locked) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

// caller asks a farm over the network.
type caller struct {
	t       *testing.T
	address string
}

// asks asks as whoever carries a cookie, "" for none.
func (c caller) asks(cookie, method, path, body string) (status int, answer string, given *http.Cookie) {
	c.t.Helper()
	r, err := http.NewRequest(method, "http://"+c.address+path, strings.NewReader(body))
	must(c.t, err)
	if cookie != "" {
		r.Header.Set("Cookie", cookie)
	}
	w, err := http.DefaultClient.Do(r)
	must(c.t, err)
	defer w.Body.Close()
	text, err := io.ReadAll(w.Body)
	must(c.t, err)
	if cookies := w.Cookies(); len(cookies) > 0 {
		given = cookies[0]
	}
	return w.StatusCode, string(text), given
}

func (c caller) joins(code string) *http.Cookie {
	c.t.Helper()
	status, answer, cookie := c.asks("", "POST", "/api/join", fmt.Sprintf(`{"code":%q,"device":%q,"label":"phone"}`, code, uuid.NewString()))
	if status != 200 || cookie == nil {
		c.t.Fatalf("joining: %d %s", status, answer)
	}
	return cookie
}

// talks holds a conversation in which an operation is pushed, and returns what was said first and last.
func (c caller) talks(cookie string, facts ...changelog.Fact) (first, last string) {
	c.t.Helper()
	socket, _, err := websocket.DefaultDialer.Dial("ws://"+c.address+"/sync", http.Header{"Cookie": {cookie}})
	must(c.t, err)
	defer socket.Close()
	writer := changelog.Recorder{Incarnation: uuid.NewString(), Person: "ana"}
	must(c.t, socket.WriteJSON(syncproto.Hello{T: syncproto.TypeHello, Versions: []int{syncproto.Version}, Device: uuid.NewString(), Incarnation: writer.Incarnation}))
	_, said, err := socket.ReadMessage()
	must(c.t, err)
	if len(facts) == 0 || strings.Contains(string(said), `"refuse"`) {
		return string(said), string(said)
	}
	pushed := syncproto.AppendPush(nil, syncproto.NewPacker(), syncproto.Batch{Changes: writer.Operation(time.Now().UnixMilli(), facts...)})
	must(c.t, socket.WriteMessage(websocket.BinaryMessage, pushed))
	_, ack, err := socket.ReadMessage()
	must(c.t, err)
	return string(said), string(ack)
}

func TestTheLogHoldsNoSecret(t *testing.T) {
	var log locked
	o, err := openTo(t, t.TempDir(), place{listen: "127.0.0.1:0"}, &log)
	if err != nil {
		t.Fatal(err)
	}
	stop := o.runs(t)
	c := caller{t, o.listener.Addr().String()}
	_, ownersCode, _ := strings.Cut(strings.TrimSpace(strings.Split(o.said.String(), "\n")[0]), "#join/")
	owner := c.joins(ownersCode)

	person := uuid.NewString()
	_, answer, _ := c.asks(owner.String(), "POST", "/api/invitations", `{"person":"`+person+`","name":"Ben","role":"crew"}`)
	var invited struct{ Code, Link string }
	must(t, json.Unmarshal([]byte(answer), &invited))
	crew := c.joins(invited.Code)

	forged := strings.Repeat("Forged1-", 6)[:43]
	guess, lost := "GUESSED7", "TYPED-INTO-THE-ADDRESS"
	for range 15 {
		c.asks("", "POST", "/api/join", `{"code":"`+guess+`","device":"`+uuid.NewString()+`"}`)
	}
	c.asks(crew.Name+"="+forged, "GET", "/api/me", "")
	c.asks(crew.String(), "GET", "/api/devices?token="+lost, "")
	c.asks(crew.String(), "POST", "/api/unsent", "no file "+lost)
	c.asks("", "POST", "/api/join", "no JSON "+lost)
	c.asks("", "GET", "/api/"+lost, "")
	count := changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpCount, Type: "visit", ID: "v", Field: "extra|500|600", Value: syncproto.Int(1)}
	price := changelog.Fact{Scope: syncproto.ScopeMoney, Op: syncproto.OpSet, Type: "price", ID: "p", Field: "cents", Value: syncproto.Int(1)}
	if _, ack := c.talks(crew.String(), count, price); !strings.Contains(ack, `"scope"`) {
		t.Errorf("the crew's price is answered %s", ack)
	}
	c.talks(crew.Name + "=" + forged)
	var devices struct {
		Devices []struct{ Device, Person string }
	}
	_, answer, _ = c.asks(owner.String(), "GET", "/api/devices", "")
	must(t, json.Unmarshal([]byte(answer), &devices))
	for _, d := range devices.Devices {
		if d.Person == person {
			c.asks(owner.String(), "POST", "/api/devices/"+d.Device+"/withdraw", "")
		}
	}
	if said, _ := c.talks(crew.String()); !strings.Contains(said, `"withdrawn"`) {
		t.Errorf("who was withdrawn is told %s", said)
	}
	c.asks(crew.String(), "GET", "/api/me", "")
	stop()

	said := log.String()
	for name, secret := range map[string]string{
		"the owner's code": ownersCode, "a code": invited.Code, "a code without its dash": strings.ReplaceAll(invited.Code, "-", ""),
		"the owner's token": owner.Value, "a token": crew.Value, "a forged token": forged, "a guess": guess,
		"what was typed somewhere": lost, "a cookie": "corymb-",
	} {
		if secret == "" || strings.Contains(said, secret) {
			t.Errorf("the log holds %s, %q", name, secret)
		}
	}
	for _, told := range []string{
		"a device joined", "a code was refused", "too many codes were tried", "for the role", "changes were refused", "a device was withdrawn", "a withdrawn device came",
	} {
		if !strings.Contains(said, told) {
			t.Errorf("the log does not tell %q", told)
		}
	}
	if n := strings.Count(o.said.String(), ownersCode); n != 1 || strings.Contains(o.said.String(), owner.Value) {
		t.Errorf("the owner's code is printed %d times: %s", n, o.said.String())
	}
}
