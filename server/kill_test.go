package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
	"corymb/server/store"
	"corymb/syncproto"
)

// device is a phone whose log survives the server's deaths.
type device struct {
	changelog.Recorder
	log    []syncproto.Change // log[i] has seq i+1
	chain  []syncproto.Hash   // chain[i] is the chain value after i changes
	acked  int64
	orders map[int64]syncproto.Stamp
}

func newDevice(farm string) *device {
	d := &device{Recorder: changelog.Recorder{Incarnation: uuid.NewString(), Person: "ana"}, orders: map[int64]syncproto.Stamp{}}
	d.chain = []syncproto.Hash{syncproto.ChainStart(farm, d.Incarnation)}
	return d
}

// record adds one operation of a few counts to the log.
func (d *device) record(rnd *rand.Rand) {
	facts := make([]changelog.Fact, 1+rnd.IntN(4))
	for i := range facts {
		facts[i] = changelog.Fact{
			Scope: syncproto.ScopeField, Op: syncproto.OpCount, Type: "visit", ID: fmt.Sprint("v", rnd.IntN(50)),
			Field: fmt.Sprintf("extra|%d00|%d00", i+1, i+2), Value: syncproto.Int(rnd.Int64N(10)),
		}
	}
	for _, c := range d.Operation(time.Now().UnixMilli(), facts...) {
		d.log = append(d.log, c)
		d.chain = append(d.chain, d.chain[len(d.chain)-1].Then(c.Canonical()))
	}
}

// welcome dials and checks that the server holds whatever it had acknowledged.
func (d *device) welcome(address string) (*websocket.Conn, int64, error) {
	socket, _, err := websocket.DefaultDialer.Dial("ws://"+address+"/sync", nil)
	if err != nil {
		return nil, 0, err
	}
	hello := syncproto.Hello{T: syncproto.TypeHello, Versions: []int{1}, Device: uuid.NewString(), Incarnation: d.Incarnation}
	var w syncproto.Welcome
	if err := socket.WriteJSON(hello); err != nil {
		return nil, 0, err
	}
	if err := socket.ReadJSON(&w); err != nil {
		return nil, 0, err
	}
	if w.Seq < d.acked || w.Seq > int64(len(d.log)) || w.Hash != d.chain[w.Seq].String() {
		return nil, 0, fmt.Errorf("the welcome names seq %d with hash %s, but %d were acknowledged of %d", w.Seq, w.Hash, d.acked, len(d.log))
	}
	return socket, w.Seq, nil
}

// talk pushes operation after operation without waiting, until the line breaks.
func (d *device) talk(address string, rnd *rand.Rand, acks *atomic.Int64) error {
	socket, from, err := d.welcome(address)
	if err != nil {
		return err
	}
	defer func() { _ = socket.Close() }() // it broke by then
	var sending sync.WaitGroup
	defer sending.Wait()
	pushes := make(chan []syncproto.Change, 1_000)
	defer close(pushes)
	sending.Go(func() {
		broken := false
		for changes := range pushes {
			broken = broken || socket.WriteJSON(syncproto.Push{T: syncproto.TypePush, Changes: changes}) != nil
		}
	})
	if from < int64(len(d.log)) {
		pushes <- d.log[from:]
	}
	for range 200 { // more than any round lives to see acknowledged
		before := len(d.log)
		d.record(rnd)
		pushes <- d.log[before:]
	}
	for {
		_, data, err := socket.ReadMessage()
		if err != nil {
			return nil
		}
		if err := d.hear(data, acks); err != nil {
			return err
		}
	}
}

func (d *device) hear(data []byte, acks *atomic.Int64) error {
	kind, err := syncproto.TypeOf(data)
	switch {
	case err != nil:
		return err
	case kind == syncproto.TypeRefuse:
		return fmt.Errorf("refused: %s", data)
	case kind != syncproto.TypeAck:
		return nil
	}
	var ack syncproto.Ack
	if err := json.Unmarshal(data, &ack); err != nil {
		return err
	}
	for _, o := range ack.Orders {
		d.orders[o.Seq] = o.Order
	}
	d.acked = ack.Seq
	acks.Add(1)
	return nil
}

// A kill leaves what the system was given, so this proves that nothing is acknowledged before it is
// written and that a half-written commit harms nothing; that the disk has it, synchronous=FULL says.
func TestKilledDuringPushesTheServerKeepsEverythingAcknowledgedOnce(t *testing.T) {
	const rounds, seed = 15, 20_260_601
	t.Logf("seed %d", seed)
	data := t.TempDir()
	farm := farmOf(t, data)
	devices := []*device{newDevice(farm), newDevice(farm), newDevice(farm)}
	rnd := rand.New(rand.NewPCG(seed, 0))
	for range rounds {
		server := start(t, data)
		killAfter := 1 + rnd.Int64N(60)
		var acks atomic.Int64
		var talking sync.WaitGroup
		for i, d := range devices {
			own := rand.New(rand.NewPCG(rnd.Uint64(), uint64(i)))
			talking.Go(func() {
				if err := d.talk(server.address, own, &acks); err != nil {
					t.Error(err)
				}
			})
		}
		for deadline := 2000; acks.Load() < killAfter && deadline > 0; deadline-- {
			time.Sleep(time.Millisecond)
		}
		if err := server.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		_ = server.Wait() // it was killed
		talking.Wait()
		if t.Failed() {
			return
		}
	}
	checkFarm(t, data, devices)
}

func farmOf(t *testing.T, data string) string {
	t.Helper()
	s, err := store.Open(data, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return s.Farm()
}

// checkFarm opens what the last kill left: every acknowledged change is there exactly once, with its
// bytes and the order it was told, and the merge state is what the log comes to.
func checkFarm(t *testing.T, data string, devices []*device) {
	t.Helper()
	s, err := store.Open(data, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	if s.Restored() {
		t.Error("a killed server was taken for a restored one")
	}
	if found, err := s.Verify(context.Background()); err != nil || len(found.Faults) > 0 {
		t.Errorf("verified %+v (%v)", found, err)
	}
	kept := map[syncproto.Identity][]changelog.Kept{}
	for at := int64(0); at < s.Newest(); {
		tail, err := s.ReadAfter(context.Background(), at, s.Newest(), syncproto.Scopes)
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range tail.Changes {
			id := syncproto.IdentityOf(k.Incarnation, k.Seq)
			kept[id] = append(kept[id], k)
		}
		at = tail.Arrival
	}
	for _, d := range devices {
		if d.acked == 0 {
			t.Error("a device was never acknowledged anything")
		}
		t.Logf("%d of %d changes acknowledged", d.acked, len(d.log))
		for _, c := range d.log[:d.acked] {
			k := kept[c.Identity()]
			told, known := d.orders[c.Seq]
			if len(k) != 1 || string(k[0].Bytes) != string(c.Canonical()) || known && k[0].Order != told {
				t.Errorf("change %s is there %d times, told order %v", c.Identity(), len(k), told)
			}
		}
	}
}
