package live_test

import (
	"context"
	"errors"
	"fmt"
	"net"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/syncproto"
)

func TestALineWithoutAHelloIsClosed(t *testing.T) {
	s := startShed(t, func(c *live.Config) { c.HelloWithin = 20 * time.Millisecond })
	p := newPhone(t)
	p.dial(s)
	if r := read[syncproto.Refuse](p); r.Code != syncproto.CodeMalformed || !strings.Contains(r.Text, "no hello") {
		t.Errorf("refused with %+v", r)
	}
}

// Nobody holds a line open by saying next to nothing.
func TestTheTimeForAHelloIsNotRenewed(t *testing.T) {
	tests := []struct {
		name        string
		begin, drip []byte // masked text frames, and the second again and again
	}{
		{"by pieces of a message", []byte{0x81, 0xfe, 0x3f, 0xff, 0, 0, 0, 0}, []byte{' '}},
		{"by messages that say nothing", nil, append([]byte{0x81, 0x80 + 13, 0, 0, 0, 0}, `{"t":"later"}`...)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := startShed(t, func(c *live.Config) { c.HelloWithin = 100 * time.Millisecond })
			p := newPhone(t)
			p.dial(s)
			over := make(chan struct{})
			var dripping sync.WaitGroup
			dripping.Go(func() {
				for piece := tt.begin; ; piece = tt.drip {
					if _, err := p.socket.NetConn().Write(piece); err != nil {
						return
					}
					select {
					case <-over:
						return
					case <-time.After(5 * time.Millisecond):
					}
				}
			})
			_, err := p.receive()
			for err == nil { // the refusal, if it comes through
				_, err = p.receive()
			}
			close(over)
			dripping.Wait()
			if late := net.Error(nil); errors.As(err, &late) && late.Timeout() {
				t.Error("the line stays open for as long as something drips in")
			}
		})
	}
}

func TestASilentLineIsDropped(t *testing.T) {
	s := startShed(t, func(c *live.Config) { c.SilentFor = 50 * time.Millisecond })
	p := newPhone(t)
	p.dial(s)
	p.send(p.hello())
	messages := 0 // on a busy machine the line may end before the welcome
	for {
		if _, _, err := p.socket.ReadMessage(); err != nil {
			break
		}
		messages++
	}
	if messages > 1 {
		t.Errorf("%d messages came, want the welcome at most, and then the end of the line", messages)
	}
}

// broken is a log whose disk can fail.
type broken struct {
	live.Log
	appending, reading atomic.Bool
}

var errDisk = errors.New("the disk is full")

func (b *broken) Append(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
	if b.appending.Load() {
		return nil, errDisk
	}
	return b.Log.Append(ctx, frames)
}

func (b *broken) ReadAfter(ctx context.Context, after, upTo int64, scopes []syncproto.Scope) (changelog.Tail, error) {
	if b.reading.Load() {
		return changelog.Tail{}, errDisk
	}
	return b.Log.ReadAfter(ctx, after, upTo, scopes)
}

func TestAFailingStoreSaysBusyAndAcknowledgesNothing(t *testing.T) {
	var disk *broken
	s := startShed(t, func(c *live.Config) {
		disk = &broken{Log: c.Log}
		c.Log = disk
	})
	p := newPhone(t)
	p.connect(s)
	disk.appending.Store(true)
	change := p.records("b1", "North")
	p.push(change...)
	if r := refused(t, p); r.Code != syncproto.CodeBusy {
		t.Errorf("refused with %+v", r)
	}
	disk.appending.Store(false)
	if w := p.connect(s); w.Seq != 0 {
		t.Errorf("settled without a disk: %+v", w)
	}
	p.push(change...)
	if ack := read[syncproto.Ack](p); ack.Seq != 1 {
		t.Errorf("ack %+v", ack)
	}
}

