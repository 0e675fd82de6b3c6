package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// device is a phone that only writes. Its log survives the server's deaths.
type device struct {
	changelog.Recorder
	log     []syncproto.Change // log[i] has seq i+1
	chain   []syncproto.Hash   // chain[i] is the chain value after i changes
	settled int64              // highest seq that was acknowledged
	proven  int64              // up to there checkFarm found all in an earlier round
	staged  int64              // highest seq of a large operation that was said to be put aside
	orders  map[int64]syncproto.Stamp
	refused map[int64]syncproto.Code
}

func newDevice(farm string) *device {
	d := &device{
		Recorder: changelog.Recorder{Incarnation: uuid.NewString(), Person: "ana"},
		orders:   map[int64]syncproto.Stamp{}, refused: map[int64]syncproto.Code{},
	}
	d.chain = []syncproto.Hash{syncproto.ChainStart(farm, d.Incarnation)}
	return d
}

// record adds an operation: mostly a few counts, now and then one that is refused, or one that is
// larger than a frame.
func (d *device) record(rnd *rand.Rand) []syncproto.Change {
	facts := make([]changelog.Fact, 1+rnd.IntN(4))
	highest := int64(10)
	switch chance := rnd.IntN(300); {
	case chance == 0:
		facts = make([]changelog.Fact, syncproto.MaxFrameChanges+1+rnd.IntN(syncproto.MaxFrameChanges))
	case chance < 8:
		highest = 10_000 // a plant has no more than 999 of a cell
	}
	for i := range facts {
		facts[i] = changelog.Fact{
			Scope: syncproto.ScopeField, Op: syncproto.OpCount, Type: "visit", ID: fmt.Sprint("v", rnd.IntN(50)),
			Field: fmt.Sprintf("extra|%d00|%d00", i+1, i+2), Value: syncproto.Int(rnd.Int64N(highest)),
		}
	}
	operation := d.Operation(time.Now().UnixMilli(), facts...)
	for _, c := range operation {
		d.log = append(d.log, c)
		d.chain = append(d.chain, d.chain[len(d.chain)-1].Then(c.Canonical()))
	}
	return operation
}

// errBroke says that the line broke, as it does when the server dies.
var errBroke = errors.New("the line broke")

// welcome dials and checks that the server holds whatever it had acknowledged.
func (d *device) welcome(address string) (*websocket.Conn, syncproto.Welcome, error) {
	var w syncproto.Welcome
	socket, err := dialSync(address)
	if err != nil {
		return nil, w, fmt.Errorf("%w: %w", errBroke, err)
	}
	err = socket.WriteJSON(syncproto.Hello{
		T: syncproto.TypeHello, Versions: []int{syncproto.Version}, Device: uuid.NewString(),
		Incarnation: d.Incarnation, Settled: d.settled, Unsent: len(d.log) - int(d.settled),
	})
	if err == nil {
		err = socket.ReadJSON(&w)
	}
	if err != nil {
		return nil, w, fmt.Errorf("%w: %w", errBroke, err)
	}
	if w.Seq < d.settled || w.Seq > int64(len(d.log)) || w.Hash != d.chain[w.Seq].String() {
		return nil, w, fmt.Errorf("the welcome names seq %d with hash %s, but %d were acknowledged of %d", w.Seq, w.Hash, d.settled, len(d.log))
	}
	if d.staged > w.Seq && w.Staged < d.staged {
		return nil, w, fmt.Errorf("the welcome says that %d are put aside, but that was said of %d", w.Staged, d.staged)
	}
	if w.Staged > 0 && w.StagedHash != d.chain[w.Staged].String() {
		return nil, w, fmt.Errorf("what is put aside up to seq %d has hash %s, which is not the phone's", w.Staged, w.StagedHash)
	}
	d.note(syncproto.Ack{Seq: w.Seq, Staged: w.Staged, Orders: w.Orders, Held: w.Held, Refused: w.Refused})
	return socket, w, nil
}

// unsent is what is to be pushed after a welcome, a frame each: first the rest of what is put aside.
func (d *device) unsent(w syncproto.Welcome) [][]syncproto.Change {
	if w.Staged == 0 {
		return changelog.InFrames(d.log[w.Seq:])
	}
	next := int(w.Staged) + d.log[w.Staged-1].Rest // where the operation ends
	return append(changelog.InFrames(d.log[w.Staged:next]), changelog.InFrames(d.log[next:])...)
}

// framesATalk is how many frames a device has to push when it comes.
const framesATalk = 60

