package billing_test

import (
	"testing"
)

// BenchmarkBillAfterAYear is one invoice on a farm that packed 20,000 bunches for 10,000 deliveries.
func BenchmarkBillAfterAYear(b *testing.B) {
	s := open(b, b.TempDir())
	s.fillFrom(0, 10_000)
	next := 0
	for b.Loop() {
		s.mustBill(next)
		next++
	}
}
