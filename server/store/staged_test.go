package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// large makes an operation that is larger than a frame.
func (p *phone) large(changes int, bed string) []syncproto.Change {
	facts := make([]changelog.Fact, changes)
	for i := range facts {
		facts[i] = name(fmt.Sprint(bed, i), "North")
	}
	return p.says(facts...)
}

// inParts cuts an operation into parts of a frame each.
func inParts(t *testing.T, operation []syncproto.Change, each int) (parts []*changelog.Frame) {
	t.Helper()
	for part := range slices.Chunk(operation, each) {
		parts = append(parts, frame(t, part...))
	}
	return parts
}

func wantStaged(t *testing.T, s *Store, r changelog.Result, seq, staged int64) {
	t.Helper()
	if r.Breach != nil || r.Ack.Seq != seq || r.Ack.Staged != staged {
		t.Fatalf("the answer was %+v, want seq %d and %d put aside", r, seq, staged)
	}
}

// chainAfter is the chain value after the last of some changes from the first on.
func chainAfter(s *Store, changes []syncproto.Change) syncproto.Hash {
	h := syncproto.ChainStart(s.Farm(), changes[0].Incarnation)
	for _, c := range changes {
		h = h.Then(c.Canonical())
	}
	return h
}

func TestALargeOperationIsCommittedWithItsLastPart(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	p := newPhone()
	before := p.says(name("b0", "Before"))
	operation := p.large(4500, "b")
	after := p.says(name("b1", "After"))
	settle(t, s, before...)
	parts := inParts(t, operation, syncproto.MaxFrameChanges)
	wantStaged(t, s, push(t, s, parts[0])[0], 1, 2001)
	standing := known(t, s, p.Incarnation, 0)
	if standing.Seq != 1 || standing.Staged != 2001 || standing.StagedHash != chainAfter(s, slices.Concat(before, operation[:2000])) {
		t.Errorf("standing %+v", standing)
	}
	if s.Newest() != 1 {
		t.Errorf("newest is %d before the operation is whole", s.Newest())
	}
	verify(t, s)

	closeStore(t, s) // it goes on after a restart
	s = open(t, dir)
	results := push(t, s, parts[1], parts[2], frame(t, after...))
	wantStaged(t, s, results[0], 1, 4001)
	wantStaged(t, s, results[1], 4501, 0)
	wantStaged(t, s, results[2], 4502, 0)
	if found := verify(t, s); found.Changes != 4502 {
		t.Errorf("the log holds %d changes, want 4502", found.Changes)
	}
	standing = known(t, s, p.Incarnation, 4502)
	if standing.Staged != 0 || standing.Hash != chainAfter(s, slices.Concat(before, operation, after)) {
		t.Errorf("standing %+v", standing)
	}
	for i, last := range []int64{2001, 4001, 4501} { // an acknowledgement was lost
		wantStaged(t, s, push(t, s, parts[i])[0], last, 0)
	}
	if n := len(segments(t, s)); s.Newest() != 4502 || n < 3 {
		t.Errorf("newest %d in %d segments", s.Newest(), n)
	}
}

func TestALargeOperationIsRefusedTogether(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	operation := p.large(3000, "b")
	operation[2999].Value = syncproto.Int(1) // no name
	parts := inParts(t, operation, syncproto.MaxFrameChanges)
	push(t, s, parts[0])
	r := push(t, s, parts[1])[0]
	wantStaged(t, s, r, 3000, 0)
	if len(r.Ack.Refused) != 3000 || r.Ack.Refused[2999].Code != syncproto.CodeValue || r.Ack.Refused[0].Code != syncproto.CodeTogether {
		t.Errorf("%d changes were refused, want all", len(r.Ack.Refused))
	}
	if found := verify(t, s); found.Changes != 0 {
		t.Errorf("the log holds %d changes", found.Changes)
	}
}

