package live_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/syncproto"
)

// counting counts how often the log is read.
type counting struct {
	live.Log
	reads atomic.Int64
}

func (c *counting) ReadAfter(ctx context.Context, after, upTo int64, scopes []syncproto.Scope) (changelog.Tail, error) {
	c.reads.Add(1)
	return c.Log.ReadAfter(ctx, after, upTo, scopes)
}

// countedShed is a shed whose reads of the log are counted.
func countedShed(t *testing.T) (*shed, *counting) {
	t.Helper()
	log := &counting{}
	s := newShed(t, func(c *live.Config) {
		log.Log, c.Log = c.Log, log
	})
	return s, log
}

// alone tells whether batches stand alone, as the log packed them.
func alone(batches [][]byte) bool {
	return !slices.ContainsFunc(batches, func(b []byte) bool { return b[0] != 2 })
}

func TestASlowReaderIsToldFromWhatIsRecentThenFromTheLog(t *testing.T) {
	s, log := countedShed(t)
	writer, _ := call(t, s, nil)
	reader, _ := call(t, s, nil)
	write := func(names ...string) {
		for _, name := range names {
			writer.push(writer.records("b1", name)...)
			s.Commit()
			hears[syncproto.Ack](writer)
			hears[news](writer)
		}
	}
	write("North", "South", "West")
	n := hears[news](reader)
	if len(n.Batches) != 3 || !alone(n.Batches) || len(n.Changes) != 3 || n.Arrival != 3 || log.reads.Load() != 0 {
		t.Errorf("news of %d batches, %d changes up to %d, the log read %d times", len(n.Batches), len(n.Changes), n.Arrival, log.reads.Load())
	}
	reader.silent()
	const long = 300 // of so many bytes come to more than is kept
	for i := range long {
		write(fmt.Sprint(i, strings.Repeat("x", 8_000)))
	}
	var changes []syncproto.Change
	for len(changes) < 1 || changes[len(changes)-1].Seq < 3+long {
		n := hears[news](reader)
		if log.reads.Load() == 0 {
			t.Fatal("more is kept than may be")
		}
		changes = append(changes, n.Changes...)
	}
	reader.silent()
	before := log.reads.Load()
	write("East")
	if n := hears[news](reader); len(n.Batches) != 1 || !alone(n.Batches) || log.reads.Load() != before {
		t.Errorf("up to date again it got %d batches, the log read %d times more", len(n.Batches), log.reads.Load()-before)
	}
}

func TestARecentMessageIsBounded(t *testing.T) {
	s := newShed(t, nil)
	writer, _ := call(t, s, nil)
	reader, _ := call(t, s, nil)
	const frames = 10
	for range frames {
		facts := make([]changelog.Fact, 600)
		for i := range facts {
			facts[i] = fact(fmt.Sprint("b", i), "North")
		}
		writer.push(writer.operation(facts...)...)
		s.Commit()
	}
	messages := 0
	for told := 0; told < frames*600; messages++ {
		n := hears[news](reader)
		if len(n.Changes) > 2_000 || n.Newest != frames*600 {
			t.Errorf("news of %d changes, newest %d", len(n.Changes), n.Newest)
		}
		told += len(n.Changes)
	}
	if messages != 4 {
		t.Errorf("%d messages, want four of three frames at most", messages)
	}
}

func TestScopesAreTakenOutOfWhatIsRecent(t *testing.T) {
	in := func(scope syncproto.Scope, name string) changelog.Fact {
		f := fact("b1", name)
		f.Scope = scope
		return f
	}
	const money, field = syncproto.ScopeMoney, syncproto.ScopeField
	tests := []struct {
		name  string
		facts []changelog.Fact
		told  []string
		reads int64
	}{
		{"all of it is for the crew", []changelog.Fact{in(field, "North"), in(field, "South")}, []string{"North", "South"}, 0},
		{"nothing of it is", []changelog.Fact{in(money, "1")}, nil, 0},
		{"some of it is", []changelog.Fact{in(money, "2"), in(field, "West"), in(money, "3")}, []string{"West"}, 1},
	}
	s, log := countedShed(t)
	owner, _ := call(t, s, nil)
	crew, w := callAs(t, s, live.Member{Scopes: []syncproto.Scope{field}, Rights: changelog.Within{field}}, nil)
	if !slices.Equal(w.Scopes, []syncproto.Scope{field}) {
		t.Errorf("scopes %v", w.Scopes)
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			before := log.reads.Load()
			for _, f := range tt.facts {
				f.ID += f.Value.Text // or only the last would stand
				owner.push(owner.operation(f)...)
			}
			s.Commit()
			n := hears[news](crew)
			var told []string
			for _, c := range n.Changes {
				told = append(told, c.Value.Text)
			}
			if !slices.Equal(told, tt.told) || n.Arrival != s.farm.Newest() || log.reads.Load()-before != tt.reads {
				t.Errorf("told %v up to %d of %d, the log read %d times; want %v", told, n.Arrival, s.farm.Newest(), log.reads.Load()-before, tt.told)
			}
		})
	}
	forbidden := crew.operation(in(money, "4"))
	crew.push(forbidden...)
	s.Commit()
	if ack := hears[syncproto.Ack](crew); ack.Seq != 1 || len(ack.Refused) != 1 || ack.Refused[0].Code != syncproto.CodeScope {
		t.Errorf("ack %+v", ack)
	}
}

