package selling

import (
	"slices"
	"strconv"

	"corymb/internal/crop"
	"corymb/internal/packing"
)

// Wishes are what a grower wants of a plan whatever it brings: so many bunches of a line, those that are packed already
// among them, or nothing more of it.
type Wishes struct {
	Pinned  map[crop.LineID]int
	Refused []crop.LineID
}

// DueLine is a line of the day with what became of it.
type DueLine struct {
	crop.Line
	Buyer   crop.BuyerID
	Packed  int                // bunches
	Had     map[crop.LotID]int // stems that those are made of
	Colours []crop.ColourID    // what may go there, the buyer's substitutes too; none is any
	Net     crop.Cents         // what a bunch brings once the channel has kept its part
	Pinned  *int               // bunches in all
	Refused bool
	floor   map[crop.Grade]crop.Cents
}

// Open is how many bunches are still to be packed.
func (l DueLine) Open() int { return max(l.Bunches-l.Packed, 0) }

// Priced tells whether a bunch brings anything that can be weighed against other lines.
func (l DueLine) Priced() bool { return l.Net > 0 }

// Supply are the lots that can be sold to somebody who is to have them on a day: something is left of them, and vase
// life on that day. The oldest come first. What is past its life or not told of at all is never among them.
func Supply(f crop.Farm, day crop.Date) []Lot {
	return slices.DeleteFunc(Cooler(f, day), func(l Lot) bool { return l.Left() <= 0 || l.DaysLeft < 0 })
}

// lotsDay is the day on which stems must have vase life left to go to somebody who is to have them on a day. What is
// overdue is packed of what there is today, but a day so long past that none of its stems are left is shown as it was.
func lotsDay(t crop.SaleTerms, day, today crop.Date) crop.Date {
	if day.DaysTo(today) > coolerDays(t) {
		return day
	}
	return max(day, today)
}

// DueLines are the lines that are due on a day, by buyer. wrong are wishes that do not fit them: of a line that is not
// due, or more bunches than were ordered.
func DueLines(s crop.Sales, day crop.Date, wishes Wishes) (lines []DueLine, wrong []crop.LineID) {
	pinned := map[crop.LineID]bool{}
	packed := packedByLine(s)
	for _, due := range DueBetween(s, day, day) {
		for _, line := range due.Lines {
			l := dueLine(s, due.Buyer, due.Day, line, packed[line.ID])
			l.Refused = slices.Contains(wishes.Refused, line.ID)
			if n, ok := wishes.Pinned[line.ID]; ok && l.mayBe(n) {
				l.Pinned = &n
				pinned[line.ID] = true
			}
			lines = append(lines, l)
		}
	}
	for line := range wishes.Pinned {
		if !pinned[line] {
			wrong = append(wrong, line)
		}
	}
	for _, line := range wishes.Refused {
		if !slices.ContainsFunc(lines, func(l DueLine) bool { return l.ID == line }) {
			wrong = append(wrong, line)
		}
	}
	slices.Sort(wrong)
	return lines, wrong
}

func packedByLine(s crop.Sales) map[crop.LineID][]crop.Packed {
	packed := map[crop.LineID][]crop.Packed{}
	for _, p := range s.Packed {
		packed[p.Line] = append(packed[p.Line], p)
	}
	return packed
}

func dueLine(s crop.Sales, buyer crop.BuyerID, due crop.Date, line crop.Line, packed []crop.Packed) DueLine {
	line.Price = LinePrice(s, buyer, line, due)
	l := DueLine{Line: line, Buyer: buyer, Had: map[crop.LotID]int{}}
	for _, p := range packed {
		l.Packed += p.Bunches
		for lot, stems := range p.Stems {
			l.Had[lot] += stems
		}
	}
	b := buyerOf(s, buyer)
	channel, ok := s.Channels[b.Channel]
	if !ok {
		channel = s.Gone.Channels[b.Channel]
	}
	l.Colours = takenFor(line, b)
	l.Net = line.Price - ChannelKeeps(line.Price, channel.Commission)
	l.floor = channel.Floor
	return l
}

