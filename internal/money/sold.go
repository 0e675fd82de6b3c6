package money

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// sale is a line of an order: what was packed for it and what of it stands on invoices.
type sale struct {
	id     crop.LineID
	buyer  crop.BuyerID
	due    crop.Date
	packed int
	last   crop.Date // on which it was packed
	stems  map[crop.LotID]int

	billed  int // bunches, less those that notes took back
	cents   crop.Cents
	kept    crop.Cents
	claimed map[crop.ClaimID]crop.Cents // credited by notes
	cells   []cell
}

// cell is stems of one line and one place.
type cell struct {
	at    At
	stems int
}

func told(cells []cell) bool {
	return slices.ContainsFunc(cells, func(c cell) bool { return c.stems > 0 })
}

// weightsOf are the stems of cells; those below nothing, which were put back, bear no money.
func weightsOf(cells []cell) []int64 {
	weights := make([]int64, len(cells))
	for i, c := range cells {
		weights[i] = int64(max(0, c.stems))
	}
	return weights
}

// addSales adds what was sold in the season, by the day of its delivery: at what its invoice says where it stands on one,
// else at what the line goes for.
func (b *books) addSales() {
	sales, fees := b.gather()
	var deliveries []*delivery
	of := map[string]*delivery{}
	for _, id := range slices.SortedFunc(maps.Keys(sales), func(x, y crop.LineID) int {
		return cmp.Or(cmp.Compare(sales[x].due, sales[y].due), cmp.Compare(x, y))
	}) {
		s := sales[id]
		if !b.inSeason(s.due) {
			continue
		}
		b.addSale(s)
		key := b.deliveryOf(s)
		if of[key] == nil {
			of[key] = &delivery{buyer: s.buyer, due: s.due}
			deliveries = append(deliveries, of[key])
		}
		of[key].add(s)
	}
	b.addFees(deliveries, fees)
	b.addClaims(sales)
}

// gather lays what was packed and billed by line, and what was billed for bringing by buyer and day.
func (b *books) gather() (map[crop.LineID]*sale, map[buyerDay]crop.Cents) {
	sales, fees := map[crop.LineID]*sale{}, map[buyerDay]crop.Cents{}
	of := func(id crop.LineID) *sale {
		if sales[id] == nil {
			sales[id] = &sale{id: id, stems: map[crop.LotID]int{}, claimed: map[crop.ClaimID]crop.Cents{}}
		}
		return sales[id]
	}
	for _, id := range slices.Sorted(maps.Keys(b.farm.Sales.Packed)) {
		of(b.farm.Sales.Packed[id].Line).pack(b.farm.Sales.Packed[id])
	}
	for _, id := range slices.Sorted(maps.Keys(b.farm.Sales.Invoices)) {
		if i := b.farm.Sales.Invoices[id]; selling.Stands(b.farm.Sales, i) {
			b.bill(i, of, fees)
		}
	}
	for _, claim := range b.farm.Sales.Claims {
		s := of(claim.Line)
		s.placed(claim.Buyer, claim.Due)
	}
	return sales, fees
}

func (s *sale) pack(p crop.Packed) {
	if p.Date >= s.last {
		s.buyer, s.due, s.last = p.Buyer, p.Due, p.Date
	}
	s.packed += p.Bunches
	for lot, stems := range p.Stems {
		s.stems[lot] += stems
	}
}

// placed tells whose a line was and when, where nothing was packed for it.
func (s *sale) placed(buyer crop.BuyerID, due crop.Date) {
	if s.last == "" && (s.due == "" || due < s.due) {
		s.buyer, s.due = buyer, due
	}
}

