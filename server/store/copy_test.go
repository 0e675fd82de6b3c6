package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// copied makes a copy in a folder of its own.
func copied(t *testing.T, s *Store) (dir string, c Copied) {
	t.Helper()
	dir = t.TempDir()
	c, err := s.CopyTo(context.Background(), filepath.Join(dir, FileName))
	if err != nil {
		t.Fatal(err)
	}
	return dir, c
}

// segmentsOf reads the rows of the log up to an arrival number.
func segmentsOf(t *testing.T, s *Store, upTo int64) (rows []segmentRow) {
	t.Helper()
	if err := s.view.Omit("Farm").Where("first <= ?", upTo).Order("first").Find(&rows).Error; err != nil {
		t.Fatal(err)
	}
	return rows
}

func TestACopyMadeWhileChangesComeHoldsWhatWasAcknowledgedBefore(t *testing.T) {
	s := open(t, t.TempDir())
	var writing sync.WaitGroup
	stop := make(chan struct{})
	for range 2 {
		writing.Go(func() {
			p := newPhone()
			for {
				f, err := changelog.NewFrame(p.Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: p.says(name("b1", "N"), name("b2", "S"))})
				if err == nil {
					_, err = s.Append(context.Background(), []*changelog.Frame{f})
				}
				if err != nil {
					t.Error(err)
					return
				}
				select {
				case <-stop:
					return
				default:
				}
			}
		})
	}
	for range 4 {
		for before := s.Newest(); s.Newest() < before+20; { // something is under way
			runtime.Gosched()
		}
		acknowledged := s.Newest()
		dir, c := copied(t, s)
		if c.Arrival < acknowledged || c.Farm != s.Farm() || c.Epoch != s.Epoch() || c.Life != s.Life() {
			t.Errorf("copied %+v, want farm %s in epoch %s, life %s, with %d changes at least", c, s.Farm(), s.Epoch(), s.Life(), acknowledged)
		}
		again := open(t, dir)
		if again.Newest() != c.Arrival || again.Farm() != s.Farm() {
			t.Errorf("opened, it holds %d changes of farm %s, not %d", again.Newest(), again.Farm(), c.Arrival)
		}
		same := func(a, b segmentRow) bool { return a.First == b.First && a.N == b.N && bytes.Equal(a.Batch, b.Batch) }
		if was, is := segmentsOf(t, s, c.Arrival), segmentsOf(t, again, c.Arrival); len(was) == 0 || !slices.EqualFunc(was, is, same) {
			t.Error("the log in the copy is not the log")
		}
		verify(t, again)
	}
	close(stop)
	writing.Wait()
	verify(t, s)
}

func TestAReaderThatMadeACopyCanWriteNothingAfterwards(t *testing.T) {
	s := open(t, t.TempDir())
	for range 2 * readers {
		copied(t, s)
	}
	for range 2 * readers {
		if _, err := s.reader.Exec("DELETE FROM segments"); err == nil {
			t.Fatal("a reader wrote")
		}
	}
}

// A copy lacks its mark, so the phones fill in what came after it; an empty one too.
func TestACopyIsOpenedUnderANewEpoch(t *testing.T) {
	for _, changes := range []int{0, 1} {
		s := open(t, t.TempDir())
		p := newPhone()
		for range changes {
			settle(t, s, p.says(name("b1", "North"))...)
		}
		dir, c := copied(t, s)
		again := open(t, dir)
		if !again.Restored() || again.Epoch() == c.Epoch {
			t.Errorf("with %d changes: restored %v, epoch %s after %s", changes, again.Restored(), again.Epoch(), c.Epoch)
		}
	}
}

func TestACopyHoldsWhichPhonesWereHere(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	s.Seen(changelog.Sighting{Incarnation: p.Incarnation, Device: "d1", Person: "ana", Unsent: 3})
	dir, _ := copied(t, s)
	again := open(t, dir)
	var row incarnationRow
	if err := again.view.Where("incarnation = ?", p.Incarnation).Take(&row).Error; err != nil || row.Device != "d1" || row.Unsent != 3 {
		t.Errorf("%+v (%v)", row, err)
	}
}

