package changelog_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"corymb/internal/changelog"
	"corymb/server/store"
	"corymb/syncproto"
)

// shed is a real store whose clock can be moved.
type shed struct {
	*store.Store
	t     *testing.T
	clock time.Time
}

func openShed(t *testing.T) *shed {
	t.Helper()
	s := &shed{t: t, clock: time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)}
	opened, err := store.Open(t.TempDir(), func() time.Time { return s.clock })
	if err != nil {
		t.Fatal(err)
	}
	s.Store = opened
	t.Cleanup(func() {
		if err := opened.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

func (s *shed) intake() changelog.Intake {
	return changelog.Intake{Standing: s.Standing, Append: s.Append, Rights: changelog.Within(syncproto.Scopes)}
}

// hears lets a phone push changes of one incarnation, and returns what the shed said of them all.
func (s *shed) hears(changes []syncproto.Change) syncproto.Ack {
	s.t.Helper()
	var all syncproto.Ack
	for _, part := range changelog.InFrames(changes) {
		frame, err := changelog.NewFrame(part[0].Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: part})
		if err != nil {
			s.t.Fatal(err)
		}
		results, err := s.Append(context.Background(), []*changelog.Frame{frame})
		if err != nil || results[0].Breach != nil {
			s.t.Fatalf("a phone's push: %v, %v", err, results)
		}
		ack := results[0].Ack
		all.Seq, all.Held, all.Refused = ack.Seq, append(all.Held, ack.Held...), append(all.Refused, ack.Refused...)
	}
	return all
}

// saved is a phone's log from a seq on as the phone saves it to a file, and the operations that the
// shed refused before.
func (s *shed) saved(log []syncproto.Change, from int64, refused []syncproto.Change) changelog.Unsent {
	s.t.Helper()
	before := syncproto.ChainStart(s.Farm(), unsentPhone)
	for _, c := range log[:from-1] {
		before = before.Then(c.Canonical())
	}
	file := savedFile{form: 1, farm: s.Farm(), before: before, pending: log[from-1:], refused: refused}
	u, err := changelog.ReadUnsent(s.Farm(), []byte(strings.Join(file.lines(), "\n")+"\n"))
	if err != nil {
		s.t.Fatal(err)
	}
	return u
}

func (s *shed) takesIn(u changelog.Unsent, kept, already int, refused ...syncproto.Refusal) {
	s.t.Helper()
	before := s.Newest()
	taken, err := s.intake().TakeIn(context.Background(), u)
	if err != nil {
		s.t.Fatal(err)
	}
	if taken.Kept != kept || taken.Already != already || !slices.Equal(taken.Refused, append([]syncproto.Refusal{}, refused...)) {
		s.t.Errorf("took in %+v, want %d kept, %d already, refused %v", taken, kept, already, refused)
	}
	if grown := s.Newest() - before; grown != int64(kept) {
		s.t.Errorf("the log grew by %d, want %d", grown, kept)
	}
}

// comesTo checks the total of each visit's first cell.
func (s *shed) comesTo(totals map[string]int64) {
	s.t.Helper()
	state, _, err := s.State(context.Background())
	if err != nil {
		s.t.Fatal(err)
	}
	for visit, want := range totals {
		entity := state.Entity("visit", visit)
		if entity == nil {
			s.t.Errorf("visit %s is not there", visit)
		} else if got := entity.Count("|0|1").Total; got != want {
			s.t.Errorf("visit %s comes to %d, want %d", visit, got, want)
		}
	}
}

// phoneLog has operations of the seqs 1, 2 to 3, 4 to 5 and 6.
func phoneLog() []syncproto.Change {
	return slices.Concat(operation(unsentPhone, 1, 10, 1), operation(unsentPhone, 2, 20, 2, 0),
		operation(unsentPhone, 4, 40, 4, 0), operation(unsentPhone, 6, 60, 6))
}

var phoneTotals = map[string]int64{"v10": 1, "v20": 2, "v40": 4, "v60": 6}

func TestAFileIsTakenInAsThePhoneWouldHaveSentIt(t *testing.T) {
	tests := []struct {
		name          string
		known         int // changes that the shed has settled
		kept, already int
	}{
		{"all of it", 3, 3, 0},
		{"what overlaps is there already", 5, 1, 2},
		{"the phone sent it itself since", 6, 0, 3},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, log := openShed(t), phoneLog()
			s.hears(log[:tt.known])
			u := s.saved(log, 4, nil)
			s.takesIn(u, tt.kept, tt.already)
			s.takesIn(u, 0, 3) // read again
			s.comesTo(phoneTotals)
			standing, err := s.Standing(context.Background(), changelog.Asked{Incarnation: unsentPhone})
			if err != nil || standing.Seq != 6 || standing.Hash.String() != chainOf(s.Farm(), log).String() {
				t.Errorf("the phone finds %+v (error %v), not all of its changes settled", standing, err)
			}
			s.takesIn(s.saved(log, 7, nil), 0, 0)
		})
	}
}

