package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

func TestTheWriterWaitsForTheDisk(t *testing.T) {
	s := open(t, t.TempDir())
	tests := []struct{ pragma, want string }{
		{"journal_mode", "wal"},
		{"synchronous", "2"}, // FULL (https://www.sqlite.org/pragma.html#pragma_synchronous)
		{"fullfsync", "1"},   // of macOS alone (https://www.sqlite.org/pragma.html#pragma_fullfsync)
		{"checkpoint_fullfsync", "1"},
		{"foreign_keys", "1"},
		{"busy_timeout", "5000"},
	}
	for _, tt := range tests {
		var got string
		if err := s.writer.QueryRow("PRAGMA " + tt.pragma).Scan(&got); err != nil || got != tt.want {
			t.Errorf("%s is %q (%v), want %q", tt.pragma, got, err, tt.want)
		}
	}
	if _, err := s.reader.Exec("DELETE FROM segments"); err == nil {
		t.Error("a reader could write")
	}
}

func TestAFullDiskStoresNothingSaysSoAndRecovers(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	p := newPhone()
	settle(t, s, p.says(name("b1", "North"))...)
	// SQLite's own page limit gives the same SQLITE_FULL as a disk without room.
	if _, err := s.writer.Exec("PRAGMA max_page_count = 1"); err != nil { // no more than there are
		t.Fatal(err)
	}
	var changes []syncproto.Change
	for range 100 {
		changes = append(changes, p.says(name("b1", strings.Repeat("x", 8000)))...)
	}
	_, err := s.Append(context.Background(), []*changelog.Frame{frame(t, changes...)})
	if err == nil || !strings.Contains(err.Error(), "the disk is full; make room") {
		t.Errorf("the error is %v", err)
	}
	if s.Newest() != 1 {
		t.Errorf("newest is %d, want 1", s.Newest())
	}
	verify(t, s)
	if _, err := s.writer.Exec("PRAGMA max_page_count = 1000000"); err != nil {
		t.Fatal(err)
	}
	if ack := settle(t, s, changes...); ack.Seq != p.Seq {
		t.Errorf("with room again: %+v", ack)
	}
	verify(t, s)
}

func TestAnotherWriterIsWaitedForThenNamed(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	if _, err := s.writer.Exec("PRAGMA busy_timeout = 20"); err != nil {
		t.Fatal(err)
	}
	other, err := sql.Open(DriverName, filepath.Join(dir, FileName)+"?_txlock=immediate")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = other.Close() }() // the test is over
	tx, err := other.Begin()
	if err != nil {
		t.Fatal(err)
	}
	p := newPhone()
	f := frame(t, p.says(name("b1", "North"))...)
	if _, err := s.Append(context.Background(), []*changelog.Frame{f}); err == nil || !strings.Contains(err.Error(), "another program holds the database") {
		t.Errorf("the error is %v", err)
	}
	if err := tx.Rollback(); err != nil {
		t.Fatal(err)
	}
	if r := push(t, s, f)[0]; r.Ack.Seq != 1 {
		t.Errorf("afterwards: %+v", r)
	}
}

func TestOpeningSaysWhatIsWrongAndWhatToTry(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(t *testing.T, dir string)
		says  string
	}{
		{"not a database", func(t *testing.T, dir string) {
			write(t, filepath.Join(dir, FileName), strings.Repeat("not a database at all ", 100))
		}, "not a Corymb database"},
		{"damaged in the middle", func(t *testing.T, dir string) {
			s := open(t, dir)
			closeStore(t, s)
			file, err := os.OpenFile(filepath.Join(dir, FileName), os.O_RDWR, 0)
			if err != nil {
				t.Fatal(err)
			}
			for page := int64(1); page < 8; page++ {
				if _, err := file.WriteAt([]byte(strings.Repeat("z", 4000)), page*4096); err != nil {
					t.Fatal(err)
				}
			}
			if err := file.Close(); err != nil {
				t.Fatal(err)
			}
		}, "the database is damaged"},
		{"written by a newer version", func(t *testing.T, dir string) {
			s := open(t, dir)
			if err := s.orm.Save(&schemaRow{ID: 1, Version: schemaVersion + 1}).Error; err != nil {
				t.Fatal(err)
			}
			closeStore(t, s)
		}, "newer version of Corymb"},
		{"a file where the folder should be", func(t *testing.T, dir string) {
			if err := os.Remove(dir); err != nil {
				t.Fatal(err)
			}
			write(t, dir, "")
		}, "choose another with -data"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "farm")
			if err := os.Mkdir(dir, 0o700); err != nil {
				t.Fatal(err)
			}
			tt.spoil(t, dir)
			s, err := Open(dir, fixed)
			if err == nil {
				closeStore(t, s)
				t.Fatal("it opened")
			}
			if !strings.Contains(err.Error(), tt.says) {
				t.Errorf("the error is %q, want it to say %q", err, tt.says)
			}
		})
	}
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestASecondProcessIsKeptOut(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	if _, err := Open(dir, fixed); err == nil || !strings.Contains(err.Error(), "another Corymb is using") {
		t.Errorf("the error is %v", err)
	}
	closeStore(t, s)
	open(t, dir)
}

func TestTheFolderIsThePersonsOwn(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "farm")
	open(t, dir)
	for path, want := range map[string]os.FileMode{dir: 0o700 | os.ModeDir, filepath.Join(dir, FileName): 0o600} {
		info, err := os.Stat(path)
		if err != nil || info.Mode() != want {
			t.Errorf("%s has mode %v (%v), want %v", path, info.Mode(), err, want)
		}
	}
}

func TestACancelledAppendStoresNothing(t *testing.T) {
	s := open(t, t.TempDir())
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p := newPhone()
	if _, err := s.Append(ctx, []*changelog.Frame{frame(t, p.says(name("b1", "North"))...)}); !errors.Is(err, context.Canceled) || s.Newest() != 0 {
		t.Errorf("newest %d, error %v", s.Newest(), err)
	}
}
