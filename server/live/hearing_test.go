package live_test

import (
	"context"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/server/store"
	"corymb/syncproto"
)

// The phones of the fuzzed conversations. The first has three changes in the farm already.
const knownPhone, freshPhone = "0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c", "5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6"

// FuzzHearing lets a conversation hear whatever bytes come: it answers or refuses, and what it
// acknowledges is in the log. The input is a run of messages, see splitMessages.
func FuzzHearing(f *testing.F) {
	template := f.TempDir()
	withHistory(f, template)
	for _, seed := range hearingSeeds() {
		f.Add(joinMessages(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s := openShed(t, copyOf(t, template), fixNames)
		other, _ := call(t, s, nil)
		talk := s.Begin(everything)
		messages := splitMessages(data)
		said := converse(s, talk, messages)
		acks := checkSaid(t, talk, said)
		checkStored(t, s, messages, acks, toldTo(t, other))
	})
}

// The seeds are worth something only while they get as far as they are meant to.
func TestTheSeedsOfTheFuzzTargetAreConversations(t *testing.T) {
	template := t.TempDir()
	withHistory(t, template)
	want := []string{
		"welcome at 0, news of 3, ack 1+0, news of 0, ack 4+0, pong, news of 0",
		"welcome at 0, news of 3, ack 1+0, news of 0, reused",
		"welcome at 3, ack 3+0, ack 4+0, news of 0",
		"welcome at 0, news of 3, ack 0+1500, ack 2500+0, news of 0",
		"welcome at 0, ack 1+0, malformed",
		"version", "malformed",
		"welcome at 0, news of 3, malformed", "welcome at 0, news of 3, malformed", "welcome at 0, news of 3, malformed",
	}
	for i, seed := range hearingSeeds() {
		s := openShed(t, copyOf(t, template), fixNames)
		reader := newClient()
		reader.hello()
		var got []string
		for _, m := range converse(s, s.Begin(everything), splitMessages(joinMessages(seed))) {
			said, err := reader.read(m)
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, summary(said))
		}
		if got := strings.Join(slices.Compact(got), ", "); got != want[i] {
			t.Errorf("seed %d is answered %q, want %q", i, got, want[i])
		}
	}
}

func summary(said any) string {
	switch m := said.(type) {
	case syncproto.Welcome:
		return fmt.Sprint("welcome at ", m.Seq)
	case syncproto.Ack:
		return fmt.Sprint("ack ", m.Seq, "+", m.Staged)
	case news:
		return fmt.Sprint("news of ", len(m.Changes))
	case syncproto.Refuse:
		return string(m.Code)
	default:
		return "pong"
	}
}

// converse lets a conversation hear messages, some of which share a commit, and returns all it says.
func converse(s *shed, talk *live.Talk, messages []live.Message) []live.Message {
	var said []live.Message
	for i, m := range messages {
		talk.Hear(m)
		if i%2 == 1 {
			s.Commit()
		}
		if i == 0 || i%3 == 1 { // a phone awaits the welcome before it pushes
			said = append(said, allSaid(talk)...)
		}
	}
	for s.Commit() {
	}
	return append(said, allSaid(talk)...)
}

func allSaid(talk *live.Talk) []live.Message {
	var said []live.Message
	for m, ok := talk.Say(); ok; m, ok = talk.Say() {
		said = append(said, m)
	}
	return said
}

// checkSaid reads what was said as a phone would and returns the acknowledgements.
func checkSaid(t *testing.T, talk *live.Talk, said []live.Message) []syncproto.Ack {
	t.Helper()
	reader := newClient()
	reader.hello()
	var acks []syncproto.Ack
	for i, m := range said {
		got, err := reader.read(m)
		if err != nil {
			t.Fatalf("message %d cannot be read: %v", i, err)
		}
		_, welcome := got.(syncproto.Welcome)
		_, refuse := got.(syncproto.Refuse)
		if ack, ok := got.(syncproto.Ack); ok {
			acks = append(acks, ack)
		}
		if i == 0 && !welcome && !refuse || i > 0 && welcome {
			t.Fatalf("message %d is a %T", i, got)
		}
		if refuse != (talk.Over() && i == len(said)-1) {
			t.Fatalf("message %d of %d is a %T; over: %v", i, len(said), got, talk.Over())
		}
	}
	return acks
}