func chainOf(farm string, log []syncproto.Change) syncproto.Hash {
	hash := syncproto.ChainStart(farm, unsentPhone)
	for _, c := range log {
		hash = hash.Then(c.Canonical())
	}
	return hash
}

func TestAFileWhosePastIsNotTheShedsIsSaidAgain(t *testing.T) {
	clone := func(n int) []syncproto.Change { // another copy of the phone went on differently
		return slices.Concat(phoneLog()[:n], operation(unsentPhone, int64(n)+1, 70, 7), operation(unsentPhone, int64(n)+2, 80, 8),
			operation(unsentPhone, int64(n)+3, 90, 9), operation(unsentPhone, int64(n)+4, 100, 10))
	}
	tests := []struct {
		name          string
		known         []syncproto.Change
		kept, already int
		lost          int // changes between what the shed knows and what is in the file
	}{
		{"a clone used all its seqs", clone(3), 3, 0, 0},
		{"a clone used some of its seqs", clone(3)[:4], 3, 0, 0},
		{"a clone sent some of it and went on differently", clone(5), 1, 2, 0},
		{"a clone has another past", clone(1)[:3], 3, 0, 2},
		{"the shed was restored and lacks what came before", phoneLog()[:1], 3, 0, 2},
		{"the shed never heard of the phone", nil, 3, 0, 3},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, log := openShed(t), phoneLog()
			if tt.known != nil {
				s.hears(tt.known)
			}
			u := s.saved(log, 4, nil)
			s.takesIn(u, tt.kept, tt.already)
			s.takesIn(u, 0, 3) // read again
			s.takesIn(s.saved(log, 6, nil), 0, 1)
			s.comesTo(map[string]int64{"v40": 4, "v60": 6})

			// The phone finds its past unproven, and says everything again.
			const next = "aaaaaaaa-0000-4000-8000-000000000003"
			again := slices.Clone(log[3:])
			for i := range again {
				again[i].Extra = map[string]syncproto.Value{syncproto.ExtraFormer: syncproto.Text(string(again[i].Identity()))}
				again[i].Incarnation, again[i].Seq = next, int64(i)+1
			}
			if ack := s.hears(again); !slices.Equal(ack.Held, []int64{1, 2, 3}) {
				t.Errorf("of what the phone says again only %v are held", ack.Held)
			}
			s.comesTo(map[string]int64{"v40": 4, "v60": 6})
		})
	}
}

func TestWhatAPhoneSendsItselfAfterItsFileWasSaidAgainDoesNotDouble(t *testing.T) {
	s, log := openShed(t), phoneLog()
	s.hears(log[:1]) // a shed that was restored, and lacks what came between
	s.takesIn(s.saved(log, 4, nil), 3, 0)
	s.hears(log)
	s.comesTo(phoneTotals)
}

func TestWhatWasSaidAgainBeforeNamesTheIdentityThatItHadFirst(t *testing.T) {
	s, first := openShed(t), operation(formerPhone, 1, 10, 1)
	s.hears(first)
	again := operation(unsentPhone, 1, 10, 1)
	again[0].Extra = map[string]syncproto.Value{syncproto.ExtraFormer: syncproto.Text(string(first[0].Identity()))}
	log := append(again, operation(unsentPhone, 2, 20, 2)...)
	u := s.saved(log, 1, nil)
	u.Before = "of another past"
	s.takesIn(u, 1, 1)
	s.comesTo(map[string]int64{"v10": 1, "v20": 2})
}

