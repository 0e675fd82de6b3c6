// Package choose finds which of its options each of many things takes, so that what all of them bring together on markets
// that fill up is most in the mean over draws, and says by how much another choice could at most be better.
package choose

// Problem is things with options, and the markets on which what they give is sold. Amounts of money are in cents.
//
// What a choice is worth is the mean over draws of what its supply brings on every market, less what its options cost. The
// supply of a draw is the sum of what the options give in it, and what a market pays for it is concave: so a tangent at
// any supply lies above it everywhere, and every bound here is the best choice under some tangent.
type Problem struct {
	Draws   int
	Markets []Market
	// Kinds are by kind and draw the shares of what is given by quality, the lowest first.
	Kinds [][]Qualities
	// Things have options each, of which the first uses nothing.
	Things [][]Option
	// Limits are how much of each of two scarce means all options together may use.
	Limits [2]float64
	Aim    Aim
}

// Qualities hold a number for each quality, the lowest first.
type Qualities [4]float64

// Option is something that a thing may take.
type Option struct {
	Cost  float64
	Uses  [2]float64 // below 0 it frees some
	Gives []Give
}

// Give is how many stems an option gives in each draw to one market.
type Give struct {
	Market int
	Kind   int
	Stems  []uint16
}

// Aim is that what goes to some markets together is so many in so great a share of the draws. A Share of 0 asks nothing.
type Aim struct {
	Markets []int
	Stems   float64
	Share   float64
}

// Solution is a choice, and how good another could be.
type Solution struct {
	Chosen []int // by thing
	// Value is its worth, and Bound what no choice is above. They are equal where the search came to its end.
	Value, Bound float64
	// Worth is what one more of each scarce means would bring, where things could take parts of their options.
	Worth [2]float64
	// Gains are by thing and option what that option is worth beside those that all others take, its use of scarce means paid.
	// Only their differences within a thing tell anything.
	Gains [][]float64
	// Share of the draws in which the aim is reached; Missed says that no choice was found that reaches it as often as
	// asked, and that this is the one that came nearest.
	Share  float64
	Missed bool
}

// Solve finds the best choice, or the best that so much work finds: a unit is some ten nanoseconds. The same problem and
// work give the same solution.
func Solve(p *Problem, work int) Solution {
	s := newSearch(p, work)
	s.relax(0)
	s.improve()
	if p.Aim.Share > 0 && !s.reached() {
		s.strive()
	}
	proven := s.prove()
	return s.solution(proven)
}

// Told is a solution as it is by other markets than those on which it was chosen, as where takers among those had prices
// that are no money: what its options gain beside it, and what scarce means are worth. Its value and the bound stay those by
// which it was chosen.
func Told(p *Problem, sol Solution) Solution {
	s := newSearch(p, 0)
	s.best = sol.Chosen
	s.last = s.tangentAt(s.hold(sol.Chosen), 0)
	sol.Worth = s.last.prices
	sol.Gains = s.gains(sol.Worth)
	return sol
}

// Worth is what a choice is worth, and the share of draws in which it reaches the aim.
func (p *Problem) Worth(chosen []int) (value, share float64) {
	h := newHeld(p)
	for thing, option := range chosen {
		h.take(thing, option)
	}
	return h.value(), h.share()
}
