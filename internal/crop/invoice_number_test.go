package crop

import (
	"slices"
	"testing"
)

func TestInvoiceNumbersAreReadAsTheyAreWritten(t *testing.T) {
	for text, want := range map[string]InvoiceNumber{
		"2026-KQM-0007": {2026, "KQM", 7}, "2026-A-0001": {2026, "A", 1}, "2026-KQM-12345": {2026, "KQM", 12_345},
		"2026-KQM-0000": {}, "2026-KQM-007": {}, "2026-KQM-00007": {}, "2026-kqm-0007": {}, "26-KQM-0007": {}, "2026--0007": {}, "": {},
		"2026-KQM-0007 ": {},
	} {
		n, ok := ParseInvoiceNumber(text)
		if ok != (want.N > 0) || ok && (n != want || n.String() != text) {
			t.Errorf("%q is read as %+v, %v", text, n, ok)
		}
	}
}

func TestTheNextInvoiceNumberFollowsThoseOfItsYearAndSeries(t *testing.T) {
	taken := []string{"2026-KQM-0001", "2026-KQM-0003", "2025-KQM-0009", "2026-BBB-0012", "?"}
	for _, c := range []struct {
		year   int
		series string
		want   string
	}{
		{2026, "KQM", "2026-KQM-0004"}, {2025, "KQM", "2025-KQM-0010"}, {2027, "KQM", "2027-KQM-0001"}, {2026, "BBB", "2026-BBB-0013"},
	} {
		if got := NextInvoiceNumber(taken, c.year, c.series).String(); got != c.want {
			t.Errorf("%d %s: %s, want %s", c.year, c.series, got, c.want)
		}
	}
}

func TestGapsAndTwinsOfInvoiceNumbersAreFaults(t *testing.T) {
	for _, c := range []struct{ taken, want []string }{
		{nil, nil},
		{[]string{"2026-KQM-0002", "2026-KQM-0001", "2027-KQM-0001", "2026-B-0001"}, nil},
		{[]string{"2026-KQM-0001", "2026-KQM-0001"}, []string{"two invoices have the number 2026-KQM-0001"}},
		{[]string{"2026-KQM-0002", "2026-KQM-0005"}, []string{"before invoice 2026-KQM-0002 there is a gap of 1", "before invoice 2026-KQM-0005 there is a gap of 2"}},
		{[]string{"7"}, []string{`an invoice has the number "7", which is none`}},
	} {
		if got := InvoiceNumberFaults(c.taken); !slices.Equal(got, c.want) {
			t.Errorf("%v: %q, want %q", c.taken, got, c.want)
		}
	}
}
