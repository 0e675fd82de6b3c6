package store

import (
	"context"
	"errors"
	"math/rand/v2"

	"gorm.io/gorm"
)

// seriesRow is a series of invoice numbers that an epoch began.
type seriesRow struct {
	FarmNo int64   `gorm:"primaryKey;column:farm;autoIncrement:false"`
	Series string  `gorm:"primaryKey"`
	Epoch  string  `gorm:"not null"`
	Opened int64   `gorm:"not null"` // ms since 1970 UTC
	Farm   farmRow `gorm:"foreignKey:FarmNo"`
}

func (seriesRow) TableName() string { return "invoice_series" }

// seriesSigns make up a series: three consonants, which spell no word.
const seriesSigns = "BCDFGHJKLMNPQRSTVWXZ"

// InvoiceSeries is the series in which this epoch numbers invoices. begun are those that known invoices begin with.
//
// A farm that was put back from an older copy does not know which invoices it gave out since. So an epoch opens a
// series with which no invoice known and no other epoch begins: it gives no number again, but where chance (1 in 8,000)
// gives one series to two epochs of which the copy knew neither.
func (s *Store) InvoiceSeries(ctx context.Context, begun map[string]bool) (series string, err error) {
	err = s.change(ctx, "opening a series of invoice numbers", func(tx *gorm.DB) error {
		var rows []seriesRow
		if err := tx.Where("farm = ?", s.no).Find(&rows).Error; err != nil {
			return err
		}
		taken := map[string]bool{}
		for _, row := range rows {
			if row.Epoch == s.epoch {
				series = row.Series
				return nil
			}
			taken[row.Series] = true
		}
		drawn, ok := drawSeries(func(one string) bool { return taken[one] || begun[one] })
		if !ok {
			return errNoSeries
		}
		series = drawn
		return tx.Create(&seriesRow{FarmNo: s.no, Series: series, Epoch: s.epoch, Opened: s.now().UnixMilli()}).Error
	})
	return series, err
}

var errNoSeries = errors.New("every series of invoice numbers was begun")

// drawSeries draws one that is not taken, if there is any.
func drawSeries(taken func(series string) bool) (string, bool) {
	const n = len(seriesSigns)
	start := rand.IntN(n * n * n)
	for i := range n * n * n {
		at := (start + i) % (n * n * n)
		one := string([]byte{seriesSigns[at/n/n], seriesSigns[at/n%n], seriesSigns[at%n]})
		if !taken(one) {
			return one, true
		}
	}
	return "", false
}
