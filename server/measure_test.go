package main

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
	"corymb/internal/simnet"
	"corymb/server/live"
	"corymb/server/store"
	"corymb/syncproto"
)

// The sync against the raw limit, side by side in one run:
//
//	go test -run '^$' -bench Limit -benchtime 1x ./server

const measured = 100_000

// rounds of each measure; the median counts.
const rounds = 5

func BenchmarkPushAgainstTheLimit(b *testing.B) {
	work := simnet.Counts(rand.New(rand.NewPCG(1, 2)), uuid.NewString(), measured)
	limitFrames := factFrames(b, work)
	for b.Loop() {
		var limits, bulks, smalls []float64
		for range rounds {
			limits = append(limits, pushLimit(b, limitFrames))
			bulks = append(bulks, pushOurs(b, work, 2_000))
			smalls = append(smalls, pushOurs(b, work, 20))
		}
		l, bulk, small := median(limits), median(bulks), median(smalls)
		b.ReportMetric(measured/l, "limit/s")
		b.ReportMetric(measured/bulk, "push2000/s")
		b.ReportMetric(measured/small, "push20/s")
		b.ReportMetric(l/bulk, "push2000-ratio")
		b.ReportMetric(l/small, "push20-ratio")
	}
}

func BenchmarkFreshPullAgainstTheLimit(b *testing.B) {
	work := simnet.Counts(rand.New(rand.NewPCG(1, 2)), uuid.NewString(), measured)
	l := startLimit(b)
	socket := dial(b, l.URL)
	for _, frame := range factFrames(b, work) {
		must(b, socket.WriteMessage(websocket.TextMessage, frame))
		_, _, err := socket.ReadMessage()
		must(b, err)
	}
	ours := startShed(b)
	pushAll(b, ours.URL, work, 2_000)
	caught := time.Now()
	must(b, ours.farm.Level(context.Background()))
	b.ReportMetric(float64(time.Since(caught).Milliseconds()), "projections-ms")
	for b.Loop() {
		var limits, pulls []float64
		for range rounds {
			limits = append(limits, pullLimit(b, l))
			pulls = append(pulls, ours.pull(b))
		}
		b.ReportMetric(measured/median(limits), "limit/s")
		b.ReportMetric(measured/median(pulls), "pull/s")
		b.ReportMetric(median(limits)/median(pulls), "pull-ratio")
	}
	size, err := os.Stat(filepath.Join(ours.dir, store.FileName))
	must(b, err)
	b.ReportMetric(float64(size.Size())/measured, "disk-B/change")
}

// BenchmarkSeenElsewhereAgainstTheLimit measures how long it takes until a change that one phone
// pushed was seen by another that is connected.
func BenchmarkSeenElsewhereAgainstTheLimit(b *testing.B) {
	work := simnet.Counts(rand.New(rand.NewPCG(1, 2)), uuid.NewString(), 2_000)
	for b.Loop() {
		limits, ours := seenAtLimit(b, work), seenAtOurs(b, work)
		b.ReportMetric(median(limits)*1000, "limit-median-ms")
		b.ReportMetric(quantile(limits, 0.99)*1000, "limit-p99-ms")
		b.ReportMetric(median(ours)/median(limits), "median-ratio")
		b.ReportMetric(quantile(ours, 0.99)/quantile(limits, 0.99), "p99-ratio")
	}
}

// factFrames are the changes as the limit sends them.
func factFrames(tb testing.TB, work syncproto.Batch) [][]byte {
	tb.Helper()
	var frames [][]byte
	for from := 0; from < len(work.Changes); from += limitFrame {
		var facts []fact
		for _, c := range work.Changes[from:min(from+limitFrame, len(work.Changes))] {
			facts = append(facts, factOf(work, c))
		}
		frame, err := json.Marshal(facts)
		must(tb, err)
		frames = append(frames, frame)
	}
	return frames
}