// inAWeek is refused now, and would not be in a week.
func inAWeek(seq int64) []syncproto.Change {
	op := operation(unsentPhone, seq, 30, 3, 0)
	op[0].Op, op[0].Field, op[0].Value = syncproto.OpSet, "date", syncproto.Text("2026-06-08")
	op[1].Field, op[1].Value = "|0|1", syncproto.Int(3)
	return op
}

func TestWhatWasRefusedIsNotJudgedAgain(t *testing.T) {
	s := openShed(t)
	log := slices.Concat(operation(unsentPhone, 1, 10, 1), inAWeek(2), operation(unsentPhone, 4, 40, 4))
	told := s.hears(log[:3]).Refused
	if len(told) != 2 || told[0].Code != syncproto.CodeDate {
		t.Fatalf("refused %v", told)
	}
	s.clock = s.clock.AddDate(0, 0, 8)
	u := s.saved(log, 4, log[1:3])
	s.takesIn(u, 1, 0, told...)
	s.takesIn(u, 0, 1, told...)
}

func TestWhatWasRefusedByAShedThatForgotItIsJudgedAfresh(t *testing.T) {
	s := openShed(t)
	log := slices.Concat(operation(unsentPhone, 1, 10, 1), inAWeek(2), operation(unsentPhone, 4, 40, 4))
	s.hears(log[:1]) // restored since
	u := s.saved(log, 4, log[1:3])
	refusedAgain := []syncproto.Refusal{
		{Seq: 2, Code: syncproto.CodeDate, Text: "2026-06-08 is in the future"},
		{Seq: 3, Code: syncproto.CodeTogether, Text: "another change of the same operation was refused"},
	}
	s.takesIn(u, 1, 0, refusedAgain...)
	s.comesTo(map[string]int64{"v40": 4})

	later := openShed(t)
	later.clock = later.clock.AddDate(0, 0, 8)
	later.takesIn(later.saved(log, 4, log[1:3]), 3, 0)
	later.comesTo(map[string]int64{"v30": 3, "v40": 4})
}

func TestRefusedOperationsOfManyIncarnationsAreTakenInEach(t *testing.T) {
	s := openShed(t)
	const third = "aaaaaaaa-0000-4000-8000-000000000003"
	theirs, others := operation(formerPhone, 1, 10, 5000), operation(third, 1, 10, 6000)
	told := s.hears(theirs).Refused
	refused := slices.Concat(others, theirs) // the shed never heard of the others
	s.takesIn(s.saved(phoneLog(), 1, refused), 6, 0, append(told, syncproto.Refusal{
		Seq: 1, Code: syncproto.CodeCount, Text: "a count of 6000 is outside 0 to 999",
	})...)
}

func TestALargeOperationIsTakenInWhole(t *testing.T) {
	const n = 4_500
	for _, known := range []int{1, 0} {
		s := openShed(t)
		log := slices.Concat(operation(unsentPhone, 1, 10, 1), operation(unsentPhone, 2, 20, make([]int64, n)...), operation(unsentPhone, n+2, 30, 3))
		if known > 0 {
			s.hears(log[:known])
			s.hears(changelog.InFrames(log[known:])[0]) // a part that the phone had put aside
		}
		u := s.saved(log, 2, nil)
		s.takesIn(u, n+1, 0)
		s.takesIn(u, 0, n+1)
	}
}

func TestAShedThatCanStoreNothingSaysSo(t *testing.T) {
	s := openShed(t)
	busy := syncproto.Breachf(syncproto.CodeBusy, "not now")
	intake := s.intake()
	intake.Append = func(context.Context, []*changelog.Frame) ([]changelog.Result, error) {
		return []changelog.Result{{Breach: busy}}, nil
	}
	_, err := intake.TakeIn(context.Background(), s.saved(phoneLog(), 1, nil))
	var breach *syncproto.Breach
	if !errors.As(err, &breach) || breach != busy {
		t.Errorf("got %v, want %v", err, busy)
	}
	s.takesIn(s.saved(phoneLog(), 1, nil), 6, 0)
}
