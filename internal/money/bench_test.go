package money

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"corymb/internal/crop"
)

// soldYear is a farm that packed 20,000 bunches for 10,000 deliveries to 300 buyers, of three beds with 400 plants each, some
// of them counted, and billed half of them.
func soldYear() crop.Farm {
	m := &made{Rand: rand.New(rand.NewPCG(1, 9)), Farm: crop.NewFarm()}
	colours, grades := []crop.ColourID{"a", "b", "c", "d", "e", "f", "g", "h"}, []crop.Grade{crop.GradeExtra, crop.GradeFirst, crop.GradeSecond}
	m.channels()
	for n := range 300 {
		id := crop.BuyerID(fmt.Sprint("buyer", n))
		m.Sales.Buyers[id] = crop.Buyer{ID: id, Channel: pick(m, []crop.ChannelID{"co_op", "retail", "event"})}
		m.Sales.Prices[crop.PriceID(id)] = crop.Price{ID: crop.PriceID(id), Channel: m.Sales.Buyers[id].Channel, Buyer: id, Bunch: "ten", From: "2025-01-01", Cents: crop.Cents(300 + m.IntN(400))}
	}
	beds := []crop.BedID{"b1", "b2", "b3"}
	for age, bed := range beds {
		m.Beds[bed] = crop.Bed{ID: bed, Length: 40_000, Width: 1_200}
		planting := crop.Planting{ID: crop.PlantingID(bed), Stock: "s", Bed: bed, Planted: "2023-10-01", FirstSeason: crop.Season(2024 + age)}
		m.Plantings[planting.ID] = planting
		for n := range 400 {
			plant := crop.Plant{ID: crop.PlantID(fmt.Sprint(bed, n)), Planting: planting.ID, Colour: pick(m, colours), Counted: map[crop.Season]crop.Window{}}
			if n < 40 {
				plant.Counted[2026] = crop.Window{From: "2026-01-01", To: "2026-12-31"}
			}
			m.Plants[plant.ID] = plant
		}
	}
	const days, aDay = 200, 50
	for n := range days {
		cut, due := crop.Date("2026-04-01").Add(n), crop.Date("2026-04-02").Add(n)
		for _, bed := range beds {
			v := crop.Visit{ID: crop.VisitID(m.id("bench")), Bed: bed, Date: cut, Purpose: crop.PurposeBench}
			for _, colour := range colours {
				for _, grade := range grades {
					v.Counts = append(v.Counts, crop.Count{Colour: colour, Grade: grade, Length: crop.TenCentimetres(50), Stems: 15})
				}
			}
			m.Visits[v.ID] = v
			for n := range 10 {
				plant := m.Plants[crop.PlantID(fmt.Sprint(bed, (n*7+m.IntN(3))%40))]
				one := crop.Visit{ID: crop.VisitID(m.id("one")), Plant: plant.ID, Date: cut, Purpose: crop.PurposeCut, Counts: []crop.Count{{Colour: plant.Colour, Stems: 3}}}
				m.Visits[one.ID] = one
			}
		}
		for range aDay {
			o := crop.Order{ID: crop.OrderID(m.id("order")), Buyer: crop.BuyerID(fmt.Sprint("buyer", m.IntN(300))), Due: due}
			line := crop.Line{ID: crop.LineID(o.ID), Order: o.ID, Bunch: "ten", Bunches: 2, Stems: 10}
			lot := func() crop.LotID {
				return crop.LotID{Bed: pick(m, beds), Cut: cut, Colour: pick(m, colours), Grade: pick(m, grades), Length: crop.TenCentimetres(50)}
			}
			m.Sales.Orders[o.ID], m.Sales.Lines[line.ID] = o, line
			m.Sales.Packed[crop.PackedID(o.ID)] = crop.Packed{ID: crop.PackedID(o.ID), Line: line.ID, Buyer: o.Buyer, Due: due, Date: due, Bunches: 2, Stems: map[crop.LotID]int{lot(): 12, lot(): 8}}
			if m.IntN(2) == 0 {
				m.number(crop.Invoice{Buyer: o.Buyer, Date: due, Lines: []crop.InvoiceLine{{Line: line.ID, Due: due, Bunches: 2, Stems: 10, Cents: 900}}})
			}
		}
		id := m.id("work")
		m.Money.Work[crop.WorkID(id)] = crop.Work{ID: crop.WorkID(id), Date: cut, Kind: crop.WorkCut, Minutes: 120, Bed: pick(m, beds)}
	}
	return m.Farm
}

// BenchmarkYear lays the books of a year of 20,000 bunches.
func BenchmarkYear(b *testing.B) {
	farm := soldYear()
	for b.Loop() {
		Of(farm, 2026, anHour)
	}
	b.ReportMetric(float64(len(Of(farm, 2026, anHour).Entries)), "entries")
}

// BenchmarkView adds them up by each dimension, with filters and without.
func BenchmarkView(b *testing.B) {
	books := Of(soldYear(), 2026, anHour)
	for _, dim := range Dims() {
		for name, f := range map[string]Filter{"all": {}, "filtered": {Is: map[Dim]string{ByAge: "2", ByColour: "a"}, From: "2026-05-01", To: "2026-06-30"}} {
			b.Run(string(dim)+"/"+name, func(b *testing.B) {
				for b.Loop() {
					books.By(dim, f)
				}
			})
		}
	}
	b.Run("sides", func(b *testing.B) {
		for b.Loop() {
			books.Sides()
		}
	})
}

func TestAYearHasAllItsStems(t *testing.T) {
	farm, stems := soldYear(), 0
	for _, p := range farm.Sales.Packed {
		for _, n := range p.Stems {
			stems += n
		}
	}
	all := Of(farm, 2026, anHour).By(ByDay, Filter{}).All
	if all.Bunches != 20_000_000 || all.Stems != stems {
		t.Errorf("%+v, of %d stems", all.Sums, stems)
	}
}
