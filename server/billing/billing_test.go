package billing_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/selling"
	"corymb/server/billing"
	"corymb/server/store"
	"corymb/syncproto"
)

var noon = time.Date(2026, 6, 5, 12, 0, 0, 0, time.UTC)

func clock() time.Time { return noon }

// shed is a farm in a folder with a desk.
type shed struct {
	*store.Store
	*billing.Desk
	t testing.TB
}

func open(t testing.TB, dir string) shed {
	t.Helper()
	s, err := store.Open(dir, clock)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() }) // a test may have closed it already
	return shed{s, billing.New(s, s.Append, clock), t}
}

func (s shed) close() {
	s.t.Helper()
	if err := s.Close(); err != nil {
		s.t.Fatal(err)
	}
}

// say appends facts as a phone would.
func (s shed) say(facts ...changelog.Fact) {
	s.t.Helper()
	s.sayAt(noon, facts...)
}

// sayAt does so at a time of the phone's clock: of what is said of the same thing, the latest stands.
func (s shed) sayAt(at time.Time, facts ...changelog.Fact) {
	s.t.Helper()
	phone := changelog.Recorder{Incarnation: uuid.NewString(), Person: "ana"}
	frame, err := changelog.NewFrame(phone.Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: phone.Operation(at.UnixMilli(), facts...)})
	if err != nil {
		s.t.Fatal(err)
	}
	results, err := s.Append(context.Background(), []*changelog.Frame{frame})
	if err != nil || results[0].Breach != nil || len(results[0].Ack.Refused) > 0 {
		s.t.Fatal(err, results)
	}
}

// fill orders and packs so many deliveries, "o0" and on, each of two bunches at 5.20.
func (s shed) fill(deliveries int) {
	s.t.Helper()
	s.fillFrom(0, deliveries)
}

// fillFrom does so from a number on, as operations of a hundred.
func (s shed) fillFrom(first, last int) {
	s.t.Helper()
	if last-first > 100 {
		s.fillFrom(first, last-100)
		first = last - 100
	}
	facts := farm.BuyerFacts(crop.Buyer{ID: "nord", Name: "Studio Nord"})
	for i := first; i < last; i++ {
		order, line := crop.OrderID(fmt.Sprintf("o%d", i)), crop.LineID(fmt.Sprintf("l%d", i))
		facts = slices.Concat(facts, farm.OrderFacts(crop.Order{ID: order, Buyer: "nord", Due: "2026-06-04"}),
			farm.LineFacts(crop.Line{ID: line, Order: order, Bunches: 2, Stems: 10, Price: 520}),
			farm.PackedFacts(crop.Packed{ID: crop.PackedID("p" + string(line)), Line: line, Buyer: "nord", Due: "2026-06-04", Date: "2026-06-04", Bunches: 2}))
	}
	s.say(facts...)
}

func (s shed) bill(order int) (crop.Invoice, error) {
	return s.Bill(context.Background(), "ana", selling.Asked{Buyer: "nord", Orders: []crop.OrderID{crop.OrderID(fmt.Sprintf("o%d", order))}, Date: "2026-06-05"})
}

func (s shed) mustBill(order int) crop.Invoice {
	s.t.Helper()
	invoice, err := s.bill(order)
	if err != nil {
		s.t.Fatal(err)
	}
	return invoice
}

func (s shed) sales() crop.Sales {
	s.t.Helper()
	state, _, err := s.State(context.Background())
	if err != nil {
		s.t.Fatal(err)
	}
	return farm.Read(crop.FarmID(s.Farm()), state).Sales
}

func (s shed) verify() {
	s.t.Helper()
	found, err := s.Verify(context.Background())
	if err != nil || len(found.Faults) > 0 {
		s.t.Errorf("verify: %v, %q", err, found.Faults)
	}
}

func refusalOf(err error) string {
	var refusal *selling.Refusal
	if errors.As(err, &refusal) {
		return refusal.Code
	}
	return fmt.Sprint(err)
}

