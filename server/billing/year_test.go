package billing_test

import (
	"context"
	"flag"
	"maps"
	"testing"
	"time"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/selling"
	"corymb/server/store"
	"corymb/syncproto"
)

var billedFarm = flag.String("billing.farm", "", "the data folder of a farm whose deliveries of the last year are to be billed")

// TestBillsAFarmsYear bills each packed delivery of a farm's last year but for its last two weeks, credits what was claimed
// of them, and calls one in two hundred void: the figures of screens rest on such a farm, and through the desk, which
// reads the farm anew for each, thousands of invoices would take an hour. An invoice's id names its delivery's order.
func TestBillsAFarmsYear(t *testing.T) {
	if *billedFarm == "" {
		t.Skip("no farm was named by -billing.farm")
	}
	s, err := store.Open(*billedFarm, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	state, _, err := s.State(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	series, err := s.InvoiceSeries(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	y := year{
		sales: farm.Read(crop.FarmID(s.Farm()), state).Sales, series: series, last: map[int]int{},
		recorder: changelog.Recorder{Incarnation: uuid.NewString(), Person: "ilse"},
	}
	today := crop.DateOf(time.Now())
	y.bill(today.Add(-366), today.Add(-14))
	if len(y.sales.Invoices) == 0 {
		t.Fatal("the farm has no delivery to bill")
	}
	y.store(t, s)
	found, err := s.Verify(t.Context())
	if err != nil || len(found.Faults) > 0 {
		t.Fatalf("verify: %v, %q", err, found.Faults)
	}
	t.Logf("%d invoices and credit notes", len(y.sales.Invoices))
}

// year is a farm's sales, with the invoices that are made of them as they are made.
type year struct {
	sales    crop.Sales
	series   string
	last     map[int]int // the last number by year
	recorder changelog.Recorder
	changes  []syncproto.Change
}

func (y *year) bill(from, to crop.Date) {
	for day := from; day <= to; day = day.Add(1) {
		sales := y.ofDay(day)
		for _, due := range selling.DueBetween(sales, day, day) {
			y.billDelivery(sales, due)
		}
	}
	for _, claim := range y.sales.Claims {
		if note, refusal := selling.Credit(y.sales, selling.CreditAsked{Claim: claim.ID, Date: claim.Date}); refusal == nil {
			note.ID = crop.InvoiceID("credit of " + string(claim.ID))
			y.add(note)
		}
	}
}

// ofDay is what an invoice of the day's deliveries rests on: a search through the whole year for each takes minutes.
func (y *year) ofDay(day crop.Date) crop.Sales {
	of := y.sales
	of.Orders, of.Lines, of.Packed, of.Invoices = maps.Clone(of.Orders), maps.Clone(of.Lines), maps.Clone(of.Packed), nil
	maps.DeleteFunc(of.Orders, func(_ crop.OrderID, o crop.Order) bool { return o.Due != day })
	maps.DeleteFunc(of.Packed, func(_ crop.PackedID, p crop.Packed) bool { return p.Due != day })
	maps.DeleteFunc(of.Lines, func(_ crop.LineID, l crop.Line) bool {
		_, ordered := of.Orders[l.Order]
		return l.Order != "" && !ordered
	})
	return of
}

func (y *year) billDelivery(sales crop.Sales, due selling.Due) {
	invoice, refusal := selling.Bill(sales, selling.Asked{Buyer: due.Buyer, Orders: []crop.OrderID{due.Order}, Date: due.Day})
	if refusal != nil {
		return // nothing was packed for it
	}
	invoice.ID = crop.InvoiceID("invoice of " + string(due.Order))
	invoice = y.add(invoice)
	if len(y.sales.Invoices)%200 != 0 {
		return
	}
	if note, refusal := selling.Void(y.sales, invoice.ID, due.Day); refusal == nil {
		note.ID = "void " + invoice.ID
		invoice.Void = due.Day
		y.sales.Invoices[invoice.ID] = invoice
		y.add(note, farm.VoidFacts(invoice.ID, due.Day)...)
	}
}

// add numbers an invoice and says it, as one operation.
func (y *year) add(invoice crop.Invoice, also ...changelog.Fact) crop.Invoice {
	of := invoice.Date.Year()
	y.last[of]++
	invoice.Number = crop.InvoiceNumber{Year: of, Series: y.series, N: y.last[of]}.String()
	y.sales.Invoices[invoice.ID] = invoice
	y.changes = append(y.changes, y.recorder.Operation(time.Now().UnixMilli(), append(farm.InvoiceFacts(invoice), also...)...)...)
	return invoice
}

func (y *year) store(t *testing.T, s *store.Store) {
	t.Helper()
	for _, changes := range changelog.InFrames(y.changes) {
		frame, err := changelog.NewFrame(y.recorder.Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: changes})
		if err != nil {
			t.Fatal(err)
		}
		frame.Device = changelog.DeviceShed
		results, err := s.Append(context.WithoutCancel(t.Context()), []*changelog.Frame{frame})
		if err != nil || results[0].Breach != nil || len(results[0].Ack.Refused) > 0 {
			t.Fatal(err, results)
		}
	}
}
