package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Copied says what a copy of the database holds.
type Copied struct {
	Farm, Epoch string
	Life        string // that was under way: see Continues
	Arrival     int64  // of the last change in it, 0 for none
}

// CopyTo writes the database as it is at one moment after the call into a new file, and returns once the
// file is on disk: everything acknowledged before is in it. The merge state in it may trail the log, as
// it does here. Appending goes on meanwhile, but for the moment in which it is written which phones were
// here; what is appended stays in the write-ahead log until the copy is made, and one reader is taken.
// On an error no file is left.
func (s *Store) CopyTo(ctx context.Context, path string) (copied Copied, err error) {
	doing := "copying the database to " + path
	path, err = filepath.Abs(path) // or SQLite might take it for a URI
	if err != nil {
		return copied, explain(doing, err)
	}
	s.noteSeen()
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return copied, explain(doing, err)
	}
	copied, err = s.copyInto(ctx, path)
	if err == nil {
		err = file.Sync()
	}
	if err = errors.Join(err, file.Close()); err != nil {
		err = errors.Join(err, os.Remove(path))
	}
	return copied, explain(doing, err)
}

// noteSeen writes what hellos told, so that a copy has it too. What is lost of it does no harm.
func (s *Store) noteSeen() {
	s.writing.Lock()
	defer s.writing.Unlock()
	_ = s.writeSeen()
}

// copyInto fills an empty file. VACUUM INTO only reads this database, in one transaction
// (https://www.sqlite.org/lang_vacuum.html#vacuuminto), but not on a connection that may write nothing:
// so one of the readers may for a while, and is closed after it.
func (s *Store) copyInto(ctx context.Context, path string) (copied Copied, err error) {
	conn, err := s.reader.Conn(ctx)
	if err != nil {
		return copied, err
	}
	defer func() {
		_ = conn.Raw(func(any) error { return driver.ErrBadConn }) // which has it closed
	}()
	for _, step := range []struct {
		text string
		args []any
	}{
		{"PRAGMA query_only = 0", nil}, {"VACUUM INTO ?", []any{path}}, {"ATTACH ? AS copied", []any{path}},
	} {
		if _, err := conn.ExecContext(ctx, step.text, step.args...); err != nil {
			return copied, err
		}
	}
	err = conn.QueryRowContext(ctx, `SELECT f.id, f.epoch, f.next_arrival - 1,
			(SELECT life FROM copied.lives WHERE farm = f.no ORDER BY no DESC LIMIT 1)
		FROM copied.farms f WHERE f.no = ?`, s.no).Scan(&copied.Farm, &copied.Epoch, &copied.Arrival, &copied.Life)
	return copied, err
}

// Continues tells whether the log of a life, up to an arrival number, is the beginning of this one. It is
// not where an older copy was put back since.
func (s *Store) Continues(ctx context.Context, life string, arrival int64) (continues bool, err error) {
	err = s.reading(ctx, func(tx *sql.Tx, _ counters) error {
		continues, err = s.wasHere(tx, life, arrival)
		return err
	})
	return continues, explain("asking which log this is", err)
}

// VerifyCopy opens a copy of the database that lies alone in a folder, has SQLite check it, and verifies its
// log, and the merge state too where that is asked for. It alters the copy: it is for one that is thrown
// away.
func VerifyCopy(ctx context.Context, dir string, state bool, now func() time.Time) (held Copied, found Verified, err error) {
	s, err := OpenStill(dir, now)
	if err != nil {
		return held, found, err
	}
	held = Copied{Farm: s.Farm(), Arrival: s.Newest()}
	faults, err := s.integrity(ctx)
	verify := s.VerifyLog
	if state {
		verify = s.Verify
	}
	if err == nil && len(faults) == 0 { // else there is no telling what is read
		found, err = verify(ctx)
	}
	found.Faults = append(faults, found.Faults...)
	return held, found, errors.Join(err, s.Close())
}

// integrity is what SQLite finds wrong with its own structures, 100 things at most.
func (s *Store) integrity(ctx context.Context) (faults []string, err error) {
	rows, err := s.reader.QueryContext(ctx, "PRAGMA integrity_check")
	if err != nil {
		return nil, explain("checking the database", err)
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	for rows.Next() {
		var said string
		if err := rows.Scan(&said); err != nil {
			return nil, explain("checking the database", err)
		}
		if said != "ok" {
			faults = append(faults, "SQLite says: "+strings.TrimSpace(said))
		}
	}
	return faults, explain("checking the database", rows.Err())
}

// InUse says that another process holds the data folder.
type InUse struct{ Dir string }

func (e *InUse) Error() string {
	return fmt.Sprintf("another Corymb is using the data folder %s; stop it first, or choose another folder with -data", e.Dir)
}
