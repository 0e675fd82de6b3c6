package syncproto_test

import (
	"encoding/hex"
	"encoding/json"
	"os"
	"reflect"
	"testing"

	"corymb/syncproto"
)

// captured is a message as a release sent it.
type captured struct {
	Name, From, Kind string
	Text, Hex        string
	Changes          []string
	Orders           [][2]int64
	Arrival, Newest  int64
	Last             string
}

func readLegacy(t *testing.T, name string) []captured {
	t.Helper()
	data, err := os.ReadFile("../testdata/legacy/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var v struct{ Messages []captured }
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	return v.Messages
}

func TestMessagesOfEveryReleaseAreStillRead(t *testing.T) {
	files, err := os.ReadDir("../testdata/legacy")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d captures (error %v)", len(files), err)
	}
	for _, file := range files {
		pushes, news := syncproto.NewUnpacker(), syncproto.NewUnpacker()
		for _, m := range readLegacy(t, file.Name()) {
			t.Run(file.Name()+"/"+m.Kind+"/"+m.Name, func(t *testing.T) {
				data, err := hex.DecodeString(m.Hex)
				if err != nil {
					t.Fatal(err)
				}
				switch m.Kind {
				case "push":
					batch, err := syncproto.ReadPush(data, pushes)
					sameCapture(t, m, batch, err)
				case "news":
					sameNews(t, m, data, news)
				default:
					sameText(t, m)
				}
			})
		}
	}
}

func sameNews(t *testing.T, m captured, data []byte, u *syncproto.Unpacker) {
	t.Helper()
	news, err := syncproto.ReadNews(data)
	if err != nil || news.Arrival != m.Arrival || news.Newest != m.Newest || news.Last != m.Last {
		t.Fatalf("read %+v (error %v)", news, err)
	}
	var all syncproto.Batch
	for _, packed := range news.Batches {
		batch, err := u.Read(packed)
		if err != nil {
			t.Fatal(err)
		}
		all.Changes, all.Orders = append(all.Changes, batch.Changes...), append(all.Orders, batch.Orders...)
	}
	sameCapture(t, m, all, nil)
}

func sameCapture(t *testing.T, m captured, got syncproto.Batch, err error) {
	t.Helper()
	if err != nil || len(got.Changes) != len(m.Changes) || len(got.Orders) != len(m.Orders) {
		t.Fatalf("read %d changes and %d orders (error %v), want %d and %d",
			len(got.Changes), len(got.Orders), err, len(m.Changes), len(m.Orders))
	}
	for i, c := range got.Changes {
		if text := string(c.Canonical()); text != m.Changes[i] {
			t.Errorf("change %d is %s, want %s", i, text, m.Changes[i])
		}
	}
	for i, o := range got.Orders {
		if want := (syncproto.Stamp{L: m.Orders[i][0], C: m.Orders[i][1]}); o != want {
			t.Errorf("order %d is %v, want %v", i, o, want)
		}
	}
}

// sameText reads a text message and writes it again: every member known must be there as it was.
func sameText(t *testing.T, m captured) {
	t.Helper()
	into := map[string]any{
		"hello": &syncproto.Hello{}, "welcome": &syncproto.Welcome{}, "refuse": &syncproto.Refuse{},
		"ack": &syncproto.Ack{}, "ping": &syncproto.Ping{}, "pong": &syncproto.Pong{},
	}[m.Kind]
	if kind, err := syncproto.TypeOf([]byte(m.Text)); err != nil || kind != m.Kind || into == nil {
		t.Fatalf("it is a %q (error %v), want %q", kind, err, m.Kind)
	}
	if err := json.Unmarshal([]byte(m.Text), into); err != nil {
		t.Fatal(err)
	}
	again, err := json.Marshal(into)
	if err != nil {
		t.Fatal(err)
	}
	var was, is map[string]any
	if err := json.Unmarshal([]byte(m.Text), &was); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(again, &is); err != nil {
		t.Fatal(err)
	}
	delete(was, "later") // what a later version adds is passed over
	if !reflect.DeepEqual(is, was) {
		t.Errorf("read and written again it is\n     %s\nwant %s", again, m.Text)
	}
}
