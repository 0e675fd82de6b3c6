// Package billing makes a farm's invoices and credit notes: one after the other, each with the number that follows, as
// changes of the farm's log.
package billing

import (
	"context"
	"fmt"
	"strconv"
	"sync"
	"time"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/selling"
	"corymb/syncproto"
)

// Log is what billing reads of the farm, and where it learns which series it may number in.
type Log interface {
	Farm() string
	Epoch() string
	State(ctx context.Context) (*changelog.State, int64, error)
	Standing(ctx context.Context, asked changelog.Asked) (changelog.Standing, error)
	InvoiceSeries(ctx context.Context, begun map[string]bool) (series string, err error)
}

// Append settles frames, as store.Append and live.Take do.
type Append func(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error)

// Desk makes invoices. It is safe for concurrent use; a farm has one.
type Desk struct {
	log    Log
	append Append
	now    func() time.Time
	one    sync.Mutex // from reading which numbers are taken until the next one is on disk
}

// New makes the desk of a farm.
func New(log Log, append Append, now func() time.Time) *Desk {
	return &Desk{log: log, append: append, now: now}
}

// Bill makes an invoice of deliveries, on behalf of a person. Where none can be made, the error is a *selling.Refusal.
func (d *Desk) Bill(ctx context.Context, person string, asked selling.Asked) (crop.Invoice, error) {
	return d.write(ctx, person, func(s crop.Sales) (crop.Invoice, []changelog.Fact, *selling.Refusal) {
		invoice, refusal := selling.Bill(s, asked)
		invoice.ID = crop.InvoiceID(uuid.NewString())
		return invoice, nil, refusal
	})
}

// Credit makes the credit note of a claim, once, or of bunches that were billed and taken back since.
func (d *Desk) Credit(ctx context.Context, person string, asked selling.CreditAsked) (crop.Invoice, error) {
	return d.write(ctx, person, func(s crop.Sales) (crop.Invoice, []changelog.Fact, *selling.Refusal) {
		note, refusal := selling.Credit(s, asked)
		if refusal != nil {
			return note, nil, refusal
		}
		if asked.Claim == "" {
			note.ID = crop.InvoiceID(uuid.NewString())
			return note, nil, nil
		}
		note.ID = d.creditID(s, note)
		return note, nil, notTwice(s, note.ID)
	})
}

// Void takes back all that is left of an invoice by a note with a number of its own, and calls the invoice void.
func (d *Desk) Void(ctx context.Context, person string, id crop.InvoiceID, date crop.Date) (crop.Invoice, error) {
	return d.write(ctx, person, func(s crop.Sales) (crop.Invoice, []changelog.Fact, *selling.Refusal) {
		note, refusal := selling.Void(s, id, date)
		if refusal != nil {
			return note, nil, refusal
		}
		note.ID = d.idOf("void", string(id))
		return note, farm.VoidFacts(id, date), notTwice(s, note.ID)
	})
}

// creditID names the note of a claim on an invoice, the first and each further one that a raised claim has.
func (d *Desk) creditID(s crop.Sales, note crop.Invoice) crop.InvoiceID {
	parts := []string{"credit", string(note.Claim), string(note.Credits)}
	before := 0
	for _, i := range s.Invoices {
		if i.Claim == note.Claim && i.Credits == note.Credits {
			before++
		}
	}
	if before > 0 {
		parts = append(parts, strconv.Itoa(before))
	}
	return d.idOf(parts...)
}

// notTwice refuses what was written under an id before.
func notTwice(s crop.Sales, id crop.InvoiceID) *selling.Refusal {
	before, is := s.Invoices[id]
	if !is {
		return nil
	}
	return &selling.Refusal{
		Code: "credited", Number: before.Number, Text: fmt.Sprintf("Credit note %s has this already. Nothing was credited twice.", before.Number),
	}
}