func factOf(work syncproto.Batch, c syncproto.Change) fact {
	o := work.Origins[c.ID]
	return fact{c.Incarnation, c.Seq, c.Stamp.L, c.Stamp.C, o.Subject, o.Recorded, c.Field, c.Value.Int}
}

func pushLimit(tb testing.TB, frames [][]byte) float64 {
	l := startLimit(tb)
	defer l.Close()
	socket := dial(tb, l.URL)
	begun := time.Now()
	go sendAll(socket, websocket.TextMessage, frames)
	for range frames {
		_, _, err := socket.ReadMessage()
		must(tb, err)
	}
	return time.Since(begun).Seconds()
}

func sendAll(socket *websocket.Conn, kind int, frames [][]byte) {
	for _, frame := range frames {
		if socket.WriteMessage(kind, frame) != nil {
			return // the reader sees it too
		}
	}
}

func pullLimit(tb testing.TB, l *limit) float64 {
	socket := dial(tb, l.URL)
	defer func() { _ = socket.Close() }()
	begun := time.Now()
	must(tb, socket.WriteMessage(websocket.TextMessage, []byte("pull")))
	for n := 0; n < measured; {
		_, data, err := socket.ReadMessage()
		must(tb, err)
		var facts []fact
		must(tb, json.Unmarshal(data, &facts))
		n += len(facts)
	}
	return time.Since(begun).Seconds()
}

// shed is the real server side in this process.
type shed struct {
	*httptest.Server
	farm *store.Store
	dir  string
	stop func() // ends it; once more does nothing
}

func startShed(tb testing.TB) *shed {
	tb.Helper()
	s := &shed{dir: tb.TempDir()}
	farm, err := store.Open(s.dir, time.Now)
	must(tb, err)
	s.farm = farm
	phones := live.New(live.Config{Log: farm, Admit: anybody, Now: time.Now, Logger: slog.Default()})
	ctx, stop := context.WithCancel(context.Background())
	over := make(chan struct{})
	go func() {
		phones.Run(ctx)
		close(over)
	}()
	s.Server = httptest.NewServer(phones)
	s.stop = sync.OnceFunc(func() {
		stop()
		<-over
		s.Close()
		must(tb, farm.Close())
	})
	tb.Cleanup(s.stop)
	return s
}

// anybody may read and write everything.
func anybody(*http.Request) (live.Member, error) {
	return live.Member{Scopes: syncproto.Scopes, Rights: changelog.Within(syncproto.Scopes)}, nil
}

// hello opens a conversation and returns its welcome.
func hello(tb testing.TB, url, incarnation string, news bool) (*websocket.Conn, syncproto.Welcome) {
	tb.Helper()
	return helloOn(tb, dial(tb, url), incarnation, news)
}

func helloOn(tb testing.TB, socket *websocket.Conn, incarnation string, news bool) (*websocket.Conn, syncproto.Welcome) {
	tb.Helper()
	must(tb, socket.WriteJSON(syncproto.Hello{
		T: syncproto.TypeHello, Versions: []int{syncproto.Version}, Person: "ana",
		Device: uuid.NewString(), Incarnation: incarnation, News: news,
	}))
	var w syncproto.Welcome
	must(tb, socket.ReadJSON(&w))
	if w.T != syncproto.TypeWelcome {
		tb.Fatalf("the welcome is %+v", w)
	}
	return socket, w
}

// pushOurs pushes to a shed of its own.
func pushOurs(tb testing.TB, work syncproto.Batch, frame int) float64 {
	s := startShed(tb)
	defer s.stop() // what trails must not run on beside the next
	return pushAll(tb, s.URL, work, frame)
}

