package selling

import (
	"cmp"

	"corymb/internal/crop"
)

// Quote is what the price lists say of a bunch.
type Quote struct {
	Price   crop.PriceID
	Cents   crop.Cents
	Several bool            // the colours' prices differ, and this is the lowest
	Without []crop.ColourID // colours that have no price
}

// PriceOf looks a bunch up in the price lists for a day: a buyer's own price stands before the channel's, a colour's
// before any colour's, and of those the one that began last and not after the day. Of several colours it is the lowest,
// since the bunch may be tied of that one alone. It is false where no colour has a price.
func PriceOf(s crop.Sales, buyer crop.BuyerID, bunch crop.BunchID, colours []crop.ColourID, due crop.Date) (Quote, bool) {
	if bunch == "" {
		return Quote{}, false
	}
	if len(colours) == 0 {
		colours = []crop.ColourID{""}
	}
	var quote Quote
	found := false
	for _, colour := range colours {
		price, ok := priceOfColour(s, buyer, bunch, colour, due)
		if !ok {
			quote.Without = append(quote.Without, colour)
			continue
		}
		quote.Several = quote.Several || found && price.Cents != quote.Cents
		if !found || price.Cents < quote.Cents {
			quote.Price, quote.Cents = price.ID, price.Cents
		}
		found = true
	}
	return quote, found
}

func priceOfColour(s crop.Sales, buyer crop.BuyerID, bunch crop.BunchID, colour crop.ColourID, due crop.Date) (best crop.Price, found bool) {
	channel := buyerOf(s, buyer).Channel
	for _, p := range s.Prices {
		rank := priceRank(p, buyer, channel, colour)
		if p.Bunch != bunch || p.From > due || p.Cents == 0 || rank < 0 {
			continue
		}
		// Two that begin on one day missed each other: the lower is taken, so that every device says the same.
		if !found || cmp.Or(
			cmp.Compare(rank, priceRank(best, buyer, channel, colour)), cmp.Compare(p.From, best.From),
			cmp.Compare(best.Cents, p.Cents), cmp.Compare(best.ID, p.ID),
		) > 0 {
			best, found = p, true
		}
	}
	return best, found
}

// priceRank orders prices by how much they are a buyer's and a colour's own; below zero a price is not theirs.
func priceRank(p crop.Price, buyer crop.BuyerID, channel crop.ChannelID, colour crop.ColourID) int {
	rank := 0
	switch {
	case p.Buyer == buyer && buyer != "":
		rank += 2
	case p.Buyer != "" || p.Channel != channel || channel == "":
		return -1
	}
	switch {
	case p.Colour == "":
	case p.Colour == colour:
		rank++
	default:
		return -1
	}
	return rank
}

// LinePrice is what a bunch of a line goes for: as agreed, or else as the lists have it on the day. 0 is not priced.
func LinePrice(s crop.Sales, buyer crop.BuyerID, line crop.Line, due crop.Date) crop.Cents {
	if line.Price > 0 {
		return line.Price
	}
	quote, _ := PriceOf(s, buyer, line.Bunch, line.Colours, due)
	return quote.Cents
}

// FloorOf is the least that a stem of a bunch may go for in a channel, by the least grade that the bunch may hold. 0 is
// none.
func FloorOf(c crop.Channel, least crop.Grade) crop.Cents {
	return c.Floor[cmp.Or(least, crop.GradeSecond)]
}

// BelowFloor tells whether a bunch of so many stems goes for less than a floor: in whole cents, since a price a stem may
// have parts of one.
func BelowFloor(price, floor crop.Cents, stems int) bool { return price < floor*crop.Cents(stems) }
