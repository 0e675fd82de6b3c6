package division

import (
	"cmp"
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// FromSales are the prices and asks of a farm as its book has them on a day. Each channel pays for each colour class and
// grade what the price lists say now, or else what it paid last season, less its commission; and it takes a week what it
// took of them in the best week of that season. Where nothing was packed in it, nobody knows what a channel takes: it is
// then taken to take all.
func FromSales(farm crop.Farm, asOf crop.Date) (prices []Price, asks []Ask) {
	season := lastSeasonSold(farm, asOf)
	sold := soldIn(farm, season)
	if len(sold) == 0 {
		prices = listed(farm.Sales, asOf)
	}
	for _, of := range sold {
		prices = append(prices, of.price(farm.Sales, asOf))
	}
	slices.SortFunc(prices, func(a, b Price) int {
		return cmp.Or(cmp.Compare(a.Channel, b.Channel), cmp.Compare(a.Colour, b.Colour), cmp.Compare(a.Grade, b.Grade))
	})
	return prices, unmetIn(farm, asOf)
}

// lastSeasonSold is the last one in which anything was packed, up to a day.
func lastSeasonSold(farm crop.Farm, asOf crop.Date) (last crop.Season) {
	for _, packed := range farm.Sales.Packed {
		if packed.Date <= asOf {
			last = max(last, farm.Calendar.SeasonOf(packed.Date))
		}
	}
	return last
}

// market is one of a channel for a colour class, by the least grade that it asks for.
type market struct {
	channel crop.ChannelID
	colour  crop.ColourID
	grade   crop.Grade
}

// soldTo is what went there in a season.
type soldTo struct {
	market
	byWeek map[crop.Date]int // by Monday
	stems  int
	net    float64
	ties   map[crop.BunchID]int // stems by rule
}

func soldIn(farm crop.Farm, season crop.Season) []*soldTo {
	found := map[market]*soldTo{}
	for _, packed := range farm.Sales.Packed {
		line, known := lineOf(farm.Sales, packed)
		if farm.Calendar.SeasonOf(packed.Date) != season || !known || line.Stems < 1 {
			continue
		}
		channel := channelOf(farm.Sales, packed.Buyer)
		net := netOf(farm.Sales, channel, selling.LinePrice(farm.Sales, packed.Buyer, line, packed.Due), line.Stems)
		for lot, stems := range packed.Stems {
			at := market{channel, lot.Colour, line.Grade}
			if found[at] == nil {
				found[at] = &soldTo{market: at, byWeek: map[crop.Date]int{}, ties: map[crop.BunchID]int{}}
			}
			of := found[at]
			of.stems += stems
			of.byWeek[packed.Date.Monday()] += stems
			of.net += net * float64(stems)
			of.ties[line.Bunch] += stems
		}
	}
	var list []*soldTo
	for _, of := range found {
		if of.net > 0 {
			list = append(list, of)
		}
	}
	return list
}

// lineOf is a packed line, of an order or of a standing order's day.
func lineOf(s crop.Sales, packed crop.Packed) (crop.Line, bool) {
	if line, known := s.Lines[packed.Line]; known {
		return line, true
	}
	of, _, standing := selling.OfStanding(packed.Line)
	line, known := s.Lines[of]
	return line, standing && known
}

func channelOf(s crop.Sales, buyer crop.BuyerID) crop.ChannelID {
	if b, known := s.Buyers[buyer]; known {
		return b.Channel
	}
	return s.Gone.Buyers[buyer].Channel
}

// netOf is what a stem brings of a bunch's price.
func netOf(s crop.Sales, channel crop.ChannelID, price crop.Cents, stems int) float64 {
	c, known := s.Channels[channel]
	if !known {
		c = s.Gone.Channels[channel]
	}
	return float64(price-selling.ChannelKeeps(price, c.Commission)) / float64(stems)
}

// price is the list's for the rule by which most went there, or else what was paid.
func (of *soldTo) price(s crop.Sales, asOf crop.Date) Price {
	p := Price{Colour: of.colour, Grade: of.grade, Channel: string(of.channel), Cents: of.net / float64(of.stems)}
	for _, stems := range of.byWeek {
		p.AWeek = math.Max(p.AWeek, float64(stems))
	}
	most := 0
	for tie, stems := range of.ties {
		bunch, known := s.Bunches[tie]
		listed, priced := listPrice(s, of.channel, tie, of.colour, asOf)
		if known && priced && bunch.Stems > 0 && stems > most {
			most, p.Cents = stems, netOf(s, of.channel, listed, bunch.Stems)
		}
	}
	return p
}

// listPrice is what a channel's list says of a rule and colour class on a day, the lowest where the list says two things.
func listPrice(s crop.Sales, channel crop.ChannelID, tie crop.BunchID, colour crop.ColourID, asOf crop.Date) (best crop.Cents, found bool) {
	var of crop.Price
	for _, p := range s.Prices {
		if p.Channel != channel || p.Buyer != "" || p.Bunch != tie || p.From > asOf || p.Cents == 0 || p.Colour != "" && p.Colour != colour {
			continue
		}
		// A colour's own price, which is the longer id, stands before any colour's.
		if !found || cmp.Or(cmp.Compare(len(p.Colour), len(of.Colour)), cmp.Compare(p.From, of.From), cmp.Compare(of.Cents, p.Cents)) > 0 {
			of, found = p, true
		}
	}
	return of.Cents, found
}

// listed are the lists' prices, each for as many stems as there are.
func listed(s crop.Sales, asOf crop.Date) []Price {
	best := map[market]float64{}
	for _, p := range s.Prices {
		bunch := s.Bunches[p.Bunch]
		if p.Buyer != "" || bunch.Stems < 1 || p.From > asOf {
			continue
		}
		now, found := listPrice(s, p.Channel, p.Bunch, p.Colour, asOf)
		if net := netOf(s, p.Channel, now, bunch.Stems); found && net > 0 {
			at := market{p.Channel, p.Colour, bunch.Grade}
			best[at] = math.Max(best[at], net)
		}
	}
	var list []Price
	for at, cents := range best {
		list = append(list, Price{Colour: at.colour, Grade: at.grade, Channel: string(at.channel), Cents: cents, AWeek: math.Inf(1)})
	}
	return list
}

// unmetIn are the asks of the year before a day that nobody met, by their ids.
func unmetIn(farm crop.Farm, asOf crop.Date) []Ask {
	var list []crop.Ask
	for _, a := range farm.Ahead.Asks {
		if a.ComesAgain(asOf) {
			list = append(list, a)
		}
	}
	slices.SortFunc(list, func(a, b crop.Ask) int { return cmp.Compare(a.ID, b.ID) })
	asks := make([]Ask, 0, len(list))
	for _, a := range list {
		ask := Ask{ID: a.ID, Colours: a.Colours, Grade: a.Grade, Due: a.Due, Stems: a.Unmet()}
		if a.Price > 0 {
			ask.Cents = netOf(farm.Sales, channelOf(farm.Sales, a.Buyer), a.Price, 1)
		}
		asks = append(asks, ask)
	}
	return asks
}
