package backup

import (
	"context"
	"errors"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// watch is a farm whose nights are stepped by hand.
type watch struct {
	*ground
	nightly *Nightly
	told    []int64
}

func newWatch(t *testing.T) *watch {
	w := &watch{ground: newGround(t)}
	if err := Choose(w.farm.Dir(), w.folder); err != nil {
		t.Fatal(err)
	}
	w.start()
	return w
}

// start is a new start of the program.
func (w *watch) start() {
	w.t.Helper()
	n, err := Open(context.Background(), Config{
		Farm: w.farm, Version: "v1", Hour: 3, Now: w.clock.now, Tell: func(arrival int64) { w.told = append(w.told, arrival) },
		Logger: slog.New(slog.NewTextHandler(io.Discard, nil)),
	})
	if err != nil {
		w.t.Fatal(err)
	}
	w.nightly = n
}

// run lets a time go by, awake, and says at which times backups were made.
func (w *watch) run(d time.Duration) (made []string) {
	for end := w.clock.now().Add(d); w.clock.now().Before(end); w.clock.pass(time.Minute) {
		before := w.lastMade()
		w.nightly.pass(context.Background())
		if after := w.lastMade(); !after.Equal(before) {
			made = append(made, w.clock.now().Format("02 15:04"))
		}
	}
	return made
}

func (w *watch) lastMade() time.Time {
	if good := w.nightly.State().Good; good != nil {
		return good.Made
	}
	return time.Time{}
}

func (w *watch) fails(code Code) {
	w.t.Helper()
	if f := w.nightly.State().Failure; f == nil || f.Code != code || f.Text == "" {
		w.t.Errorf("failed with %+v, want %s", f, code)
	}
}

func TestABackupIsMadeEveryNight(t *testing.T) {
	w := newWatch(t)
	w.clock.set(night.Add(-5 * time.Hour))
	if made := w.run(50 * time.Hour); !slices.Equal(made, []string{"28 22:10", "29 03:00", "30 03:00"}) {
		t.Errorf("made at %v", made)
	}
	if s := w.nightly.State(); !s.On || s.Running || !s.There || s.Failure != nil || len(s.Kept) != 3 || !s.Next.Equal(night.AddDate(0, 0, 2)) {
		t.Errorf("it stands so: %+v", s)
	}
}

// A laptop in a shed is closed at night.
func TestWhatALaptopSleptThroughIsMadeUpFor(t *testing.T) {
	w := newWatch(t)
	var made []string
	for day := range 4 {
		w.clock.set(time.Date(2026, 11, 20+day, 8, 0, 0, 0, night.Location()))
		made = append(made, w.run(9*time.Hour)...)
	}
	if want := []string{"20 08:10", "21 08:10", "22 08:10", "23 08:10"}; !slices.Equal(made, want) {
		t.Errorf("made at %v, want %v", made, want)
	}
}

func TestAStartSoonAfterABackupMakesNone(t *testing.T) {
	w := newWatch(t)
	w.run(time.Hour)
	w.start()
	if made := w.run(22 * time.Hour); len(made) != 0 {
		t.Errorf("made at %v", made)
	}
}

func TestADiskThatIsNotPluggedInIsTriedEveryHour(t *testing.T) {
	w := newWatch(t)
	away := w.folder + " away"
	if err := os.Rename(w.folder, away); err != nil {
		t.Fatal(err)
	}
	if made := w.run(5 * time.Hour); len(made) != 0 {
		t.Fatalf("made at %v", made)
	}
	w.fails(CodeNoFolder)
	failed := w.nightly.State().Failure.When
	if want := night.Add(10*time.Minute + 4*time.Hour); !failed.Equal(want) {
		t.Errorf("last tried at %s, want %s", failed, want)
	}
	if _, err := os.Stat(w.folder); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the folder was made: %v", err)
	}
	if err := os.Rename(away, w.folder); err != nil {
		t.Fatal(err)
	}
	if made := w.run(time.Hour); len(made) != 1 || w.nightly.State().Failure != nil {
		t.Errorf("made at %v, then failed with %+v", made, w.nightly.State().Failure)
	}
}

// The place where a disk belongs may be a folder too. Nothing is made in it unless a person says so.
func TestAFolderWithoutTheBackupsThatWereInItIsNotFilled(t *testing.T) {
	w := newWatch(t)
	w.run(time.Hour)
	if err := os.Rename(w.folder, w.folder+" away"); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(w.folder, 0o700); err != nil {
		t.Fatal(err)
	}
	if made := w.run(30 * time.Hour); len(made) != 0 || len(filesIn(t, w.folder)) != 0 {
		t.Fatalf("made at %v", made)
	}
	w.fails(CodeEmptied)
	w.nightly.make(context.Background()) // as when somebody asks
	if len(filesIn(t, w.folder)) != 1 || w.nightly.State().Failure != nil {
		t.Error("none was made when it was asked for")
	}
	if made := w.run(30 * time.Hour); len(made) != 1 {
		t.Errorf("then made at %v", made)
	}
}

func TestADatabaseWithFaultsIsNotTriedEveryHour(t *testing.T) {
	w := newWatch(t)
	w.spoil("UPDATE incarnations SET hash = zeroblob(32)")
	w.run(24 * time.Hour)
	w.fails(CodeFaults)
	if when := w.nightly.State().Failure.When; !when.Equal(night.Add(10 * time.Minute)) {
		t.Errorf("tried last at %s", when)
	}
}

