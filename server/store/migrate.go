package store

import (
	"errors"
	"fmt"

	"github.com/google/uuid"
	"gorm.io/gorm"
)

// schemaVersion counts the steps that led to the tables of models.go and access_models.go.
const schemaVersion = 6

// errNewer says that the database was written by a later version of Corymb.
var errNewer = errors.New("the database was written by a newer version of Corymb; nothing was changed; start that version instead")

// migrate brings the tables up to date, in one transaction.
func migrate(orm *gorm.DB) error {
	packed := false
	err := orm.Transaction(func(tx *gorm.DB) error {
		if err := tx.AutoMigrate(&schemaRow{}); err != nil {
			return err
		}
		held := schemaRow{ID: 1}
		if err := tx.FirstOrInit(&held, schemaRow{ID: 1}).Error; err != nil {
			return err
		}
		switch held.Version {
		case schemaVersion:
			return nil
		case 0:
			if err := makeTables(tx); err != nil {
				return err
			}
		case 1:
			if err := fromVersion1(tx); err != nil {
				return fmt.Errorf("bringing the database from version 1 to %d: %w", schemaVersion, err)
			}
			packed = true
		case 2, 3, 4, 5:
			if err := makeAccessTables(tx); err != nil {
				return fmt.Errorf("bringing the database from version %d to %d: %w", held.Version, schemaVersion, err)
			}
		default:
			return errNewer
		}
		return tx.Save(&schemaRow{ID: 1, Version: schemaVersion}).Error
	})
	if err == nil && packed {
		_ = orm.Exec("VACUUM").Error // where it cannot give the room back, the log fills it
	}
	return err
}

// makeTables makes the tables. Segments alone keep SQLite's hidden row number: in a table without,
// a row longer than a quarter of a page takes pages of its own.
func makeTables(tx *gorm.DB) error {
	if err := tx.AutoMigrate(&farmRow{}, &segmentRow{}); err != nil {
		return fmt.Errorf("making the tables: %w", err)
	}
	short := []any{&incarnationRow{}, &outcomeRow{}, &formerRow{}, &lifeRow{}, &slotRow{}, &passedRow{}}
	if err := tx.Set("gorm:table_options", "WITHOUT ROWID").AutoMigrate(short...); err != nil {
		return fmt.Errorf("making the tables: %w", err)
	}
	if err := tx.AutoMigrate(&stagedRow{}); err != nil {
		return fmt.Errorf("making the tables: %w", err)
	}
	return errors.Join(tx.Exec(keepApart).Error, makeAccessTables(tx))
}

// makeAccessTables makes those of who may come, where to, which codes their devices may give plants, and which series
// invoices are numbered in.
func makeAccessTables(tx *gorm.DB) error {
	err := tx.Set("gorm:table_options", "WITHOUT ROWID").AutoMigrate(&memberRow{}, &deviceRow{}, &invitationRow{}, &leaseRow{}, &seriesRow{})
	if err == nil {
		err = tx.AutoMigrate(&farmRow{})
	}
	if err != nil {
		return fmt.Errorf("making the tables of who may come: %w", err)
	}
	return nil
}

// ensureFarm finds the folder's farm, or makes it at the first start.
func (s *Store) ensureFarm() (farmRow, error) {
	var farms []farmRow
	if err := s.orm.Limit(2).Find(&farms).Error; err != nil {
		return farmRow{}, err
	}
	switch len(farms) {
	case 0:
		farm := farmRow{No: 1, ID: uuid.NewString(), Epoch: uuid.NewString(), NextArrival: 1}
		return farm, s.orm.Create(&farm).Error
	case 1:
		return farms[0], nil
	default:
		return farmRow{}, errors.New("the database holds more than one farm, which this version cannot serve")
	}
}
