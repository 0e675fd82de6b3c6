package live_test

import (
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/server/store"
	"corymb/syncproto"
)

var noon = time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)

// shed is a running server on a farm of its own.
type shed struct {
	*live.Server
	farm *store.Store
	url  string
	stop func() // ends Run and waits for it
}

// startShed runs a server; change (nil for none) adjusts its settings.
func startShed(t *testing.T, change func(*live.Config)) *shed {
	t.Helper()
	now := func() time.Time { return noon }
	farm, err := store.Open(t.TempDir(), now)
	if err != nil {
		t.Fatal(err)
	}
	config := live.Config{
		Log: farm, Now: now, Logger: slog.New(slog.NewTextHandler(io.Discard, nil)), Linger: time.Second,
		Scopes: func(string) []syncproto.Scope { return syncproto.Scopes },
	}
	if change != nil {
		change(&config)
	}
	server := live.New(config)
	ctx, cancel := context.WithCancel(context.Background())
	var running sync.WaitGroup
	running.Go(func() { server.Run(ctx) })
	web := httptest.NewServer(server)
	s := &shed{Server: server, farm: farm, url: "ws" + strings.TrimPrefix(web.URL, "http")}
	s.stop = sync.OnceFunc(func() {
		cancel()
		running.Wait()
		web.Close()
	})
	t.Cleanup(func() {
		s.stop()
		if err := farm.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// phone is a small client.
type phone struct {
	changelog.Recorder
	t      *testing.T
	socket *websocket.Conn
	wall   int64
	cursor *syncproto.Cursor
}

func newPhone(t *testing.T) *phone {
	return &phone{t: t, Recorder: changelog.Recorder{Incarnation: uuid.NewString()}, wall: noon.UnixMilli() - 3_600_000}
}

func (p *phone) dial(s *shed) {
	p.t.Helper()
	dialer := websocket.Dialer{EnableCompression: true}
	socket, _, err := dialer.Dial(s.url, nil)
	if err != nil {
		p.t.Fatal(err)
	}
	p.socket = socket
	p.t.Cleanup(func() { _ = socket.Close() })
	if err := socket.SetReadDeadline(time.Now().Add(20 * time.Second)); err != nil {
		p.t.Fatal(err)
	}
}

func (p *phone) hello() syncproto.Hello {
	return syncproto.Hello{
		T: syncproto.TypeHello, Versions: []int{1}, Device: uuid.NewString(),
		Incarnation: p.Incarnation, Cursor: p.cursor,
	}
}

// connect dials and is welcomed.
func (p *phone) connect(s *shed) syncproto.Welcome {
	p.t.Helper()
	p.dial(s)
	p.send(p.hello())
	return read[syncproto.Welcome](p, syncproto.TypeWelcome)
}

func (p *phone) send(message any) {
	p.t.Helper()
	data, err := json.Marshal(message)
	if err != nil {
		p.t.Fatal(err)
	}
	p.sendRaw(websocket.TextMessage, data)
}

func (p *phone) sendRaw(kind int, data []byte) {
	p.t.Helper()
	if err := p.socket.WriteMessage(kind, data); err != nil {
		p.t.Fatal(err)
	}
}

// records makes an operation that names a bed.
func (p *phone) records(bed, name string) []syncproto.Change {
	p.wall += 1000
	return p.Operation(p.wall, changelog.Fact{
		Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: "bed", ID: bed, Field: "name", Value: syncproto.Text(name),
	})
}

func (p *phone) push(changes ...syncproto.Change) {
	p.t.Helper()
	p.send(syncproto.Push{T: syncproto.TypePush, Changes: changes})
}

// next reads one message.
func (p *phone) next() (kind string, data []byte) {
	p.t.Helper()
	_, data, err := p.socket.ReadMessage()
	if err != nil {
		p.t.Fatal(err)
	}
	kind, err = syncproto.TypeOf(data)
	if err != nil {
		p.t.Fatal(err)
	}
	return kind, data
}

// read reads one message, which must be of a kind.
func read[M any](p *phone, kind string) M {
	p.t.Helper()
	got, data := p.next()
	if got != kind {
		p.t.Fatalf("got %s, want a %s", data, kind)
	}
	var m M
	if err := json.Unmarshal(data, &m); err != nil {
		p.t.Fatal(err)
	}
	return m
}
