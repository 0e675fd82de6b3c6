package assign

import (
	"context"
	"flag"
	"math/rand/v2"
	"testing"
	"time"
)

var (
	days = flag.Int("assign.days", 2000, "how many tiny problems are tried one by one")
	seed = flag.Uint64("assign.seed", uint64(time.Now().UnixNano()), "of the first of them")
)

// tiny is a problem small enough to try all whole lots of; one in sixteen is less tiny, and scarce of stems.
func tiny(r *rand.Rand, i int) Problem {
	p := Problem{}
	classes, lines := 1+r.IntN(5), 1+r.IntN(5)
	if i%16 == 0 {
		classes, lines = 6, 6
	}
	for range classes {
		p.Stems = append(p.Stems, r.Int64N(26))
	}
	for range lines {
		line := Line{Lot: []int64{1, 3, 5, 7, 10, 14, 20}[r.IntN(7)], Most: r.Int64N(4)}
		line.Worth = line.Lot*(8+r.Int64N(4)) + r.Int64N(3)
		if i%16 == 0 {
			line.Most++
			line.Worth = line.Lot*10 + r.Int64N(5)
		}
		if r.IntN(8) == 0 {
			line.Worth = 0
		}
		if r.IntN(6) == 0 {
			line.Least = r.Int64N(line.Most + 1)
		}
		for c := range p.Stems {
			if r.IntN(5) < 3 {
				line.From = append(line.From, c)
			}
		}
		p.Lines = append(p.Lines, line)
	}
	return p
}

// tried tries all whole lots, and for each every set of lines against what it can draw on (Hall's condition). It is -1
// where nothing fits.
func tried(p Problem, lots []int64) int64 {
	if len(lots) < len(p.Lines) {
		best := int64(-1)
		line := p.Lines[len(lots)]
		for k := line.Least; k <= line.Most; k++ {
			best = max(best, tried(p, append(lots[:len(lots):len(lots)], k)))
		}
		return best
	}
	worth := int64(0)
	for l, k := range lots {
		worth += k * p.Lines[l].Worth
	}
	for chosen := 1; chosen < 1<<len(p.Lines); chosen++ {
		asked, there := int64(0), int64(0)
		classes := map[int]bool{}
		for l, line := range p.Lines {
			if chosen&(1<<l) == 0 {
				continue
			}
			asked += lots[l] * line.Lot
			for _, c := range line.From {
				if !classes[c] {
					classes[c] = true
					there += p.Stems[c]
				}
			}
		}
		if asked > there {
			return -1
		}
	}
	return worth
}

func TestTheBestOfTinyProblemsIsWhatTryingAllGives(t *testing.T) {
	t.Logf("seed %d", *seed)
	for i := range *days {
		p := tiny(rand.New(rand.NewPCG(*seed, uint64(i))), i)
		want := tried(p, nil)
		got := Solve(context.Background(), p, Options{})
		switch {
		case !got.Proven || want < 0 != (got.Lots == nil):
			t.Fatalf("seed %d, problem %d: %+v, best is %d: %+v", *seed, i, got, want, p)
		case want >= 0 && (got.Worth != want || got.Bound != want || tried(fixed(p, got.Lots), nil) != want):
			t.Fatalf("seed %d, problem %d: %+v, best is %d: %+v", *seed, i, got, want, p)
		}
	}
}

// fixed is a problem with one answer only.
func fixed(p Problem, lots []int64) Problem {
	q := Problem{Stems: p.Stems}
	for l, line := range p.Lines {
		if lots[l] < line.Least || lots[l] > line.Most {
			line.From = nil
		}
		line.Least, line.Most = lots[l], lots[l]
		q.Lines = append(q.Lines, line)
	}
	return q
}

// eachBest walks all whole lots that are worth most.
func eachBest(p Problem, lots []int64, worth int64, see func([]int64)) {
	if len(lots) == len(p.Lines) {
		if tried(fixed(p, lots), nil) == worth {
			see(lots)
		}
		return
	}
	line := p.Lines[len(lots)]
	for k := line.Least; k <= line.Most; k++ {
		eachBest(p, append(lots[:len(lots):len(lots)], k), worth, see)
	}
}

func TestDominanceLeavesOneOfTheBest(t *testing.T) {
	t.Logf("seed %d", *seed)
	rules := 0
	for i := range 1 + *days/4 {
		p := tiny(rand.New(rand.NewPCG(*seed, uint64(i))), 1)
		worth := tried(p, nil)
		if worth < 0 {
			continue
		}
		n := newNetwork(p)
		n.below = n.dominance()
		rules += len(n.below)
		left := false
		eachBest(p, nil, worth, func(lots []int64) {
			left = left || n.infer(append([]int64(nil), lots...), append([]int64(nil), lots...))
		})
		if !left {
			t.Fatalf("seed %d, problem %d: none of the best is left: %+v", *seed, i, p)
		}
	}
	if rules == 0 {
		t.Error("no line dominates another")
	}
}

// stopping is a context that ends once it was asked so often.
type stopping struct {
	context.Context
	left int
}

func (s *stopping) Err() error {
	if s.left == 0 {
		return context.Canceled
	}
	s.left--
	return nil
}

// A search that is stopped anywhere says no more than it knows: what it found fits, nothing is worth more than its bound,
// and what it calls proven is.
func TestASearchThatIsStoppedClaimsNothingThatIsNotSo(t *testing.T) {
	t.Logf("seed %d", *seed)
	early, proven := 0, 0
	for i := 0; i < *days; i += 4 {
		p := tiny(rand.New(rand.NewPCG(*seed, uint64(i))), i)
		best := tried(p, nil)
		for asks := 0; ; asks++ {
			got := Solve(&stopping{context.Background(), asks}, p, Options{Alone: true})
			if got.Lots == nil {
				break // nothing can be had
			}
			if tried(fixed(p, got.Lots), nil) != got.Worth || got.Bound < best || got.Proven != (got.Bound == got.Worth) {
				t.Fatalf("seed %d, problem %d stopped after %d asks: %+v, best is %d: %+v", *seed, i, asks, got, best, p)
			}
			early++
			if got.Proven {
				proven++
			}
			if asks >= 60 {
				break
			}
		}
	}
	if proven == early {
		t.Errorf("seed %d: none of %d was stopped before it was proven", *seed, early)
	}
}
