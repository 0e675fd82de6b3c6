package money

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

type buyerDay struct {
	buyer crop.BuyerID
	day   crop.Date
}

// delivery is the lines of one order that were brought.
type delivery struct {
	buyer  crop.BuyerID
	due    crop.Date
	packed int
	billed bool
	cells  []cell
}

func (d *delivery) add(s *sale) {
	d.packed += s.packed
	d.billed = d.billed || s.billed > 0
	d.cells = append(d.cells, s.cells...)
}

// deliveryOf names the order that a line is of; lines that nobody orders any more are their buyer's on their day.
func (b *books) deliveryOf(s *sale) string {
	if order, known := selling.OrderOf(b.farm.Sales, s.id); known {
		return "order " + string(order)
	}
	return "buyer " + string(s.buyer) + " " + string(s.due)
}

// addFees adds what bringing cost, once for each order of which something was packed, and what buyers pay for it: as billed,
// and for deliveries that are not billed yet as it will be.
func (b *books) addFees(deliveries []*delivery, billed map[buyerDay]crop.Cents) {
	unbilled, spare := map[buyerDay][]*delivery{}, map[buyerDay]int{}
	paid := map[buyerDay][]cell{}
	for _, d := range deliveries {
		channel, _ := selling.ChannelOf(b.farm.Sales, d.buyer)
		key := buyerDay{d.buyer, d.due}
		paid[key] = append(paid[key], d.cells...)
		if d.billed {
			spare[key]--
		}
		if d.packed <= 0 || channel.Fee <= 0 {
			continue
		}
		b.spread(d.cells, -channel.Fee, At{Channel: channel.ID, Buyer: d.buyer, Day: d.due}, Entry{Kind: Fee})
		if channel.BuyerPays && !d.billed {
			unbilled[key] = append(unbilled[key], d)
		}
	}
	for key, cents := range billed {
		if channel, _ := selling.ChannelOf(b.farm.Sales, key.buyer); channel.Fee > 0 {
			spare[key] += int(cents / channel.Fee)
		}
	}
	b.addBilledFees(billed, paid)
	for _, key := range slices.SortedFunc(maps.Keys(unbilled), compareBuyerDays) {
		b.addFeesToBill(unbilled[key][min(max(0, spare[key]), len(unbilled[key])):])
	}
}

func compareBuyerDays(a, b buyerDay) int {
	return cmp.Or(cmp.Compare(a.day, b.day), cmp.Compare(a.buyer, b.buyer))
}

func (b *books) addBilledFees(billed map[buyerDay]crop.Cents, cells map[buyerDay][]cell) {
	for _, key := range slices.SortedFunc(maps.Keys(billed), compareBuyerDays) {
		if b.inSeason(key.day) {
			channel, _ := selling.ChannelOf(b.farm.Sales, key.buyer)
			b.spread(cells[key], billed[key], At{Channel: channel.ID, Buyer: key.buyer, Day: key.day}, Entry{Kind: FeePaid})
		}
	}
}

func (b *books) addFeesToBill(deliveries []*delivery) {
	for _, d := range deliveries {
		channel, _ := selling.ChannelOf(b.farm.Sales, d.buyer)
		b.spread(d.cells, channel.Fee, At{Channel: channel.ID, Buyer: d.buyer, Day: d.due}, Entry{Kind: FeePaid})
	}
}

// addClaims adds what is credited of lines, on the day of their delivery: as the claim says, or what its notes credited
// where that is more, since it stands on paper.
func (b *books) addClaims(sales map[crop.LineID]*sale) {
	claims := map[crop.LineID][]crop.Claim{}
	for _, id := range slices.Sorted(maps.Keys(b.farm.Sales.Claims)) {
		claim := b.farm.Sales.Claims[id]
		claims[claim.Line] = append(claims[claim.Line], claim)
	}
	for _, id := range slices.Sorted(maps.Keys(sales)) {
		s := sales[id]
		if !b.inSeason(s.due) {
			continue
		}
		for _, claim := range claims[id] {
			b.addClaim(s, claim, max(claim.Credit, s.claimed[claim.ID]))
			delete(s.claimed, claim.ID)
		}
		for _, gone := range slices.Sorted(maps.Keys(s.claimed)) { // claims that were taken away since
			b.addClaim(s, crop.Claim{ID: gone}, s.claimed[gone])
		}
	}
}

func (b *books) addClaim(s *sale, claim crop.Claim, credit crop.Cents) {
	channel, _ := selling.ChannelOf(b.farm.Sales, s.buyer)
	at, cells := At{Channel: channel.ID, Buyer: s.buyer, Day: s.due}, s.cells
	if lot := claim.Lot; lot != nil {
		at.Colour, at.Grade, at.Length, at.Bed, at.Cut = lot.Colour, lot.Grade, lot.Length, lot.Bed, lot.Cut
		cells = slices.DeleteFunc(slices.Clone(cells), func(c cell) bool {
			return c.at.Bed != lot.Bed || c.at.Cut != lot.Cut || c.at.Colour != lot.Colour || c.at.Grade != lot.Grade || c.at.Length != lot.Length
		})
	}
	b.spread(cells, -credit, at, Entry{Kind: Claimed, What: string(claim.Reason)})
}
