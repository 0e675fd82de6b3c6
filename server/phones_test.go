package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"corymb/internal/simnet"
	"corymb/server/joining"
	"corymb/server/store"
	"corymb/syncproto"
)

// BenchmarkServerMemory measures the program in a process of its own, with 10,000 and with 100,000
// changes pushed in frames of 2,000 and read by a fresh phone.
func BenchmarkServerMemory(b *testing.B) {
	for b.Loop() {
		r := start(b, b.TempDir())
		work := simnet.Counts(rand.New(rand.NewPCG(1, 2)), uuid.NewString(), measured)
		few := memoryAfter(b, r, simnet.Part(work, 0, measured/10))
		many := memoryAfter(b, r, simnet.Part(work, measured/10, measured))
		b.ReportMetric(few, "MB-of-10000")
		b.ReportMetric(many, "MB-of-100000")
		b.ReportMetric(status(b, r, "VmHWM")/1024, "MB-at-most")
		r.stop(b)
	}
}

// memoryAfter pushes changes, reads everything as a fresh phone, and returns the resident memory in
// MB once the server is quiet.
func memoryAfter(tb testing.TB, r *running, work syncproto.Batch) float64 {
	url := "http://" + r.address + "/sync"
	pushAll(tb, url, work, 2_000)
	readAll(tb, url)
	time.Sleep(2 * atRestAfter) // projections catch up, garbage goes
	return status(tb, r, "VmRSS") / 1024
}

// status is a figure in kB that the system keeps of the server.
func status(tb testing.TB, r *running, name string) float64 {
	tb.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", r.Process.Pid))
	must(tb, err)
	for line := range strings.Lines(string(text)) {
		if figure, ok := strings.CutPrefix(line, name+":"); ok {
			kB, err := strconv.ParseFloat(strings.Fields(figure)[0], 64)
			must(tb, err)
			return kB
		}
	}
	tb.Fatalf("the system keeps no figure %s", name)
	return 0
}

const (
	phones       = 500
	activePhones = 50
	watching     = 20
	activeFor    = 20 // seconds, a change a second from each active phone
)

// BenchmarkManyPhones connects 500 phones to the program in a process of its own, 50 of which
// record a change a second; 20 others say when they saw each.
func BenchmarkManyPhones(b *testing.B) {
	for b.Loop() {
		data := b.TempDir()
		devices := admit(b, data, phones)
		r := start(b, data)
		c := crowd{tb: b, url: "http://" + r.address + "/sync", devices: devices, sent: map[syncproto.Identity]time.Time{}}
		c.run(r)
		b.ReportMetric(median(c.took)*1000, "seen-median-ms")
		b.ReportMetric(quantile(c.took, 0.99)*1000, "seen-p99-ms")
		b.ReportMetric(c.idleMB, "idle-MB")
		b.ReportMetric(c.busyMB, "busy-MB")
		b.ReportMetric(float64(len(c.took)), "sightings")
		r.stop(b)
	}
}

// admit lets devices of an owner join a farm that nobody serves yet.
func admit(tb testing.TB, data string, devices int) []http.Header {
	tb.Helper()
	farm, err := store.Open(data, time.Now)
	must(tb, err)
	desk := joining.New(farm, time.Now)
	person := uuid.NewString()
	desk.OpenTo(person)
	headers := make([]http.Header, devices)
	for i := range headers {
		in, err := desk.Join(context.Background(), joining.Asks{Device: uuid.NewString(), AtDesk: true})
		must(tb, err)
		headers[i] = http.Header{"Cookie": {fmt.Sprintf("corymb-%s=%s", farm.Farm()[:8], in.Token)}}
	}
	must(tb, farm.Close())
	return headers
}

// crowd is many phones on one server.
type crowd struct {
	tb             testing.TB
	url            string
	devices        []http.Header // the token of each
	idleMB, busyMB float64

	mu   sync.Mutex
	sent map[syncproto.Identity]time.Time
	took []float64
}

func (c *crowd) run(r *running) {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	sockets := make([]*websocket.Conn, phones)
	incarnations := make([]string, phones)
	var reading sync.WaitGroup
	for i := range sockets {
		incarnations[i] = uuid.NewString()
		sockets[i], _ = helloOn(c.tb, dialAs(c.tb, c.url, c.devices[i]), incarnations[i], true)
		reading.Go(func() { c.read(sockets[i], i >= phones-watching) })
	}
	time.Sleep(2 * time.Second)
	c.idleMB = status(c.tb, r, "VmRSS") / 1024
	var writing sync.WaitGroup
	for i := range activePhones {
		writing.Go(func() { c.record(ctx, sockets[i], incarnations[i], rand.New(rand.NewPCG(uint64(i), 1))) })
	}
	writing.Wait()
	time.Sleep(2 * time.Second)
	c.busyMB = status(c.tb, r, "VmRSS") / 1024
	for _, socket := range sockets {
		_ = socket.Close() // the readers end
	}
	reading.Wait()
	if want := activePhones * activeFor * watching; len(c.took) != want {
		c.tb.Errorf("%d sightings, want %d", len(c.took), want)
	}
}

// record pushes a change about every second.
func (c *crowd) record(ctx context.Context, socket *websocket.Conn, incarnation string, rnd *rand.Rand) {
	work := simnet.Counts(rnd, incarnation, activeFor)
	packer := syncproto.NewPacker()
	for i, change := range work.Changes {
		select {
		case <-time.After(time.Duration(500+rnd.IntN(1_000)) * time.Millisecond):
		case <-ctx.Done():
			return
		}
		data := syncproto.AppendPush(nil, packer, simnet.Part(work, i, i+1))
		c.mu.Lock()
		c.sent[change.Identity()] = time.Now()
		c.mu.Unlock()
		if err := socket.WriteMessage(websocket.BinaryMessage, data); err != nil {
			c.tb.Error(err)
			return
		}
	}
}

// read takes what comes; a phone that watches notes how long each change took.
func (c *crowd) read(socket *websocket.Conn, watches bool) {
	unpacker := syncproto.NewUnpacker()
	for {
		kind, data, err := socket.ReadMessage()
		if err != nil {
			return
		}
		if kind != websocket.BinaryMessage {
			c.checkText(data)
			continue
		}
		if watches {
			c.note(unpacker, data)
		}
	}
}

func (c *crowd) checkText(data []byte) {
	var m struct{ T string }
	if err := json.Unmarshal(data, &m); err != nil || m.T == syncproto.TypeRefuse {
		c.tb.Errorf("a phone was told %s (error %v)", data, err)
	}
}

func (c *crowd) note(unpacker *syncproto.Unpacker, data []byte) {
	now := time.Now()
	news, err := syncproto.ReadNews(data)
	if err != nil {
		c.tb.Error(err)
		return
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, packed := range news.Batches {
		batch, err := unpacker.Read(packed)
		if err != nil {
			c.tb.Error(err)
			return
		}
		for _, change := range batch.Changes {
			c.took = append(c.took, now.Sub(c.sent[change.Identity()]).Seconds())
		}
	}
}