// bill adds an invoice's rows to their lines. A row without a line that charges is a fee; one that takes off is a discount,
// which its other rows share by what they come to.
func (b *books) bill(i crop.Invoice, of func(crop.LineID) *sale, fees map[buyerDay]crop.Cents) {
	channel, _ := selling.ChannelOf(b.farm.Sales, i.Buyer)
	for _, row := range selling.AfterDiscount(i) {
		if row.Line == "" {
			fees[buyerDay{i.Buyer, row.Due}] += row.Cents
			continue
		}
		s := of(row.Line)
		s.placed(i.Buyer, row.Due)
		switch {
		case i.Claim != "":
			s.claimed[i.Claim] -= row.Cents
		case i.Credits != "": // a note's bunches are as many as it takes back
			s.billed -= row.Bunches
			s.cents += row.Cents
			s.kept -= keptOf(-row.Cents, row.Bunches, channel.Commission)
		default:
			s.billed += row.Bunches
			s.cents += row.Cents
			s.kept += keptOf(row.Cents, row.Bunches, channel.Commission)
		}
	}
}

// keptOf is what a channel keeps of so many bunches that came to an amount together: rounded once a bunch, as
// selling.ChannelKeeps is. Where their prices are no whole cents, some cost a cent more than the others.
func keptOf(cents crop.Cents, bunches, commission int) crop.Cents {
	if bunches <= 0 || cents <= 0 {
		return 0
	}
	n := crop.Cents(bunches)
	price, dearer := cents/n, cents%n
	return selling.ChannelKeeps(price, commission)*(n-dearer) + selling.ChannelKeeps(price+1, commission)*dearer
}

// addSale adds a line's stems, what they went for and what the channel keeps of it.
func (b *books) addSale(s *sale) {
	line, ordered := selling.LineOf(b.farm.Sales, s.id)
	channel, _ := selling.ChannelOf(b.farm.Sales, s.buyer)
	gross, kept := s.cents, s.kept
	if rest := s.packed - s.billed; rest > 0 {
		price := crop.Cents(0)
		if ordered {
			price = selling.LinePrice(b.farm.Sales, s.buyer, line, s.due)
		}
		if price == 0 {
			b.Unpriced += rest
		}
		gross += price * crop.Cents(rest)
		kept += selling.ChannelKeeps(price, channel.Commission) * crop.Cents(rest)
	} else {
		b.Overbilled -= rest
	}
	at := At{Channel: channel.ID, Buyer: s.buyer, Day: s.due}
	s.cells = b.cellsOf(s.stems, at)
	if len(s.cells) == 0 && (s.packed != 0 || gross != 0) { // nobody told of which lots
		if len(line.Colours) == 1 {
			at.Colour = line.Colours[0]
		}
		s.cells = []cell{{at, s.packed * line.Stems}}
	}
	b.addSold(s, gross)
	b.spread(s.cells, -kept, at, Entry{Kind: Kept})
}

// addSold adds an entry for each of a line's cells, also where it brings nothing: its stems went out.
func (b *books) addSold(s *sale, gross crop.Cents) {
	weights := weightsOf(s.cells)
	cents, bunches := selling.PartsOf(int64(gross), weights), selling.PartsOf(int64(s.packed)*scale, weights)
	for i, c := range s.cells {
		b.add(c.at, Entry{Kind: Sold, Cents: crop.Cents(cents[i]), Stems: c.stems, Bunches: int(bunches[i])})
	}
}

// cellsOf takes the stems of lots, and says of which plants they are.
func (b *books) cellsOf(stems map[crop.LotID]int, at At) []cell {
	var cells []cell
	for _, lot := range slices.SortedFunc(maps.Keys(stems), compareLots) {
		if stems[lot] == 0 {
			continue
		}
		at := at
		at.Colour, at.Grade, at.Length, at.Bed, at.Cut = lot.Colour, lot.Grade, lot.Length, lot.Bed, lot.Cut
		taken := b.sources.take(lot, stems[lot])
		for _, of := range slices.SortedFunc(maps.Keys(taken), compareSources) {
			at.Stock, at.Age, at.Plant = of.stock, of.age, of.plant
			cells = append(cells, cell{at, taken[of]})
		}
	}
	return cells
}

func compareLots(a, b crop.LotID) int {
	return cmp.Or(
		cmp.Compare(a.Cut, b.Cut), cmp.Compare(a.Bed, b.Bed), cmp.Compare(a.Colour, b.Colour), cmp.Compare(a.Grade, b.Grade),
		cmp.Compare(a.Length.Lo, b.Length.Lo), cmp.Compare(a.Length.Hi, b.Length.Hi),
	)
}
