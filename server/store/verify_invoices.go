package store

import (
	"database/sql"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
)

// billed is what the log says of invoices' numbers. All else of an invoice is left out: it would take as much memory as
// the merge state.
type billed struct {
	ids     map[string]bool
	numbers *changelog.State
}

func newBilled() billed {
	return billed{ids: map[string]bool{}, numbers: changelog.NewState()}
}

func (b billed) take(k kept) {
	if k.change.Type != farm.TypeInvoice {
		return
	}
	b.ids[k.change.ID] = true
	if k.change.Field == farm.FieldInvoiceNo {
		b.numbers.Merge(k.change, k.order)
	}
}

// checkInvoices looks whether the numbers of each series follow each other from 1 without a gap or a twin, those of void
// invoices and of notes among them, and whether each series was opened by this farm.
func (v *verification) checkInvoices(s *Store, tx *sql.Tx) error {
	numbers := farm.InvoiceNumbers(v.billed.numbers)
	v.found.Faults = append(v.found.Faults, crop.InvoiceNumberFaults(numbers)...)
	if n := len(v.billed.ids) - v.billed.numbers.Len(); n > 0 {
		v.fault("%d invoices have no number", n)
	}
	opened := map[string]bool{}
	err := eachRow(tx, "SELECT series FROM invoice_series WHERE farm = ?", s.no, func(rows *sql.Rows) error {
		var series string
		err := rows.Scan(&series)
		opened[series] = true
		return err
	})
	for _, text := range numbers {
		if n, ok := crop.ParseInvoiceNumber(text); ok && !opened[n.Series] {
			opened[n.Series] = true // it is told once
			v.fault("invoice %s is of the series %s, which this farm never opened", text, n.Series)
		}
	}
	return err
}
