package selling_test

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

const packDay, cutDay = crop.Date("2026-06-04"), crop.Date("2026-06-02")

// shop is a farm with one channel, one buyer and an order for the day.
func shop(lines ...crop.Line) crop.Farm {
	f := crop.NewFarm()
	f.Sales.Channels["ch"] = crop.Channel{ID: "ch", Floor: map[crop.Grade]crop.Cents{}}
	f.Sales.Buyers["b"] = crop.Buyer{ID: "b", Name: "Studio", Channel: "ch", Accepts: map[crop.ColourID][]crop.ColourID{}}
	f.Sales.Orders["o"] = crop.Order{ID: "o", Buyer: "b", Due: packDay}
	for i, line := range lines {
		if line.ID == "" {
			line.ID = crop.LineID(fmt.Sprintf("l%d", i))
		}
		if line.Order == "" {
			line.Order = "o"
		}
		f.Sales.Lines[line.ID] = line
	}
	return f
}

func lot(colour crop.ColourID, grade crop.Grade, least int) crop.LotID {
	id := crop.LotID{Bed: "bed", Cut: cutDay, Colour: colour, Grade: grade}
	if least > 0 {
		id.Length = crop.TenCentimetres(least)
	}
	return id
}

// bench puts stems of a lot into the cooler.
func bench(f crop.Farm, id crop.LotID, stems int) {
	visit := crop.VisitID(fmt.Sprint("v", len(f.Visits)))
	f.Visits[visit] = crop.Visit{ID: visit, Bed: id.Bed, Date: id.Cut, Purpose: crop.PurposeBench, Counts: []crop.Count{
		{Colour: id.Colour, Grade: id.Grade, Length: id.Length, Stems: stems},
	}}
}

