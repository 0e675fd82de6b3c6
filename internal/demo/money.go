package demo

import (
	"cmp"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/farm"
)

// bookkeeper makes up what the farm paid, worked and was paid in its last season. It draws from a source of its own.
type bookkeeper struct {
	*seller
	rnd *rand.Rand
}

// delivered is what was packed of a line for a day.
type delivered struct {
	day      crop.Date
	buyer    int // in buyers
	line     crop.Line
	bunches  int
	credited crop.Cents
}

func (d delivered) cents() crop.Cents { return d.line.Price * crop.Cents(d.bunches) }

func (s *seller) keepBooks() {
	b := &bookkeeper{seller: s, rnd: rand.New(rand.NewPCG(seed, 7))}
	b.spend()
	b.work()
	b.bill()
	b.takeStatement()
}

func (b *bookkeeper) newID() string { return randomID(b.rnd) }

func (b *bookkeeper) spend() {
	for _, c := range costs {
		told := crop.Cost{
			ID: crop.CostID(b.newID()), Date: onDay(b.season, c.day), Kind: c.kind, What: c.what, Cents: c.cents, Fixed: c.fixed, Bed: b.bedCalled(c.bed),
		}
		if c.channel >= 0 {
			told.Channel = b.channels[c.channel]
		}
		b.mark(told.Date, farm.CostFacts(told))
	}
}

func (b *bookkeeper) bedCalled(name string) crop.BedID {
	for id, bed := range b.farm.Beds {
		if name != "" && bed.Name == name {
			return id
		}
	}
	return ""
}

// work is timed by whoever does it: on days of the bench, of deliveries, and in between.
func (b *bookkeeper) work() {
	days := map[crop.Date][]chore{}
	for _, v := range b.benches() {
		if _, told := days[v.Date]; !told {
			days[v.Date] = slices.Clone(benchChores)
		}
	}
	for _, d := range b.delivered {
		if !slices.Contains(days[d.day], deliveryChores[0]) {
			days[d.day] = append(days[d.day], deliveryChores...)
		}
	}
	for _, day := range slices.Sorted(maps.Keys(days)) {
		for _, c := range days[day] {
			b.worked(day, "", c)
		}
	}
	for _, s := range seasonal {
		b.worked(onDay(b.season, s.day), b.bedCalled(s.bed), s.chore)
	}
}

func (b *bookkeeper) worked(day crop.Date, bed crop.BedID, c chore) {
	minutes := c.minutes*3/4 + b.rnd.IntN(c.minutes/2)
	b.markBy(day, c.by, farm.WorkFacts(crop.Work{
		ID: crop.WorkID(b.newID()), Date: day, Person: b.names[people[c.by]], Kind: c.kind, Minutes: minutes, Bed: bed,
	}))
}

// bill sends the buyers of a channel an invoice a month, and has them pay: some late, of the last one some not all.
func (b *bookkeeper) bill() {
	months := b.byMonth(billed)
	n := 0
	for i, m := range months {
		for _, buyer := range slices.Sorted(maps.Keys(m.of)) {
			n++
			again := slices.ContainsFunc(months[i+1:], func(later month) bool { return len(later.of[buyer]) > 0 })
			b.billOne(n, buyer, m.of[buyer], m.ends, !again)
		}
	}
}

