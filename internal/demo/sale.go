package demo

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/farm"
)

// seller makes up what was ordered, packed, written off and found wrong in the last season: those before were sold
// without a book. It draws from a source of its own.
type seller struct {
	*grower
	rnd      *rand.Rand
	season   crop.Season
	channels []crop.ChannelID
	ties     []crop.Bunch
	buyers   []crop.BuyerID
	buyerOf  map[crop.OrderID]crop.BuyerID
	weekly   []crop.Line
	standing crop.StandingOrder
	lots     []lot // what lies in the cooler, the oldest first
	// delivered is what was packed, the earliest first.
	delivered []delivered
}

type lot struct {
	id   crop.LotID
	left int
}

func (g *grower) sell() []crop.BuyerID {
	_, last := g.seasons()
	s := &seller{grower: g, rnd: rand.New(rand.NewPCG(seed, 4)), season: last, buyerOf: map[crop.OrderID]crop.BuyerID{}}
	s.open(onDay(last, "04-10"))
	benches := s.benches()
	days := s.deliveryDays(benches)
	s.orderWeekly(days)
	for i, day := range days {
		for len(benches) > 0 && benches[0].Date <= day {
			s.store(benches[0])
			benches = benches[1:]
		}
		lines := s.order(day)
		if i == len(days)-1 {
			break // waits to be packed
		}
		for _, line := range lines {
			s.pack(day, line)
		}
		s.writeOff(day)
	}
	s.keepBooks()
	return s.buyers
}

func (s *seller) newID() string { return randomID(s.rnd) }

// open writes down channels, rules, prices and buyers.
func (s *seller) open(day crop.Date) {
	s.mark(day, farm.TermsFacts(s.farm.ID, crop.SaleTerms{
		Currency: "EUR", Seller: "Kiln Field Flowers\nPump Road 9", CoolerDays: coolerDays, OverCut: 4, PayDays: 14, TaxRate: 700, TaxName: "VAT",
	}))
	for _, c := range channels {
		id := crop.ChannelID(s.newID())
		s.channels = append(s.channels, id)
		s.mark(day, farm.ChannelFacts(crop.Channel{
			ID: id, Name: c.name, Kind: c.kind, Floor: c.floor, Commission: c.commission, Fee: c.fee, BuyerPays: c.buyerPays,
			CutoffDays: c.cutoffDays, CutoffTime: c.cutoffTime, Days: c.days,
		}))
	}
	for _, t := range ties {
		s.openTie(day, t)
	}
	for _, b := range buyers {
		id := crop.BuyerID(s.newID())
		s.buyers = append(s.buyers, id)
		accepts := map[crop.ColourID][]crop.ColourID{}
		for asked, others := range b.accepts {
			accepts[s.colours[asked]] = s.coloursOf(others)
		}
		s.mark(day, farm.BuyerFacts(crop.Buyer{ID: id, Name: b.name, Channel: s.channels[b.channel], Address: b.address, Accepts: accepts}))
	}
}

// openTie writes down a rule and its prices: lower from the middle of June on, when everybody has yarrow.
func (s *seller) openTie(day crop.Date, t tie) {
	rule := crop.Bunch{ID: crop.BunchID(s.newID()), Name: t.name, Stems: t.stems, Grade: t.grade, Length: t.length}
	s.ties = append(s.ties, rule)
	s.mark(day, farm.BunchFacts(rule))
	for i := range t.prices {
		for _, from := range priceSteps {
			if t.prices[i] > 0 {
				s.mark(day, farm.PriceFacts(crop.Price{
					ID: crop.PriceID(s.newID()), Channel: s.channels[i], Bunch: rule.ID, From: onDay(s.season, from.day),
					Cents: t.prices[i] * from.percent / 100,
				}))
			}
		}
	}
}

func (s *seller) coloursOf(names []string) []crop.ColourID {
	var ids []crop.ColourID
	for _, name := range names {
		ids = append(ids, s.colours[name])
	}
	return ids
}