func TestALogThatCannotBeReadSaysBusy(t *testing.T) {
	s := startShed(t, func(c *live.Config) {
		writer := newClient()
		frame, err := changelog.NewFrame(writer.Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: writer.records("b1", "North")})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.Log.Append(t.Context(), []*changelog.Frame{frame}); err != nil {
			t.Fatal(err)
		}
		disk := &broken{Log: c.Log}
		disk.reading.Store(true)
		c.Log = disk
	})
	p := newPhone(t)
	p.connect(s)
	if r := refused(t, p); r.Code != syncproto.CodeBusy {
		t.Errorf("refused with %+v", r)
	}
}

// held is a log whose commits wait for a word.
type held struct {
	live.Log
	entered chan int // frames of each commit begun
	release chan struct{}
}

func (h *held) Append(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
	h.entered <- len(frames)
	<-h.release
	return h.Log.Append(ctx, frames)
}

// startHeld runs a server whose commits wait until let is called.
func startHeld(t *testing.T) (s *shed, h *held, let func()) {
	t.Helper()
	h = &held{entered: make(chan int, 1000), release: make(chan struct{})}
	s = startShed(t, func(c *live.Config) {
		h.Log = c.Log
		c.Log = h
	})
	let = sync.OnceFunc(func() { close(h.release) })
	t.Cleanup(let)
	return s, h, let
}

func TestFramesThatWaitShareACommit(t *testing.T) {
	s, h, let := startHeld(t)
	first := newPhone(t)
	first.connect(s)
	first.push(first.records("b1", "North")...)
	if n := <-h.entered; n != 1 {
		t.Fatalf("the first commit has %d frames", n)
	}
	others := make([]*phone, 6)
	for i := range others {
		others[i] = newPhone(t)
		others[i].connect(s)
		others[i].push(others[i].records("b1", "South")...)
	}
	waitUntil(t, "six frames wait", func() bool { return s.Waiting() == len(others) })
	let()
	if n := <-h.entered; n != len(others) {
		t.Errorf("the second commit has %d frames, want %d", n, len(others))
	}
	for _, p := range append(others, first) {
		await[syncproto.Ack](p)
	}
}

// A phone that sends more than the disk takes is not read further: nothing piles up, nothing is lost.
func TestAPhoneThatPushesTooMuchIsMadeToWait(t *testing.T) {
	s, h, let := startHeld(t)
	p := newPhone(t)
	p.connect(s)
	const pushes, perPush = 60, 1_000
	frames := make([]live.Message, pushes)
	for i := range frames {
		facts := make([]changelog.Fact, perPush)
		for j := range facts {
			facts[j] = fact(fmt.Sprint("b", j), "North")
		}
		frames[i] = p.frame(p.operation(facts...)...)
	}
	var sending sync.WaitGroup
	sending.Go(func() {
		for _, m := range frames {
			if err := write(p.socket, m); err != nil {
				t.Error(err)
			}
		}
	})
	const may = 9 // of this size are under way before the phone is made to wait
	committing := <-h.entered
	waitUntil(t, "the phone's frames wait", func() bool { return committing+s.Waiting() >= may-1 })
	time.Sleep(50 * time.Millisecond) // for more to come, if they wrongly may
	if n := committing + s.Waiting(); n > may {
		t.Errorf("%d frames are under way, want %d", n, may)
	}
	let()
	for acked := int64(0); acked < pushes*perPush; {
		if ack, ok := p.next().(syncproto.Ack); ok {
			if ack.Seq != acked+perPush {
				t.Fatalf("ack %+v came after %d", ack, acked)
			}
			acked = ack.Seq
		}
	}
	sending.Wait()
}

