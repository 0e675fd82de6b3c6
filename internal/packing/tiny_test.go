package packing

import (
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"
)

var (
	tinyDays = flag.Int("packing.days", 2500, "how many tiny days are planned by trying everything")
	tinySeed = flag.Uint64("packing.seed", uint64(time.Now().UnixNano()), "of the first of them")
)

// tinyDay is a day small enough to try every plan.
func tinyDay(r *rand.Rand) Day {
	d := Day{Grades: []string{"second", "first", "extra"}}
	colours := []string{"red", "white"}
	for i := range 1 + r.IntN(5) {
		d.Supply = append(d.Supply, Supply{
			ID: fmt.Sprint("S", i), Grade: d.Grades[r.IntN(3)], LengthMM: int64(400 + 100*r.IntN(2)), Colour: colours[r.IntN(2)],
			Stems: r.Int64N(20), Floor: r.Int64N(3) * 5, Cut: []string{"", "2026-06-01", "2026-06-02"}[r.IntN(3)],
		})
	}
	for i := range 1 + r.IntN(4) {
		line := Demand{
			ID: fmt.Sprint("D", i), MinGrade: d.Grades[r.IntN(3)], MinLengthMM: int64(400 + 100*r.IntN(2)),
			Bunch: []int64{1, 3, 5, 7, 10}[r.IntN(5)], MaxBunches: r.Int64N(4), AllOrNothing: r.IntN(4) == 0,
		}
		if r.IntN(2) == 0 {
			line.Colours = []string{colours[r.IntN(2)]}
		}
		line.Price = line.Bunch*(7+r.Int64N(5)) + r.Int64N(3)
		if r.IntN(5) == 0 {
			line.MinBunches = r.Int64N(line.MaxBunches + 1)
		}
		switch r.IntN(12) {
		case 0:
			line.Refused = true
		case 1:
			pinned := r.Int64N(line.MaxBunches + 1)
			if line.AllOrNothing && pinned > 0 {
				pinned = line.MaxBunches
			}
			line.Pinned = &pinned
		}
		d.Demand = append(d.Demand, line)
	}
	return d
}

// score orders plans as the rules say: pinned bunches first, then minimums, then revenue.
type score struct{ pinned, minimum, revenue int64 }

func (s score) beats(other score) bool {
	switch {
	case s.pinned != other.pinned:
		return s.pinned > other.pinned
	case s.minimum != other.minimum:
		return s.minimum > other.minimum
	}
	return s.revenue > other.revenue
}

func scoreOf(d Day, bunches []int64) (s score) {
	for l, line := range d.Demand {
		s.revenue += bunches[l] * line.Price
		switch {
		case line.Refused:
		case line.Pinned != nil:
			s.pinned += min(bunches[l], *line.Pinned)
		case line.AllOrNothing && line.MinBunches > 0:
			s.minimum += bunches[l]
		default:
			s.minimum += min(bunches[l], line.MinBunches)
		}
	}
	return s
}

// tried is the best of all numbers of bunches for which stems can be found.
func tried(d Day, bunches []int64, best *score) {
	if l := len(bunches); l < len(d.Demand) {
		line := d.Demand[l]
		most := line.MaxBunches
		if line.Pinned != nil {
			most = *line.Pinned
		}
		for n := int64(0); n <= most; n++ {
			if n > 0 && (line.Refused || line.AllOrNothing && n < line.MaxBunches) {
				continue
			}
			tried(d, append(bunches[:l:l], n), best)
		}
		return
	}
	if s := scoreOf(d, bunches); s.beats(*best) && fits(d, bunches) {
		*best = s
	}
}

// fits says whether every set of lines finds stems enough, by Hall's condition.
func fits(d Day, bunches []int64) bool {
	for chosen := range 1 << len(bunches) {
		asked, there := int64(0), int64(0)
		for l, n := range bunches {
			if chosen&(1<<l) != 0 {
				asked += n * d.Demand[l].Bunch
			}
		}
		for _, s := range d.Supply {
			for l, line := range d.Demand {
				if chosen&(1<<l) != 0 && mayGo(d, s, line) {
					there += s.Stems
					break
				}
			}
		}
		if asked > there {
			return false
		}
	}
	return true
}

func mayGo(d Day, s Supply, line Demand) bool {
	rank := map[string]int{"second": 1, "first": 2, "extra": 3}
	colour := len(line.Colours) == 0
	for _, c := range line.Colours {
		colour = colour || c == s.Colour
	}
	return rank[s.Grade] >= rank[line.MinGrade] && s.LengthMM >= line.MinLengthMM && colour && line.Price >= s.Floor*line.Bunch
}

func TestAPlanIsAsGoodAsTheBestThatTryingAllFinds(t *testing.T) {
	t.Logf("seed %d", *tinySeed)
	for i := range *tinyDays {
		d := tinyDay(rand.New(rand.NewPCG(*tinySeed, uint64(i))))
		plan, err := Solve(context.Background(), d, Options{OneMore: i%10 == 0})
		if err != nil {
			t.Fatalf("seed %d, day %d: %v", *tinySeed, i, err)
		}
		best := score{-1, -1, -1}
		tried(d, nil, &best)
		if wrong := broken(d, plan); len(wrong) > 0 || !plan.Proven {
			t.Fatalf("seed %d, day %d: %v: %+v", *tinySeed, i, wrong, d)
		}
		if got := scoreOf(d, bunchesOf(plan)); got != best {
			t.Fatalf("seed %d, day %d: %+v, best is %+v: %+v", *tinySeed, i, got, best, d)
		}
		if i%10 == 0 {
			oneMoreByTrying(t, i, d, plan)
		}
	}
}

func bunchesOf(plan Plan) (all []int64) {
	for _, packed := range plan.Lines {
		all = append(all, packed.Bunches)
	}
	return all
}

// oneMoreByTrying holds what one more would bring against trying it.
func oneMoreByTrying(t *testing.T, i int, d Day, plan Plan) {
	t.Helper()
	revenue := func(d Day) int64 {
		best := score{-1, -1, -1}
		tried(d, nil, &best)
		return best.revenue
	}
	for s := range d.Supply {
		more := d
		more.Supply = append([]Supply(nil), d.Supply...)
		more.Supply[s].Stems++
		got, there := plan.OneStem[d.Supply[s].ID]
		if want := revenue(more) - plan.Revenue; !there || got != want {
			t.Fatalf("seed %d, day %d: one stem more of %s brings %d (%v), want %d: %+v", *tinySeed, i, d.Supply[s].ID, got, there, want, d)
		}
	}
	for l := range d.Demand {
		more := d
		more.Demand = append([]Demand(nil), d.Demand...)
		if more.Demand[l].Pinned == nil {
			more.Demand[l].MaxBunches++
		}
		got, there := plan.OneBunch[d.Demand[l].ID]
		if want := revenue(more) - plan.Revenue; !there || got != want {
			t.Fatalf("seed %d, day %d: one bunch more of %s brings %d (%v), want %d: %+v", *tinySeed, i, d.Demand[l].ID, got, there, want, d)
		}
	}
}