func plan(t *testing.T, f crop.Farm, wishes selling.Wishes) selling.Plan {
	t.Helper()
	p, err := selling.PlanDay(context.Background(), f, packDay, packDay, wishes)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func line(price crop.Cents, more func(*crop.Line)) crop.Line {
	l := crop.Line{Bunches: 2, Stems: 10, Colours: []crop.ColourID{"ember"}, Price: price}
	if more != nil {
		more(&l)
	}
	return l
}

func TestStemsGoOnlyWhereTheyMay(t *testing.T) {
	ember := lot("ember", crop.GradeFirst, 50)
	tests := []struct {
		name string
		lot  crop.LotID
		line crop.Line
		also func(crop.Farm)
		want int // bunches
	}{
		{"good enough in all", ember, line(500, nil), nil, 2},
		{"of a better grade and longer", lot("ember", crop.GradeExtra, 60), line(500, func(l *crop.Line) { l.Grade, l.Length = crop.GradeFirst, 500 }), nil, 2},
		{"of a lesser grade", lot("ember", crop.GradeSecond, 60), line(500, func(l *crop.Line) { l.Grade = crop.GradeFirst }), nil, 0},
		{"too short", lot("ember", crop.GradeExtra, 40), line(500, func(l *crop.Line) { l.Length = 500 }), nil, 0},
		{"of an untold grade where none is asked", lot("ember", "", 50), line(500, nil), nil, 2},
		{"of an untold grade where one is", lot("ember", "", 50), line(500, func(l *crop.Line) { l.Grade = crop.GradeSecond }), nil, 0},
		{"of an untold length where none is asked", lot("ember", crop.GradeFirst, 0), line(500, nil), nil, 2},
		{"of an untold length where one is", lot("ember", crop.GradeFirst, 0), line(500, func(l *crop.Line) { l.Length = 300 }), nil, 0},
		{"of an untold colour where any will do", lot("", crop.GradeFirst, 50), line(500, func(l *crop.Line) { l.Colours = nil }), nil, 2},
		{"of an untold colour where one is asked", lot("", crop.GradeFirst, 50), line(500, nil), nil, 0},
		{"of another colour", lot("oyster", crop.GradeFirst, 50), line(500, nil), nil, 0},
		{"of a colour that the buyer takes instead", lot("oyster", crop.GradeFirst, 50), line(500, nil), func(f crop.Farm) {
			f.Sales.Buyers["b"].Accepts["ember"] = []crop.ColourID{"oyster"}
		}, 2},
		{"the same, but exactly that was asked for", lot("oyster", crop.GradeFirst, 50), line(500, func(l *crop.Line) { l.Exact = true }), func(f crop.Farm) {
			f.Sales.Buyers["b"].Accepts["ember"] = []crop.ColourID{"oyster"}
		}, 0},
		{"at the floor of its grade", ember, line(500, nil), func(f crop.Farm) { f.Sales.Channels["ch"].Floor[crop.GradeFirst] = 50 }, 2},
		{"a cent a stem below it", ember, line(500, nil), func(f crop.Farm) { f.Sales.Channels["ch"].Floor[crop.GradeFirst] = 51 }, 0},
		{"below the floor of another grade", ember, line(500, nil), func(f crop.Farm) { f.Sales.Channels["ch"].Floor[crop.GradeExtra] = 51 }, 2},
		{"the floor is before commission", ember, line(500, nil), func(f crop.Farm) {
			c := f.Sales.Channels["ch"]
			c.Commission = 3_000
			c.Floor[crop.GradeFirst] = 50
			f.Sales.Channels["ch"] = c
		}, 2},
		{"of a buyer who was deleted", ember, line(500, nil), func(f crop.Farm) {
			f.Sales.Gone.Buyers["b"] = f.Sales.Buyers["b"]
			delete(f.Sales.Buyers, "b")
			f.Sales.Channels["ch"].Floor[crop.GradeFirst] = 51
		}, 0},
		{"all or nothing, and not all is there", ember, line(500, func(l *crop.Line) { l.Bunches, l.Whole = 3, true }), nil, 0},
		{"without a price", ember, line(0, nil), nil, 2},
		{"without a size of its bunch", ember, line(500, func(l *crop.Line) { l.Stems = 0 }), nil, 0},
		{"past its life", crop.LotID{Bed: "bed", Cut: packDay.Add(-8), Colour: "ember"}, line(500, nil), nil, 0},
		{"on its last day", crop.LotID{Bed: "bed", Cut: packDay.Add(-7), Colour: "ember"}, line(500, nil), nil, 2},
		{"partly packed already", ember, line(500, func(l *crop.Line) { l.Bunches = 3 }), func(f crop.Farm) {
			f.Sales.Packed["p"] = crop.Packed{ID: "p", Line: "l0", Bunches: 2, Stems: map[crop.LotID]int{ember: 15}}
		}, 1},
		{"of a lot that is used up but for nine", ember, line(500, nil), func(f crop.Farm) {
			f.Sales.Shrink["s"] = crop.Shrink{ID: "s", Lot: ember, Stems: 16}
		}, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := shop(tt.line)
			bench(f, tt.lot, 25)
			if tt.also != nil {
				tt.also(f)
			}
			p := plan(t, f, selling.Wishes{})
			if got := p.Lines[0].More; got != tt.want {
				t.Errorf("%d bunches, want %d (short: %+v)", got, tt.want, p.Lines[0].Short)
			}
			if !p.Proven || p.Placed+left(p) != p.Stems {
				t.Errorf("proven %v; %d stems placed and %d left of %d", p.Proven, p.Placed, left(p), p.Stems)
			}
		})
	}
}

func left(p selling.Plan) int {
	n := 0
	for _, u := range p.Unsold {
		n += u.Stems
	}
	return n
}

