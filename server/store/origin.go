package store

import (
	"context"

	"gorm.io/gorm"
)

// Origin is the address that phones know the farm by, as SetOrigin set it; empty before.
func (s *Store) Origin(ctx context.Context) (string, error) {
	var row farmRow
	err := s.view.WithContext(ctx).Select("origin").First(&row, s.no).Error
	return row.Origin, explain("reading the farm's address", err)
}

// SetOrigin settles the address that phones know the farm by.
func (s *Store) SetOrigin(ctx context.Context, origin string) error {
	return s.change(ctx, "settling the farm's address", func(tx *gorm.DB) error {
		return tx.Model(&farmRow{}).Where("no = ?", s.no).Update("origin", origin).Error
	})
}
