package selling

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"corymb/internal/crop"
	"corymb/internal/packing"
)

// Plan is what to pack for a day.
type Plan struct {
	Stems   int // there to be sold
	Placed  int // of those
	Proven  bool
	Lines   []PlanLine
	Unsold  []LotStems
	TopDown []Differs
	Wrong   []crop.LineID // wishes that do not fit the day
	Money   PlanMoney
}

// PlanLine is what a line gets beside what is packed already.
type PlanLine struct {
	DueLine
	More  int // bunches
	From  []LotStems
	Short *Short // why it gets no more; nil where it is filled
}

// LotStems is so many stems of a lot.
type LotStems struct {
	Lot   crop.LotID
	Stems int
}

// Differs is a line that would get other bunches if the orders were filled from the first to the last.
type Differs struct {
	Line          crop.LineID
	More, TopDown int
}

// PlanMoney is what a plan brings, once channels have kept their part. Lines without a price are not in it.
type PlanMoney struct {
	Revenue, Bound, TopDown crop.Cents
	OneStem                 map[crop.LotID]crop.Cents  // what one stem more would bring
	OneBunch                map[crop.LineID]crop.Cents // what it would bring to be asked for one bunch more
}

// PlanDay plans what to pack for a day, as things stand today. Lines that have a price come first: those without get as
// many as they can of what is left, since nobody knows what they bring.
func PlanDay(ctx context.Context, f crop.Farm, day, today crop.Date, wishes Wishes) (Plan, error) {
	lots := Supply(f, lotsDay(f.Sales.Terms, day, today))
	stems := make([]int, len(lots))
	plan := Plan{Proven: true, Money: PlanMoney{OneStem: map[crop.LotID]crop.Cents{}, OneBunch: map[crop.LineID]crop.Cents{}}}
	for i, lot := range lots {
		stems[i] = lot.Left()
		plan.Stems += lot.Left()
	}
	lines, wrong := DueLines(f.Sales, day, wishes)
	plan.Wrong = wrong
	for _, line := range lines {
		plan.Lines = append(plan.Lines, PlanLine{DueLine: line})
	}
	priced := packingDay(lots, stems, lines, DueLine.Priced, func(l DueLine) int64 { return int64(l.Net) })
	within, stop := mostOf(ctx)
	defer stop()
	found, err := packing.Solve(within, priced, packing.Options{OneMore: true})
	if err != nil {
		return plan, fmt.Errorf("planning what to pack for %s: %w", day, err)
	}
	plan.take(found, lots, stems)
	plan.tell(found, lots)
	plan.explain(DueLine.Priced, lots, stems)
	priceless := func(l DueLine) bool { return !l.Priced() }
	unpriced := packingDay(lots, stems, lines, priceless, func(l DueLine) int64 { return int64(l.Stems) })
	rest, err := packing.Solve(ctx, unpriced, packing.Options{})
	if err != nil {
		return plan, fmt.Errorf("planning lines without a price for %s: %w", day, err)
	}
	plan.take(rest, lots, stems)
	plan.Proven = plan.Proven && rest.Proven
	for i, lot := range lots {
		if stems[i] > 0 {
			plan.Unsold = append(plan.Unsold, LotStems{lot.ID, stems[i]})
		}
	}
	plan.explain(priceless, lots, stems)
	for _, line := range plan.Lines {
		if line.Short != nil && !line.Refused {
			line.Short.To = plan.takers(line)
		}
	}
	return plan, nil
}

// mostOf leaves a fifth of the time for the lines without a price: what one stem more would bring takes all there is.
func mostOf(ctx context.Context) (context.Context, context.CancelFunc) {
	end, ok := ctx.Deadline()
	if !ok {
		return context.WithCancel(ctx)
	}
	return context.WithTimeout(ctx, time.Until(end)*4/5)
}

// explain says why lines are not filled. To those that have a price what lines without get is still to be had.
func (p *Plan) explain(which func(DueLine) bool, lots []Lot, left []int) {
	for i, line := range p.Lines {
		if which(line.DueLine) {
			p.Lines[i].Short = shortOf(line, lots, left)
		}
	}
}

// take gives the lines what was found for them, out of the stems that are left of the lots.
func (p *Plan) take(found packing.Plan, lots []Lot, stems []int) {
	for _, packed := range found.Lines {
		line := &p.Lines[place(packed.ID)]
		line.More = int(packed.Bunches)
		for _, part := range packed.Stems {
			i := place(part.Supply)
			line.From = append(line.From, LotStems{lots[i].ID, int(part.Stems)})
			stems[i] -= int(part.Stems)
			p.Placed += int(part.Stems)
		}
	}
}

// tell says what the plan of the lines that have a price brings.
func (p *Plan) tell(found packing.Plan, lots []Lot) {
	p.Proven = found.Proven
	p.Money.Revenue, p.Money.Bound = crop.Cents(found.Revenue), crop.Cents(found.Bound)
	p.Money.TopDown = crop.Cents(found.TopDown.Revenue)
	for id, cents := range found.OneStem {
		p.Money.OneStem[lots[place(id)].ID] = crop.Cents(cents)
	}
	for id, cents := range found.OneBunch {
		p.Money.OneBunch[p.Lines[place(id)].ID] = crop.Cents(cents)
	}
	for _, d := range found.TopDown.Differs {
		p.TopDown = append(p.TopDown, Differs{p.Lines[place(d.ID)].ID, int(d.Bunches), int(d.TopDown)})
	}
}

// place reads the id under which packingDay put a lot or a line.
func place(id string) int {
	n, err := strconv.Atoi(id)
	if err != nil {
		panic(fmt.Sprintf("the planner answered with %q, which it was not asked about", id))
	}
	return n
}
