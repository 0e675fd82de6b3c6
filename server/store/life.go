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
