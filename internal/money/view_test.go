package money

import (
	"cmp"
	"flag"
	"math/rand/v2"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

var (
	firstFarm = flag.Uint64("money.first", rand.Uint64(), "the seed of the first random farm")
	farms     = flag.Int("money.farms", 40, "how many random farms are added up")
)

const anHour crop.Cents = 1999

// eachFarm adds up random farms, each with its seed in what it prints.
func eachFarm(t *testing.T, check func(t *testing.T, m *made, b *Books)) {
	t.Logf("seeds from %d: again with -money.first", *firstFarm)
	for i := range *farms {
		seed := *firstFarm + uint64(i)
		farm := randomFarm(seed)
		check(t, &made{Rand: rand.New(rand.NewPCG(seed, 4)), Farm: farm}, Of(farm, testSeason, anHour))
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

// randomFilter keeps what lies where some entry does, in up to three dimensions, from one day to another.
func (m *made) randomFilter(b *Books) Filter {
	f := Filter{Is: map[Dim]string{}}
	for range m.IntN(4) {
		dim := pick(m, Dims())
		f.Is[dim] = keys[dim](pick(m, b.Entries))
	}
	if m.IntN(2) == 0 {
		f.From = m.day()
	}
	if m.IntN(2) == 0 {
		f.To = m.day()
	}
	return f
}

func plus(a, b Sums) Sums {
	return Sums{
		a.Stems + b.Stems, a.Bunches + b.Bunches, a.Gross + b.Gross, a.Kept + b.Kept, a.Fees + b.Fees, a.FeesPaid + b.FeesPaid, a.Claims + b.Claims,
		a.Costs + b.Costs, a.Fixed + b.Fixed, a.Work + b.Work, a.Minutes + b.Minutes, a.ShrunkStems + b.ShrunkStems, a.Shrunk + b.Shrunk,
	}
}

func TestEveryViewComesToTheSameWhateverTheFilter(t *testing.T) {
	eachFarm(t, func(t *testing.T, m *made, b *Books) {
		for range 10 {
			f := m.randomFilter(b)
			left := crop.Cents(0)
			for _, e := range b.Entries {
				if f.holds(e) && e.Kind != Shrunk {
					left += e.Cents
				}
			}
			all := b.By(ByChannel, f).All.Sums
			if all.Left() != left {
				t.Errorf("%+v: what is left is %d, the ledger comes to %d", f, all.Left(), left)
			}
			for _, dim := range Dims() {
				v := b.By(dim, f)
				sum, share, plants := Sums{}, 0, 0
				for _, row := range v.Rows {
					sum, share = plus(sum, row.Sums), share+row.Share
					if row.Ground != nil {
						plants += row.Ground.Plants
					}
				}
				if v.All.Sums != all || sum != all {
					t.Errorf("%+v by %s: all %+v, rows %+v, by channel %+v", f, dim, v.All.Sums, sum, all)
				}
				if share != v.All.Share {
					t.Errorf("%+v by %s: shares come to %d of %d", f, dim, share, v.All.Share)
				}
				if v.All.Ground != nil && plants != v.All.Ground.Plants && plants > 0 && dim != ByPlant {
					t.Errorf("%+v by %s: rows have %d plants, all %d", f, dim, plants, v.All.Ground.Plants)
				}
			}
		}
	})
}

func TestPartsOfAFilterComeToTheWhole(t *testing.T) {
	eachFarm(t, func(t *testing.T, m *made, b *Books) {
		f := m.randomFilter(b)
		whole := b.By(ByGrade, f).All.Sums
		for _, dim := range Dims() {
			if _, taken := f.Is[dim]; taken {
				continue
			}
			sum := Sums{}
			for _, row := range b.By(dim, f).Rows {
				f.Is[dim] = row.Key
				sum = plus(sum, b.By(ByDay, f).All.Sums)
			}
			delete(f.Is, dim)
			if sum != whole {
				t.Errorf("%+v: the parts by %s come to %+v, the whole to %+v", f, dim, sum, whole)
			}
		}
		f.From, f.To = "", ""
		whole, before, after := b.By(ByDay, f).All.Sums, f, f
		before.To, after.From = "2026-06-10", "2026-06-11"
		if sum := plus(b.By(ByBed, before).All.Sums, b.By(ByBed, after).All.Sums); sum != whole {
			t.Errorf("%+v: before and after come to %+v, the whole to %+v", f, sum, whole)
		}
	})
}

// TestTheLedgerComesToWhatTheFarmSays adds up packed lines, costs and work apart, without any place.
func TestTheLedgerComesToWhatTheFarmSays(t *testing.T) {
	eachFarm(t, func(t *testing.T, m *made, b *Books) {
		all, want := b.By(ByChannel, Filter{}).All.Sums, Sums{}
		span := m.Calendar.Span(testSeason)
		for _, p := range m.Sales.Packed {
			if !span.Holds(p.Due) {
				continue
			}
			want.Bunches += p.Bunches * 1000
		}
		for _, c := range m.Money.Costs {
			if span.Holds(c.Date) {
				want.Costs += c.Cents
			}
		}
		for _, w := range m.Money.Work {
			if span.Holds(w.Date) {
				want.Minutes += w.Minutes
			}
		}
		for _, s := range m.Sales.Shrink {
			if span.Holds(s.Date) {
				want.ShrunkStems += s.Stems
			}
		}
		if all.Bunches != want.Bunches || all.Costs != want.Costs || all.Minutes != want.Minutes || all.ShrunkStems != want.ShrunkStems {
			t.Errorf("the ledger has %+v, the farm %+v", all, want)
		}
	})
}

// TestWhatIsBilledIsWhatIsSold strips a farm of what stands on no invoice: then the ledger is what its invoices and notes
// come to before tax.
func TestWhatIsBilledIsWhatIsSold(t *testing.T) {
	eachFarm(t, func(t *testing.T, m *made, _ *Books) {
		billed, invoiced := map[crop.LineID]bool{}, crop.Cents(0)
		for _, i := range m.Sales.Invoices {
			if !selling.Stands(m.Sales, i) {
				continue
			}
			for _, row := range i.Lines {
				billed[row.Line] = true
				if m.Calendar.Span(testSeason).Holds(cmp.Or(row.Due, i.Lines[0].Due)) { // a discount is of the same delivery
					invoiced += row.Cents
				}
			}
		}
		for id, p := range m.Sales.Packed {
			if !billed[p.Line] {
				delete(m.Sales.Packed, id)
			}
		}
		for id, c := range m.Sales.Claims {
			c.Credit = min(c.Credit, selling.CreditedOf(m.Sales, id)) / crop.Cents(1+m.IntN(2)) // some were lowered since their note
			m.Sales.Claims[id] = c
		}
		for id, line := range m.Sales.Lines { // what was packed since goes for nothing
			line.Price, line.Bunch = 0, ""
			m.Sales.Lines[id] = line
		}
		all := Of(m.Farm, testSeason, anHour).By(ByBuyer, Filter{}).All.Sums
		if sold := all.Gross + all.FeesPaid - all.Claims; sold != invoiced {
			t.Errorf("the ledger has %d, the invoices %d: %+v", sold, invoiced, all)
		}
	})
}

func TestTheSameFarmHasTheSameLedger(t *testing.T) {
	eachFarm(t, func(t *testing.T, m *made, b *Books) {
		again := Of(m.Farm, testSeason, anHour)
		if len(again.Entries) != len(b.Entries) {
			t.Fatalf("%d and %d entries", len(again.Entries), len(b.Entries))
		}
		for i, e := range b.Entries {
			o := again.Entries[i]
			if *e.At != *o.At || e.Kind != o.Kind || e.Cents != o.Cents || e.Stems != o.Stems {
				t.Fatalf("entry %d: %+v %+v and %+v %+v", i, *e.At, e, *o.At, o)
			}
		}
	})
}