// toldTo is what another phone was told: the canonical bytes of each change.
func toldTo(t *testing.T, other *caller) map[syncproto.Identity]string {
	t.Helper()
	told := map[syncproto.Identity]string{}
	for _, m := range allSaid(other.talk) {
		got, err := other.client.read(m)
		if err != nil {
			t.Fatalf("another phone was told what cannot be read: %v", err)
		}
		for _, c := range got.(news).Changes {
			told[c.Identity()] = string(c.Canonical())
		}
	}
	return told
}

// checkStored fails if something was acknowledged as kept of which nobody else is told as it was
// pushed, unless something else has come to stand in its slot.
func checkStored(t *testing.T, s *shed, messages []live.Message, acks []syncproto.Ack, told map[syncproto.Identity]string) {
	t.Helper()
	state, _, err := s.farm.State(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	kept := keptBy(acks)
	for id, versions := range pushedIn(messages) {
		incarnation, seq, err := id.Split()
		if err != nil || !kept.has(seq) || incarnation == knownPhone && seq <= 3 {
			continue
		}
		if !slices.ContainsFunc(versions, func(c syncproto.Change) bool {
			return told[id] == string(c.Canonical()) || told[id] == "" && isPassed(state, c, kept.orderOf(c))
		}) {
			t.Fatalf("%s was acknowledged, but another phone was told %q of it, not one of %v", id, told[id], versions)
		}
	}
}

// isPassed tells whether the change makes no difference to a state.
func isPassed(state *changelog.State, c syncproto.Change, order syncproto.Stamp) bool {
	before := string(state.Dump())
	state.Merge(c, order)
	return string(state.Dump()) == before
}

// kept is what acknowledgements say of changes.
type kept struct {
	settled   int64
	otherwise map[int64]bool // refused, or held under another identity
	orders    map[int64]syncproto.Stamp
}

func keptBy(acks []syncproto.Ack) kept {
	k := kept{otherwise: map[int64]bool{}, orders: map[int64]syncproto.Stamp{}}
	for _, ack := range acks {
		k.settled = max(k.settled, ack.Seq)
		for _, r := range ack.Refused {
			k.otherwise[r.Seq] = true
		}
		for _, seq := range ack.Held {
			k.otherwise[seq] = true
		}
		for _, o := range ack.Orders {
			k.orders[o.Seq] = o.Order
		}
	}
	return k
}

func (k kept) has(seq int64) bool { return seq <= k.settled && !k.otherwise[seq] }

func (k kept) orderOf(c syncproto.Change) syncproto.Stamp {
	if order, ok := k.orders[c.Seq]; ok {
		return order
	}
	return c.Stamp
}

// pushedIn reads the pushes up to the first message that ends the conversation. An operation whose
// parts were put aside may be pushed again with other contents.
func pushedIn(messages []live.Message) map[syncproto.Identity][]syncproto.Change {
	pushed := map[syncproto.Identity][]syncproto.Change{}
	u := syncproto.NewUnpacker()
	for _, m := range messages {
		if !m.Binary {
			continue
		}
		b, err := syncproto.ReadPush(m.Data, u)
		if err != nil {
			break
		}
		for _, c := range b.Changes {
			pushed[c.Identity()] = append(pushed[c.Identity()], c)
		}
	}
	return pushed
}

// fixNames gives farm, epoch and life the same names in every run, so that the same bytes mean the same.
func fixNames(c *live.Config) { c.Log = named{c.Log} }

const farmID, epoch, life = "c0ffee00-1111-4222-8333-444455556666", "e1", "l1"

type named struct{ live.Log }

func (named) Farm() string  { return farmID }
func (named) Epoch() string { return epoch }
func (named) Life() string  { return life }

func (n named) Standing(ctx context.Context, asked changelog.Asked) (changelog.Standing, error) {
	if asked.Cursor != nil && asked.Cursor.Epoch == epoch {
		cursor := *asked.Cursor
		cursor.Epoch = n.Log.Epoch()
		if last, ok := strings.CutSuffix(cursor.Last, "/"+life); ok {
			cursor.Last = last + "/" + n.Log.Life()
		}
		asked.Cursor = &cursor
	}
	return n.Log.Standing(ctx, asked)
}

// withHistory makes a farm with a few changes in a folder.
func withHistory(t testing.TB, dir string) {
	t.Helper()
	farm, err := store.Open(dir, func() time.Time { return noon })
	if err != nil {
		t.Fatal(err)
	}
	known := newClient()
	known.Incarnation = knownPhone
	frame, err := changelog.NewFrame(knownPhone, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: known.history()})
	if err == nil {
		_, err = farm.Append(t.Context(), []*changelog.Frame{frame})
	}
	if err == nil {
		err = farm.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
}

func (c *client) history() []syncproto.Change {
	return append(c.records("b1", "North"), c.operation(fact("b2", "South"), fact("b3", "West"))...)
}

func copyOf(t *testing.T, dir string) string {
	t.Helper()
	to := t.TempDir()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err == nil {
			err = os.WriteFile(filepath.Join(to, e.Name()), data, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return to
}

// splitMessages reads messages from fuzzed bytes: a byte, 1 for binary, two with the length, and so on.
func splitMessages(data []byte) []live.Message {
	var messages []live.Message
	for len(data) >= 3 && len(messages) < 20 {
		n := min(int(binary.LittleEndian.Uint16(data[1:])), len(data)-3)
		messages = append(messages, live.Message{Binary: data[0]&1 == 1, Data: data[3 : 3+n]})
		data = data[3+n:]
	}
	return messages
}

func joinMessages(messages []live.Message) []byte {
	var data []byte
	for _, m := range messages {
		kind := byte(0)
		if m.Binary {
			kind = 1
		}
		data = append(data, kind)
		data = binary.LittleEndian.AppendUint16(data, uint16(len(m.Data)))
		data = append(data, m.Data...)
	}
	return data
}

// hearingSeeds are conversations as phones hold them, and some that break off.
func hearingSeeds() [][]live.Message {
	words := func(s string) live.Message { return live.Message{Data: []byte(s)} }
	begin := func(incarnation string, change func(*syncproto.Hello)) (*client, live.Message) {
		c := newClient()
		c.Incarnation = incarnation
		hello := c.hello()
		hello.Device = freshPhone
		if change != nil {
			change(&hello)
		}
		return &c, textMessage(hello)
	}
	fresh, hello := begin(freshPhone, nil)
	walk := []live.Message{hello, fresh.frame(fresh.records("b1", "East")...), words(`{"t":"ping"}`),
		fresh.frame(append(fresh.records("b4", "Centre"), fresh.operation(fact("b5", "1"), fact("b6", "2"))...)...)}
	clone, again := begin(freshPhone, nil)
	reused := []live.Message{again, clone.frame(clone.records("b1", "East")...)}
	clone.Seq = 0
	reused = append(reused, clone.frame(clone.records("b1", "West")...))
	known, back := begin(knownPhone, func(h *syncproto.Hello) {
		h.Settled, h.Unsent, h.Farm = 3, 1, farmID
		h.Cursor = &syncproto.Cursor{Epoch: epoch, Scopes: syncproto.Scopes, Arrival: 3, Last: knownPhone + ":3/" + life}
	})
	resumed := []live.Message{back, known.frame(known.history()...), known.frame(known.records("b2", "Again")...)}
	large, start := begin(freshPhone, nil)
	facts := make([]changelog.Fact, 2_500)
	for i := range facts {
		facts[i] = fact("b1", "North")
	}
	parts := large.operation(facts...)
	staged := []live.Message{start, large.frame(parts[:1_500]...), large.frame(parts[1_500:]...)}
	future, late := begin(freshPhone, func(h *syncproto.Hello) { h.News, h.Versions = false, []int{1, 2} })
	ahead := future.operation(changelog.Fact{
		Scope: syncproto.ScopeMoney, Op: syncproto.OpCorrect, Type: "visit", ID: freshPhone, Field: "extra|0|0", Value: syncproto.Int(-2),
		Extra: map[string]syncproto.Value{"saw": syncproto.Int(5), "after": {Kind: syncproto.KindList, List: []string{knownPhone + ":2"}}},
	})
	ahead[0].Stamp.L += 10_000_000_000
	return [][]live.Message{
		walk, reused, resumed, staged, {late, future.frame(ahead...), words(`{"t":"pull"}`), words("?")},
		{words(`{"t":"hello","versions":[2]}`)}, {words(`{"t":"ping"}`)}, {hello, hello},
		{hello, {Binary: true, Data: []byte{syncproto.KindNews, 0, 0, 0, 0}}}, {hello, words(strings.Repeat("[", 500))},
	}
}