func (b *bookkeeper) billOne(n, buyer int, all []delivered, day crop.Date, last bool) {
	number := crop.InvoiceNumber{Year: int(b.season), Series: "KIL", N: n}
	invoice := crop.Invoice{
		ID: crop.InvoiceID(b.newID()), Number: number.String(), Buyer: b.buyers[buyer], Date: day, PayBy: day.Add(14), Currency: "EUR", TaxRate: 700,
		Head: &crop.InvoiceHead{
			BuyerName: buyers[buyer].name, Address: buyers[buyer].address, Seller: "Kiln Field Flowers\nPump Road 9", TaxName: "VAT",
		},
	}
	var net crop.Cents
	var fee crop.Date
	for _, d := range all {
		if d.day != fee {
			fee = d.day
			invoice.Lines = append(invoice.Lines, crop.InvoiceLine{Due: d.day, Cents: channels[billed].fee, Words: "Delivery"})
		}
		invoice.Lines = append(invoice.Lines, crop.InvoiceLine{
			Line: d.line.ID, Due: d.day, Bunches: d.bunches, Stems: d.line.Stems, Cents: d.cents(), Words: fmt.Sprintf("%s, bunches of %d", d.line.Grade, d.line.Stems),
		})
	}
	for _, row := range invoice.Lines {
		net += row.Cents
	}
	b.mark(day, farm.InvoiceFacts(invoice))
	percent, some := unpaid[buyer]
	if !last || !some {
		percent = 100
	}
	owed := net + (net*crop.Cents(invoice.TaxRate)+5_000)/10_000
	if paid := owed * crop.Cents(percent) / 100; paid > 0 {
		came := day.Add(late[buyer])
		b.mark(came, farm.PaymentFacts(crop.Payment{ID: crop.PaymentID(b.newID()), Invoice: invoice.ID, Date: came, Cents: paid}))
	}
}

type month struct {
	ends crop.Date
	of   map[int][]delivered // by buyer
}

// byMonth is what was delivered to a channel, month by month.
func (b *bookkeeper) byMonth(channel int) []month {
	found := map[string]month{}
	for _, d := range b.delivered {
		if buyers[d.buyer].channel != channel {
			continue
		}
		name := string(d.day)[:len("2026-06")]
		m, told := found[name]
		if !told {
			next := crop.Date(name + "-28").Add(4)
			m = month{ends: crop.Date(string(next)[:len("2026-06")] + "-01").Add(-1), of: map[int][]delivered{}}
			found[name] = m
		}
		m.of[d.buyer] = append(m.of[d.buyer], d)
	}
	var months []month
	for _, name := range slices.Sorted(maps.Keys(found)) {
		months = append(months, found[name])
	}
	return months
}

// takeStatement is what the pool says that it sold in a month: a bunch less than was delivered once, one delivery not at
// all. It was paid as the rows say.
func (b *bookkeeper) takeStatement() {
	var all []delivered
	for _, d := range b.delivered {
		if buyers[d.buyer].channel == pooled && string(d.day)[len("2026-"):len("2026-06")] == statementMonth {
			all = append(all, d)
		}
	}
	slices.SortStableFunc(all, func(a, c delivered) int { return cmp.Compare(a.day, c.day) })
	first := onDay(b.season, statementMonth+"-01")
	s := crop.Statement{
		ID: crop.StatementID(b.newID()), Channel: b.channels[pooled], From: first, To: onDay(b.season, statementMonth+"-30"), Paid: onDay(b.season, "07-14"), Note: "No. 6",
	}
	var rows []crop.StatementRow
	short := false
	for i, d := range all {
		if i == len(all)-1 {
			break // the last is not on the statement
		}
		row := crop.StatementRow{
			ID: crop.RowID(b.newID()), Statement: s.ID, Place: i + 1, Date: d.day, Bunches: d.bunches, Cents: d.cents() - d.credited,
			Words: fmt.Sprintf("Yarrow %s x%d", d.line.Grade, d.line.Stems),
		}
		if !short && d.bunches > 1 && d.credited == 0 {
			short, row.Bunches, row.Cents = true, d.bunches-1, d.cents()-d.line.Price
		}
		row.Kept = (row.Cents*crop.Cents(channels[pooled].commission) + 5_000) / 10_000
		s.Cents += row.Cents - row.Kept
		rows = append(rows, row)
	}
	came := onDay(b.season, "07-08")
	b.mark(came, farm.StatementFacts(s))
	for _, row := range rows {
		b.mark(came, farm.StatementRowFacts(row))
	}
}
