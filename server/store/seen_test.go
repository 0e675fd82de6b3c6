package store

import (
	"context"
	"fmt"
	"testing"

	"github.com/google/uuid"

	"corymb/internal/changelog"
)

func rowOf(t *testing.T, s *Store, incarnation string) incarnationRow {
	t.Helper()
	var row incarnationRow
	if err := s.orm.Where("incarnation = ?", incarnation).Limit(1).Find(&row).Error; err != nil {
		t.Fatal(err)
	}
	return row
}

func TestAVisitIsNotedWhenTheStoreRests(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	p, silent := newPhone(), uuid.NewString()
	settle(t, s, p.says(name("b1", "North"))...)
	for unsent := range 2 {
		s.Seen(changelog.Sighting{Incarnation: p.Incarnation, Device: "d", Person: "ana", Unsent: unsent})
	}
	s.Seen(changelog.Sighting{Incarnation: silent, Device: "e"})
	if row := rowOf(t, s, p.Incarnation); row.Seen != 0 {
		t.Errorf("it was written while there was work: %+v", row)
	}
	if err := s.Rest(); err != nil {
		t.Fatal(err)
	}
	if row := rowOf(t, s, p.Incarnation); row.Unsent != 1 || row.Person != "ana" || row.Device != "d" || row.Seen != noon.UnixMilli() || row.Seq != 1 {
		t.Errorf("noted %+v", row)
	}
	if row := rowOf(t, s, silent); row.Device != "e" {
		t.Errorf("of one that wrote nothing yet is noted %+v", row)
	}
	settle(t, s, p.says(name("b1", "South"))...)
	s.Seen(changelog.Sighting{Incarnation: p.Incarnation, Device: "d", Person: "ben", Unsent: 7})
	closeStore(t, s)
	s = open(t, dir)
	if row := rowOf(t, s, p.Incarnation); row.Unsent != 7 || row.Person != "ben" || row.Seq != 2 {
		t.Errorf("after a push and a close %+v", row)
	}
	if row := rowOf(t, s, silent); row.Device != "e" || row.Seq != 0 {
		t.Errorf("of whoever wrote nothing %+v", row)
	}
	if found := verify(t, s); found.Incarnations != 1 {
		t.Errorf("%d incarnations wrote something, want 1", found.Incarnations)
	}
}

// A phone that was only seen so far writes its first changes like any other.
func TestAPhoneThatWasNotedGoesOnFromTheStart(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	s.Seen(changelog.Sighting{Incarnation: p.Incarnation})
	if err := s.Rest(); err != nil {
		t.Fatal(err)
	}
	if ack := settle(t, s, p.says(name("b1", "North"))...); ack.Seq != 1 {
		t.Errorf("ack %+v", ack)
	}
	verify(t, s)
}

// The welcome does not wait for what others push.
func TestAVisitIsNotedWhileACommitIsUnderWay(t *testing.T) {
	s := open(t, t.TempDir())
	s.writing.Lock()
	for i := range mostSightings + 10 {
		s.Seen(changelog.Sighting{Incarnation: fmt.Sprint(i)})
	}
	s.Seen(changelog.Sighting{Incarnation: "0", Unsent: 3})
	s.writing.Unlock()
	if n, last := len(s.seen.noted), s.seen.noted["0"].Unsent; n != mostSightings || last != 3 {
		t.Errorf("%d are noted, the first with %d unsent; want %d and 3", n, last, mostSightings)
	}
}

func TestAVisitThatCannotBeWrittenIsToldAndHarmsNothing(t *testing.T) {
	s := open(t, t.TempDir())
	if err := s.orm.Exec("CREATE TRIGGER full BEFORE INSERT ON incarnations BEGIN SELECT RAISE(ABORT, 'no room'); END").Error; err != nil {
		t.Fatal(err)
	}
	s.Seen(changelog.Sighting{Incarnation: uuid.NewString()})
	if err := s.Rest(); err == nil {
		t.Error("nobody was told")
	}
	if err := s.orm.Exec("DROP TRIGGER full").Error; err != nil {
		t.Fatal(err)
	}
	settle(t, s, newPhone().says(name("b1", "North"))...)
	if err := s.Rest(); err != nil {
		t.Error(err)
	}
	if _, _, err := s.State(context.Background()); err != nil {
		t.Error(err)
	}
}
