package httpapi_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"strings"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/selling"
	"corymb/server/httpapi"
)

// biller notes what it is asked and answers invoice 7, or an error.
type biller struct {
	asked selling.Asked
	other string
	err   error
}

var seven = crop.Invoice{ID: "i", Number: "2026-BCD-0007"}

func (b *biller) Bill(_ context.Context, _ string, asked selling.Asked) (crop.Invoice, error) {
	b.asked = asked
	return seven, b.err
}

func (b *biller) Credit(_ context.Context, _ string, a selling.CreditAsked) (crop.Invoice, error) {
	b.other = fmt.Sprintf("credit %s %s %s on %s", a.Claim+crop.ClaimID(a.Line), a.Date, a.Words, a.Invoice)
	return seven, b.err
}

func (b *biller) Void(_ context.Context, _ string, id crop.InvoiceID, date crop.Date) (crop.Invoice, error) {
	b.other = fmt.Sprintf("void %s %s", id, date)
	return seven, b.err
}

func TestWhatABillIsAskedForReachesTheDesk(t *testing.T) {
	b := &biller{}
	h := handler(t, newGround(), func(c *httpapi.Config) { c.Bills = b })
	w := postTo(h, "/api/invoices", `{"buyer":"nord","orders":["o","st@2026-06-05"],"date":"2026-06-05","words":{"l":"ember\n first\u0007"},"fee":"Lieferung","discount":{"rate":1250,"words":"Rabatt\n 12,5 %"}}`)
	if want := `{"id":"i","number":"2026-BCD-0007"}`; w.Code != 200 || w.Body.String() != want {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if a := b.asked; a.Buyer != "nord" || len(a.Orders) != 2 || a.Date != "2026-06-05" || !maps.Equal(a.Words, map[crop.LineID]string{"l": "ember first"}) || a.Fee != "Lieferung" ||
		a.Discount != (selling.Discount{Rate: 1250, Words: "Rabatt 12,5 %"}) {
		t.Errorf("asked %+v", a)
	}
	for _, c := range []struct{ path, body, want string }{
		{"/api/credits", `{"claim":"cl","invoice":"i7","date":"2026-06-05","words":"wilted"}`, "credit cl 2026-06-05 wilted on i7"},
		{"/api/credits", `{"line":"l","invoice":"i7","date":"2026-06-05","words":"back"}`, "credit l 2026-06-05 back on i7"},
		{"/api/invoices/i7/void", `{"date":"2026-06-05"}`, "void i7 2026-06-05"},
	} {
		if w := postTo(h, c.path, c.body); w.Code != 200 || b.other != c.want {
			t.Errorf("%s: %d, asked %q, want %q", c.path, w.Code, b.other, c.want)
		}
	}
}

func TestWhatIsNoBillIsNotAsked(t *testing.T) {
	for _, c := range []struct {
		path, body, code string
		status           int
	}{
		{"/api/invoices", `{`, "malformed", 400},
		{"/api/invoices", `{"buyer":"b","orders":["o"],"date":"5 June"}`, "malformed", 400},
		{"/api/invoices", `{"orders":["o"],"date":"2026-06-05"}`, "malformed", 400},
		{"/api/invoices", `{"buyer":"b","date":"2026-06-05","words":{"l":"` + strings.Repeat("x", 1_001) + `"}}`, "malformed", 400},
		{"/api/invoices", `{"buyer":"` + strings.Repeat("x", 1<<20) + `"}`, "too_large", 413},
		{"/api/invoices", `{"buyer":"b","orders":["o"],"date":"2026-06-05","discount":{}}`, "malformed", 400},
		{"/api/invoices", `{"buyer":"b","orders":["o"],"date":"2026-06-05","discount":{"rate":10000}}`, "malformed", 400},
		{"/api/invoices", `{"buyer":"b","orders":["o"],"date":"2026-06-05","discount":{"rate":1000,"cents":5}}`, "malformed", 400},
		{"/api/invoices", `{"buyer":"b","orders":["o"],"date":"2026-06-05","discount":{"cents":-5}}`, "malformed", 400},
		{"/api/credits", `{"date":"2026-06-05"}`, "malformed", 400},
		{"/api/credits", `{"claim":"c","line":"l","date":"2026-06-05"}`, "malformed", 400},
		{"/api/invoices/i/void", `{}`, "malformed", 400},
	} {
		b := &biller{err: errors.New("it was asked")}
		h := handler(t, newGround(), func(cfg *httpapi.Config) { cfg.Bills = b })
		checkError(t, postTo(h, c.path, c.body), c.status, c.code)
	}
}

func TestARefusedBillNamesTheInvoiceInTheWay(t *testing.T) {
	b := &biller{err: &selling.Refusal{Code: "billed", Number: "2026-BCD-0003", Text: "Invoice 2026-BCD-0003 has it."}}
	h := handler(t, newGround(), func(c *httpapi.Config) { c.Bills = b })
	w := postTo(h, "/api/invoices", `{"buyer":"b","orders":["o"],"date":"2026-06-05"}`)
	checkError(t, w, 409, "billed")
	if !strings.Contains(w.Body.String(), `"number":"2026-BCD-0003"`) {
		t.Error(w.Body)
	}
	b.err = errors.New("the disk is full")
	if w := postTo(h, "/api/invoices", `{"buyer":"b","orders":["o"],"date":"2026-06-05"}`); w.Code != 500 || strings.Contains(w.Body.String(), "disk") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}
