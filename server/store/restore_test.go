package store

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// copyFile copies a closed database or its mark.
func copyFile(t *testing.T, to, from string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

func closeStore(t *testing.T, s *Store) {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

func dump(t *testing.T, s *Store) []byte {
	t.Helper()
	state, _, err := s.State(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return state.Dump()
}

func TestPhonesFillARestoredServerWithTheirOldOrders(t *testing.T) {
	dir, backup := t.TempDir(), filepath.Join(t.TempDir(), "backup.db")
	db := filepath.Join(dir, FileName)
	ana, ben := newPhone(), newPhone()
	s := open(t, dir)
	settle(t, s, ana.says(name("b1", "North"))...)
	oldEpoch := s.Epoch()
	closeStore(t, s)
	copyFile(t, backup, db)

	s = open(t, dir)
	ana.wall, ben.wall = noon.UnixMilli()+80_000, noon.UnixMilli()-1000
	lost := map[*phone][]syncproto.Change{ // ana's clock is ahead: her orders are not her stamps
		ana: slices.Concat(ana.says(name("b1", "South")), ana.says(name("b2", "East"))),
		ben: ben.says(name("b1", "West")),
	}
	orders := map[*phone][]syncproto.Stamp{ben: {syncproto.NoOrder}}
	told := settle(t, s, lost[ana]...).Orders
	for _, o := range told {
		orders[ana] = append(orders[ana], o.Order)
	}
	if settle(t, s, lost[ben]...); len(told) != 2 {
		t.Fatalf("ana was told orders %v, want two", told)
	}
	before := dump(t, s)
	cursor := &syncproto.Cursor{Epoch: s.Epoch(), Scopes: syncproto.Scopes, Arrival: 4, Last: placeAt(s, lost[ben][0])}
	closeStore(t, s)
	copyFile(t, db, backup)

	s, err := Open(dir, func() time.Time { return noon.Add(time.Hour) }) // ana's stamps would pass now
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, s)
	if !s.Restored() || s.Epoch() == oldEpoch {
		t.Fatalf("restored %v, epoch changed %v", s.Restored(), s.Epoch() != oldEpoch)
	}
	asked := changelog.Asked{Incarnation: ana.Incarnation, Cursor: cursor, Scopes: syncproto.Scopes}
	if standing, err := s.Standing(context.Background(), asked); err != nil || standing.Seq != 1 || standing.Holds {
		t.Errorf("standing %+v (%v), want seq 1 and a cursor that does not hold", standing, err)
	}
	for _, p := range []*phone{ben, ana} { // another order of arrival than before
		f, err := changelog.NewFrame(p.Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: lost[p], Orders: orders[p]})
		if err != nil {
			t.Fatal(err)
		}
		r := push(t, s, f)[0]
		if r.Breach != nil || p == ana && !slices.Equal(r.Ack.Orders, told) || p == ben && len(r.Ack.Orders) != 0 {
			t.Errorf("sent again, the answer was %+v, want the orders as before", r)
		}
	}
	if after := dump(t, s); !bytes.Equal(before, after) {
		t.Errorf("before the restore\n%s\nafter\n%s", before, after)
	}
	verify(t, s)
}

func TestAnOlderCopyGetsANewEpoch(t *testing.T) {
	tests := []struct {
		name     string
		change   func(t *testing.T, dir, older string)
		restored bool
	}{
		{"nothing happened", func(*testing.T, string, string) {}, false},
		{"an older database was put back", func(t *testing.T, dir, older string) {
			copyFile(t, filepath.Join(dir, FileName), filepath.Join(older, FileName))
		}, true},
		{"the database was moved without its mark", func(t *testing.T, dir, _ string) {
			if err := os.Remove(filepath.Join(dir, markName)); err != nil {
				t.Fatal(err)
			}
		}, true},
		{"the mark is damaged", func(t *testing.T, dir, _ string) {
			if err := os.WriteFile(filepath.Join(dir, markName), []byte("?"), 0o600); err != nil {
				t.Fatal(err)
			}
		}, true},
		{"the mark is behind, as after a power cut", func(t *testing.T, dir, older string) {
			copyFile(t, filepath.Join(dir, markName), filepath.Join(older, markName))
		}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir, older := t.TempDir(), t.TempDir()
			p := newPhone()
			for range 2 {
				for _, file := range []string{FileName, markName} {
					if _, err := os.Stat(filepath.Join(dir, file)); err == nil {
						copyFile(t, filepath.Join(older, file), filepath.Join(dir, file))
					}
				}
				s := open(t, dir)
				settle(t, s, p.says(name("b1", "North"))...)
				closeStore(t, s)
			}
			tt.change(t, dir, older)
			s := open(t, dir)
			epoch := s.Epoch()
			if s.Restored() != tt.restored {
				t.Errorf("restored = %v, want %v", s.Restored(), tt.restored)
			}
			closeStore(t, s)
			if s = open(t, dir); s.Restored() || s.Epoch() != epoch {
				t.Error("the next start drew another epoch")
			}
		})
	}
}

