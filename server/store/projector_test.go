package store

import (
	"context"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

func openStill(t *testing.T, dir string) *Store {
	t.Helper()
	s, err := OpenStill(dir, fixed)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() }) // a test may have closed it already
	return s
}

func TestWhatKeepsTheMergeStateBehindIsToldOnce(t *testing.T) {
	s := openStill(t, t.TempDir())
	settle(t, s, newPhone().says(name("b1", "North"))...)
	var told []string
	tell := func(err error) { told = append(told, err.Error()) }
	do := func(text string) {
		t.Helper()
		if _, err := s.writer.Exec(text); err != nil {
			t.Fatal(err)
		}
	}
	do("CREATE TEMP TABLE good AS SELECT batch FROM segments")
	spoil := func() { do("UPDATE segments SET batch = x'02'") }
	spoil()
	s.projector.catchUp(s)
	if s.OnLag(tell); len(told) != 1 || !strings.Contains(told[0], "the segment at arrival 1") {
		t.Fatalf("told %q of what went wrong before anybody listened", told)
	}
	s.projector.catchUp(s)
	if len(told) != 1 {
		t.Errorf("told %q, want the same failure once", told)
	}
	do("UPDATE segments SET n = 2, batch = (SELECT batch FROM good)")
	s.projector.catchUp(s)
	if len(told) != 2 || !strings.Contains(told[1], "holds 1 changes, not 2") {
		t.Errorf("told %q, want another failure too", told)
	}
	do("UPDATE segments SET n = 1")
	s.projector.catchUp(s)
	spoil()
	do("UPDATE farms SET projected = 0")
	s.projector.catchUp(s)
	if len(told) != 3 || told[2] != told[0] {
		t.Errorf("told %q, want the first failure again after it had gone well", told)
	}
}

// A slice that was read before the merge state was thrown away must not be written after it.
func TestARebuildWaitsForTheSliceUnderWay(t *testing.T) {
	s := openStill(t, t.TempDir())
	p := newPhone()
	settle(t, s, slices.Concat(p.says(name("b1", "A")), p.says(name("b2", "B")))...)
	if err := s.Level(context.Background()); err != nil {
		t.Fatal(err)
	}
	settle(t, s, slices.Concat(p.says(name("b3", "C")), p.says(name("b1", "D")))...)
	reading, goOn := make(chan struct{}), make(chan struct{})
	var once sync.Once
	s.placeOf = func(name slotName) int64 {
		once.Do(func() { close(reading); <-goOn }) // in the midst of the slice
		return placeOf(name)
	}
	var running sync.WaitGroup
	running.Go(func() {
		if err := s.Level(context.Background()); err != nil {
			t.Error(err)
		}
	})
	<-reading
	running.Go(func() {
		if err := s.Rebuild(context.Background()); err != nil {
			t.Error(err)
		}
	})
	settle(t, s, p.says(name("b4", "E"))...) // appends go on meanwhile
	for range 50 {                           // for the rebuild to begin, if it wrongly may
		if s.projected.Load() == 0 {
			break
		}
		runtime.Gosched()
		time.Sleep(time.Millisecond)
	}
	close(goOn)
	running.Wait()
	verify(t, s)
}