func TestPhonesAreToldWhatTheLastGoodBackupCovers(t *testing.T) {
	w := newWatch(t)
	told := func(want ...int64) {
		t.Helper()
		if got := slices.Compact(w.told); !slices.Equal(got, want) {
			t.Errorf("told %v, want %v", got, want)
		}
		w.told = nil
	}
	w.run(time.Hour)
	told(0, 21)
	w.record(fact("bed", "b1", "name", "later"))
	w.start()
	told(21) // after a restart too
	good := w.nightly.State().Good.Path
	if err := os.Rename(good, good+".away"); err != nil {
		t.Fatal(err)
	}
	w.run(90 * time.Minute)
	told(0) // it went away
	if s := w.nightly.State(); s.There || s.Good == nil {
		t.Errorf("it stands so: %+v", s)
	}
	if err := os.Rename(good+".away", good); err != nil {
		t.Fatal(err)
	}
	w.start()
	told(21)
	if err := os.Truncate(good, 100); err != nil {
		t.Fatal(err)
	}
	w.start()
	told(0) // it is cut short
}

// The state of backups is one of this log, not of another that has been put in its place.
func TestWhatAnotherLogHadBackedUpIsNotTold(t *testing.T) {
	tests := []struct {
		name   string
		change func(*Good)
		want   int64
	}{
		{"as it was", func(*Good) {}, 21},
		{"of another epoch", func(g *Good) { g.Epoch = "e0" }, 0},
		{"of a life that this log does not have", func(g *Good) { g.Life = "00000000" }, 0},
		{"further than this log is", func(g *Good) { g.Arrival = 22 }, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := newWatch(t)
			w.run(time.Hour)
			kept, err := readSettings(w.farm.Dir())
			if err != nil {
				t.Fatal(err)
			}
			tt.change(kept.Good)
			if err := kept.write(w.farm.Dir()); err != nil {
				t.Fatal(err)
			}
			w.told = nil
			if w.start(); !slices.Equal(w.told, []int64{tt.want}) {
				t.Errorf("told %v, want %d", w.told, tt.want)
			}
		})
	}
}

func TestBackupsAreTurnedOffAndOn(t *testing.T) {
	w := newWatch(t)
	if err := w.nightly.Turn(false); err != nil {
		t.Fatal(err)
	}
	if made := w.run(30 * time.Hour); len(made) != 0 || !w.nightly.State().Next.IsZero() {
		t.Errorf("off, made at %v", made)
	}
	w.start()
	if w.nightly.State().On {
		t.Error("a new start turned them on")
	}
	if err := w.nightly.Turn(true); err != nil {
		t.Fatal(err)
	}
	if made := w.run(time.Hour); len(made) != 1 {
		t.Errorf("on, made at %v", made)
	}
	if err := Choose(w.farm.Dir(), Off); err != nil {
		t.Fatal(err)
	}
	if w.start(); w.nightly.State().On || w.nightly.State().Good == nil {
		t.Errorf("off at the shed it stands so: %+v", w.nightly.State())
	}
}

func TestWithoutAFolderThereAreNoBackups(t *testing.T) {
	w := &watch{ground: newGround(t)}
	w.start()
	if made := w.run(30 * time.Hour); len(made) != 0 {
		t.Errorf("made at %v", made)
	}
	for _, err := range []error{w.nightly.MakeNow(), w.nightly.Turn(true)} {
		if !errors.Is(err, ErrNoFolder) {
			t.Errorf("%v", err)
		}
	}
}

func TestChoosingAFolder(t *testing.T) {
	g := newGround(t)
	if err := Choose(g.farm.Dir(), filepath.Join(g.farm.Dir(), "photos")); codeOf(err) != CodeInside {
		t.Errorf("in the data folder: %v", err)
	}
	if kept, err := readSettings(g.farm.Dir()); err != nil || kept.Folder != "" {
		t.Errorf("%+v (%v) is noted", kept, err)
	}
	unplugged := filepath.Join(g.folder, "usb")
	if err := Choose(g.farm.Dir(), unplugged); err != nil {
		t.Errorf("one that is not plugged in: %v", err)
	}
	if kept, err := readSettings(g.farm.Dir()); err != nil || kept.Folder != unplugged || !kept.On {
		t.Errorf("%+v (%v) is noted, want %s", kept, err, unplugged)
	}
	g.put(settingsName, "?")
	if err := Choose(g.farm.Dir(), g.folder); err == nil || !strings.Contains(err.Error(), "delete the file") {
		t.Errorf("where it cannot be read: %v", err)
	}
}

// Somebody asks while Run runs; and it ends when it is told to.
func TestABackupIsMadeWhenItIsAskedFor(t *testing.T) {
	w := newWatch(t)
	done := make(chan struct{}, 8)
	w.nightly.Tell = func(int64) { done <- struct{}{} }
	ctx, stop := context.WithCancel(context.Background())
	over := make(chan struct{})
	go func() {
		defer close(over)
		w.nightly.Run(ctx)
	}()
	if err := w.nightly.MakeNow(); err != nil {
		t.Fatal(err)
	}
	<-done
	if s := w.nightly.State(); s.Good == nil || s.Good.Arrival != 21 || len(s.Kept) != 1 {
		t.Errorf("it stands so: %+v", s)
	}
	stop()
	<-over
}