func TestAnInvoiceStandsInTheLogAsItWasMade(t *testing.T) {
	s := open(t, t.TempDir())
	s.fill(1)
	made := s.mustBill(0)
	s.say(farm.LineFacts(crop.Line{ID: "l0", Order: "o0", Bunches: 2, Stems: 10, Price: 999})...)
	held := s.sales().Invoices[made.ID]
	if held.Number != made.Number || len(held.Lines) != 1 || held.Lines[0].Cents != 1040 || held.Date != "2026-06-05" {
		t.Errorf("in the log %+v, made %+v", held, made)
	}
	s.verify()
}

func TestAnInvoiceKeepsWhatItsPaperSaidWhateverIsSaidLater(t *testing.T) {
	s := open(t, t.TempDir())
	s.fill(1)
	say := func(minute int, buyer crop.Buyer, terms crop.SaleTerms) {
		s.sayAt(noon.Add(time.Duration(minute)*time.Minute), slices.Concat(farm.BuyerFacts(buyer), farm.TermsFacts(crop.FarmID(s.Farm()), terms))...)
	}
	say(0, crop.Buyer{ID: "nord", Name: "Studio Nord", Address: "Hafen 1"}, crop.SaleTerms{Seller: "Hof Ost\nWeg 2", TaxName: "USt.", TaxRate: 700})
	bill := s.mustBill(0)
	say(1, crop.Buyer{ID: "nord", Name: "Nord & Co", Address: "Markt 9"}, crop.SaleTerms{Seller: "Hof West", TaxName: "VAT", TaxRate: 900})
	note, err := s.Void(context.Background(), "ana", bill.ID, "2026-06-05")
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[crop.InvoiceID]crop.InvoiceHead{
		bill.ID: {BuyerName: "Studio Nord", Address: "Hafen 1", Seller: "Hof Ost\nWeg 2", TaxName: "USt."},
		note.ID: {BuyerName: "Nord & Co", Address: "Markt 9", Seller: "Hof West", TaxName: "USt."},
	} {
		if held := s.sales().Invoices[id].Head; held == nil || *held != want {
			t.Errorf("%s keeps %+v, want %+v", id, held, want)
		}
	}
	if held := s.sales().Invoices[note.ID].Tax; held == nil || *held != -73 {
		t.Errorf("the note keeps the tax %v, want -73", held)
	}
	s.verify()
}

func TestNumbersFollowEachOtherHoweverManyAskAtOnce(t *testing.T) {
	s := open(t, t.TempDir())
	const n = 25
	s.fill(n)
	numbers, again := make([]string, n), make([]error, n)
	var all sync.WaitGroup
	for i := range n {
		all.Go(func() {
			invoice, err := s.bill(i)
			if err != nil {
				again[i] = err
			}
			numbers[i] = invoice.Number
		})
		all.Go(func() { _, again[i] = s.bill(0) })
	}
	all.Wait()
	made := map[string]bool{}
	for _, invoice := range s.sales().Invoices {
		made[invoice.Number] = true
	}
	if len(made) != n {
		t.Errorf("%d invoices stand in the log, want %d", len(made), n)
	}
	first, _ := crop.ParseInvoiceNumber(s.mustNumberOf(0))
	for i := range n {
		if want := (crop.InvoiceNumber{Year: 2026, Series: first.Series, N: i + 1}).String(); !made[want] {
			t.Errorf("there is no %s", want)
		}
	}
	s.verify()
}

// mustNumberOf is the number of the invoice that has a delivery, told by asking for it again.
func (s shed) mustNumberOf(order int) string {
	s.t.Helper()
	_, err := s.bill(order)
	var refusal *selling.Refusal
	if !errors.As(err, &refusal) || refusal.Code != "billed" {
		s.t.Fatalf("asked again: %v", err)
	}
	return refusal.Number
}

