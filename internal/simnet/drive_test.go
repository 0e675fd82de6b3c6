package simnet

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/server/store"
	"corymb/syncproto"
)

// socketLine is a Line over a websocket.
type socketLine struct{ socket *websocket.Conn }

func (l socketLine) Send(m Message) error {
	kind := websocket.TextMessage
	if m.Binary {
		kind = websocket.BinaryMessage
	}
	return l.socket.WriteMessage(kind, m.Data)
}

func (l socketLine) Receive() (Message, error) {
	kind, data, err := l.socket.ReadMessage()
	return Message{Binary: kind == websocket.BinaryMessage, Data: data}, err
}

func (l socketLine) Close() error { return l.socket.Close() }

// What one phone records another shows, over real sockets, an operation of more than a frame too.
func TestAPhoneIsDrivenOverAWebsocket(t *testing.T) {
	url := serve(t, t.TempDir())
	ana, ben := startPhone(t, "ana"), startPhone(t, "ben")
	facts := make([]changelog.Fact, 2_500)
	for i := range facts {
		facts[i] = field("plant", uuid.NewString(), "code", syncproto.Text("p"))
	}
	for _, said := range [][]changelog.Fact{facts, {field("bed", "b", "name", syncproto.Text("North"))}} {
		if _, err := ana.Record(wallMoment(), nil, said...); err != nil {
			t.Fatal(err)
		}
	}
	drive(t, url, ana)
	drive(t, url, ben)
	if got := ben.State(); got.Len() != len(facts)+1 || got.Entity("bed", "b").Text("name") != "North" {
		t.Errorf("%d entities reached the other phone, want %d", got.Len(), len(facts)+1)
	}
}

// The welcome tells only so much; the rest is heard by pushing it again.
func TestAPhoneThatForgotWhatItWasToldHearsItAgain(t *testing.T) {
	url, ana := serve(t, t.TempDir()), startPhone(t, "ana")
	ahead := wallMoment()
	ahead.Wall += 3_600_000 // so that every order differs from its stamp
	const operations, each = 7, 2_500
	for i := range operations {
		facts := make([]changelog.Fact, each)
		for k := range facts {
			facts[k] = field("bed", "b", "name", syncproto.Text("North"))
		}
		if i%2 == 1 {
			facts[0].Value = syncproto.Int(1) // refused, and the others with it
		}
		if _, err := ana.Record(ahead, nil, facts...); err != nil {
			t.Fatal(err)
		}
	}
	drive(t, url, ana)
	want := slices.Clone(ana.Records().current().Operations)
	err := ana.disk.store(func(r *Records) {
		log := r.current()
		log.Settled = 0
		log.Operations = slices.Clone(log.Operations)
		for i := range log.Operations {
			log.Operations[i].Fates = slices.Repeat([]Fate{unknownFate}, each)
		}
		r.Logs[r.Incarnation] = log
	})
	if err != nil {
		t.Fatal(err)
	}
	drive(t, url, ana)
	for i, o := range ana.Records().current().Operations {
		if !slices.Equal(o.Fates, want[i].Fates) || (o.Fates[0].Refused != "") != (i%2 == 1) {
			t.Errorf("operation %d: %+v became of its first change, want %+v", i, o.Fates[0], want[i].Fates[0])
		}
	}
}

// A phone was told that a change is kept, and its line broke before any news moved its cursor. The
// whole data folder is then an older copy, where the cursor still holds, and a copy of the phone fills
// in the same change under another identity. Another copy may even have brought the shed as far as the
// phone knows it to be.
func TestWhatAnOlderShedDoesNotHaveIsNoLongerTakenForConfirmed(t *testing.T) {
	for _, asFar := range []bool{false, true} {
		t.Run(fmt.Sprint("the shed is as far as it was: ", asFar), func(t *testing.T) {
			before, after := twoSheds(t)
			ana := startPhone(t, "ana")
			count(t, ana, "v1", 4)
			early := clone(t, ana)
			count(t, ana, "v2", 5)
			count(t, early, "v2", 6)
			url := serve(t, before)
			driveUntil(t, url, ana, func() bool { return ana.Unsettled() == 0 })
			late := clone(t, ana)
			drive(t, url, early) // finds seq 2 taken, and says its own again
			url = serve(t, after)
			drive(t, url, early)
			if asFar {
				drive(t, url, late)
			}
			drive(t, url, ana)
			drive(t, url, early)
			if shown, want := ana.State().Dump(), early.State().Dump(); !slices.Equal(shown, want) {
				t.Errorf("the phone shows\n%s\nthe copy\n%s", shown, want)
			}
		})
	}
}

