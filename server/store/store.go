// Package store keeps a farm's change log and what follows from it in one SQLite database. Nothing
// it reports as settled can be lost by a crash, a killed process or a dead battery.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"

	"gorm.io/gorm"
)

// FileName is the database inside the data folder.
const FileName = "corymb.db"

// Store is an open data folder. It is safe for concurrent use; one process at a time holds it.
type Store struct {
	now       func() time.Time
	lock      *folderLock
	orm       *gorm.DB // everything off the hot path that writes
	view      *gorm.DB // everything off the hot path that reads
	writer    *sql.DB  // under orm: one connection
	reader    *sql.DB  // under view: several, which cannot write
	append    appendSQL
	read      readSQL
	mark      *mark
	projector *projector
	appending appending
	seen      sightings
	placeOf   func(slotName) int64 // a test may let slots collide,
	slice     int64                // and a slice be short

	dir      string
	farm     string
	no       int64 // the farm's number
	epoch    string
	life     string
	restored bool

	projecting sync.Mutex   // one slice at a time; locked before writing
	writing    sync.Mutex   // one transaction at a time
	run        run          // of the transaction under way
	newest     atomic.Int64 // arrival number of the last committed change
	projected  atomic.Int64 // up to which the merge state is made
	closing    sync.Once
	closed     error
}

// Open opens the data folder, makes it where it is missing, and brings an older database up to
// date. now is the server's clock. The error is a sentence that says what to try.
func Open(dir string, now func() time.Time) (*Store, error) {
	s, err := OpenStill(dir, now)
	if err == nil {
		s.projector.start(s)
	}
	return s, err
}

// OpenStill is Open for whoever must know when the store does what, as a simulation that replays: the
// merge state trails the log until Level is called, which is otherwise done when there is time.
func OpenStill(dir string, now func() time.Time) (*Store, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("making the data folder %s: %w; choose another with -data", dir, err)
	}
	lock, err := lockFolder(dir)
	if err != nil {
		return nil, err
	}
	s := &Store{now: now, lock: lock, dir: dir, placeOf: placeOf, slice: sliceChanges}
	if err := s.open(dir); err != nil {
		return nil, errors.Join(explain("opening "+filepath.Join(dir, FileName), err), s.Close())
	}
	return s, nil
}

func (s *Store) open(dir string) error {
	if err := s.connect(filepath.Join(dir, FileName)); err != nil {
		return err
	}
	if err := migrate(s.orm); err != nil {
		return err
	}
	farm, err := s.ensureFarm()
	if err != nil {
		return err
	}
	if farm, err = s.openMark(dir, farm); err != nil {
		return err
	}
	s.farm, s.no, s.epoch = farm.ID, farm.No, farm.Epoch
	if s.life, err = beginLife(s.orm, farm); err != nil {
		return err
	}
	s.newest.Store(farm.NextArrival - 1)
	s.projected.Store(farm.Projected)
	err = errors.Join(s.append.prepare(s.writer), s.read.prepare(s.reader))
	if err != nil {
		return err
	}
	s.projector = newProjector()
	return nil
}

// Rest does what can wait until nothing else is to be done: it writes which phones were here and gives
// back the memory that is held for speed alone.
func (s *Store) Rest() error {
	s.writing.Lock()
	defer s.writing.Unlock()
	seen := s.writeSeen()
	_, err := s.writer.Exec("PRAGMA shrink_memory")
	return errors.Join(seen, explain("giving back memory", err))
}

// Close lets go of the data folder. It waits for a transaction under way. Closing again does nothing.
func (s *Store) Close() error {
	s.closing.Do(func() { s.closed = s.close() })
	return s.closed
}

func (s *Store) close() error {
	s.projector.stop()
	s.writing.Lock()
	defer s.writing.Unlock()
	_ = s.writeSeen() // what is lost of it does no harm
	var failed []error
	for _, db := range []*sql.DB{s.reader, s.writer} {
		if db != nil {
			failed = append(failed, db.Close())
		}
	}
	failed = append(failed, s.mark.close(), s.lock.release())
	return errors.Join(failed...)
}

// Dir is the data folder, as Open was told it.
func (s *Store) Dir() string { return s.dir }

// Farm is the id of the farm that the folder holds.
func (s *Store) Farm() string { return s.farm }

// Epoch names this database: a new one is drawn whenever it turns out to be an older copy.
func (s *Store) Epoch() string { return s.epoch }

// Life names what the log is from this opening to the next: see changelog.Place.
func (s *Store) Life() string { return s.life }

// Restored tells whether Open found the database older than it had been, or moved here alone. The
// phones then read from the start and fill in what is missing.
func (s *Store) Restored() bool { return s.restored }

// Newest is the arrival number of the last change, 0 before the first.
func (s *Store) Newest() int64 { return s.newest.Load() }

// begin starts a transaction that reads one moment of the database.
func (s *Store) begin(ctx context.Context) (*sql.Tx, error) {
	return s.reader.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
}
