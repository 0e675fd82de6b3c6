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

	gormsqlite "gorm.io/driver/sqlite"
	"gorm.io/gorm"
	"gorm.io/gorm/logger"
)

const (
	// readers is how many connections read at once. Each has a cache of its own.
	readers     = 3
	readersIdle = 5 * time.Second // then its memory is given back
	readerCache = 1_000           // KiB
	writerCache = 2_000
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
	writer := dsn(path, withCache(writerCache, url.Values{
		"_journal_mode": {"WAL"}, "_synchronous": {"FULL"}, "_foreign_keys": {"on"},
		"_busy_timeout": {"5000"}, "_txlock": {"immediate"},
	}))
	orm, err := gorm.Open(gormsqlite.New(gormsqlite.Config{DriverName: DriverName, DSN: writer}), &gorm.Config{Logger: logger.Discard})
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
	s.reader, err = sql.Open(DriverName, dsn(path, withCache(readerCache, url.Values{
		"_query_only": {"on"}, "_busy_timeout": {"5000"},
	})))
	if err != nil {
		return err
	}
	s.reader.SetMaxOpenConns(readers)
	s.reader.SetMaxIdleConns(readers)
	s.reader.SetConnMaxIdleTime(readersIdle)
	s.view, err = gorm.Open(gormsqlite.New(gormsqlite.Config{Conn: s.reader}), &gorm.Config{Logger: logger.Discard})
	return err
}

// Engine tells the version of SQLite and which library brings it.
func Engine() (version, library string, err error) {
	db, err := sql.Open(DriverName, ":memory:")
	if err != nil {
		return "", "", fmt.Errorf("asking SQLite for its version: %w", err)
	}
	if err = db.QueryRow("SELECT sqlite_version()").Scan(&version); err != nil {
		err = fmt.Errorf("asking SQLite for its version: %w", err)
	}
	return version, driverModule, errors.Join(err, db.Close())
}

// layOut settles the page size of a database that does not exist yet; later it cannot change.
func layOut(path string) (err error) {
	if info, err := os.Stat(path); err == nil && info.Size() > 0 {
		return nil
	}
	db, err := sql.Open(DriverName, dsn(path, url.Values{}))
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
	db, err := sql.Open(DriverName, dsn(path, url.Values{"_txlock": {"exclusive"}, "_busy_timeout": {"0"}}))
	if err != nil {
		return nil, explain("locking "+dir, err)
	}
	tx, err := db.Begin()
	if err == nil {
		return &folderLock{db: db, tx: tx}, nil
	}
	if resultCode(err) == codeBusy {
		err = &InUse{dir}
	} else {
		err = explain("locking "+dir, err)
	}
	return nil, errors.Join(err, db.Close())
}

func (l *folderLock) release() error { return errors.Join(l.tx.Rollback(), l.db.Close()) }

// SQLite's primary result codes (https://www.sqlite.org/rescode.html).
const (
	codePerm     = 3
	codeBusy     = 5
	codeLocked   = 6
	codeReadonly = 8
	codeIOErr    = 10
	codeCorrupt  = 11
	codeFull     = 13
	codeCantOpen = 14
	codeNotADB   = 26
)

// hints say what to try, by result code.
var hints = map[int]string{
	codeFull:     "the disk is full; make room, the phones keep what was not stored and send it again",
	codeBusy:     "another program holds the database; close it and try again",
	codeLocked:   "another program holds the database; close it and try again",
	codeReadonly: "the database cannot be written; check who owns the data folder and whether the disk is read-only",
	codePerm:     "the database cannot be written; check who owns the data folder",
	codeIOErr:    "the disk gave an error; check it and its cable, and keep a copy of the data folder",
	codeCantOpen: "the database cannot be opened; check that the data folder is there and yours",
	codeCorrupt:  "the database is damaged; keep a copy of the data folder, then put the newest backup in its place, the phones fill in what it lacks",
	codeNotADB:   "the file is not a Corymb database; keep a copy of it, then put the newest backup in its place",
}

// explain says what was being done and, where the cause is known, what to try.
func explain(doing string, err error) error {
	if err == nil || errors.Is(err, context.Canceled) {
		return err
	}
	if hint, ok := hints[resultCode(err)]; ok {
		return fmt.Errorf("%s: %s (%w)", doing, hint, err)
	}
	return fmt.Errorf("%s: %w", doing, err)
}