func TestAskingTwiceBillsOnceAndNamesTheInvoice(t *testing.T) {
	s := open(t, t.TempDir())
	s.fill(1)
	made := s.mustBill(0)
	if number := s.mustNumberOf(0); number != made.Number {
		t.Errorf("it names %s, and made %s", number, made.Number)
	}
	if n := len(s.sales().Invoices); n != 1 {
		t.Errorf("%d invoices", n)
	}
}

func TestAFarmPutBackFromAnOlderCopyGivesNoNumberAgain(t *testing.T) {
	for _, before := range []int{0, 1, 3} {
		t.Run(fmt.Sprintf("%d invoices in the copy", before), func(t *testing.T) {
			dir := t.TempDir()
			s := open(t, dir)
			s.fill(10)
			given := map[string]bool{}
			for i := range before {
				given[s.mustBill(i).Number] = true
			}
			s.close()
			old, err := os.ReadFile(filepath.Join(dir, store.FileName))
			if err != nil {
				t.Fatal(err)
			}
			s = open(t, dir)
			for i := before; i < 8; i++ {
				given[s.mustBill(i).Number] = true
			}
			s.close()
			if len(given) != 8 {
				t.Fatalf("%d numbers", len(given))
			}
			if err := os.WriteFile(filepath.Join(dir, store.FileName), old, 0o600); err != nil {
				t.Fatal(err)
			}
			s = open(t, dir)
			if !s.Restored() {
				t.Fatal("it is not taken for an older copy")
			}
			for i := before; i < 10; i++ {
				if number := s.mustBill(i).Number; given[number] {
					t.Errorf("%s was given again", number)
				}
			}
			s.verify()
		})
	}
}

func TestANumberThatCouldNotBeStoredIsGivenToTheNext(t *testing.T) {
	s := open(t, t.TempDir())
	s.fill(3)
	fails := false
	desk := billing.New(s.Store, func(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
		if fails {
			return nil, errors.New("the disk is full")
		}
		return s.Append(ctx, frames)
	}, clock)
	s.Desk = desk
	first := s.mustBill(0)
	fails = true
	if _, err := s.bill(1); err == nil {
		t.Fatal("it was made though nothing could be stored")
	}
	fails = false
	second, third := s.mustBill(2), s.mustBill(1)
	n := func(i crop.Invoice) int { number, _ := crop.ParseInvoiceNumber(i.Number); return number.N }
	if n(first) != 1 || n(second) != 2 || n(third) != 3 {
		t.Errorf("numbers %s, %s, %s", first.Number, second.Number, third.Number)
	}
	s.verify()
}

func TestWhoeverStopsWaitingLeavesNoTwins(t *testing.T) {
	s := open(t, t.TempDir())
	s.fill(2)
	ctx, stop := context.WithCancel(context.Background())
	s.Desk = billing.New(s.Store, func(with context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
		stop() // whoever asked is gone while it is stored
		if with.Err() != nil {
			return nil, with.Err()
		}
		return s.Append(with, frames)
	}, clock)
	if _, err := s.Bill(ctx, "ana", selling.Asked{Buyer: "nord", Orders: []crop.OrderID{"o0"}, Date: "2026-06-05"}); err != nil {
		t.Fatal(err)
	}
	s.mustBill(1)
	s.verify()
}