func TestACopyThatCannotBeMadeLeavesNoFile(t *testing.T) {
	s := open(t, t.TempDir())
	dir := t.TempDir()
	there := filepath.Join(dir, "there")
	if err := os.WriteFile(there, []byte("another's"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := s.CopyTo(context.Background(), there); !errors.Is(err, os.ErrExist) {
		t.Errorf("over a file that is there: %v", err)
	}
	if text, err := os.ReadFile(there); err != nil || string(text) != "another's" {
		t.Errorf("the file that was there is now %q (%v)", text, err)
	}
	over, cancel := context.WithCancel(context.Background())
	cancel()
	path := filepath.Join(dir, "new")
	if _, err := s.CopyTo(over, path); !errors.Is(err, context.Canceled) {
		t.Errorf("when it was called off: %v", err)
	}
	if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a file is left: %v", err)
	}
	copied(t, s) // and it can be made still
}

func TestTheLogOfALifeIsTheBeginningOfThisOne(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	p := newPhone()
	settle(t, s, p.says(name("b1", "North"))...)
	first := s.Life()
	closeStore(t, s)
	s = open(t, dir)
	settle(t, s, p.says(name("b1", "South"))...)
	tests := []struct {
		name    string
		life    string
		arrival int64
		want    bool
	}{
		{"this one, as far as it is", s.Life(), 2, true},
		{"this one, further than it is", s.Life(), 3, false},
		{"the one before, up to its end", first, 1, true},
		{"the one before, beyond its end", first, 2, false},
		{"one that was never here", "00000000", 1, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got, err := s.Continues(context.Background(), tt.life, tt.arrival); err != nil || got != tt.want {
				t.Errorf("%v (%v), want %v", got, err, tt.want)
			}
		})
	}
}

func TestVerifyingACopySeesWhatIsWrong(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(t *testing.T, path string)
		says  string // empty where nothing is wrong
	}{
		{"nothing", func(*testing.T, string) {}, ""},
		{"a segment is lost", func(t *testing.T, path string) { execute(t, path, "DELETE FROM segments WHERE first = 1") }, "comes"},
		{"a row lacks in an index", func(t *testing.T, path string) {
			execute(t, path, "PRAGMA writable_schema = 1; UPDATE sqlite_schema SET rootpage = (SELECT rootpage FROM sqlite_schema WHERE name = 'farms_id') WHERE name = 'segments_identity'")
		}, "SQLite says"},
		{"the file is cut short", func(t *testing.T, path string) {
			if err := os.Truncate(path, 3*pageBytes); err != nil {
				t.Fatal(err)
			}
		}, "damaged"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := open(t, t.TempDir())
			p := newPhone()
			for range 3 {
				settle(t, s, p.says(name("b1", "North"))...)
			}
			dir, c := copied(t, s)
			tt.spoil(t, filepath.Join(dir, FileName))
			held, found, err := VerifyCopy(context.Background(), dir, false, fixed)
			said := strings.Join(found.Faults, "\n")
			if err != nil {
				said += err.Error()
			}
			if tt.says == "" && (said != "" || held.Arrival != c.Arrival || held.Farm != c.Farm || found.Changes != 3) {
				t.Errorf("held %+v, found %+v (%v)", held, found, err)
			}
			if !strings.Contains(said, tt.says) {
				t.Errorf("it says %q, want %q", said, tt.says)
			}
		})
	}
}

// The merge state is made anew from the log, so what is wrong with it does not make a copy bad.
func TestOnlyWhereItIsAskedForAMergeStateIsVerified(t *testing.T) {
	s := open(t, t.TempDir())
	settle(t, s, newPhone().says(name("b1", "North"))...)
	if err := s.Level(context.Background()); err != nil {
		t.Fatal(err)
	}
	for _, state := range []bool{false, true} {
		dir, _ := copied(t, s)
		execute(t, filepath.Join(dir, FileName), "DELETE FROM slots")
		if _, found, err := VerifyCopy(context.Background(), dir, state, fixed); err != nil || len(found.Faults) > 0 != state || found.Changes != 1 {
			t.Errorf("asked for: %v, found %+v (%v)", state, found, err)
		}
	}
}

func execute(t *testing.T, path, text string) {
	t.Helper()
	db, err := sql.Open(DriverName, path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(text); err != nil {
		t.Fatal(err)
	}
}

func TestASecondProcessIsToldThatTheFolderIsInUse(t *testing.T) {
	dir := t.TempDir()
	open(t, dir)
	var inUse *InUse
	if _, err := Open(dir, fixed); !errors.As(err, &inUse) || inUse.Dir != dir {
		t.Errorf("opened a second time: %v", err)
	}
}
