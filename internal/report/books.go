package report

import (
	"cmp"
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/money"
)

func (w writer) currency() string { return cmp.Or(w.Farm.Sales.Terms.Currency, w.say("currency")) }

func (w writer) money() []Part {
	all := w.Books.By(money.ByChannel, money.Filter{}).All
	if all.Sums == (money.Sums{}) {
		return []Part{w.text("money.none", int(w.Season)), w.unpaid()} // an invoice may bill what was delivered in another season
	}
	parts := append(w.income(), w.spent()...)
	parts = append(parts, w.beds()...)
	parts = append(parts, w.breakEven(all.Sums))
	return append(parts, w.unpaid(), w.small("money.how", w.amount(w.Farm.Ahead.Costs.Hour)))
}

// income is what sales brought and left, by channel. Fees are less what buyers paid of them.
func (w writer) income() []Part {
	view := w.Books.By(money.ByChannel, money.Filter{})
	table := Table{Head: append([]string{w.say("money.channel", w.currency())}, w.heads("stems.sold", "money.sold", "money.kept", "money.fees", "money.claims", "money.net")...), Totals: 1}
	for _, row := range append(byName(view, w.channelName), view.All) {
		if row.Gross == 0 && row.Stems == 0 && row.Net() == 0 {
			continue
		}
		table.Rows = append(table.Rows, []string{
			w.channelName(crop.ChannelID(row.Key)), w.whole(row.Stems), w.cents(row.Gross), w.cents(-row.Kept), w.cents(row.FeesPaid - row.Fees), w.cents(-row.Claims), w.cents(row.Net()),
		})
	}
	if len(table.Rows) == 0 {
		return []Part{w.text("money.unsold")}
	}
	table.Rows[len(table.Rows)-1][0] = w.say("all")
	return []Part{table}
}

// spent is costs and work by kind, and what is left of the season's net.
func (w writer) spent() []Part {
	view := w.Books.By(money.ByWhat, money.Filter{})
	table := Table{Head: append([]string{w.say("money.spent", w.currency())}, w.heads("money.hours", "money.fixed", "money.variable", "money.sum")...), Totals: 3}
	for _, row := range view.Rows {
		if row.Costs != 0 || row.Fixed != 0 { // a refund of the one kind may make up for the other
			table.Rows = append(table.Rows, []string{w.say("cost." + row.Key), "", w.cents(row.Fixed), w.cents(row.Costs - row.Fixed), w.cents(row.Costs)})
		}
	}
	for _, row := range view.Rows {
		if row.Work != 0 || row.Minutes != 0 {
			table.Rows = append(table.Rows, []string{w.say("money.work", w.say("work."+row.Key)), w.hours(row.Minutes), "", w.cents(row.Work), w.cents(row.Work)})
		}
	}
	all := view.All
	if len(table.Rows) == 0 {
		return []Part{w.text("money.unspent")}
	}
	table.Rows = append(table.Rows,
		[]string{w.say("all"), w.hours(all.Minutes), w.cents(all.Fixed), w.cents(all.Costs - all.Fixed + all.Work), w.cents(all.Costs + all.Work)},
		[]string{w.say("money.net"), "", "", "", w.cents(all.Net())},
		[]string{w.say("money.left"), "", "", "", w.cents(all.Left())})
	return []Part{table}
}

// hours are hours and minutes, so that a column of them adds up.
func (w writer) hours(minutes int) string {
	const inAnHour = 60
	rest := minutes % inAnHour
	return w.whole(minutes/inAnHour) + ":" + string(rune('0'+rest/10)) + string(rune('0'+rest%10))
}

// beds is what each bed left.
func (w writer) beds() []Part {
	view := w.Books.By(money.ByBed, money.Filter{})
	table := Table{Head: append([]string{w.say("money.bed", w.currency())}, w.heads("plants", "stems.sold", "money.net", "money.spent_on", "money.left")...), Totals: 1}
	row := func(name string, r money.Row) []string {
		plants := "–"
		if r.Ground != nil {
			plants = w.whole(r.Ground.Plants)
		}
		return []string{name, plants, w.whole(r.Stems), w.cents(r.Net()), w.cents(r.Costs + r.Work), w.cents(r.Left())}
	}
	for _, r := range byName(view, func(id crop.BedID) string { return w.Farm.Beds[id].Name }) {
		name := w.Farm.Beds[crop.BedID(r.Key)].Name
		if r.Key == "" {
			name = w.say("money.no_bed")
		}
		table.Rows = append(table.Rows, row(cmp.Or(name, w.say("untold")), r))
	}
	table.Rows = append(table.Rows, row(w.say("all"), view.All))
	return []Part{table}
}

// byName are a view's rows by what they are called, what is untold last.
func byName[ID ~string](view money.View, nameOf func(ID) string) []money.Row {
	return slices.SortedStableFunc(slices.Values(view.Rows), func(a, b money.Row) int {
		return cmp.Or(oneIf(a.Key == "")-oneIf(b.Key == ""), cmp.Compare(nameOf(ID(a.Key)), nameOf(ID(b.Key))))
	})
}

func (w writer) breakEven(all money.Sums) Part {
	if all.Bunches <= 0 {
		return w.text("money.no_bunch")
	}
	b := all.Budget()
	if math.IsNaN(b.BreakEvenBunches()) || math.IsInf(b.BreakEvenBunches(), 0) {
		return w.text("money.no_bunch")
	}
	in := func(cents float64) string { return w.decimals(cents/100, 2) + " " + w.currency() }
	return w.text("money.even", w.decimals(b.Bunches, 0), in(b.Price()), in(b.BreakEvenPrice()), w.decimals(b.BreakEvenBunches(), 0))
}

// unpaid is what of the season's invoices is paid. What was paid beyond one pays for no other.
func (w writer) unpaid() Part {
	billed, paid, owed, late, over, open, beyond := crop.Cents(0), crop.Cents(0), crop.Cents(0), crop.Cents(0), crop.Cents(0), 0, 0
	for _, b := range w.Bills.Bills {
		billed, paid = billed+b.Billed-b.Credited, paid+b.Paid
		switch {
		case b.Owed > 0:
			owed, open = owed+b.Owed, open+1
		case b.Owed < 0:
			over, beyond = over-b.Owed, beyond+1
		}
		if b.Late > 0 {
			late += b.Owed
		}
	}
	if len(w.Bills.Bills) == 0 {
		return w.text("money.no_bills")
	}
	said := w.say("money.bills", w.n(len(w.Bills.Bills), "invoice"), w.amount(billed), w.amount(paid), w.amount(owed), w.n(open, "invoice"), w.amount(late), w.day(w.Made))
	if beyond > 0 {
		said += " " + w.say("money.beyond", w.amount(over), w.n(beyond, "invoice"))
	}
	return Text{Words: said}
}