// benches are the season's bench totals, the earliest first.
func (s *seller) benches() []crop.Visit {
	var found []crop.Visit
	for _, v := range s.cuts {
		if v.Purpose == crop.PurposeBench && s.farm.Calendar.SeasonOf(v.Date) == s.season {
			found = append(found, v)
		}
	}
	slices.SortStableFunc(found, func(a, b crop.Visit) int { return cmp.Compare(a.Date, b.Date) })
	return found
}

// deliveryDays are the Tuesdays and Fridays from the first bench total until the height of the second flush, where the
// book breaks off with something to pack.
func (s *seller) deliveryDays(benches []crop.Visit) []crop.Date {
	var days []crop.Date
	for day := benches[0].Date.Add(1); day <= onDay(s.season, bookEnds); day = day.Add(1) {
		if crop.Weekdays("25").Holds(day) {
			days = append(days, day)
		}
	}
	for !channels[buyers[weekly[0].buyer].channel].days.Holds(days[len(days)-1]) {
		days = days[:len(days)-1] // the last is one of the standing order's, so that something waits to be packed
	}
	return days
}

// store puts what came over the bench into the cooler. A total's counts have no order of their own.
func (s *seller) store(v crop.Visit) {
	var came []lot
	for _, c := range v.Counts {
		if c.Grade != crop.GradeOut {
			came = append(came, lot{crop.LotID{Bed: v.Bed, Cut: v.Date, Colour: c.Colour, Grade: c.Grade, Length: c.Length}, c.Stems})
		}
	}
	slices.SortFunc(came, func(a, b lot) int { return cmp.Compare(farm.LotCell(a.id), farm.LotCell(b.id)) })
	s.lots = append(s.lots, came...)
}

// orderWeekly takes the standing order, from the first delivery to the last.
func (s *seller) orderWeekly(days []crop.Date) {
	buyer := weekly[0].buyer
	s.standing = crop.StandingOrder{
		ID: crop.StandingID(s.newID()), Buyer: s.buyers[buyer], From: days[0], Until: days[len(days)-1],
		Days: channels[buyers[buyer].channel].days, Every: 1,
	}
	taken := days[0].Add(-14)
	s.mark(taken, farm.StandingFacts(s.standing))
	for _, w := range weekly {
		line := s.lineOf(w, s.priceOn(days[0], w))
		line.Standing = s.standing.ID
		s.mark(taken, farm.LineFacts(line))
		s.weekly = append(s.weekly, line)
	}
}

// lineOf is a wish as a line of no order yet.
func (s *seller) lineOf(w wish, price crop.Cents) crop.Line {
	rule := s.ties[w.tie]
	return crop.Line{
		ID: crop.LineID(s.newID()), Bunch: rule.ID, Bunches: w.bunches, Stems: rule.Stems, Grade: rule.Grade, Length: rule.Length,
		Colours: s.coloursOf(w.colours), Whole: w.whole, Price: price,
	}
}

// order takes the orders for a day, three days before.
func (s *seller) order(day crop.Date) []crop.Line {
	var lines []crop.Line
	orders := map[int]crop.OrderID{}
	for _, w := range wishes {
		channel := channels[buyers[w.buyer].channel]
		flow := s.flow()
		if !channel.days.Holds(day) || s.rnd.Float64() > w.often*flow {
			continue
		}
		w.bunches = int(math.Ceil(float64(w.bunches) * flow))
		if orders[w.buyer] == "" {
			orders[w.buyer] = crop.OrderID(s.newID())
			s.buyerOf[orders[w.buyer]] = s.buyers[w.buyer]
			s.mark(day.Add(-3), farm.OrderFacts(crop.Order{ID: orders[w.buyer], Buyer: s.buyers[w.buyer], Due: day, Taken: day.Add(-3)}))
		}
		line := s.lineOf(w, s.priceOn(day, w))
		line.Order = orders[w.buyer]
		s.mark(day.Add(-3), farm.LineFacts(line))
		lines = append(lines, line)
	}
	return append(lines, s.weeklyOn(day)...)
}

// flow tells how much there is to sell, from 0 for nothing to 1 for the height of a flush: buyers hear of it.
func (s *seller) flow() float64 {
	left := 0
	for _, l := range s.lots {
		left += l.left
	}
	return min(1, float64(left)/350)
}

