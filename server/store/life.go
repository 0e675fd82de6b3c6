package store

import (
	"github.com/google/uuid"
	"gorm.io/gorm"
)

// beginLife notes that the database was opened, and by that which log it goes on from.
func beginLife(orm *gorm.DB, farm farmRow) (life string, err error) {
	row := lifeRow{FarmNo: farm.No, Life: uuid.NewString()[:8], After: farm.NextArrival - 1}
	err = orm.Transaction(func(tx *gorm.DB) error {
		err := tx.Model(&lifeRow{}).Where("farm = ?", farm.No).Select("coalesce(max(no), 0) + 1").Scan(&row.No).Error
		if err != nil {
			return err
		}
		return tx.Omit("Farm").Create(&row).Error
	})
	return row.Life, err
}

// openedBefore tells whether the database was here before this opening, so that it must have a mark. An
// empty one has at least a life; one of version 1 has none.
func openedBefore(orm *gorm.DB, farm farmRow) (bool, error) {
	var lives int64
	err := orm.Model(&lifeRow{}).Where("farm = ?", farm.No).Limit(1).Count(&lives).Error
	return lives > 0 || farm.NextArrival > 1, err
}