// placeAt is where a change lies in the log, as a phone is told now.
func placeAt(s *Store, c syncproto.Change) string {
	return changelog.Place{Life: s.Life(), Last: c.Identity()}.String()
}

// moveFarm copies a data folder, its mark too.
func moveFarm(t *testing.T, to, from string) {
	t.Helper()
	for _, file := range []string{FileName, markName} {
		copyFile(t, filepath.Join(to, file), filepath.Join(from, file))
	}
}

func holds(t *testing.T, s *Store, incarnation string, cursor syncproto.Cursor) bool {
	t.Helper()
	cursor.Epoch, cursor.Scopes = s.Epoch(), syncproto.Scopes
	standing, err := s.Standing(context.Background(), changelog.Asked{Incarnation: incarnation, Cursor: &cursor, Scopes: syncproto.Scopes})
	if err != nil {
		t.Fatal(err)
	}
	return standing.Holds
}

// parted is a farm that was put back from a copy and went on in another way than before.
type parted struct {
	*Store
	dir                        string
	phone                      string
	gone, ownGone, still, this syncproto.Cursor // of the log that is gone, and of this one
}

// part lets a farm part: copied copies it and goes on with the original. The same change bears the same
// number in both ways.
func part(t *testing.T, copied func(t *testing.T, s *Store, dir, backup string) *Store) parted {
	t.Helper()
	dir, backup := t.TempDir(), t.TempDir()
	ana := newPhone()
	s := open(t, dir)
	shared := ana.says(name("b1", "North"))
	settle(t, s, shared...)
	p := parted{dir: dir, phone: ana.Incarnation}
	p.still = syncproto.Cursor{Arrival: 1, Last: placeAt(s, shared[0]), Own: changelog.OwnPlace(1, s.Life())}
	again := ana.says(name("b1", "South"))
	goOn := func() syncproto.Cursor {
		settle(t, s, newPhone().says(name("b2", "East"))...)
		settle(t, s, again...)
		return syncproto.Cursor{Arrival: 3, Last: placeAt(s, again[0])}
	}
	s = copied(t, s, dir, backup)
	p.gone, p.ownGone = goOn(), p.still
	p.ownGone.Own = changelog.OwnPlace(3, s.Life())
	closeStore(t, s)
	moveFarm(t, dir, backup)
	s = open(t, dir)
	p.this = goOn()
	p.this.Own = changelog.OwnPlace(3, s.Life())
	p.Store = s
	return p
}