// pushAll sends changes in frames, waits until the last is acknowledged, and returns the seconds
// that took; the frames were made before.
func pushAll(tb testing.TB, url string, work syncproto.Batch, frame int) float64 {
	tb.Helper()
	packer := syncproto.NewPacker()
	var frames [][]byte
	for from := 0; from < len(work.Changes); from += frame {
		frames = append(frames, syncproto.AppendPush(nil, packer, simnet.Part(work, from, from+frame)))
	}
	socket, _ := hello(tb, url, work.Changes[0].Incarnation, false)
	defer func() { _ = socket.Close() }()
	begun := time.Now()
	go sendAll(socket, websocket.BinaryMessage, frames)
	last := work.Changes[len(work.Changes)-1].Seq
	for ack := (syncproto.Ack{}); ack.Seq < last; {
		must(tb, socket.ReadJSON(&ack))
		if ack.T != syncproto.TypeAck {
			tb.Fatalf("instead of an acknowledgement came %+v", ack)
		}
	}
	return time.Since(begun).Seconds()
}

// pull reads everything as a fresh phone does.
func (s *shed) pull(tb testing.TB) float64 {
	begun := time.Now()
	changes := readAll(tb, s.URL)
	took := time.Since(begun).Seconds()
	if changes < measured*9/10 { // a cell that was counted twice is told once
		tb.Fatalf("only %d changes came", changes)
	}
	return took
}

// readAll reads all that a fresh phone is told, and returns how many changes that was.
func readAll(tb testing.TB, url string) int {
	tb.Helper()
	socket, welcome := hello(tb, url, uuid.NewString(), true)
	defer func() { _ = socket.Close() }()
	unpacker := syncproto.NewUnpacker()
	changes := 0
	for news := (syncproto.News{}); news.Arrival < welcome.Arrival; {
		_, data, err := socket.ReadMessage()
		must(tb, err)
		news, err = syncproto.ReadNews(data)
		must(tb, err)
		for _, packed := range news.Batches {
			batch, err := unpacker.Read(packed)
			must(tb, err)
			changes += len(batch.Changes)
		}
	}
	return changes
}

func seenAtLimit(tb testing.TB, work syncproto.Batch) []float64 {
	l := startLimit(tb)
	from, to := dial(tb, l.URL), dial(tb, l.URL)
	return seen(tb, work, from, to, websocket.TextMessage, func(i int) []byte {
		frame, err := json.Marshal([]fact{factOf(work, work.Changes[i])})
		must(tb, err)
		return frame
	})
}

func seenAtOurs(tb testing.TB, work syncproto.Batch) []float64 {
	s := startShed(tb)
	from, _ := hello(tb, s.URL, work.Changes[0].Incarnation, true)
	to, _ := hello(tb, s.URL, uuid.NewString(), true)
	packer := syncproto.NewPacker()
	return seen(tb, work, from, to, websocket.BinaryMessage, func(i int) []byte {
		return syncproto.AppendPush(nil, packer, simnet.Part(work, i, i+1))
	})
}

// seen sends change after change over one line and takes the time until it came over the other and
// its sender has its acknowledgement.
func seen(tb testing.TB, work syncproto.Batch, from, to *websocket.Conn, kind int, frame func(i int) []byte) []float64 {
	tb.Helper()
	var took []float64
	for i := range work.Changes {
		data := frame(i)
		begun := time.Now()
		must(tb, from.WriteMessage(kind, data))
		_, _, err := to.ReadMessage()
		must(tb, err)
		took = append(took, time.Since(begun).Seconds())
		_, _, err = from.ReadMessage() // its acknowledgement
		must(tb, err)
	}
	return took[100:] // what warms up is left out
}

func dial(tb testing.TB, url string) *websocket.Conn { return dialAs(tb, url, joined()) }

func dialAs(tb testing.TB, url string, header http.Header) *websocket.Conn {
	tb.Helper()
	address := "ws" + strings.TrimPrefix(url, "http")
	socket, _, err := websocket.DefaultDialer.Dial(address, header)
	if err != nil {
		tb.Fatal(fmt.Errorf("dialling %s: %w", address, err))
	}
	tb.Cleanup(func() { _ = socket.Close() })
	return socket
}

func median(numbers []float64) float64 { return quantile(numbers, 0.5) }

func quantile(numbers []float64, q float64) float64 {
	sorted := slices.Sorted(slices.Values(numbers))
	return sorted[min(len(sorted)-1, int(q*float64(len(sorted))))]
}
