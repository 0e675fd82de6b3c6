package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"time"

	"github.com/mattn/go-sqlite3"
	gormsqlite "gorm.io/driver/sqlite"
	"gorm.io/gorm"
	"gorm.io/gorm/logger"
)

const (
	// readers is how many connections read at once. Each has a cache of its own.
	readers     = 3
	readersIdle = 5 * time.Second // then its memory is given back
	readerCache = "-1000"         // KiB
	writerCache = "-2000"
	// pageBytes lets frames of 20 fill pages well: of 4,096 bytes each would waste a sixth.
	pageBytes = 8_192
	// checkpointPages is how much is written beside the database before it is brought into it.
	checkpointPages = 500
)

// writeThrough makes synchronous=FULL mean it on macOS, where fsync leaves what it was told in the disk's
// own memory (https://www.sqlite.org/pragma.html#pragma_fullfsync). Elsewhere it does nothing.
const writeThrough = "; PRAGMA fullfsync = 1; PRAGMA checkpoint_fullfsync = 1"

// connect opens the database: one connection that writes, some that read. A commit returns only
// after the log is on disk (synchronous=FULL).
func (s *Store) connect(path string) error {
	if err := layOut(path); err != nil {
		return err
	}
	orm, err := gorm.Open(gormsqlite.Open(dsn(path, url.Values{
		"_journal_mode": {"WAL"}, "_synchronous": {"FULL"}, "_foreign_keys": {"on"},
		"_busy_timeout": {"5000"}, "_txlock": {"immediate"}, "_cache_size": {writerCache},
	})), &gorm.Config{Logger: logger.Discard})
	if err != nil {
		return err
	}
	s.orm = orm
	if s.writer, err = orm.DB(); err != nil {
		return err
	}
	s.writer.SetMaxOpenConns(1)
	if _, err := s.writer.Exec(fmt.Sprint("PRAGMA wal_autocheckpoint = ", checkpointPages, writeThrough)); err != nil {
		return err
	}
	if err := os.Chmod(path, 0o600); err != nil {
		return err
	}
	s.reader, err = sql.Open("sqlite3", dsn(path, url.Values{
		"_query_only": {"on"}, "_busy_timeout": {"5000"}, "_cache_size": {readerCache},
	}))
	if err != nil {
		return err
	}
	s.reader.SetMaxOpenConns(readers)
	s.reader.SetMaxIdleConns(readers)
	s.reader.SetConnMaxIdleTime(readersIdle)
	s.view, err = gorm.Open(gormsqlite.New(gormsqlite.Config{Conn: s.reader}), &gorm.Config{Logger: logger.Discard})
	return err
}

// layOut settles the page size of a database that does not exist yet; later it cannot change.
func layOut(path string) (err error) {
	if info, err := os.Stat(path); err == nil && info.Size() > 0 {
		return nil
	}
	db, err := sql.Open("sqlite3", dsn(path, url.Values{}))
	if err != nil {
		return err
	}
	db.SetMaxOpenConns(1)
	defer func() { err = errors.Join(err, db.Close()) }()
	_, err = db.Exec(fmt.Sprint("PRAGMA page_size = ", pageBytes, "; PRAGMA journal_mode = WAL"))
	return err
}

func dsn(path string, options url.Values) string {
	return (&url.URL{Scheme: "file", Opaque: (&url.URL{Path: path}).EscapedPath(), RawQuery: options.Encode()}).String()
}

// folderLock keeps a second process out of the data folder: what it appended would reach no phone.
// It is an exclusive transaction on an empty database, which the system ends with the process.
type folderLock struct {
	db *sql.DB
	tx *sql.Tx
}

func lockFolder(dir string) (*folderLock, error) {
	path := filepath.Join(dir, "corymb.lock")
	db, err := sql.Open("sqlite3", dsn(path, url.Values{"_txlock": {"exclusive"}, "_busy_timeout": {"0"}}))
	if err != nil {
		return nil, explain("locking "+dir, err)
	}
	tx, err := db.Begin()
	if err == nil {
		return &folderLock{db: db, tx: tx}, nil
	}
	if failure := (sqlite3.Error{}); errors.As(err, &failure) && failure.Code == sqlite3.ErrBusy {
		err = &InUse{dir}
	} else {
		err = explain("locking "+dir, err)
	}
	return nil, errors.Join(err, db.Close())
}

func (l *folderLock) release() error { return errors.Join(l.tx.Rollback(), l.db.Close()) }

// hints say what to try, by SQLite's result code (https://www.sqlite.org/rescode.html).
var hints = map[sqlite3.ErrNo]string{
	sqlite3.ErrFull:     "the disk is full; make room, the phones keep what was not stored and send it again",
	sqlite3.ErrBusy:     "another program holds the database; close it and try again",
	sqlite3.ErrLocked:   "another program holds the database; close it and try again",
	sqlite3.ErrReadonly: "the database cannot be written; check who owns the data folder and whether the disk is read-only",
	sqlite3.ErrPerm:     "the database cannot be written; check who owns the data folder",
	sqlite3.ErrIoErr:    "the disk gave an error; check it and its cable, and keep a copy of the data folder",
	sqlite3.ErrCantOpen: "the database cannot be opened; check that the data folder is there and yours",
	sqlite3.ErrCorrupt:  "the database is damaged; keep a copy of the data folder, then put the newest backup in its place, the phones fill in what it lacks",
	sqlite3.ErrNotADB:   "the file is not a Corymb database; keep a copy of it, then put the newest backup in its place",
}

// explain says what was being done and, where the cause is known, what to try.
func explain(doing string, err error) error {
	if err == nil || errors.Is(err, context.Canceled) {
		return err
	}
	var failure sqlite3.Error
	if errors.As(err, &failure) {
		if hint, ok := hints[failure.Code]; ok {
			return fmt.Errorf("%s: %s (%w)", doing, hint, err)
		}
	}
	return fmt.Errorf("%s: %w", doing, err)
}