func TestWhatAChannelKeepsIsTakenOffInWholeCents(t *testing.T) {
	f := shop(line(333, func(l *crop.Line) { l.Bunches = 1 }))
	c := f.Sales.Channels["ch"]
	c.Commission = 1_550
	f.Sales.Channels["ch"] = c
	bench(f, lot("ember", crop.GradeFirst, 50), 10)
	if got := plan(t, f, selling.Wishes{}).Money.Revenue; got != 281 { // 333 × 0.845 = 281.385
		t.Errorf("%d cents, want 281", got)
	}
}

func TestTheOldestStemsGoFirst(t *testing.T) {
	f := shop(line(500, func(l *crop.Line) { l.Bunches = 1 }))
	young, old := lot("ember", crop.GradeFirst, 50), lot("ember", crop.GradeFirst, 50)
	old.Cut = cutDay.Add(-2)
	bench(f, young, 10)
	bench(f, old, 6)
	want := []selling.LotStems{{Lot: old, Stems: 6}, {Lot: young, Stems: 4}}
	if got := plan(t, f, selling.Wishes{}).Lines[0].From; !slices.Equal(got, want) {
		t.Errorf("from %v, want %v", got, want)
	}
}

func TestLinesWithoutAPriceGetWhatIsLeft(t *testing.T) {
	f := shop(line(0, nil), line(100, nil))
	bench(f, lot("ember", crop.GradeFirst, 50), 35)
	p := plan(t, f, selling.Wishes{})
	if p.Lines[0].More != 1 || p.Lines[1].More != 2 || p.Money.Revenue != 200 {
		t.Errorf("%d and %d bunches for %d cents, want 1, 2 and 200", p.Lines[0].More, p.Lines[1].More, p.Money.Revenue)
	}
}

func TestALineThatIsNotFilledSaysWhy(t *testing.T) {
	ember := lot("ember", crop.GradeFirst, 50)
	dear := line(900, nil)
	tests := []struct {
		name   string
		lines  []crop.Line
		stems  int
		also   func(crop.Farm)
		wishes selling.Wishes
		want   *selling.Short
	}{
		{"a line without a price has what is left", []crop.Line{line(500, nil), line(0, func(l *crop.Line) { l.Bunches, l.Stems = 1, 4 })}, 14, nil, selling.Wishes{}, &selling.Short{Why: selling.WhyWant, Missing: 6}},
		{"filled", []crop.Line{line(500, nil)}, 20, nil, selling.Wishes{}, nil},
		{"too little is there", []crop.Line{line(500, nil)}, 14, nil, selling.Wishes{}, &selling.Short{Why: selling.WhyWant, Missing: 6}},
		{"another brings more", []crop.Line{line(500, nil), dear}, 24, nil, selling.Wishes{}, &selling.Short{Why: selling.WhyElsewhere, Missing: 6}},
		{"what is left would go for too little", []crop.Line{line(500, nil)}, 20, func(f crop.Farm) {
			f.Sales.Channels["ch"].Floor[crop.GradeFirst] = 60
		}, selling.Wishes{}, &selling.Short{Why: selling.WhyFloor, Missing: 10}},
		{"all or nothing lacks what all of it lacks", []crop.Line{line(500, func(l *crop.Line) { l.Whole = true })}, 14, nil, selling.Wishes{}, &selling.Short{Why: selling.WhyWant, Missing: 6}},
		{"refused", []crop.Line{line(500, nil)}, 20, nil, selling.Wishes{Refused: []crop.LineID{"l0"}}, &selling.Short{Why: selling.WhyRefused}},
		{"pinned", []crop.Line{line(500, nil)}, 20, nil, selling.Wishes{Pinned: map[crop.LineID]int{"l0": 1}}, &selling.Short{Why: selling.WhyPinned}},
		{"pinned to more than there is", []crop.Line{line(500, nil)}, 14, nil, selling.Wishes{Pinned: map[crop.LineID]int{"l0": 2}}, &selling.Short{Why: selling.WhyWant, Missing: 6}},
		{"no size of its bunch", []crop.Line{line(500, func(l *crop.Line) { l.Stems = 0 })}, 20, nil, selling.Wishes{}, &selling.Short{Why: selling.WhySize}},
		{"another colour would do", []crop.Line{line(500, nil)}, 14, func(f crop.Farm) {
			bench(f, lot("oyster", crop.GradeFirst, 50), 6)
			bench(f, lot("barley", crop.GradeFirst, 50), 5)
			bench(f, lot("coral", crop.GradeExtra, 60), 30)
		}, selling.Wishes{}, &selling.Short{Why: selling.WhyWant, Missing: 6, Ask: []crop.ColourID{"coral", "oyster"}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := shop(tt.lines...)
			bench(f, ember, tt.stems)
			if tt.also != nil {
				tt.also(f)
			}
			got := plan(t, f, tt.wishes).Lines[0].Short
			if (got == nil) != (tt.want == nil) || got != nil && (got.Why != tt.want.Why || got.Missing != tt.want.Missing || !slices.Equal(got.Ask, tt.want.Ask)) {
				t.Errorf("short %+v, want %+v", got, tt.want)
			}
		})
	}
}

