package httpapi

import (
	"math"

	"corymb/internal/crop"
	"corymb/internal/money"
)

// moneyAnswer is what GET /api/money sends. Amounts named cents are whole; prices and what is of one plant, metre, foot or
// hour are cents with parts, and null where there is nothing to divide by.
type moneyAnswer struct {
	Arrival  int64          `json:"arrival"`
	Season   crop.Season    `json:"season"`
	Seasons  []crop.Season  `json:"seasons"` // that have books, the latest first
	Currency string         `json:"currency"`
	Unit     string         `json:"unit"` // of beds: "m" or "ft"
	Hour     crop.Cents     `json:"hour_cents"`
	By       money.Dim      `json:"by"`
	Rows     []moneyRow     `json:"rows"`
	All      moneyRow       `json:"all"`
	Budget   *budgetAnswer  `json:"budget"` // of all
	Sides    []sideAnswer   `json:"sides"`
	Doubts   map[string]int `json:"doubts"`
}

// moneyRow is what lies in one place; an empty key is untold.
type moneyRow struct {
	Key         string        `json:"key"`
	Stems       int           `json:"stems"`
	Bunches     float64       `json:"bunches"` // to the thousandth: stems of several plants may be in one
	Gross       crop.Cents    `json:"gross_cents"`
	Kept        crop.Cents    `json:"kept_cents"`
	Fees        crop.Cents    `json:"fees_cents"`
	FeesPaid    crop.Cents    `json:"fees_paid_cents"`
	Claims      crop.Cents    `json:"claims_cents"`
	Net         crop.Cents    `json:"net_cents"`
	Costs       crop.Cents    `json:"costs_cents"`
	Fixed       crop.Cents    `json:"fixed_cents"` // of the costs
	Work        crop.Cents    `json:"work_cents"`
	Minutes     int           `json:"minutes"`
	Left        crop.Cents    `json:"left_cents"`
	ShrunkStems int           `json:"shrunk_stems"`
	Shrunk      crop.Cents    `json:"shrunk_cents"` // in no other sum
	Share       int           `json:"share"`        // hundredths of a percent of gross
	PriceAStem  *float64      `json:"price_a_stem"`
	AnHour      *float64      `json:"an_hour"`
	Ground      *groundAnswer `json:"ground,omitempty"`
}

// groundAnswer is what it stood on. Lengths and areas are in the answer's unit and its square.
type groundAnswer struct {
	Plants      int      `json:"plants"`
	Length      float64  `json:"length"`
	Area        float64  `json:"area"`
	GrossLength *float64 `json:"gross_a_length"`
	LeftLength  *float64 `json:"left_a_length"`
	GrossArea   *float64 `json:"gross_a_area"`
	StemsArea   *float64 `json:"stems_a_area"`
	GrossPlant  *float64 `json:"gross_a_plant"`
	NetPlant    *float64 `json:"net_a_plant"`
	LeftPlant   *float64 `json:"left_a_plant"`
}

type budgetAnswer struct {
	Bunches          float64    `json:"bunches"`
	Price            *float64   `json:"price"`
	Variable         *float64   `json:"variable_a_bunch"`
	Fixed            *float64   `json:"fixed_a_bunch"`
	BreakEvenPrice   *float64   `json:"break_even_price"`
	BreakEvenBunches *float64   `json:"break_even_bunches"`
	PaysFixed        *float64   `json:"pays_fixed"`
	Net              crop.Cents `json:"net_cents"`
}

// sideAnswer is the plants of one class of age beside the others; all but its age, plants and shares are a plant's.
type sideAnswer struct {
	Age        string   `json:"age"`
	Plants     int      `json:"plants"`
	Saleable   *float64 `json:"saleable"` // share of the stems that were graded
	PriceAStem *float64 `json:"price_a_stem"`
	Cut        *float64 `json:"cut_a_plant"`
	Sold       *float64 `json:"sold_a_plant"`
	Net        *float64 `json:"net_a_plant"`
	Minutes    *float64 `json:"minutes_a_plant"`
	Work       *float64 `json:"work_a_plant"`
	Left       *float64 `json:"left_a_plant"` // of the net after work
}

func moneyAnswerOf(open openBooks, v money.View) moneyAnswer {
	answer := moneyAnswer{
		Arrival: open.arrival, Season: open.Season, Seasons: open.seasons, Currency: open.currency, Unit: "m", Hour: open.hour,
		By: v.By, Rows: make([]moneyRow, len(v.Rows)), All: rowOf(v.All, open.unit), Budget: budgetOf(v.All.Sums),
		Doubts: map[string]int{"unpriced_bunches": open.Unpriced, "overbilled_bunches": open.Overbilled, "shrunk_unpriced_stems": open.ShrunkUnpriced},
	}
	if open.unit == crop.Inches {
		answer.Unit = "ft"
	}
	for i, row := range v.Rows {
		answer.Rows[i] = rowOf(row, open.unit)
	}
	for _, side := range open.sides {
		answer.Sides = append(answer.Sides, sideOf(side))
	}
	return answer
}

