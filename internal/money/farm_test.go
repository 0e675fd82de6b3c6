package money

import (
	"fmt"
	"math/rand/v2"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// made makes farms at random: everything that the books read, also what goes wrong on farms.
type made struct {
	*rand.Rand
	crop.Farm
	n int
}

const testSeason crop.Season = 2026

var (
	someColours = []crop.ColourID{"ember", "dusk", "", "chalk"}
	someGrades  = []crop.Grade{crop.GradeExtra, crop.GradeFirst, crop.GradeSecond, ""}
	someLengths = []crop.LengthClass{{}, crop.TenCentimetres(40), crop.TenCentimetres(50)}
)

func pick[T any](m *made, list []T) T { return list[m.IntN(len(list))] }

func (m *made) id(kind string) string {
	m.n++
	return fmt.Sprintf("%s%04d", kind, m.n)
}

// day is one of the season, or seldom one before or after it.
func (m *made) day() crop.Date {
	return crop.Date("2026-05-20").Add(m.IntN(60) - 200*m.IntN(2)*m.IntN(2)*m.IntN(2))
}

func randomFarm(seed uint64) crop.Farm {
	m := &made{Rand: rand.New(rand.NewPCG(seed, 3)), Farm: crop.NewFarm()}
	m.plant()
	m.cut()
	m.channels()
	for range 10 + m.IntN(30) {
		m.order()
	}
	m.packAgain()
	m.claimAndWriteOff()
	m.billSome()
	m.spend()
	return m.Farm
}

func (m *made) plant() {
	for _, id := range []crop.StockID{"s1", "s2"} {
		m.Stocks[id] = crop.Stock{ID: id, Species: "yarrow"}
	}
	for _, id := range []crop.BedID{"b1", "b2", "b3"} {
		m.Beds[id] = crop.Bed{ID: id, Length: 10_000, Width: 1_000}
		for range m.IntN(3) {
			p := crop.Planting{ID: crop.PlantingID(m.id("planting")), Bed: id, Stock: pick(m, []crop.StockID{"s1", "s2"}), Planted: "2020-04-01", FirstSeason: testSeason - crop.Season(m.IntN(5)-1)}
			m.Plantings[p.ID] = p
			for range m.IntN(12) {
				plant := crop.Plant{ID: crop.PlantID(m.id("plant")), Planting: p.ID, Colour: pick(m, someColours), Counted: map[crop.Season]crop.Window{}}
				if m.IntN(2) == 0 {
					plant.Counted[testSeason] = crop.Window{From: "2026-05-01", To: "2026-06-20"}
				}
				if m.IntN(6) == 0 {
					plant.Removed = m.day()
				}
				if m.IntN(6) == 0 {
					plant.Bed, plant.Stood = "b1", []crop.Stay{{Bed: id, Until: m.day()}}
				}
				m.Plants[plant.ID] = plant
			}
		}
	}
}

func (m *made) counts(most int) (list []crop.Count) {
	for range 1 + m.IntN(3) {
		list = append(list, crop.Count{Colour: pick(m, someColours), Grade: pick(m, someGrades), Length: pick(m, someLengths), Stems: m.IntN(most)})
	}
	return list
}

func (m *made) cut() {
	for id := range crop.Date("2026-05-20").DaysTo("2026-07-20") {
		day := crop.Date("2026-05-20").Add(id)
		for _, bed := range []crop.BedID{"b1", "b2", "b3"} {
			for range m.IntN(3) {
				v := crop.Visit{ID: crop.VisitID(m.id("bench")), Bed: bed, Date: day, Purpose: pick(m, []crop.Purpose{crop.PurposeBench, crop.PurposeBench, crop.PurposeBedCut}), Age: m.IntN(2) * m.IntN(4), Counts: m.counts(60)}
				m.Visits[v.ID] = v
			}
		}
		for id, plant := range m.Plants {
			// By id and not by turn: maps have no order.
			if (len(id)*31+int(id[len(id)-1])*7+int(day[9]))%5 == 0 {
				v := crop.Visit{ID: crop.VisitID(fmt.Sprint("cut", id, day)), Plant: id, Date: day, Purpose: crop.PurposeCut, Counts: []crop.Count{{Colour: plant.Colour, Grade: crop.GradeFirst, Stems: 1 + int(id[len(id)-1]-'0')}}}
				m.Visits[v.ID] = v
			}
		}
	}
}

func (m *made) channels() {
	for i, kind := range []crop.ChannelKind{crop.ChannelCoOp, crop.ChannelRetail, crop.ChannelEvent} {
		id := crop.ChannelID(kind)
		m.Sales.Channels[id] = crop.Channel{ID: id, Kind: kind, Commission: m.IntN(3) * 1111, Fee: crop.Cents(m.IntN(3) * 333), BuyerPays: m.IntN(2) == 0}
		for n := range 2 {
			buyer := crop.BuyerID(fmt.Sprintf("buyer%d%d", i, n))
			m.Sales.Buyers[buyer] = crop.Buyer{ID: buyer, Channel: id}
		}
		m.Sales.Prices[crop.PriceID(id)] = crop.Price{ID: crop.PriceID(id), Channel: id, Bunch: "ten", From: "2025-01-01", Cents: crop.Cents(300 + m.IntN(300))}
	}
	m.Sales.Bunches["ten"] = crop.Bunch{ID: "ten", Stems: 10}
	m.Sales.Terms.TaxRate = m.IntN(2) * 725
}

func (m *made) lot(day crop.Date) crop.LotID {
	return crop.LotID{Bed: pick(m, []crop.BedID{"b1", "b2", "b3", "gone"}), Cut: day, Colour: pick(m, someColours), Grade: pick(m, someGrades), Length: pick(m, someLengths)}
}

func (m *made) order() {
	o := crop.Order{ID: crop.OrderID(m.id("order")), Buyer: crop.BuyerID(fmt.Sprintf("buyer%d%d", m.IntN(3), m.IntN(2))), Due: m.day()}
	m.Sales.Orders[o.ID] = o
	for range 1 + m.IntN(3) {
		line := crop.Line{ID: crop.LineID(m.id("line")), Order: o.ID, Bunches: 1 + m.IntN(30), Stems: 10, Price: crop.Cents(m.IntN(2) * (100 + m.IntN(700)))}
		if m.IntN(2) == 0 {
			line.Bunch = "ten"
		}
		m.Sales.Lines[line.ID] = line
		packed := crop.Packed{ID: crop.PackedID(m.id("packed")), Line: line.ID, Buyer: o.Buyer, Due: o.Due, Date: o.Due.Add(-1), Bunches: m.IntN(line.Bunches + 1), Stems: map[crop.LotID]int{}}
		for left := packed.Bunches * 10; left > 0 && m.IntN(8) > 0; {
			n := 1 + m.IntN(left)
			packed.Stems[m.lot(o.Due.Add(-1-m.IntN(3)))] += n
			left -= n
		}
		m.Sales.Packed[packed.ID] = packed
	}
}

// packAgain has other devices take back what was packed, or pack more of it, and lines that are ordered no longer.
func (m *made) packAgain() {
	for id := range m.n {
		p, known := m.Sales.Packed[crop.PackedID(fmt.Sprintf("packed%04d", id))]
		if !known || m.IntN(4) > 0 {
			continue
		}
		again := crop.Packed{ID: crop.PackedID(m.id("packed")), Line: p.Line, Buyer: p.Buyer, Due: p.Due, Date: p.Due, Bunches: m.IntN(5) - 2, Stems: map[crop.LotID]int{m.lot(p.Due.Add(-1)): m.IntN(40) - 20}}
		m.Sales.Packed[again.ID] = again
		if m.IntN(4) == 0 {
			delete(m.Sales.Lines, p.Line)
		}
	}
}

func (m *made) claimAndWriteOff() {
	for id := range m.n {
		p, known := m.Sales.Packed[crop.PackedID(fmt.Sprintf("packed%04d", id))]
		if !known || m.IntN(4) > 0 {
			continue
		}
		claim := crop.Claim{ID: crop.ClaimID(m.id("claim")), Line: p.Line, Buyer: p.Buyer, Due: p.Due, Stems: m.IntN(10), Reason: crop.ClaimWilted, Credit: crop.Cents(m.IntN(500)), Date: p.Due.Add(2)}
		for lot := range p.Stems {
			if len(p.Stems) == 1 && m.IntN(2) == 0 {
				claim.Lot = &lot
			}
		}
		m.Sales.Claims[claim.ID] = claim
	}
	for range m.IntN(12) {
		s := crop.Shrink{ID: crop.ShrinkID(m.id("shrink")), Lot: m.lot(m.day()), Stems: m.IntN(30) - 2, Reason: crop.ShrinkOld, Date: m.day()}
		m.Sales.Shrink[s.ID] = s
	}
}

// billSome bills most deliveries, credits claims, calls some void and takes money.
func (m *made) billSome() {
	for _, due := range selling.DueBetween(m.Sales, "2020-01-01", "2030-01-01") {
		if m.IntN(3) > 0 {
			m.bill(due)
		}
	}
}

func (m *made) bill(due selling.Due) {
	asked := selling.Asked{Buyer: due.Buyer, Orders: []crop.OrderID{due.Order}, Date: due.Day}
	asked.Discount = pick(m, []selling.Discount{{}, {}, {Rate: 1 + m.IntN(9_998)}, {Cents: crop.Cents(1 + m.IntN(200))}})
	invoice, refusal := selling.Bill(m.Sales, asked)
	if refusal != nil {
		return
	}
	invoice = m.number(invoice)
	for _, line := range due.Lines {
		for _, claim := range m.claimsOn(line.ID) {
			if note, refusal := selling.Credit(m.Sales, selling.CreditAsked{Claim: claim, Date: due.Day.Add(3)}); refusal == nil {
				m.number(note)
			}
		}
	}
	if m.IntN(3) > 0 {
		id := crop.PaymentID(m.id("payment"))
		m.Money.Payments[id] = crop.Payment{ID: id, Invoice: invoice.ID, Date: due.Day.Add(m.IntN(40)), Cents: crop.Cents(m.IntN(9000))}
	}
	if m.IntN(8) > 0 {
		return
	}
	if note, refusal := selling.Void(m.Sales, invoice.ID, due.Day.Add(5)); refusal == nil {
		m.number(note)
		invoice.Void = due.Day.Add(5)
		m.Sales.Invoices[invoice.ID] = invoice
	}
}

func (m *made) claimsOn(line crop.LineID) (list []crop.ClaimID) {
	for id := range m.n {
		if c, known := m.Sales.Claims[crop.ClaimID(fmt.Sprintf("claim%04d", id))]; known && c.Line == line && m.IntN(2) == 0 {
			list = append(list, c.ID)
		}
	}
	return list
}

func (m *made) number(i crop.Invoice) crop.Invoice {
	i.ID = crop.InvoiceID(m.id("invoice"))
	i.Number = string(i.ID)
	m.Sales.Invoices[i.ID] = i
	return i
}

func (m *made) spend() {
	for range m.IntN(20) {
		c := crop.Cost{ID: crop.CostID(m.id("cost")), Date: m.day(), Kind: pick(m, crop.CostKinds), Cents: crop.Cents(m.IntN(6000) - 1000), Fixed: m.IntN(3) == 0, Bed: pick(m, []crop.BedID{"", "b1", "b2"}), Stock: pick(m, []crop.StockID{"", "s1"}), Channel: pick(m, []crop.ChannelID{"", "co_op"})}
		m.Money.Costs[c.ID] = c
		w := crop.Work{ID: crop.WorkID(m.id("work")), Date: m.day(), Kind: pick(m, crop.WorkKinds), Minutes: m.IntN(200), Bed: pick(m, []crop.BedID{"", "b3"}), Channel: pick(m, []crop.ChannelID{"", "retail"})}
		m.Money.Work[w.ID] = w
	}
}