func TestAShortLineNamesWhoGotTheStems(t *testing.T) {
	first, second := lot("ember", crop.GradeFirst, 50), lot("ember", crop.GradeSecond, 50)
	picky := line(700, func(l *crop.Line) { l.Grade = crop.GradeFirst })
	tests := []struct {
		name  string
		lines []crop.Line
		also  func(crop.Farm)
		there int
		want  []selling.Taker
	}{
		{"one that pays more", []crop.Line{line(500, nil), line(900, nil)}, nil, 24, []selling.Taker{{Line: "l1", Stems: 20, Better: true}}},
		{"those that pay more before one that has more of them", []crop.Line{line(500, func(l *crop.Line) { l.Stems = 12 }), line(900, func(l *crop.Line) { l.Bunches, l.Stems = 1, 4 }),
			line(820, func(l *crop.Line) { l.Bunches, l.Stems = 1, 20 })}, nil, 24, []selling.Taker{{Line: "l1", Stems: 4, Better: true}, {Line: "l2", Stems: 20}}},
		{"one that pays no more a stem, for larger bunches", []crop.Line{line(501, func(l *crop.Line) { l.Bunches, l.Stems = 1, 10 }),
			line(1_100, func(l *crop.Line) { l.Bunches, l.Stems = 1, 22 })}, nil, 24, []selling.Taker{{Line: "l1", Stems: 22}}},
		{"none, where stems that went elsewhere would not do", []crop.Line{picky, line(500, func(l *crop.Line) { l.Bunches = 3 })}, func(f crop.Farm) {
			f.Sales.Shrink["s"] = crop.Shrink{ID: "s", Lot: first, Stems: 24}
			bench(f, second, 30)
		}, 0, nil},
		{"none of what may not go for its price", []crop.Line{line(500, nil), line(900, nil)}, func(f crop.Farm) {
			f.Sales.Channels["ch"].Floor[crop.GradeFirst] = 60
		}, 0, nil},
		{"no line without a price, which gets what others leave", []crop.Line{line(500, nil), line(0, func(l *crop.Line) { l.Bunches, l.Stems = 1, 4 })}, func(f crop.Farm) {
			f.Sales.Shrink["s"] = crop.Shrink{ID: "s", Lot: first, Stems: 10}
		}, 14, nil},
		{"to a line without a price, those with one", []crop.Line{line(0, nil), line(900, nil)}, nil, 24, []selling.Taker{{Line: "l1", Stems: 20}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := shop(tt.lines...)
			bench(f, first, 24)
			if tt.also != nil {
				tt.also(f)
			}
			got := plan(t, f, selling.Wishes{}).Lines[0].Short
			if got == nil || got.There != tt.there || !slices.Equal(got.To, tt.want) {
				t.Errorf("%+v, want %d there and %+v", got, tt.there, tt.want)
			}
		})
	}
}

