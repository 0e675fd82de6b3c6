package money

import (
	"cmp"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// paidOf is what was paid of each invoice until a day, and the payments that are of none, by day. Those that name an invoice,
// or a note on it, are its own. Those of an order are spread over its bills that stand; webapp/src/crop/paid.ts has the same.
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
	s := spreading{bills: billsOfOrders(farm.Sales, ofOrders), paid: own, given: map[orderBill]crop.Cents{}}
	s.owed = func(i crop.Invoice) crop.Cents { return selling.TotalsOf(i).Total - credited[i.ID] }
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

// spreading lays payments of orders on their bills, one payment after the other.
type spreading struct {
	bills map[crop.OrderID][]crop.Invoice // that stand, the first first
	owed  func(crop.Invoice) crop.Cents
	paid  map[crop.InvoiceID]crop.Cents
	given map[orderBill]crop.Cents // by payments of the order
}

// spread lays a payment on the bills of its order: what came on the first up to what is open of it, then on the next; what went
// back off the last up to what the order's payments gave it, then off the one before. What is left stays with the last.
func (s spreading) spread(p crop.Payment) {
	bills, left := s.bills[p.Order], p.Cents
	for _, i := range bills {
		s.give(p.Order, i.ID, &left, max(0, min(left, s.owed(i)-s.paid[i.ID])))
	}
	for _, i := range slices.Backward(bills) {
		s.give(p.Order, i.ID, &left, min(0, max(left, -s.given[orderBill{p.Order, i.ID}])))
	}
	s.give(p.Order, bills[len(bills)-1].ID, &left, left)
}

func (s spreading) give(order crop.OrderID, to crop.InvoiceID, left *crop.Cents, part crop.Cents) {
	s.paid[to] += part
	s.given[orderBill{order, to}] += part
	*left -= part
}

// billsOfOrders are, of each order that was paid for by itself, the bills that stand and have a line of it, by date and number.
func billsOfOrders(s crop.Sales, payments []crop.Payment) map[crop.OrderID][]crop.Invoice {
	bills := map[crop.OrderID][]crop.Invoice{}
	for _, p := range payments {
		bills[p.Order] = nil
	}
	if len(bills) == 0 {
		return bills
	}
	for _, i := range s.Invoices {
		if i.Credits != "" || i.Void != "" {
			continue
		}
		for _, order := range ordersOn(s, i) {
			if of, paid := bills[order]; paid {
				bills[order] = append(of, i)
			}
		}
	}
	for _, of := range bills {
		slices.SortFunc(of, func(a, b crop.Invoice) int {
			return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
		})
	}
	return bills
}

// ordersOn are the orders of which an invoice has a line, also those that were withdrawn since, each once.
func ordersOn(s crop.Sales, i crop.Invoice) []crop.OrderID {
	var orders []crop.OrderID
	for _, row := range i.Lines {
		if order, known := selling.OnceOrderOf(s, row.Line); known && !slices.Contains(orders, order) {
			orders = append(orders, order)
		}
	}
	return orders
}