// idOf names what is written once, whoever asks again.
func (d *Desk) idOf(parts ...string) crop.InvoiceID {
	name := d.log.Farm()
	for _, part := range parts {
		name += "\n" + part
	}
	return crop.InvoiceID(uuid.NewSHA1(uuid.NameSpaceOID, []byte(name)).String())
}

// plan makes an invoice without its number of what is sold, and what else is said with it.
type plan func(s crop.Sales) (crop.Invoice, []changelog.Fact, *selling.Refusal)

// write makes an invoice and appends it. Its number is taken by being in the log, so that one that could not be stored
// leaves no gap.
func (d *Desk) write(ctx context.Context, person string, plan plan) (crop.Invoice, error) {
	d.one.Lock()
	defer d.one.Unlock()
	state, _, err := d.log.State(ctx)
	if err != nil {
		return crop.Invoice{}, err
	}
	read := farm.Read(crop.FarmID(d.log.Farm()), state)
	invoice, also, refusal := plan(read.Sales)
	if refusal == nil {
		refusal = d.wrongDay(invoice.Date)
	}
	if refusal != nil {
		return crop.Invoice{}, refusal
	}
	invoice.Head = selling.HeadOf(read, invoice)
	if invoice.Number, err = d.number(ctx, state, invoice.Date); err != nil {
		return crop.Invoice{}, err
	}
	// Whoever stops waiting: as long as it is open whether this one is stored, no other may read the numbers.
	err = d.say(context.WithoutCancel(ctx), person, append(farm.InvoiceFacts(invoice), also...))
	return invoice, err
}

// wrongDay refuses a day that nobody bills on: a clock or a finger slipped.
func (d *Desk) wrongDay(day crop.Date) *selling.Refusal {
	today := crop.DateOf(d.now())
	if day >= today.Add(-366) && day <= today.Add(1) {
		return nil
	}
	return &selling.Refusal{Code: "day", Text: fmt.Sprintf("%s is not a day of the last year up to today. Nothing was billed. Look at this device’s date.", day)}
}

// number is the next of this epoch's series. What was withdrawn has a number too.
func (d *Desk) number(ctx context.Context, state *changelog.State, date crop.Date) (string, error) {
	taken := farm.InvoiceNumbers(state)
	begun := map[string]bool{}
	for _, text := range taken {
		if n, ok := crop.ParseInvoiceNumber(text); ok {
			begun[n.Series] = true
		}
	}
	series, err := d.log.InvoiceSeries(ctx, begun)
	if err != nil {
		return "", err
	}
	return crop.NextInvoiceNumber(taken, date.Year(), series).String(), nil
}

// say appends facts as one operation of the shed.
func (d *Desk) say(ctx context.Context, person string, facts []changelog.Fact) error {
	incarnation := d.incarnation()
	standing, err := d.log.Standing(ctx, changelog.Asked{Incarnation: incarnation})
	if err != nil {
		return err
	}
	recorder := changelog.Recorder{Incarnation: incarnation, Person: person, Seq: standing.Seq}
	recorder.Clock.Last = standing.Stamp
	changes := recorder.Operation(d.now().UnixMilli(), facts...)
	frame, err := changelog.NewFrame(incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: changes})
	if err != nil {
		return fmt.Errorf("framing an invoice: %w", err)
	}
	frame.Device = changelog.DeviceShed
	results, err := d.append(ctx, []*changelog.Frame{frame})
	if err != nil {
		return err
	}
	if breach := results[0].Breach; breach != nil {
		return fmt.Errorf("storing an invoice: %w", breach)
	}
	if no := results[0].Ack.Refused; len(no) > 0 {
		return fmt.Errorf("storing an invoice: %d changes were refused, the first because %s", len(no), no[0].Text)
	}
	return nil
}

// incarnation is the one under which this epoch writes invoices: an older copy that was put back goes on in another.
func (d *Desk) incarnation() string {
	return uuid.NewSHA1(uuid.NameSpaceOID, []byte(d.log.Farm()+"\ninvoices\n"+d.log.Epoch())).String()
}