func TestALineKeepsBackTheGradesThatItDoesNotPayFor(t *testing.T) {
	f := shop(line(500, nil), line(700, nil), line(0, nil))
	f.Sales.Channels["ch"].Floor[crop.GradeFirst] = 51
	f.Sales.Channels["ch"].Floor[crop.GradeExtra] = 70
	f.Sales.Channels["ch"].Floor[crop.GradeSecond] = 50
	want := [][]crop.Grade{{crop.GradeFirst, crop.GradeExtra}, nil, nil}
	for i, line := range plan(t, f, selling.Wishes{}).Lines {
		if got := line.KeptBack(); !slices.Equal(got, want[i]) {
			t.Errorf("line %d keeps back %v, want %v", i, got, want[i])
		}
	}
}

func TestWishesThatDoNotFitAreTold(t *testing.T) {
	f := shop(line(500, nil), line(500, func(l *crop.Line) { l.Whole = true }))
	bench(f, lot("ember", crop.GradeFirst, 50), 40)
	f.Sales.Packed["p"] = crop.Packed{ID: "p", Line: "l0", Bunches: 1}
	tests := []struct {
		name   string
		wishes selling.Wishes
		wrong  []crop.LineID
	}{
		{"none", selling.Wishes{}, nil},
		{"as many as are packed", selling.Wishes{Pinned: map[crop.LineID]int{"l0": 1}}, nil},
		{"fewer than are packed", selling.Wishes{Pinned: map[crop.LineID]int{"l0": 0}}, []crop.LineID{"l0"}},
		{"more than are ordered", selling.Wishes{Pinned: map[crop.LineID]int{"l0": 3}}, []crop.LineID{"l0"}},
		{"a part of what is all or nothing", selling.Wishes{Pinned: map[crop.LineID]int{"l1": 1}}, []crop.LineID{"l1"}},
		{"lines of another day", selling.Wishes{Pinned: map[crop.LineID]int{"x": 1}, Refused: []crop.LineID{"a", "l0"}}, []crop.LineID{"a", "x"}},
	}
	for _, tt := range tests {
		if got := plan(t, f, tt.wishes).Wrong; !slices.Equal(got, tt.wrong) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.wrong)
		}
	}
}

func TestALineWithoutAnAgreedPriceHasTheLists(t *testing.T) {
	f := shop(line(0, func(l *crop.Line) { l.Bunch = "ten" }), line(100, nil))
	f.Sales.Prices["p"] = crop.Price{ID: "p", Channel: "ch", Bunch: "ten", Cents: 300}
	bench(f, lot("ember", crop.GradeFirst, 50), 25)
	p := plan(t, f, selling.Wishes{})
	if p.Lines[0].More != 2 || p.Lines[1].More != 0 || p.Money.Revenue != 600 {
		t.Errorf("%d and %d bunches for %d cents, want 2, 0 and 600", p.Lines[0].More, p.Lines[1].More, p.Money.Revenue)
	}
}

func TestADayLongPastIsShownAsItWasAndAnOverdueOneAsThingsAre(t *testing.T) {
	for _, c := range []struct {
		name  string
		today crop.Date
		want  int // stems
	}{
		{"on the day", packDay, 25},
		{"a day overdue, its stems on their last day", cutDay.Add(crop.UsualCoolerDays), 25},
		{"overdue, and its stems are past their life", packDay.Add(crop.UsualCoolerDays), 0},
		{"long past", packDay.Add(crop.UsualCoolerDays + 1), 25},
	} {
		f := shop(line(500, nil))
		bench(f, lot("ember", crop.GradeFirst, 50), 25)
		p, err := selling.PlanDay(context.Background(), f, packDay, c.today, selling.Wishes{})
		if err != nil || p.Stems != c.want {
			t.Errorf("%s: %d stems (%v), want %d", c.name, p.Stems, err, c.want)
		}
	}
}