// weeklyOn are the standing order's lines on a day, with the ids that they have then.
func (s *seller) weeklyOn(day crop.Date) []crop.Line {
	if !s.standing.Days.Holds(day) {
		return nil
	}
	var lines []crop.Line
	for _, line := range s.weekly {
		order := crop.OrderID(string(s.standing.ID) + "@" + string(day))
		line.ID, line.Order, line.Standing = crop.LineID(string(line.ID)+"@"+string(day)), order, ""
		s.buyerOf[order] = s.standing.Buyer
		lines = append(lines, line)
	}
	return lines
}

func (s *seller) priceOn(day crop.Date, w wish) crop.Cents {
	percent := crop.Cents(0)
	for _, step := range priceSteps {
		if onDay(s.season, step.day) <= day {
			percent = step.percent
		}
	}
	return ties[w.tie].prices[buyers[w.buyer].channel] * percent / 100
}

// pack makes up as many of a line's bunches as the cooler gives, of the oldest stems first.
func (s *seller) pack(day crop.Date, line crop.Line) {
	fit := func(l lot) bool {
		return l.id.Cut.DaysTo(day) <= coolerDays && l.id.Grade.Rank() >= line.Grade.Rank() && l.id.Length.Lo >= line.Length &&
			(len(line.Colours) == 0 || slices.Contains(line.Colours, l.id.Colour))
	}
	there := 0
	for _, l := range s.lots {
		if fit(l) {
			there += l.left
		}
	}
	bunches := min(line.Bunches, there/line.Stems)
	if bunches == 0 || line.Whole && bunches < line.Bunches {
		return
	}
	packed := crop.Packed{
		ID: crop.PackedID(s.newID()), Line: line.ID, Buyer: s.buyerOf[line.Order], Due: day, Date: day, Person: s.names[people[benchHand]],
		Bunches: bunches, Stems: map[crop.LotID]int{},
	}
	wanted := bunches * line.Stems
	for i := range s.lots {
		if taken := min(wanted, s.lots[i].left); fit(s.lots[i]) && taken > 0 {
			s.lots[i].left -= taken
			packed.Stems[s.lots[i].id] = taken
			wanted -= taken
		}
	}
	s.markBy(day, benchHand, farm.PackedFacts(packed))
	s.delivered = append(s.delivered, delivered{
		day: day, buyer: slices.Index(s.buyers, packed.Buyer), line: line, bunches: bunches, credited: s.perhapsClaim(day, packed),
	})
}

// perhapsClaim has a buyer complain now and then, of the lot of which most stems went to them, and tells what is credited.
func (s *seller) perhapsClaim(day crop.Date, p crop.Packed) crop.Cents {
	if s.rnd.Float64() > .03 {
		return 0
	}
	const credit = 250
	var most crop.LotID
	for id, stems := range p.Stems {
		if stems > p.Stems[most] || stems == p.Stems[most] && farm.LotCell(id) < farm.LotCell(most) {
			most = id
		}
	}
	reasons := []crop.ClaimReason{crop.ClaimShattered, crop.ClaimWilted, crop.ClaimColour}
	s.mark(day.Add(2), farm.ClaimFacts(crop.Claim{
		ID: crop.ClaimID(s.newID()), Line: p.Line, Buyer: p.Buyer, Due: p.Due, Lot: &most, Stems: min(10, p.Stems[most]),
		Reason: reasons[s.rnd.IntN(len(reasons))], Credit: credit, Date: day.Add(2), Person: s.owner(),
	}))
	return credit
}

// writeOff throws out what is past its life.
func (s *seller) writeOff(day crop.Date) {
	kept := s.lots[:0]
	for _, l := range s.lots {
		past := l.id.Cut.DaysTo(day) > coolerDays
		if past && l.left > 0 {
			s.markBy(day, benchHand, farm.ShrinkFacts(crop.Shrink{
				ID: crop.ShrinkID(s.newID()), Lot: l.id, Stems: l.left, Reason: crop.ShrinkOld, Date: day, Person: s.names[people[benchHand]],
			}))
		}
		if !past {
			kept = append(kept, l)
		}
	}
	s.lots = kept
}
