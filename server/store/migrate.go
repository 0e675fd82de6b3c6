package store

import (
	"errors"
	"fmt"

	"github.com/google/uuid"
	"gorm.io/gorm"
)

// schemaVersion counts the steps that led to the tables of models.go. Before the first release
// there is one.
const schemaVersion = 1

// errNewer says that the database was written by a later version of Corymb.
var errNewer = errors.New("the database was written by a newer version of Corymb; nothing was changed; start that version instead")

// migrate brings the tables up to date, in one transaction.
func migrate(orm *gorm.DB) error {
	return orm.Transaction(func(tx *gorm.DB) error {
		if err := tx.AutoMigrate(&schemaRow{}); err != nil {
			return err
		}
		held := schemaRow{ID: 1}
		if err := tx.FirstOrInit(&held, schemaRow{ID: 1}).Error; err != nil {
			return err
		}
		switch {
		case held.Version > schemaVersion:
			return errNewer
		case held.Version == schemaVersion:
			return nil
		}
		tables := []any{&farmRow{}, &changeRow{}, &incarnationRow{}, &outcomeRow{}, &slotRow{}}
		for _, table := range tables {
			if err := tx.AutoMigrate(table); err != nil {
				return fmt.Errorf("making the tables: %w", err)
			}
		}
		return tx.Save(&schemaRow{ID: 1, Version: schemaVersion}).Error
	})
}

// ensureFarm finds the folder's farm, or makes it at the first start.
func (s *Store) ensureFarm() (farmRow, error) {
	var farms []farmRow
	if err := s.orm.Limit(2).Find(&farms).Error; err != nil {
		return farmRow{}, err
	}
	switch len(farms) {
	case 0:
		farm := farmRow{ID: uuid.NewString(), Epoch: uuid.NewString(), NextArrival: 1}
		return farm, s.orm.Create(&farm).Error
	case 1:
		return farms[0], nil
	default:
		return farmRow{}, errors.New("the database holds more than one farm, which this version cannot serve")
	}
}
