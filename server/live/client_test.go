package live_test

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
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

// everything may be read and written by it.
var everything = live.Member{Scopes: syncproto.Scopes, Rights: changelog.Within(syncproto.Scopes)}

var noon = time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)

// shed is a server on a farm of its own.
type shed struct {
	*live.Server
	farm        *store.Store
	url         string // while it runs
	stopRunning func() // with the port still open
	stop        func() // ends Run and waits for it
}

// newShed makes a server that does not run; change (nil for none) adjusts its settings.
func newShed(t testing.TB, change func(*live.Config)) *shed {
	t.Helper()
	return openShed(t, t.TempDir(), change)
}

func openShed(t testing.TB, dir string, change func(*live.Config)) *shed {
	t.Helper()
	now := func() time.Time { return noon }
	farm, err := store.Open(dir, now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := farm.Close(); err != nil {
			t.Error(err)
		}
	})
	config := live.Config{
		Log: farm, Now: now, Logger: slog.New(slog.NewTextHandler(io.Discard, nil)), Linger: time.Second,
		Admit: func(*http.Request) (live.Member, error) { return everything, nil },
	}
	if change != nil {
		change(&config)
	}
	return &shed{Server: live.New(config), farm: farm}
}

// startShed makes a server and runs it.
func startShed(t testing.TB, change func(*live.Config)) *shed {
	t.Helper()
	s := newShed(t, change)
	ctx, cancel := context.WithCancel(context.Background())
	var running sync.WaitGroup
	running.Go(func() { s.Run(ctx) })
	s.stopRunning = sync.OnceFunc(func() {
		cancel()
		running.Wait()
	})
	web := httptest.NewServer(s)
	s.url = "ws" + strings.TrimPrefix(web.URL, "http")
	s.stop = sync.OnceFunc(func() {
		s.stopRunning()
		web.Close()
	})
	t.Cleanup(s.stop)
	return s
}

// client makes the messages of a phone and reads those of the server.
type client struct {
	changelog.Recorder
	wall     int64
	cursor   *syncproto.Cursor
	packer   *syncproto.Packer
	unpacker *syncproto.Unpacker
}

func newClient() client {
	return client{Recorder: changelog.Recorder{Incarnation: uuid.NewString()}, wall: noon.UnixMilli() - 3_600_000}
}

// hello begins a conversation.
func (c *client) hello() syncproto.Hello {
	c.packer, c.unpacker = syncproto.NewPacker(), syncproto.NewUnpacker()
	return syncproto.Hello{
		T: syncproto.TypeHello, Versions: []int{1}, Device: uuid.NewString(),
		Incarnation: c.Incarnation, News: true, Cursor: c.cursor,
	}
}

// records makes an operation that names a bed.
func (c *client) records(bed, name string) []syncproto.Change {
	return c.operation(fact(bed, name))
}

func (c *client) operation(facts ...changelog.Fact) []syncproto.Change {
	c.wall += 1000
	return c.Operation(c.wall, facts...)
}

func fact(bed, name string) changelog.Fact {
	return changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: "bed", ID: bed, Field: "name", Value: syncproto.Text(name)}
}

// frame packs a push.
func (c *client) frame(changes ...syncproto.Change) live.Message {
	return live.Message{Binary: true, Data: syncproto.AppendPush(nil, c.packer, syncproto.Batch{Changes: changes})}
}

// news is a syncproto.News, unpacked.
type news struct {
	syncproto.News
	Changes []syncproto.Change
	Orders  []syncproto.Stamp
}

// last is the change that the news goes up to.
func (n news) last() syncproto.Identity {
	place, _ := changelog.ParsePlace(n.Last)
	return place.Last
}

// read is the message as a syncproto.Welcome, Refuse, Ack, Pong, or news.
func (c *client) read(m live.Message) (any, error) {
	if m.Binary {
		return c.readNews(m.Data)
	}
	kind, err := syncproto.TypeOf(m.Data)
	if err != nil {
		return nil, err
	}
	switch kind {
	case syncproto.TypeWelcome:
		return readAs[syncproto.Welcome](m.Data)
	case syncproto.TypeRefuse:
		return readAs[syncproto.Refuse](m.Data)
	case syncproto.TypeAck:
		return readAs[syncproto.Ack](m.Data)
	case syncproto.TypePong:
		return readAs[syncproto.Pong](m.Data)
	case syncproto.TypeBackup:
		return readAs[syncproto.Backup](m.Data)
	default:
		return nil, fmt.Errorf("a message of kind %q", kind)
	}
}

func readAs[M any](data []byte) (any, error) {
	var m M
	err := json.Unmarshal(data, &m)
	return m, err
}

func (c *client) readNews(data []byte) (any, error) {
	n, err := syncproto.ReadNews(data)
	if err != nil {
		return nil, err
	}
	told := news{News: n}
	for _, packed := range n.Batches {
		b, err := c.unpacker.Read(packed)
		if err != nil {
			return nil, err
		}
		if len(b.Orders) != len(b.Changes) {
			return nil, fmt.Errorf("news with %d orders for %d changes", len(b.Orders), len(b.Changes))
		}
		told.Changes, told.Orders = append(told.Changes, b.Changes...), append(told.Orders, b.Orders...)
	}
	return told, nil
}

// phone is a client on a socket.
type phone struct {
	client
	t      testing.TB
	socket *websocket.Conn
}

func newPhone(t testing.TB) *phone { return &phone{t: t, client: newClient()} }

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

// connect dials and is welcomed.
func (p *phone) connect(s *shed) syncproto.Welcome {
	p.t.Helper()
	p.dial(s)
	p.send(p.hello())
	return read[syncproto.Welcome](p)
}

// send sends a text message.
func (p *phone) send(message any) {
	p.t.Helper()
	p.sendRaw(textMessage(message))
}

func textMessage(message any) live.Message {
	data, err := json.Marshal(message)
	if err != nil {
		panic(err) // what the tests send can be written
	}
	return live.Message{Data: data}
}

func (p *phone) push(changes ...syncproto.Change) {
	p.t.Helper()
	p.sendRaw(p.frame(changes...))
}

func (p *phone) sendRaw(m live.Message) {
	p.t.Helper()
	if err := write(p.socket, m); err != nil {
		p.t.Fatal(err)
	}
}

func write(socket *websocket.Conn, m live.Message) error {
	kind := websocket.TextMessage
	if m.Binary {
		kind = websocket.BinaryMessage
	}
	return socket.WriteMessage(kind, m.Data)
}

// next reads one message.
func (p *phone) next() any {
	p.t.Helper()
	m, err := p.receive()
	if err != nil {
		p.t.Fatal(err)
	}
	return m
}

func (p *phone) receive() (any, error) {
	kind, data, err := p.socket.ReadMessage()
	if err != nil {
		return nil, err
	}
	return p.client.read(live.Message{Binary: kind == websocket.BinaryMessage, Data: data})
}

// read reads one message, which must be of a kind.
func read[M any](p *phone) M {
	p.t.Helper()
	got := p.next()
	m, ok := got.(M)
	if !ok {
		p.t.Fatalf("got %T %+v, want a %T", got, got, m)
	}
	return m
}

// await reads until a message of a kind comes.
func await[M any](p *phone) M {
	p.t.Helper()
	for {
		if m, ok := p.next().(M); ok {
			return m
		}
	}
}
