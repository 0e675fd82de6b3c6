package store

import (
	"context"

	"gorm.io/gorm/clause"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// Seen notes what a hello told about a device.
func (s *Store) Seen(ctx context.Context, said changelog.Sighting) error {
	s.writing.Lock()
	defer s.writing.Unlock()
	start := syncproto.ChainStart(s.farm, said.Incarnation)
	row := incarnationRow{
		FarmID: s.farm, Incarnation: said.Incarnation, Hash: start[:],
		Device: said.Device, Person: said.Person, Seen: s.now().UnixMilli(), Unsent: int64(said.Unsent),
	}
	err := s.orm.WithContext(ctx).Omit("Farm").Clauses(clause.OnConflict{
		Columns:   []clause.Column{{Name: "farm"}, {Name: "incarnation"}},
		DoUpdates: clause.AssignmentColumns([]string{"device", "person", "seen", "unsent"}),
	}).Create(&row).Error
	return explain("noting that a phone was here", err)
}