// The line broke between commit and acknowledgement: the phone hears of its own changes in the
// catch-up, and pushing them again changes nothing.
func TestALostAcknowledgementLosesAndDoublesNothing(t *testing.T) {
	s := newShed(t, nil)
	p, _ := call(t, s, nil)
	change := p.records("b1", "North")
	p.push(change...)
	s.Commit() // and the line breaks
	w := p.again(s, nil)
	if want := syncproto.ChainStart(w.Farm, p.Incarnation).Then(change[0].Canonical()); w.Seq != 1 || w.Hash != want.String() || w.Arrival != 1 {
		t.Errorf("welcome %+v", w)
	}
	n := hears[news](p)
	if len(n.Changes) != 1 || n.Changes[0].Identity() != change[0].Identity() || n.Orders[0] != change[0].Stamp {
		t.Errorf("the catch-up brought %+v", n)
	}
	p.push(change...)
	s.Commit()
	if ack := hears[syncproto.Ack](p); ack.Seq != 1 {
		t.Errorf("pushed again: %+v", ack)
	}
	p.silent()
	if n := s.farm.Newest(); n != 1 {
		t.Errorf("the log holds %d changes, want 1", n)
	}
}

func TestACursorThatHoldsGoesOnFromThere(t *testing.T) {
	dir := t.TempDir()
	s := openShed(t, dir, nil)
	writer, w := call(t, s, nil)
	first, second := writer.records("b1", "North"), writer.records("b2", "South")
	writer.push(slices.Concat(first, second)...)
	s.Commit()
	after := changelog.Place{Life: s.farm.Life(), Last: first[0].Identity()}.String()
	tests := []struct {
		name   string
		cursor *syncproto.Cursor
		resume bool
		bring  int
	}{
		{"fresh", nil, false, 2},
		{"after the first", &syncproto.Cursor{Epoch: w.Epoch, Scopes: w.Scopes, Arrival: 1, Last: after}, true, 1},
		{"of another epoch", &syncproto.Cursor{Epoch: "x", Scopes: w.Scopes, Arrival: 1, Last: after}, false, 2},
		{"of other scopes", &syncproto.Cursor{Epoch: w.Epoch, Scopes: w.Scopes[:1], Arrival: 1, Last: after}, false, 2},
	}
	// From what is recent, and by a server that has only the log.
	for i, s := range []*shed{s, {Server: live.New(s.Config), farm: s.farm}} {
		for _, tt := range tests {
			t.Run(fmt.Sprint(tt.name, " ", i), func(t *testing.T) {
				p := &caller{client: newClient(), t: t, member: everything}
				p.cursor = tt.cursor
				if w := p.again(s, nil); w.Resume != tt.resume || w.Arrival != 2 {
					t.Errorf("welcome %+v", w)
				}
				if n := hears[news](p); len(n.Changes) != tt.bring || n.Arrival != 2 || n.Newest != 2 || n.last() != second[0].Identity() {
					t.Errorf("news %+v, want %d changes", n, tt.bring)
				}
				p.silent()
			})
		}
	}
}

// What a phone reads first comes linked: a name travels once, over all messages.
func TestTheLogIsReadInLinkedBatches(t *testing.T) {
	s := newShed(t, nil)
	writer, _ := call(t, s, nil)
	const changes = 5_000
	for seq := 0; seq < changes; seq += 1_000 {
		facts := make([]changelog.Fact, 1_000)
		for i := range facts {
			facts[i] = fact(fmt.Sprint("bed ", seq+i), "North")
		}
		writer.push(writer.operation(facts...)...)
	}
	s.Commit()
	late := &shed{Server: live.New(s.Config), farm: s.farm}
	reader, _ := call(t, late, nil)
	var modes []byte
	for told := 0; told < changes; {
		n := hears[news](reader)
		told += len(n.Changes)
		for _, b := range n.Batches {
			modes = append(modes, b[0])
		}
	}
	if len(modes) < 3 || modes[0] != 1 || slices.ContainsFunc(modes[1:], func(m byte) bool { return m != 0 }) {
		t.Errorf("batches of modes %v, want the first anew and the others linked to it", modes)
	}
	reader.silent()
	late.Commit()
}

func TestFramesFromInsideAreToldToPhones(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.connect(s)
	inside := newClient()
	var frames []*changelog.Frame
	for _, name := range []string{"North", "South"} {
		f, err := changelog.NewFrame(inside.Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: inside.records("b-"+name, name)})
		if err != nil {
			t.Fatal(err)
		}
		frames = append(frames, f)
	}
	results, err := s.Take(t.Context(), frames)
	if err != nil || len(results) != 2 || results[0].Ack.Seq > results[1].Ack.Seq || results[1].Ack.Seq != 2 {
		t.Fatalf("results %+v (%v)", results, err)
	}
	for told := 0; told < 2; {
		told += len(read[news](p).Changes)
	}
	gap := *frames[1].Skip(0)
	gap.Incarnation = "0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c"
	if results, err := s.Take(t.Context(), []*changelog.Frame{&gap}); err != nil || results[0].Breach == nil {
		t.Errorf("a gap was taken: %+v (%v)", results, err)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	waiting := newShed(t, nil)
	if _, err := waiting.Take(ended, frames); err == nil {
		t.Error("frames were taken by a server that does not run")
	}
	s.stop()
	if _, err := s.Take(t.Context(), frames); err == nil || !strings.Contains(err.Error(), "stopping") {
		t.Errorf("frames were taken by a server that has stopped: %v", err)
	}
}