// A clone that was found out may hold changes that would follow: none of them is taken.
func TestAfterARefusalNothingOfTheConversationIsStored(t *testing.T) {
	s, h, let := startHeld(t)
	p := newPhone(t)
	p.connect(s)
	p.push(p.records("b1", "North")...)
	<-h.entered
	h.release <- struct{}{}
	await[syncproto.Ack](p)
	p.Seq = 0
	other := p.records("b1", "Other")
	p.push(other...)
	<-h.entered // committed alone
	p.push(p.records("b1", "Following")...)
	waitUntil(t, "the next frame waits", func() bool { return s.Waiting() == 1 })
	let()
	if r := refused(t, p); r.Code != syncproto.CodeReused {
		t.Errorf("refused with %+v", r)
	}
	s.stop()
	if n := s.farm.Newest(); n != 1 {
		t.Errorf("the log holds %d changes, want 1", n)
	}
}

func TestASlowLineIsNotTakenForDead(t *testing.T) {
	const silent, pieces = 600 * time.Millisecond, 8
	s := startShed(t, func(c *live.Config) { c.SilentFor = silent })
	p := newPhone(t)
	p.connect(s)
	push := p.frame(p.records("b1", strings.Repeat("North ", 40))...).Data
	header := []byte{0x82, 0xfe, byte(len(push) >> 8), byte(len(push)), 0, 0, 0, 0} // a masked binary frame
	message := append(header, push...)
	for i := range pieces {
		piece := message[len(message)*i/pieces : len(message)*(i+1)/pieces]
		if _, err := p.socket.NetConn().Write(piece); err != nil {
			t.Fatal(err)
		}
		time.Sleep(silent / 4)
	}
	if ack := read[syncproto.Ack](p); ack.Seq != 1 {
		t.Errorf("ack %+v", ack)
	}
}

func waitUntil(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for range 2000 {
		if holds() {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatalf("waited in vain until %s", what)
}

func TestStoppingEndsEveryConversationAndLeavesNothingRunning(t *testing.T) {
	before := runtime.NumGoroutine()
	s := startShed(t, func(c *live.Config) { c.Linger = 200 * time.Millisecond })
	phones := make([]*phone, 10)
	for i := range phones {
		phones[i] = newPhone(t)
		if i == 0 {
			phones[i].dial(s) // never says hello
			continue
		}
		phones[i].connect(s)
	}
	phones[1].push(phones[1].records("b1", "North")...)
	_ = phones[2].socket.Close() // went away by itself
	waitUntil(t, "nine lines are open", func() bool { return s.Open() == 9 })
	s.stop()
	if n := s.Open(); n != 0 {
		t.Errorf("%d conversations are still open", n)
	}
	for _, p := range phones[3:] {
		_, _, err := p.socket.ReadMessage()
		for err == nil {
			_, _, err = p.socket.ReadMessage()
		}
		if !websocket.IsCloseError(err, websocket.CloseGoingAway) {
			t.Errorf("the line ended with %v, want going away", err)
		}
	}
	if err := s.farm.Close(); err != nil {
		t.Fatal(err)
	}
	waitUntil(t, "every goroutine has ended", func() bool { return runtime.NumGoroutine() <= before })
}

func TestWhoComesAfterTheStopIsSentAway(t *testing.T) {
	s := startShed(t, nil)
	s.stopRunning()
	late := newPhone(t)
	late.dial(s)
	if _, _, err := late.socket.ReadMessage(); !websocket.IsCloseError(err, websocket.CloseGoingAway) {
		t.Errorf("the line ended with %v, want going away", err)
	}
	if n := s.Open(); n != 0 {
		t.Errorf("%d conversations are open", n)
	}
}

// Hundreds of phones are connected and idle: each costs its socket's reader and writer.
func TestAnIdleConnectionHoldsTwoGoroutines(t *testing.T) {
	s := startShed(t, nil)
	newPhone(t).connect(s) // whatever the server starts once
	before := runtime.NumGoroutine()
	const phones = 20
	for range phones {
		newPhone(t).connect(s)
	}
	waitUntil(t, "each connection has two goroutines", func() bool { return runtime.NumGoroutine() <= before+2*phones })
}
