package httpapi

import (
	"context"
	"errors"
	"net/http"
	"unicode/utf8"

	"github.com/gin-gonic/gin"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// Bills makes invoices and credit notes, each with its number. What cannot be made is a *selling.Refusal.
type Bills interface {
	Bill(ctx context.Context, person string, asked selling.Asked) (crop.Invoice, error)
	Credit(ctx context.Context, person string, asked selling.CreditAsked) (crop.Invoice, error)
	Void(ctx context.Context, person string, id crop.InvoiceID, date crop.Date) (crop.Invoice, error)
}

const (
	// mostBillBytes holds the words of several hundred lines.
	mostBillBytes = 1 << 20
	// mostWords is the most letters that say what one line of an invoice is.
	mostWords = 1_000
)

// postInvoice answers POST /api/invoices: the invoice of some deliveries to a buyer, each named by its order. Its
// number is the shed's alone.
func (config Config) postInvoice(c *gin.Context) {
	var asked struct {
		Buyer  string            `json:"buyer"`
		Orders []string          `json:"orders"`
		Date   string            `json:"date"`
		Words  map[string]string `json:"words"` // by line
		Fee    string            `json:"fee"`   // what a delivery's fee is called
		// Discount has a rate in hundredths of a percent or cents; null for none.
		Discount *struct {
			Rate  int        `json:"rate"`
			Cents crop.Cents `json:"cents"`
			Words string     `json:"words"`
		} `json:"discount"`
	}
	if !config.askedAtMost(mostBillBytes, c, &asked) {
		return
	}
	bill := selling.Asked{Buyer: crop.BuyerID(asked.Buyer), Date: crop.Date(asked.Date), Words: map[crop.LineID]string{}}
	for _, order := range asked.Orders {
		bill.Orders = append(bill.Orders, crop.OrderID(order))
	}
	ok := bill.Buyer != "" && bill.Date.Valid()
	bill.Fee = wordsOf(asked.Fee, &ok)
	for line, words := range asked.Words {
		bill.Words[crop.LineID(line)] = wordsOf(words, &ok)
	}
	if given := asked.Discount; given != nil {
		bill.Discount = selling.Discount{Rate: given.Rate, Cents: given.Cents, Words: wordsOf(given.Words, &ok)}
		ok = ok && bill.Discount.Valid()
	}
	if !ok {
		notReadable(c)
		return
	}
	invoice, err := config.Bills.Bill(c.Request.Context(), grantOf(c).Person, bill)
	config.billed(c, invoice, err)
}

// postCredit answers POST /api/credits: the credit note of a claim, or of a line of which less is packed than was billed.
func (config Config) postCredit(c *gin.Context) {
	var asked struct{ Claim, Line, Invoice, Date, Words string }
	if !config.asked(c, &asked) {
		return
	}
	credit := selling.CreditAsked{
		Claim: crop.ClaimID(asked.Claim), Line: crop.LineID(asked.Line), Invoice: crop.InvoiceID(asked.Invoice), Date: crop.Date(asked.Date),
	}
	ok := (asked.Claim == "") != (asked.Line == "") && credit.Date.Valid()
	credit.Words = wordsOf(asked.Words, &ok)
	if !ok {
		notReadable(c)
		return
	}
	note, err := config.Bills.Credit(c.Request.Context(), grantOf(c).Person, credit)
	config.billed(c, note, err)
}

// postVoid answers POST /api/invoices/:invoice/void.
func (config Config) postVoid(c *gin.Context) {
	var asked struct{ Date string }
	if !config.asked(c, &asked) {
		return
	}
	if !crop.Date(asked.Date).Valid() {
		notReadable(c)
		return
	}
	note, err := config.Bills.Void(c.Request.Context(), grantOf(c).Person, crop.InvoiceID(c.Param("invoice")), crop.Date(asked.Date))
	config.billed(c, note, err)
}

func notReadable(c *gin.Context) {
	refuse(c, http.StatusBadRequest, "malformed", "What was asked cannot be read. Nothing was billed. Reload the page and try again.")
}

// wordsOf is a text on one line; ok becomes false where it is too long.
func wordsOf(text string, ok *bool) string {
	*ok = *ok && utf8.RuneCountInString(text) <= mostWords
	return onOneLine(text)
}

// billed answers what was made, or why nothing was.
func (config Config) billed(c *gin.Context, made crop.Invoice, err error) {
	var refusal *selling.Refusal
	switch {
	case err == nil:
		config.events.changed(c, "an invoice was made", "invoice", made.ID, "number", made.Number)
		c.JSON(http.StatusOK, gin.H{"id": made.ID, "number": made.Number})
	case errors.As(err, &refusal):
		c.Header("Cache-Control", "no-store")
		c.AbortWithStatusJSON(http.StatusConflict, gin.H{"error": gin.H{"code": refusal.Code, "text": refusal.Text}, "number": refusal.Number})
	default:
		config.failed(c, "an invoice was not made", err)
	}
}
