package crop

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
)

// InvoiceNumber is a number that stands on an invoice: "2026-KQM-0007". Numbers of a year and series follow each other
// without a gap, from 1.
type InvoiceNumber struct {
	Year   int
	Series string
	N      int
}

var invoiceNumberForm = regexp.MustCompile(`^(\d{4})-([A-Z]{1,8})-(\d{4,9})$`)

func (n InvoiceNumber) String() string { return fmt.Sprintf("%04d-%s-%04d", n.Year, n.Series, n.N) }

// ParseInvoiceNumber reads a number; false where it is none, or not written as it should be.
func ParseInvoiceNumber(text string) (InvoiceNumber, bool) {
	parts := invoiceNumberForm.FindStringSubmatch(text)
	if parts == nil {
		return InvoiceNumber{}, false
	}
	year, errYear := strconv.Atoi(parts[1])
	n, errN := strconv.Atoi(parts[3])
	number := InvoiceNumber{Year: year, Series: parts[2], N: n}
	return number, errYear == nil && errN == nil && number.String() == text && n > 0
}

// NextInvoiceNumber follows the highest of a year and series.
func NextInvoiceNumber(taken []string, year int, series string) InvoiceNumber {
	next := InvoiceNumber{Year: year, Series: series, N: 1}
	for _, text := range taken {
		if n, ok := ParseInvoiceNumber(text); ok && n.Year == year && n.Series == series {
			next.N = max(next.N, n.N+1)
		}
	}
	return next
}

// InvoiceNumberFaults says in sentences which numbers are none, stand twice or are left out. taken are those of all
// invoices.
func InvoiceNumberFaults(taken []string) []string {
	type series struct {
		year int
		name string
	}
	var faults []string
	found := map[series][]int{}
	for _, text := range taken {
		n, ok := ParseInvoiceNumber(text)
		if !ok {
			faults = append(faults, fmt.Sprintf("an invoice has the number %.40q, which is none", text))
			continue
		}
		at := series{n.Year, n.Series}
		found[at] = append(found[at], n.N)
	}
	for at, numbers := range found {
		slices.Sort(numbers)
		last := 0
		for _, n := range numbers {
			switch name := (InvoiceNumber{at.year, at.name, n}).String(); {
			case n == last:
				faults = append(faults, fmt.Sprintf("two invoices have the number %s", name))
			case n != last+1:
				faults = append(faults, fmt.Sprintf("before invoice %s there is a gap of %d", name, n-last-1))
			}
			last = n
		}
	}
	slices.SortFunc(faults, cmp.Compare[string])
	return faults
}