// talk pushes operation after operation, some at a time, until all is acknowledged or the line breaks.
// heard is called at each acknowledgement.
func (d *device) talk(address string, rnd *rand.Rand, heard func()) error {
	socket, w, err := d.welcome(address)
	if errors.Is(err, errBroke) {
		return nil
	}
	if err != nil {
		return err
	}
	defer func() { _ = socket.Close() }() // it broke by then
	frames := d.unsent(w)
	for len(frames) < framesATalk {
		frames = append(frames, changelog.InFrames(d.record(rnd))...)
	}
	underWay := make(chan struct{}, 1+rnd.IntN(8)) // a token for each frame without an answer
	broke := make(chan struct{})
	var sending sync.WaitGroup
	defer sending.Wait()
	defer close(broke)
	sending.Go(func() { send(socket, frames, underWay, broke) })
	for d.settled < int64(len(d.log)) {
		_, data, err := socket.ReadMessage()
		if err != nil {
			return nil
		}
		if err := d.hear(data); err != nil {
			return err
		}
		heard()
		<-underWay
	}
	return nil
}

func send(socket *websocket.Conn, frames [][]syncproto.Change, underWay chan<- struct{}, broke <-chan struct{}) {
	packer := syncproto.NewPacker()
	for _, changes := range frames {
		select {
		case underWay <- struct{}{}:
		case <-broke:
			return
		}
		message := syncproto.AppendPush(nil, packer, syncproto.Batch{Changes: changes})
		if socket.WriteMessage(websocket.BinaryMessage, message) != nil {
			return // the reader sees it too
		}
	}
}

// hear takes in an acknowledgement, which is all that a phone that only writes is told.
func (d *device) hear(data []byte) error {
	var ack syncproto.Ack
	if err := json.Unmarshal(data, &ack); err != nil {
		return err
	}
	if ack.T != syncproto.TypeAck {
		return fmt.Errorf("the server said: %s", data)
	}
	d.note(ack)
	return nil
}

// note takes in what became of changes: what is named nowhere was kept under its stamp.
func (d *device) note(ack syncproto.Ack) {
	d.settled, d.staged = ack.Seq, ack.Staged
	for _, o := range ack.Orders {
		d.orders[o.Seq] = o.Order
	}
	for _, r := range ack.Refused {
		d.refused[r.Seq] = r.Code
	}
}

// pushUntilKilled lets devices push all at once and kills the server after some acknowledgements.
func pushUntilKilled(t *testing.T, server *running, devices []*device, rnd *rand.Rand) {
	t.Helper()
	enough, silent := push(t, server, devices, rnd)
	select {
	case <-enough:
	case <-silent:
		t.Errorf("the lines broke before the server was killed: %s", server.errs.String())
	}
	time.Sleep(time.Duration(rnd.IntN(3_000)) * time.Microsecond) // a moment that no acknowledgement has chosen
	killed(t, server)
	<-silent
}

// pushUntilCut lets devices push all at once until the server dies by itself or has stored everything.
func pushUntilCut(t *testing.T, server *running, devices []*device, rnd *rand.Rand) {
	t.Helper()
	_, silent := push(t, server, devices, rnd)
	<-silent
	killed(t, server)
}

// push lets devices talk. enough is closed after some acknowledgements, silent when each has come to its end.
func push(t *testing.T, server *running, devices []*device, rnd *rand.Rand) (enough, silent chan struct{}) {
	enough, silent = make(chan struct{}), make(chan struct{})
	wanted := 1 + rnd.Int64N(framesATalk)
	var acks atomic.Int64
	heard := func() {
		if acks.Add(1) == wanted {
			close(enough)
		}
	}
	var talking sync.WaitGroup
	for i, d := range devices {
		own := rand.New(rand.NewPCG(rnd.Uint64(), uint64(i)))
		talking.Go(func() {
			if err := d.talk(server.address, own, heard); err != nil {
				t.Error(err)
			}
		})
	}
	go func() { talking.Wait(); close(silent) }()
	return enough, silent
}

// killed kills a server, if that has not happened yet, and checks that it came to no other end.
func killed(t *testing.T, server *running) {
	t.Helper()
	if err := server.Process.Kill(); err != nil && !errors.Is(err, os.ErrProcessDone) {
		t.Fatal(err)
	}
	_ = server.Wait() // it says that it was killed
	if status, ok := server.ProcessState.Sys().(syscall.WaitStatus); !ok || status.Signal() != syscall.SIGKILL || complaints(server.errs.String()) != "" {
		t.Errorf("the server was not killed, but ended with %v: %s", server.ProcessState, server.errs.String())
	}
	if t.Failed() {
		t.FailNow()
	}
}
