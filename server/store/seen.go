package store

import (
	"context"
	"errors"

	"gorm.io/gorm"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// Seen notes what a hello told about a device.
func (s *Store) Seen(ctx context.Context, said changelog.Sighting) error {
	s.writing.Lock()
	defer s.writing.Unlock()
	err := s.orm.WithContext(ctx).Transaction(func(tx *gorm.DB) error {
		row := incarnationRow{FarmNo: s.no, Incarnation: said.Incarnation}
		err := tx.Where(&row).Take(&row).Error
		if errors.Is(err, gorm.ErrRecordNotFound) {
			start := syncproto.ChainStart(s.farm, said.Incarnation)
			row.Hash, row.StagedHash = start[:], []byte{}
			err = tx.Model(&incarnationRow{}).Where("farm = ?", s.no).Select("coalesce(max(no), 0) + 1").Scan(&row.No).Error
		}
		if err != nil {
			return err
		}
		row.Device, row.Person, row.Seen, row.Unsent = said.Device, said.Person, s.now().UnixMilli(), int64(said.Unsent)
		return tx.Omit("Farm").Save(&row).Error
	})
	return explain("noting that a phone was here", err)
}