// Two copies of a phone send the same operation at once. The one that is behind would never hear what
// became of the parts before its last, so it has to ask.
func TestACopyThatIsBehindInALargeOperationIsNotToldAPartOfWhatBecameOfIt(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	operation := p.large(3000, "b")
	operation[2999].Value = syncproto.Int(1) // no name: all are refused
	first, second := &changelog.Conversation{}, &changelog.Conversation{}
	says := func(talk *changelog.Conversation, changes []syncproto.Change) changelog.Result {
		f := frame(t, changes...)
		f.Conversation = talk
		return push(t, s, f)[0]
	}
	wantStaged(t, s, says(first, operation[:2000]), 0, 2000)
	wantStaged(t, s, says(second, operation[:2000]), 0, 2000)
	wantStaged(t, s, says(first, operation[2000:]), 3000, 0)
	if r := says(second, operation[2000:]); r.Breach == nil || r.Breach.Code != syncproto.CodeGap {
		t.Errorf("the copy was told %+v (%v), want a gap", r.Ack, r.Breach)
	}
	if told := known(t, s, p.Incarnation, 0); len(told.Refused) != 3000 {
		t.Errorf("asking, it was told of %d, want all", len(told.Refused))
	}
	// Sent again from its beginning, each part is told of itself.
	third := &changelog.Conversation{}
	for _, part := range [][]syncproto.Change{operation[:2000], operation[2000:]} {
		if r := says(third, part); r.Breach != nil || len(r.Ack.Refused) != len(part) {
			t.Errorf("sent again, %d of %d were told (%v)", len(r.Ack.Refused), len(part), r.Breach)
		}
	}
}

// A copy of the phone put an operation of its own in the place of the parts: the next welcome tells so.
func TestAPartWhoseBeginningACopyHasReplacedIsToBeSentFromTheBeginning(t *testing.T) {
	s, p := open(t, t.TempDir()), newPhone()
	copied := *p
	copied.wall++
	conversation := &changelog.Conversation{}
	var parts []*changelog.Frame
	for _, part := range inParts(t, p.large(4000, "b"), 2000) {
		part.Conversation = conversation
		parts = append(parts, part)
	}
	push(t, s, parts[0])
	push(t, s, inParts(t, copied.large(4000, "c"), 2000)[0])
	if r := push(t, s, parts[1])[0]; r.Breach == nil || r.Breach.Code != syncproto.CodeGap {
		t.Errorf("the answer was %+v, want gap", r)
	}
	verify(t, s)
}

func TestALargeOperationKeepsTheOrdersThatItHad(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	operation := p.large(2500, "b")
	old := syncproto.Stamp{L: noon.UnixMilli() - 86_400_000, C: 3}
	for part := range slices.Chunk(operation, 2000) {
		f, err := changelog.NewFrame(p.Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: part, Orders: slices.Repeat([]syncproto.Stamp{old}, len(part))})
		if err != nil {
			t.Fatal(err)
		}
		push(t, s, f)
	}
	standing := known(t, s, p.Incarnation, 0)
	if len(standing.Orders) != 2500 || standing.Orders[2499].Order != old {
		t.Errorf("%d orders are told, want all to be %v", len(standing.Orders), old)
	}
}

func TestPartsThatComeAgain(t *testing.T) {
	p := newPhone()
	operation := p.large(6000, "b")
	parts := inParts(t, operation, 2000)
	odd := func(from, to int) *changelog.Frame { return frame(t, operation[from:to]...) }
	next := frame(t, p.says(name("b0", "Next"))...)
	twisted := slices.Clone(operation[2000:4000])
	twisted[7].Value = syncproto.Text("Other")
	clone := newPhone()
	clone.Incarnation = p.Incarnation
	other := frame(t, clone.says(name("b9", "Other"))...)
	skipping := slices.Clone(operation[4000:6000])
	tests := []struct {
		name   string
		frames []*changelog.Frame
		code   syncproto.Code // of the last
		seq    int64
		staged int64
	}{
		{"the first again drops what was put aside", []*changelog.Frame{parts[0], parts[1], parts[0]}, "", 0, 2000},
		{"and the rest goes on from there", []*changelog.Frame{parts[0], parts[1], parts[0], parts[1], parts[2]}, "", 6000, 0},
		{"a later one again", []*changelog.Frame{parts[0], parts[1], parts[1]}, "", 0, 4000},
		{"cut otherwise", []*changelog.Frame{parts[0], odd(1000, 3000), odd(2500, 4500), odd(4000, 6000)}, "", 6000, 0},
		{"with other contents", []*changelog.Frame{parts[0], parts[1], frame(t, twisted...)}, syncproto.CodeReused, 0, 4000},
		{"one is missing", []*changelog.Frame{parts[0], frame(t, skipping...)}, syncproto.CodeGap, 0, 2000},
		{"what follows comes before the last", []*changelog.Frame{parts[0], next}, syncproto.CodeGap, 0, 2000},
		{"another operation takes its place", []*changelog.Frame{parts[0], other}, "", 1, 0},
		{"then the first part is of another past", []*changelog.Frame{parts[0], other, parts[0]}, syncproto.CodeReused, 1, 0},
		{"all again after it was settled", []*changelog.Frame{parts[0], parts[1], parts[2], next, parts[1], parts[2]}, "", 6001, 0},
	}
	for _, tt := range tests {
		for _, together := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s, together: %v", tt.name, together), func(t *testing.T) {
				s := open(t, t.TempDir())
				var results []changelog.Result
				if together {
					results = push(t, s, tt.frames...)
				} else {
					for _, f := range tt.frames {
						results = append(results, push(t, s, f)...)
					}
				}
				last := results[len(results)-1]
				if tt.code == "" && last.Breach != nil || tt.code != "" && (last.Breach == nil || last.Breach.Code != tt.code) {
					t.Errorf("the last frame got %+v, want %q", last, tt.code)
				}
				standing := known(t, s, p.Incarnation, tt.seq)
				if standing.Seq != tt.seq || standing.Staged != tt.staged {
					t.Errorf("seq %d, put aside %d, want %d and %d", standing.Seq, standing.Staged, tt.seq, tt.staged)
				}
				if tt.staged > 0 && standing.StagedHash != chainAfter(s, operation[:tt.staged]) {
					t.Error("the chain value of what is put aside is not that of its changes")
				}
				verify(t, s)
			})
		}
	}
}

