package store

import (
	"context"
	"errors"
	"math/rand/v2"

	"gorm.io/gorm"

	"corymb/internal/tags"
)

// leaseRow is a block of tag codes that a device may give to plants, with or without a signal.
type leaseRow struct {
	FarmNo int64   `gorm:"primaryKey;column:farm;autoIncrement:false"`
	Block  int     `gorm:"primaryKey;autoIncrement:false"`
	Epoch  string  `gorm:"not null"`
	Device string  `gorm:"not null"`
	Leased int64   `gorm:"not null"` // ms since 1970 UTC
	Farm   farmRow `gorm:"foreignKey:FarmNo"`
}

func (leaseRow) TableName() string { return "leases" }

// errNoBlocks says that every code was given out.
var errNoBlocks = errors.New("every block of tag codes was given out; plants can still be given codes by a spreadsheet")

// LeaseCodes gives a device a block of tag codes for itself alone (see tags.Codes).
//
// A farm that was put back from an older copy does not know the blocks it gave out since. So an epoch begins
// with a sign of its own, which no known lease begins with: it does not meet what was given out in another, but
// where chance gives one sign to two epochs of which the copy knew neither: one put back twice, or made before
// the first lease. Phones pass over codes that plants have, and what two plants bear all the same needs a look.
func (s *Store) LeaseCodes(ctx context.Context, device string) (block int, err error) {
	err = s.change(ctx, "leasing tag codes", func(tx *gorm.DB) error {
		var leases []leaseRow
		if err := tx.Where("farm = ?", s.no).Order("block").Find(&leases).Error; err != nil {
			return err
		}
		next, ok := s.nextBlock(leases)
		if !ok {
			return errNoBlocks
		}
		block = next
		return tx.Create(&leaseRow{FarmNo: s.no, Block: block, Epoch: s.epoch, Device: device, Leased: s.now().UnixMilli()}).Error
	})
	return block, err
}

// nextBlock follows one of this epoch, else begins with a sign that no lease begins with, else is any.
func (s *Store) nextBlock(leases []leaseRow) (block int, ok bool) {
	given, begun := map[int]bool{}, make([]bool, tags.Firsts)
	for _, lease := range leases {
		given[lease.Block] = true
		begun[lease.Block/tags.BlocksPerFirst] = true
	}
	for _, lease := range leases {
		next := lease.Block + 1
		if lease.Epoch == s.epoch && next%tags.BlocksPerFirst != 0 && !given[next] {
			return next, true
		}
	}
	for _, first := range rand.Perm(tags.Firsts) {
		if !begun[first] {
			return first * tags.BlocksPerFirst, true
		}
	}
	start := rand.IntN(tags.Blocks)
	for i := range tags.Blocks {
		if block := (start + i) % tags.Blocks; !given[block] {
			return block, true
		}
	}
	return 0, false
}