func TestVoidAndCreditHaveNumbersOfTheirOwn(t *testing.T) {
	s := open(t, t.TempDir())
	s.fill(1)
	invoice := s.mustBill(0)
	s.say(farm.ClaimFacts(crop.Claim{ID: "cl", Line: "l0", Buyer: "nord", Due: "2026-06-04", Stems: 5, Reason: crop.ClaimWilted, Date: "2026-06-05", Credit: 260})...)
	ctx := context.Background()
	credit := func() (crop.Invoice, error) {
		return s.Credit(ctx, "ana", selling.CreditAsked{Claim: "cl", Date: "2026-06-05", Words: "wilted"})
	}
	void := func() (crop.Invoice, error) { return s.Void(ctx, "ana", invoice.ID, "2026-06-05") }
	for _, c := range []struct {
		name   string
		make   func() (crop.Invoice, error)
		net    crop.Cents
		number string
		code   string
	}{
		{"a credit", credit, -260, "0002", ""},
		{"the same credit", credit, 0, "", "credited"},
		{"void", void, -780, "0003", ""},
		{"void again", void, 0, "", "is_void"},
		{"the claim, whose invoice is void", credit, 0, "", "not_billed"},
		{"the delivery again", func() (crop.Invoice, error) { return s.bill(0) }, 1040, "0004", ""},
		{"the claim on the second invoice", credit, -260, "0005", ""},
	} {
		made, err := c.make()
		if c.code != "" {
			if code := refusalOf(err); code != c.code {
				t.Errorf("%s: %s, want %s", c.name, code, c.code)
			}
			continue
		}
		if err != nil || selling.TotalsOf(made).Net != c.net || made.Number[len(made.Number)-4:] != c.number {
			t.Errorf("%s: %+v (%v), want %d as %s", c.name, made, err, c.net, c.number)
		}
	}
	if held := s.sales().Invoices[invoice.ID]; held.Void != "2026-06-05" || len(held.Lines) != 1 {
		t.Errorf("the invoice is %+v", held)
	}
	s.verify()
}

func TestAClaimRaisedAfterItsNoteHasAFurtherNoteForTheDifference(t *testing.T) {
	s := open(t, t.TempDir())
	s.fill(1)
	s.mustBill(0)
	claim := func(minute int, cents crop.Cents) {
		s.sayAt(noon.Add(time.Duration(minute)*time.Minute), farm.ClaimFacts(crop.Claim{ID: "cl", Line: "l0", Buyer: "nord", Due: "2026-06-04", Stems: 5, Reason: crop.ClaimWilted, Date: "2026-06-05", Credit: cents})...)
	}
	for i, c := range []struct {
		says crop.Cents
		net  crop.Cents
		code string
	}{{300, -300, ""}, {300, 0, "credited"}, {800, -500, ""}, {800, 0, "credited"}, {200, 0, "credited"}, {1000, -200, ""}, {1041, 0, "line_credited"}} {
		claim(i, c.says)
		note, err := s.Credit(context.Background(), "ana", selling.CreditAsked{Claim: "cl", Date: "2026-06-05"})
		if c.code != "" {
			if code := refusalOf(err); code != c.code {
				t.Errorf("a claim of %d: %s, want %s", c.says, code, c.code)
			}
			continue
		}
		if err != nil || selling.TotalsOf(note).Net != c.net || note.Claim != "cl" {
			t.Errorf("a claim of %d: %+v (%v), want %d", c.says, note, err, c.net)
		}
	}
	s.verify()
}

func TestADayThatNobodyBillsOnIsRefused(t *testing.T) {
	s := open(t, t.TempDir())
	s.fill(1)
	for day, want := range map[crop.Date]string{"2025-06-03": "day", "2026-06-07": "day", "9999-12-31": "day", "0001-01-01": "day"} {
		_, err := s.Bill(context.Background(), "ana", selling.Asked{Buyer: "nord", Orders: []crop.OrderID{"o0"}, Date: day})
		if code := refusalOf(err); code != want {
			t.Errorf("%s: %s, want %s", day, code, want)
		}
	}
}

func withdrawn(scope syncproto.Scope, kind, id string, on int64) changelog.Fact {
	return changelog.Fact{Scope: scope, Op: syncproto.OpSet, Type: kind, ID: id, Field: changelog.FieldWithdrawn, Value: syncproto.Int(on)}
}

