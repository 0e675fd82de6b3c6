package money

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// paidOf is what was paid of each invoice until a day, and the payments that are of none, by day. Those that name an invoice,
// or a note on it, are its own. Those of an order are spread over its bills that stand; webapp/src/crop/payment_parts.ts has the same.
func paidOf(farm crop.Farm, credited map[crop.InvoiceID]crop.Cents, today crop.Date) (map[crop.InvoiceID]crop.Cents, []crop.Payment) {
	own := map[crop.InvoiceID]crop.Cents{}
	var ofOrders, loose []crop.Payment
	for _, p := range farm.Money.Payments {
		i, known := farm.Sales.Invoices[p.Invoice]
		switch {
		case p.Invoice == "" && p.Order != "":
			ofOrders = append(ofOrders, p)
		case !known:
			loose = append(loose, p)
		case p.Date <= today: // what is paid back on a note is of its invoice
			own[cmp.Or(i.Credits, i.ID)] += p.Cents
		}
	}
	slices.SortFunc(ofOrders, byDay)
	owed := func(i crop.Invoice) crop.Cents { return selling.TotalsOf(i).Total - credited[i.ID] }
	s := spreading{bills: billsOfOrders(farm.Sales, ofOrders, owed), paid: own, given: map[orderBill]crop.Cents{}}
	for _, p := range ofOrders {
		switch {
		case len(s.bills[p.Order]) == 0:
			loose = append(loose, p)
		case p.Date <= today:
			s.spread(p)
		}
	}
	slices.SortFunc(loose, byDay)
	return s.paid, loose
}

func byDay(a, b crop.Payment) int {
	return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.ID, b.ID))
}

type orderBill struct {
	order   crop.OrderID
	invoice crop.InvoiceID
}

// billShare is a bill that stands, what it comes to after its notes, and an order's share of that: a payment of one order must
// not fill what another's is still to come for.
type billShare struct {
	bill        crop.Invoice
	owed, share crop.Cents
}

// spreading lays payments of orders on their bills, one payment after the other.
type spreading struct {
	bills map[crop.OrderID][]billShare // the first first
	paid  map[crop.InvoiceID]crop.Cents
	given map[orderBill]crop.Cents // by payments of the order
}

// spread lays a payment on the bills of its order: what came on the first up to what is open of the order's share, then on the
// next; what went back off the last up to what the order's payments gave it, then off the one before. What is left stays with the last.
func (s spreading) spread(p crop.Payment) {
	bills, left := s.bills[p.Order], p.Cents
	for _, b := range bills {
		s.give(p.Order, b.bill.ID, &left, max(0, min(left, b.owed-s.paid[b.bill.ID], b.share-s.given[orderBill{p.Order, b.bill.ID}])))
	}
	for _, b := range slices.Backward(bills) {
		s.give(p.Order, b.bill.ID, &left, min(0, max(left, -s.given[orderBill{p.Order, b.bill.ID}])))
	}
	s.give(p.Order, bills[len(bills)-1].bill.ID, &left, left)
}

func (s spreading) give(order crop.OrderID, to crop.InvoiceID, left *crop.Cents, part crop.Cents) {
	s.paid[to] += part
	s.given[orderBill{order, to}] += part
	*left -= part
}

// billsOfOrders are, of each order that was paid for by itself, the bills that stand and have a line of it, by date and number.
func billsOfOrders(s crop.Sales, payments []crop.Payment, owed func(crop.Invoice) crop.Cents) map[crop.OrderID][]billShare {
	bills := map[crop.OrderID][]billShare{}
	for _, p := range payments {
		bills[p.Order] = nil
	}
	if len(bills) == 0 {
		return bills
	}
	notes := standingNotes(s)
	for _, i := range s.Invoices {
		if i.Credits != "" || i.Void != "" {
			continue
		}
		whole := owed(i)
		orders, shares := sharesOn(s, slices.Concat(i.Lines, notes[i.ID]), whole)
		for n, order := range orders {
			if of, paid := bills[order]; paid {
				bills[order] = append(of, billShare{i, whole, crop.Cents(shares[n])})
			}
		}
	}
	for _, of := range bills {
		slices.SortFunc(of, func(a, b billShare) int {
			return cmp.Or(cmp.Compare(a.bill.Date, b.bill.Date), cmp.Compare(a.bill.Number, b.bill.Number), cmp.Compare(a.bill.ID, b.bill.ID))
		})
	}
	return bills
}

// standingNotes are the rows of the notes that stand, by the invoice that they are on, in the notes' order.
func standingNotes(s crop.Sales) map[crop.InvoiceID][]crop.InvoiceLine {
	rows := map[crop.InvoiceID][]crop.InvoiceLine{}
	for _, id := range slices.Sorted(maps.Keys(s.Invoices)) {
		if note := s.Invoices[id]; note.Credits != "" && note.Void == "" {
			rows[note.Credits] = append(rows[note.Credits], note.Lines...)
		}
	}
	return rows
}

// sharesOn splits what is owed of an invoice among the orders of which it has a line, also those that were withdrawn since, by
// what is left of their lines after notes: each bears its part of fees, tax and discounts. Lines of no known order are under "".
func sharesOn(s crop.Sales, rows []crop.InvoiceLine, owed crop.Cents) ([]crop.OrderID, []int64) {
	var orders []crop.OrderID
	var costs []int64
	for _, row := range rows {
		if row.Line == "" {
			continue
		}
		order, _ := selling.OnceOrderOf(s, row.Line)
		at := slices.Index(orders, order)
		if at < 0 {
			at = len(orders)
			orders, costs = append(orders, order), append(costs, 0)
		}
		costs[at] += int64(row.Cents)
	}
	if len(orders) == 0 {
		return nil, nil
	}
	for n, cost := range costs {
		costs[n] = max(0, cost)
	}
	return orders, selling.PartsOf(int64(max(0, owed)), costs)
}