// takenFor lists the colours that a line may have: those asked for, and unless it is exact what its buyer takes in
// their place.
func takenFor(line crop.Line, b crop.Buyer) []crop.ColourID {
	taken := slices.Clone(line.Colours)
	if line.Exact {
		return taken
	}
	for _, asked := range line.Colours {
		for _, other := range b.Accepts[asked] {
			if !slices.Contains(taken, other) {
				taken = append(taken, other)
			}
		}
	}
	return taken
}

// mayBe tells whether a line may end with so many bunches.
func (l DueLine) mayBe(bunches int) bool {
	return bunches >= l.Packed && bunches <= l.Bunches && (!l.Whole || bunches == l.Packed || bunches == l.Bunches)
}

// Meets tells whether the stems of a lot are good enough for a line. Where a lot's grade or length is not told, it goes
// only where none is asked for.
func (l DueLine) Meets(lot crop.LotID) bool {
	return (l.Grade == "" || lot.Grade.Rank() >= l.Grade.Rank()) && lot.Length.Lo >= l.Length && l.hasColour(lot.Colour)
}

func (l DueLine) hasColour(colour crop.ColourID) bool {
	return len(l.Colours) == 0 || slices.Contains(l.Colours, colour)
}

// PaysFor tells whether the line pays its channel's floor for every stem of a grade. The floor is a price before
// commission; a stem whose grade nobody told has none, and a line without a price pays what is agreed later.
func (l DueLine) PaysFor(grade crop.Grade) bool {
	return l.Price == 0 || l.floor[grade]*crop.Cents(l.Stems) <= l.Price
}

// KeptBack lists the grades of which no stem may go to the line, since it pays less than their floor.
func (l DueLine) KeptBack() []crop.Grade {
	var kept []crop.Grade
	for _, grade := range []crop.Grade{crop.GradeSecond, crop.GradeFirst, crop.GradeExtra} {
		if !l.PaysFor(grade) {
			kept = append(kept, grade)
		}
	}
	return kept
}

// gradesLowToHigh begins with a name for what was not told: better than nothing, and less than any grade.
var gradesLowToHigh = []string{untold, string(crop.GradeOut), string(crop.GradeSecond), string(crop.GradeFirst), string(crop.GradeExtra)}

const untold = "untold"

// packingDay puts lots and lines as the planner knows them, each under its place in the list. Floors differ by channel
// while the planner's are of the stems, so that a line names the grades that it pays for together with its colours.
func packingDay(lots []Lot, stems []int, lines []DueLine, wanted func(DueLine) bool, price func(DueLine) int64) packing.Day {
	day := packing.Day{Grades: gradesLowToHigh, Supply: []packing.Supply{}, Demand: []packing.Demand{}}
	for i, lot := range lots {
		grade := string(lot.ID.Grade)
		if grade == "" {
			grade = untold
		}
		day.Supply = append(day.Supply, packing.Supply{
			ID: strconv.Itoa(i), Grade: grade, LengthMM: int64(lot.ID.Length.Lo), Colour: kindOf(lot.ID),
			Stems: int64(stems[i]), Cut: string(lot.ID.Cut),
		})
	}
	for i, line := range lines {
		if line.Open() > 0 && line.Stems > 0 && wanted(line) {
			day.Demand = append(day.Demand, line.demand(i, lots, price(line)))
		}
	}
	return day
}

func (l DueLine) demand(place int, lots []Lot, price int64) packing.Demand {
	d := packing.Demand{
		ID: strconv.Itoa(place), MinGrade: string(l.Grade), MinLengthMM: int64(l.Length), Bunch: int64(l.Stems),
		Price: price, MaxBunches: int64(l.Open()), AllOrNothing: l.Whole, Refused: l.Refused,
	}
	for _, lot := range lots {
		kind := kindOf(lot.ID)
		if l.Meets(lot.ID) && l.PaysFor(lot.ID.Grade) && !slices.Contains(d.Colours, kind) {
			d.Colours = append(d.Colours, kind)
		}
	}
	d.Refused = d.Refused || len(d.Colours) == 0 // none would be any
	if l.Pinned != nil && !d.Refused {
		more := int64(*l.Pinned - l.Packed)
		d.Pinned = &more
	}
	return d
}

func kindOf(lot crop.LotID) string { return string(lot.Colour) + "|" + string(lot.Grade) }