// A data folder was copied, went on, and was put back whole, its mark too. What a phone read of the log
// that is gone is not taken for this one's, nor is it after this one was opened again.
func TestACursorOfALogThatIsGoneDoesNotHold(t *testing.T) {
	whileClosed := func(t *testing.T, s *Store, dir, backup string) *Store {
		closeStore(t, s)
		moveFarm(t, backup, dir)
		return open(t, dir)
	}
	whileOpen := func(t *testing.T, s *Store, dir, backup string) *Store {
		if _, err := s.writer.Exec("PRAGMA wal_checkpoint(TRUNCATE)"); err != nil {
			t.Fatal(err)
		}
		moveFarm(t, backup, dir)
		return s
	}
	for name, copied := range map[string]func(t *testing.T, s *Store, dir, backup string) *Store{
		"copied while it was closed": whileClosed, "copied while it was open": whileOpen,
	} {
		t.Run(name, func(t *testing.T) {
			p := part(t, copied)
			for opened := range 3 {
				if p.Restored() || p.Newest() != p.gone.Arrival {
					t.Fatalf("restored %v, newest %d: the test is not about what it says", p.Restored(), p.Newest())
				}
				for _, tt := range []struct {
					name   string
					cursor syncproto.Cursor
					want   bool
				}{
					{"of the log that is gone", p.gone, false}, {"whose own changes are of the log that is gone", p.ownGone, false},
					{"of what both begin with", p.still, true}, {"of this log", p.this, true},
				} {
					if got := holds(t, p.Store, p.phone, tt.cursor); got != tt.want {
						t.Errorf("opened %d more times, a cursor %s holds: %v, want %v", opened, tt.name, got, tt.want)
					}
				}
				closeStore(t, p.Store)
				p.Store = open(t, p.dir)
			}
		})
	}
}

func TestACursorHoldsOnlyIfAllOfItIsTrue(t *testing.T) {
	s := open(t, t.TempDir())
	p := newPhone()
	changes := slices.Concat(p.says(name("b1", "North")), p.says(name("b1", "South")))
	settle(t, s, changes...)
	good := syncproto.Cursor{Epoch: s.Epoch(), Scopes: syncproto.Scopes, Arrival: 2, Last: placeAt(s, changes[1])}
	tests := []struct {
		name   string
		change func(c *syncproto.Cursor)
		holds  bool
	}{
		{"as it was told", func(*syncproto.Cursor) {}, true},
		{"before the first change", func(c *syncproto.Cursor) { c.Arrival, c.Last = 0, "" }, true},
		{"before the first change, yet with one", func(c *syncproto.Cursor) { c.Arrival = 0 }, false},
		{"another epoch", func(c *syncproto.Cursor) { c.Epoch = "other" }, false},
		{"other scopes", func(c *syncproto.Cursor) { c.Scopes = syncproto.Scopes[:1] }, false},
		{"another change at that number", func(c *syncproto.Cursor) { c.Last = placeAt(s, changes[0]) }, false},
		{"without the life in which it was told", func(c *syncproto.Cursor) { c.Last = string(changes[1].Identity()) }, false},
		{"a life that this log does not have", func(c *syncproto.Cursor) {
			c.Last = changelog.Place{Life: "00000000", Last: changes[1].Identity()}.String()
		}, false},
		{"beyond the log", func(c *syncproto.Cursor) { c.Arrival = 3 }, false},
		{"heard of its own changes here", func(c *syncproto.Cursor) { c.Own = changelog.OwnPlace(2, s.Life()) }, true},
		{"heard of its own changes before there were any", func(c *syncproto.Cursor) { c.Own = changelog.OwnPlace(0, s.Life()) }, true},
		{"heard of its own changes elsewhere", func(c *syncproto.Cursor) { c.Own = changelog.OwnPlace(1, "00000000") }, false},
		{"heard of its own changes beyond the log", func(c *syncproto.Cursor) { c.Own = changelog.OwnPlace(3, s.Life()) }, false},
		{"heard of its own changes elsewhere, and read nothing", func(c *syncproto.Cursor) {
			c.Arrival, c.Last, c.Own = 0, "", changelog.OwnPlace(1, "00000000")
		}, false},
		{"heard of its own changes at no place", func(c *syncproto.Cursor) { c.Own = "2" }, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			cursor := good
			tt.change(&cursor)
			standing, err := s.Standing(context.Background(), changelog.Asked{Incarnation: p.Incarnation, Cursor: &cursor, Scopes: syncproto.Scopes})
			if err != nil || standing.Holds != tt.holds {
				t.Errorf("holds = %v (%v), want %v", standing.Holds, err, tt.holds)
			}
		})
	}
}