func rowOf(r money.Row, unit crop.LengthUnit) moneyRow {
	const thousandths = 1000
	row := moneyRow{
		Key: r.Key, Stems: r.Stems, Bunches: float64(r.Bunches) / thousandths, Gross: r.Gross, Kept: r.Kept, Fees: r.Fees,
		FeesPaid: r.FeesPaid, Claims: r.Claims, Net: r.Net(), Costs: r.Costs, Fixed: r.Fixed, Work: r.Work, Minutes: r.Minutes,
		Left: r.Left(), ShrunkStems: r.ShrunkStems, Shrunk: r.Shrunk, Share: r.Share,
	}
	if price, sold := r.PriceAStem(); sold {
		row.PriceAStem = figure(price)
	}
	if hour, worked := r.AnHour(); worked {
		row.AnHour = figure(hour)
	}
	if g := r.Ground; g != nil {
		length, area, plants := g.LengthIn(unit), g.AreaIn(unit), float64(g.Plants)
		row.Ground = &groundAnswer{
			Plants: g.Plants, Length: length, Area: area,
			GrossLength: each(r.Gross, length), LeftLength: each(r.Left(), length), GrossArea: each(r.Gross, area), StemsArea: each(r.Stems, area),
			GrossPlant: each(r.Gross, plants), NetPlant: each(r.Net(), plants), LeftPlant: each(r.Left(), plants),
		}
	}
	return row
}

func budgetOf(s money.Sums) *budgetAnswer {
	if s.Bunches <= 0 {
		return nil
	}
	b := s.Budget()
	return &budgetAnswer{
		Bunches: b.Bunches, Price: figure(b.Price()), Variable: figure(b.VariableABunch()), Fixed: figure(b.FixedABunch()),
		BreakEvenPrice: figure(b.BreakEvenPrice()), BreakEvenBunches: figure(b.BreakEvenBunches()), PaysFixed: figure(b.PaysFixed()), Net: s.Left(),
	}
}

func sideOf(s money.Side) sideAnswer {
	const thousandths = 1000
	plants := float64(s.Plants)
	side := sideAnswer{
		Age: s.Age, Plants: s.Plants, Cut: each(s.Cut, plants*thousandths), Sold: each(s.Stems, plants), Net: each(s.Net(), plants),
		Minutes: each(s.WorkMinutes, plants), Work: each(s.WorkCents, plants), Left: each(s.Net()-s.WorkCents, plants),
	}
	if share, known := s.SaleableShare(); known {
		side.Saleable = figure(share)
	}
	if price, sold := s.PriceAStem(); sold {
		side.PriceAStem = figure(price)
	}
	return side
}

// each is an amount over a number, null where that is none.
func each[N ~int | ~int64](amount N, of float64) *float64 {
	if of <= 0 {
		return nil
	}
	return figure(float64(amount) / of)
}

// figure is a number to the ten-thousandth, null where it is not finite.
func figure(x float64) *float64 {
	const parts = 10_000
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	x = math.Round(x*parts) / parts
	return &x
}

// billsAnswer is what GET /api/money/bills sends.
type billsAnswer struct {
	Arrival int64         `json:"arrival"`
	Season  crop.Season   `json:"season"`
	AsOf    crop.Date     `json:"asof"`
	Bills   []billAnswer  `json:"bills"`
	Loose   []looseAnswer `json:"loose"` // payments of no invoice that is there
	Sums    billSums      `json:"sums"`
}

type billSums struct {
	Billed   crop.Cents `json:"billed_cents"`
	Credited crop.Cents `json:"credited_cents"`
	Paid     crop.Cents `json:"paid_cents"`
	Owed     crop.Cents `json:"owed_cents"`
}

type billAnswer struct {
	ID       crop.InvoiceID `json:"id"`
	Number   string         `json:"number"`
	Buyer    crop.BuyerID   `json:"buyer"`
	Date     crop.Date      `json:"date"`
	PayBy    crop.Date      `json:"pay_by,omitempty"`
	Currency string         `json:"currency"`
	Void     crop.Date      `json:"void,omitempty"`
	billSums
	Late int `json:"late_days"`
}

type looseAnswer struct {
	ID      crop.PaymentID `json:"id"`
	Invoice crop.InvoiceID `json:"invoice"`
	Order   crop.OrderID   `json:"order,omitempty"`
	Date    crop.Date      `json:"date"`
	Cents   crop.Cents     `json:"cents"`
	Note    string         `json:"note,omitempty"`
}

func billsAnswerOf(open openBooks) billsAnswer {
	answer := billsAnswer{Arrival: open.arrival, Season: open.Season, AsOf: open.today, Bills: []billAnswer{}, Loose: []looseAnswer{}}
	for _, b := range open.bills.Bills {
		sums := billSums{b.Billed, b.Credited, b.Paid, b.Owed}
		answer.Bills = append(answer.Bills, billAnswer{b.ID, b.Number, b.Buyer, b.Date, b.PayBy, b.Currency, b.Void, sums, b.Late})
		all := &answer.Sums
		all.Billed, all.Credited, all.Paid, all.Owed = all.Billed+b.Billed, all.Credited+b.Credited, all.Paid+b.Paid, all.Owed+b.Owed
	}
	for _, p := range open.bills.Loose {
		answer.Loose = append(answer.Loose, looseAnswer{p.ID, p.Invoice, p.Order, p.Date, p.Cents, p.Note})
	}
	return answer
}
