package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// saved is the file that a device saves of what it does not know to be settled.
func (d *device) saved(farm string) string {
	var text strings.Builder
	fmt.Fprintf(&text, `{"t":"unsent","version":1,"farm":%q,"device":"d","incarnation":%q,"before":%q,"unsent":%d,"refused":{}}`+"\n",
		farm, d.Incarnation, d.chain[d.settled], len(d.log)-int(d.settled))
	for _, c := range d.log[d.settled:] {
		text.Write(append(c.Canonical(), '\n'))
	}
	return text.String()
}

// savedInto writes the file and returns its path.
func (d *device) savedInto(t *testing.T, farm string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "unsent")
	if err := os.WriteFile(path, []byte(d.saved(farm)), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// findsAllSettled reconnects a device.
func (d *device) findsAllSettled(t *testing.T, address string) {
	t.Helper()
	socket, w, err := d.welcome(address)
	if err != nil {
		t.Fatal(err)
	}
	_ = socket.Close() // it has heard enough
	if w.Seq != int64(len(d.log)) {
		t.Errorf("the phone finds %d of %d changes settled", w.Seq, len(d.log))
	}
}

func deviceThatCounted(farm string, operations int) *device {
	d := newDevice(farm)
	rnd := rand.New(rand.NewPCG(1, 2))
	for range operations {
		d.record(rnd)
	}
	return d
}

func TestTakeInTakesFilesInAndThePhonesFindThatSettled(t *testing.T) {
	data := t.TempDir()
	farm := farmOf(t, data)
	one, two := deviceThatCounted(farm, 5), deviceThatCounted(farm, 60)
	args := []string{"take-in", "-data", data, one.savedInto(t, farm), two.savedInto(t, farm)}
	for _, want := range []string{" changes are new to the farm and are stored, 0 were there already", ": 0 changes are new to the farm and are stored"} {
		out, errs, ok := said(t, args...)
		if !ok || strings.Count(out, want) != 2 {
			t.Errorf("it printed %s%s, want twice %q", out, errs, want)
		}
	}
	verifyAsAnybodyWould(t, data)
	server := start(t, data)
	for _, d := range []*device{one, two} {
		d.findsAllSettled(t, server.address)
	}
	server.stop(t)
}

func TestTakeInSaysWhatIsWrongAndTakesNothingIn(t *testing.T) {
	data, inUse := t.TempDir(), t.TempDir()
	farm := farmOf(t, data)
	holder := start(t, inUse)
	d := deviceThatCounted(farm, 3)
	good, others := d.savedInto(t, farm), d.savedInto(t, uuid.NewString())
	tests := []struct {
		name string
		args []string
		says string
	}{
		{"no file", []string{"-data", data}, "needs the files that phones saved"},
		{"a flag that is unknown", []string{"-date", data, good}, "flag provided but not defined: -date"},
		{"no such file", []string{"-data", data, good, "none"}, "reading a file that a phone saved: open none"},
		{"another farm's beside a good one", []string{"-data", data, good, others}, "Read it in at its own shed."},
		{"a folder without a farm", []string{"-data", t.TempDir(), good}, "there is no farm in"},
		{"a folder that is in use", []string{"-data", inUse, good}, "another Corymb is using the data folder"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out, errs, ok := said(t, append([]string{"take-in"}, tt.args...)...)
			if ok || out != "" || strings.Count(errs, tt.says) != 1 {
				t.Errorf("it printed %s, and said %s", out, errs)
			}
		})
	}
	holder.stop(t)
	if out, errs, ok := said(t, "take-in", "-data", data, good); !ok || !strings.Contains(out, ", 0 were there already") {
		t.Errorf("something had been taken in: %s%s", out, errs)
	}
}

// Only where it can help is a person told to try again, and what is for phones comes last.
func TestAFileThatIsNotTakenInWholeIsExplained(t *testing.T) {
	full := errors.New("storing changes: the disk is full; make room")
	breach := func(code syncproto.Code) error {
		return fmt.Errorf("taking in what was not sent: %w", syncproto.Breachf(code, "seq 2001 does not go on with the operation"))
	}
	tests := []struct {
		name  string
		err   error
		again bool
		ends  string
	}{
		{"a full disk", full, true, "The cause: " + full.Error()},
		{"the log refuses it", breach(syncproto.CodeSplit), false, "show this to whoever looks after Corymb: seq 2001 does not go on with the operation (split)"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			says := notTakenIn("a.jsonl", tt.err).Error()
			if !strings.HasPrefix(says, "a.jsonl was not taken in whole") || !strings.Contains(says, "What was taken in is safe.") ||
				strings.Contains(says, "ead the file in again") != tt.again || !strings.HasSuffix(says, tt.ends) {
				t.Errorf("it says %s", says)
			}
		})
	}
}

func TestAFileThatIsPostedReachesConnectedPhonesAtOnce(t *testing.T) {
	data := t.TempDir()
	farm := farmOf(t, data)
	server := start(t, data)
	watcher := watch(t, server.address)
	d := deviceThatCounted(farm, 5)
	post, err := http.NewRequest(http.MethodPost, "http://"+server.address+"/api/unsent", strings.NewReader(d.saved(farm)))
	if err != nil {
		t.Fatal(err)
	}
	post.Header = joined()
	answer, err := http.DefaultClient.Do(post)
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	_ = answer.Body.Close() // it was read
	var taken changelog.Taken
	err = json.Unmarshal(body, &taken)
	if err != nil || answer.StatusCode != http.StatusOK || taken.Already != 0 || taken.Kept+len(taken.Refused) != len(d.log) {
		t.Errorf("answered %s %s (error %v), want %d changes kept or refused", answer.Status, body, err, len(d.log))
	}
	for arrival := int64(0); arrival < int64(taken.Kept); {
		arrival = nextNews(t, watcher).Arrival
	}
	_ = watcher.Close() // it has heard enough
	d.findsAllSettled(t, server.address)
	server.stop(t)
}

// watch connects a phone that only reads.
func watch(t *testing.T, address string) *websocket.Conn {
	t.Helper()
	socket, err := dialSync(address)
	if err != nil {
		t.Fatal(err)
	}
	var w syncproto.Welcome
	hello := syncproto.Hello{T: syncproto.TypeHello, Versions: []int{1}, Device: uuid.NewString(), Incarnation: uuid.NewString(), News: true}
	if err := socket.WriteJSON(hello); err != nil {
		t.Fatal(err)
	}
	if err := socket.ReadJSON(&w); err != nil {
		t.Fatal(err)
	}
	return socket
}

func nextNews(t *testing.T, socket *websocket.Conn) syncproto.News {
	t.Helper()
	_, data, err := socket.ReadMessage()
	if err != nil {
		t.Fatal(err)
	}
	news, err := syncproto.ReadNews(data)
	if err != nil {
		t.Fatalf("a phone that only reads was told %s: %v", data, err)
	}
	return news
}