func TestPartsThatDoNotGoOnWithTheOperationAreRefused(t *testing.T) {
	tests := []struct {
		name   string
		change func(p *phone, operation []syncproto.Change) []syncproto.Change // the last part
	}{
		{"another count of what follows", func(_ *phone, operation []syncproto.Change) []syncproto.Change {
			for i := range operation {
				operation[i].Rest += 5
			}
			return operation[2000:3500]
		}},
		{"another stamp", func(_ *phone, operation []syncproto.Change) []syncproto.Change {
			for i := range operation {
				operation[i].Stamp = operation[i].Stamp.Next()
			}
			return operation[2000:]
		}},
		{"others come with the last part", func(p *phone, operation []syncproto.Change) []syncproto.Change {
			return slices.Concat(operation[3000:], p.says(name("b0", "Next")))
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := open(t, t.TempDir())
			p := newPhone()
			operation := p.large(4000, "b")
			push(t, s, frame(t, operation[:2000]...))
			last := tt.change(p, operation)
			if last[0].Seq > 2001 {
				push(t, s, frame(t, operation[2000:3000]...))
			}
			if r := push(t, s, frame(t, last...))[0]; r.Breach == nil || r.Breach.Code != syncproto.CodeSplit {
				t.Errorf("the answer was %+v, want split", r)
			}
			verify(t, s)
		})
	}
}

func TestAnOperationOfTooManyBytesIsRefused(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	facts := make([]changelog.Fact, 2200)
	for i := range facts {
		facts[i] = set("note", "text", syncproto.Text(fmt.Sprintf("%08000d", i)))
	}
	var refused *syncproto.Breach
	for _, part := range inParts(t, p.says(facts...), 400) {
		if r := push(t, s, part)[0]; r.Breach != nil {
			refused = r.Breach
			break
		}
	}
	if refused == nil || refused.Code != syncproto.CodeTooLarge {
		t.Errorf("the answer was %v, want too_large", refused)
	}
	verify(t, s)
}

// A commit that fails leaves what was put aside as it was.
func TestAFailureAtTheLastPartLosesNothing(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	parts := inParts(t, p.large(4000, "b"), 2000)
	push(t, s, parts[0])
	verify(t, s)
	if _, err := s.writer.Exec("CREATE TRIGGER failing BEFORE DELETE ON staged BEGIN SELECT RAISE(ABORT, 'no'); END"); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Append(context.Background(), []*changelog.Frame{parts[1]}); err == nil || errors.Is(err, context.Canceled) {
		t.Errorf("the error is %v", err)
	}
	if standing := known(t, s, p.Incarnation, 0); standing.Seq != 0 || standing.Staged != 2000 || s.Newest() != 0 {
		t.Errorf("standing %+v, newest %d", standing, s.Newest())
	}
	if _, err := s.writer.Exec("DROP TRIGGER failing"); err != nil {
		t.Fatal(err)
	}
	wantStaged(t, s, push(t, s, parts[1])[0], 4000, 0)
	verify(t, s)
}