func TestVerifyingTheLogLooksAtItsInvoiceNumbers(t *testing.T) {
	numbered := func(numbers ...string) func(shed) {
		return func(s shed) {
			made := s.mustBill(0)
			for i, number := range numbers {
				s.say(farm.InvoiceFacts(crop.Invoice{ID: crop.InvoiceID(fmt.Sprintf("i%d", i)), Number: made.Number[:9] + number, Buyer: "nord", Date: "2026-06-05"})...)
			}
		}
	}
	for _, c := range []struct {
		name string
		do   func(shed)
		says []string
	}{
		{"numbers that follow each other", numbered("0002", "0003"), nil},
		{"a void invoice and its note, which have numbers too", func(s shed) {
			if _, err := s.Void(context.Background(), "ana", s.mustBill(0).ID, "2026-06-05"); err != nil {
				t.Fatal(err)
			}
			s.mustBill(0)
		}, nil},
		{"an invoice that was withdrawn, whose number stays taken", func(s shed) {
			s.say(withdrawn(syncproto.ScopeMoney, farm.TypeInvoice, string(s.mustBill(0).ID), 1))
			s.mustBill(0)
		}, nil},
		{"a gap", numbered("0003"), []string{"before invoice", "-0003 there is a gap of 1"}},
		{"twins", numbered("0001"), []string{"two invoices have the number", "-0001"}},
		{"a series of another farm", func(s shed) {
			s.say(farm.InvoiceFacts(crop.Invoice{ID: "i", Number: "2026-AAA-0001", Buyer: "nord", Date: "2026-06-05"})...)
		}, []string{"invoice 2026-AAA-0001 is of the series AAA, which this farm never opened"}},
		{"no number", func(s shed) { s.say(farm.VoidFacts("i", "2026-06-05")...) }, []string{"1 invoices have no number"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := open(t, t.TempDir())
			s.fill(1)
			c.do(s)
			whole, err := s.Verify(context.Background())
			log, errLog := s.VerifyLog(context.Background())
			if err != nil || errLog != nil || !slices.Equal(whole.Faults, log.Faults) {
				t.Fatalf("%v, %q, of the log alone %v, %q", err, whole.Faults, errLog, log.Faults)
			}
			told := strings.Join(log.Faults, "; ")
			for _, part := range c.says {
				if !strings.Contains(told, part) {
					t.Errorf("%q does not say %q", told, part)
				}
			}
			if len(c.says) == 0 && told != "" {
				t.Errorf("it says %q", told)
			}
		})
	}
}

func TestAClaimTakenAwayAfterItsNoteIsNotCreditedAgainUnderAnotherName(t *testing.T) {
	s := open(t, t.TempDir())
	s.fill(1)
	s.mustBill(0)
	claim := func(id crop.ClaimID) {
		s.say(farm.ClaimFacts(crop.Claim{ID: id, Line: "l0", Buyer: "nord", Due: "2026-06-04", Stems: 5, Reason: crop.ClaimWilted, Date: "2026-06-05", Credit: 260})...)
	}
	credit := func(id crop.ClaimID) (crop.Invoice, error) {
		return s.Credit(context.Background(), "ana", selling.CreditAsked{Claim: id, Date: "2026-06-05"})
	}
	claim("first")
	note, err := credit("first")
	if err != nil || s.sales().Invoices[note.ID].Claim != "first" {
		t.Fatalf("%+v (%v)", note, err)
	}
	s.sayAt(noon.Add(time.Minute), withdrawn(syncproto.ScopeShed, farm.TypeClaim, "first", 1))
	claim("again")
	if _, err := credit("again"); refusalOf(err) != "claim_gone" || !strings.Contains(err.Error(), note.Number) {
		t.Errorf("credited again: %v", err)
	}
	s.sayAt(noon.Add(2*time.Minute), withdrawn(syncproto.ScopeShed, farm.TypeClaim, "first", 0))
	if _, err := credit("again"); err != nil {
		t.Errorf("once it is back: %v", err)
	}
	s.verify()
}
