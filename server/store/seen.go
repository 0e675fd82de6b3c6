package store

import (
	"context"
	"database/sql"
	"errors"
	"maps"
	"slices"
	"sync"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// sightings are what hellos told about devices since it was last written. A commit for each would keep
// a phone waiting for its welcome, and all phones for their acknowledgements. What is lost of them, in
// a crash or to a full disk, is harmless: the next hello tells the same.
type sightings struct {
	mu    sync.Mutex
	noted map[string]sighting // by incarnation: the last
}

type sighting struct {
	changelog.Sighting
	at int64 // ms since 1970 UTC
}

// mostSightings bounds them, should thousands of new incarnations come before the store rests: of
// further ones nothing is noted.
const mostSightings = 4_096

// Seen notes what a hello told about a device. It waits for nothing: Rest and Close write it.
func (s *Store) Seen(said changelog.Sighting) {
	s.seen.note(sighting{said, s.now().UnixMilli()})
}

func (g *sightings) note(one sighting) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.noted == nil {
		g.noted = map[string]sighting{}
	}
	if _, again := g.noted[one.Incarnation]; again || len(g.noted) < mostSightings {
		g.noted[one.Incarnation] = one
	}
}

func (g *sightings) take() map[string]sighting {
	g.mu.Lock()
	defer g.mu.Unlock()
	taken := g.noted
	g.noted = nil
	return taken
}

// putSeen makes a row for an incarnation that has none yet. One that is written under stays its device's.
const putSeen = `INSERT INTO incarnations (farm, no, incarnation, seq, hash, stamp_l, stamp_c,
		staged, staged_hash, staged_bytes, device, person, seen, unsent)
	SELECT ?1, coalesce(max(no), 0) + 1, ?2, 0, ?3, 0, 0, 0, x'', 0, ?4, ?5, ?6, ?7
	FROM incarnations WHERE farm = ?1
	ON CONFLICT (farm, incarnation) DO UPDATE
	SET device = CASE WHEN device <> '' AND (seq > 0 OR staged > 0) THEN device ELSE excluded.device END,
		person = excluded.person, seen = excluded.seen, unsent = excluded.unsent`

// writeSeen writes what was noted, in one transaction. Whoever calls holds the lock for writing.
func (s *Store) writeSeen() error {
	noted := s.seen.take()
	if len(noted) == 0 {
		return nil
	}
	tx, err := s.writer.Begin()
	if err == nil {
		if err = s.putSightings(tx, noted); err == nil {
			err = tx.Commit()
		}
		if err != nil {
			err = errors.Join(err, ignoreDone(tx.Rollback()))
		}
	}
	return explain("noting which phones were here", err)
}

func (s *Store) putSightings(tx *sql.Tx, noted map[string]sighting) error {
	for _, incarnation := range slices.Sorted(maps.Keys(noted)) {
		one, start := noted[incarnation], syncproto.ChainStart(s.farm, incarnation)
		_, err := tx.Exec(putSeen, s.no, incarnation, start[:], one.Device, one.Person, one.at, one.Unsent)
		if err != nil {
			return err
		}
	}
	return nil
}

// lastSeen is the last sighting of each device, those too that are not written yet.
func (s *Store) lastSeen(ctx context.Context) (map[string]sighting, error) {
	last := map[string]sighting{}
	note := func(one sighting) {
		if before, ok := last[one.Device]; !ok || one.at >= before.at {
			last[one.Device] = one
		}
	}
	var rows []incarnationRow
	err := s.view.WithContext(ctx).Select("device", "person", "seen", "unsent").Where("farm = ? AND seen > 0", s.no).Find(&rows).Error
	for _, row := range rows {
		note(sighting{changelog.Sighting{Device: row.Device, Person: row.Person, Unsent: int(row.Unsent)}, row.Seen})
	}
	s.seen.mu.Lock()
	defer s.seen.mu.Unlock()
	for _, one := range s.seen.noted {
		note(one)
	}
	return last, err
}