// After that, the person may no longer write what the copy fills in: the shed refuses it, and does not
// tell the phone, which is as far, of its own accord.
func TestWhatAnOlderShedRefusesWhenACopyFillsItInIsNoLongerTakenForKept(t *testing.T) {
	before, after := twoSheds(t)
	ana := startPhone(t, "ana")
	invoice := field("paper", "invoice", "text", syncproto.Text("12 bunches"))
	invoice.Scope = syncproto.ScopeMoney
	if _, err := ana.Record(wallMoment(), nil, invoice); err != nil {
		t.Fatal(err)
	}
	copied := clone(t, ana)
	drive(t, serve(t, before), ana)
	url := serve(t, after, syncproto.ScopeField)
	drive(t, url, copied)
	drive(t, url, ana)
	fate := ana.Records().current().Operations[0].Fates[0]
	if fate.Refused != syncproto.CodeScope || ana.State().Len() != 0 {
		t.Errorf("%+v became of the change, and %d entities show", fate, ana.State().Len())
	}
}

// An older shed was filled by a copy of the phone, under seqs that the phone has used for something else
// and that were acknowledged to it.
func TestWhatAShedWithAnotherPastAcknowledgedIsSaidAgain(t *testing.T) {
	before, after := twoSheds(t)
	ana := startPhone(t, "ana")
	cloned := clone(t, ana)
	count(t, ana, "v1", 4)
	count(t, cloned, "v2", 5)
	drive(t, serve(t, before), ana)
	url := serve(t, after)
	drive(t, url, cloned)
	drive(t, url, ana)
	drive(t, url, cloned)
	if n := cloned.State().Len(); n != 2 {
		t.Errorf("%d counts are there, want both", n)
	}
}

// twoSheds are a data folder and a copy of it that is put in its place later.
func twoSheds(t *testing.T) (before, after string) {
	t.Helper()
	before, after = t.TempDir(), t.TempDir()
	if err := errors.Join(emptyFolder(before), copyFolder(after, before)); err != nil {
		t.Fatal(err)
	}
	return before, after
}

func count(t *testing.T, p *Phone, visit string, stems int64) {
	t.Helper()
	said := changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpCount, Type: "visit", ID: visit, Field: "first|500|600", Value: syncproto.Int(stems)}
	if _, err := p.Record(wallMoment(), nil, said); err != nil {
		t.Fatal(err)
	}
}

// clone is a copy of a phone with all that it holds.
func clone(t *testing.T, p *Phone) *Phone {
	t.Helper()
	copied, err := Start(p.disk.Copy(), "ben", uuid.New)
	if err != nil {
		t.Fatal(err)
	}
	return copied
}

// drive talks to the shed until the phone and it are level.
func drive(t *testing.T, url string, p *Phone) {
	t.Helper()
	driveUntil(t, url, p, p.Level)
}

func driveUntil(t *testing.T, url string, p *Phone, done func() bool) {
	t.Helper()
	for range 10 {
		socket, _, err := websocket.DefaultDialer.Dial(url, nil)
		if err != nil {
			t.Fatal(err)
		}
		met := false
		// What breaks the line may be the phone itself, which then wants another.
		_ = Drive(t.Context(), p, socketLine{socket}, wallMoment, func() bool { met = done(); return met })
		if met {
			return
		}
	}
	t.Fatal("ten lines were not enough")
}

// serve lets people read and write some scopes of a farm, all unless told.
func serve(t *testing.T, dir string, scopes ...syncproto.Scope) (url string) {
	t.Helper()
	if len(scopes) == 0 {
		scopes = syncproto.Scopes
	}
	opened, err := store.Open(dir, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	server := live.New(live.Config{
		Log: opened, Now: time.Now, Logger: silent,
		Admit: func(*http.Request) (live.Member, error) { return memberOf("", scopes), nil },
	})
	ctx, stop := context.WithCancel(context.Background())
	stopped := make(chan struct{})
	go func() {
		defer close(stopped)
		server.Run(ctx)
	}()
	web := httptest.NewServer(server)
	t.Cleanup(func() {
		stop()
		<-stopped
		web.Close()
		if err := opened.Close(); err != nil {
			t.Error(err)
		}
	})
	return "ws" + strings.TrimPrefix(web.URL, "http")
}

func startPhone(t *testing.T, person string) *Phone {
	t.Helper()
	p, err := Start(NewDisk(), person, uuid.New)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func wallMoment() Moment {
	now := time.Now().UnixMilli()
	return Moment{Now: now, Wall: now}
}
