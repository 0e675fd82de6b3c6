package forecast

import (
	"math/bits"

	"corymb/internal/crop"
)

// weekCode tells the weeks of draws number by number, each beside a guess from what was told before, so that whoever reads
// them makes the same guesses. All of it is in whole numbers, and rounded down; they stay under 2^53, so that floating point
// has them exactly, as long as a week has fewer than 2^20 stems.
//
// A week's total is guessed as the week before of the same draw, times what all draws so far have in this week, 1 more, by
// what they have in the week before, 1 more; but no more than four times the mean of the draws before. In the first week it is
// that mean.
//
// A number that is split into parts is told part by part, each but the last, for as long as anything is left: of what is left
// a part is guessed to have as much as its weight is of the weights of the parts from it on. A part's weight is how many
// stems the draws before had there in that week, 1 more. Of grades and lengths, what colours told before have in the same
// week and draw counts too: then it is those stems times the sum of all weights, and hereWorth times the weight.
type weekCode struct {
	numbers numbers

	draws   uint64     // told before this one
	last    uint64     // stems of the week before
	totals  []uint64   // by week, of all draws
	colours []partSums // by week
	grades  []partSums // by week
	lengths []partSums // by week and grade
	days    []partSums // by week

	here    [1 + grades]partSums // of this week, of the colours told before: grades, and the lengths of each
	weights []uint64
}

// numbers tells a number of some kind beside its guess, or is told it; near says how far off it may easily be.
type numbers interface {
	number(of numberKind, guess, near, n uint64) uint64
}

// numberKind is what a number tells; each is missed by as much as others of it were.
type numberKind int

const (
	ofTotal numberKind = iota
	ofColour
	ofGrade
	ofLength
	ofDay
	numberKinds
)

// partSums are stems by part, of draws before.
type partSums []uint64

const (
	// seenMost is from how many on they are halved: what was told lately says more, and guesses stay exact.
	seenMost = 4096
	// hereWorth is how many stems of other colours in a week say as much as all other draws (this program's choice).
	hereWorth = 40
	// farOff is how many times the mean a week is guessed at most.
	farOff = 4
)

func newWeekCode(weeks, colours, lengths int, numbers numbers) *weekCode {
	c := &weekCode{numbers: numbers, totals: make([]uint64, weeks), weights: make([]uint64, max(colours, grades, lengths, 7))}
	for range weeks {
		c.colours, c.grades, c.days = append(c.colours, make(partSums, colours)), append(c.grades, make(partSums, grades)), append(c.days, make(partSums, 7))
		for range grades {
			c.lengths = append(c.lengths, make(partSums, lengths))
		}
	}
	c.here[0] = make(partSums, grades)
	for g := range grades {
		c.here[1+g] = make(partSums, lengths)
	}
	return c
}

// draw tells one draw, whose weeks are filled, each in its turn before it is told, or read once it was.
func (c *weekCode) draw(s *weekSplit, fill, read func(week int)) {
	c.last = 0
	for w := range c.totals {
		fill(w)
		c.week(w, s)
		read(w)
	}
	c.draws++
}

func (c *weekCode) week(w int, s *weekSplit) {
	guess := c.guess(w)
	s.total = c.numbers.number(ofTotal, guess, guess, s.total)
	c.totals[w] += s.total
	c.last = s.total
	if s.total == 0 {
		return
	}
	c.split(ofColour, s.total, s.colours, c.colours[w], nil)
	c.colours[w].learn(s.colours)
	for _, here := range c.here {
		clear(here)
	}
	for colour, stems := range s.colours {
		if stems > 0 {
			c.colour(w, stems, s.grades[colour], s.lengths[colour*grades:][:grades])
		}
	}
	c.grades[w].learn(c.here[0])
	for g := range grades {
		c.lengths[w*grades+g].learn(c.here[1+g])
	}
	c.split(ofDay, min(s.total, whole), s.days, c.days[w], nil)
	c.days[w].learn(s.days)
}

func (c *weekCode) guess(w int) uint64 {
	mean := c.totals[w] / max(c.draws, 1)
	if w == 0 {
		return mean
	}
	return min(c.last*(c.totals[w]+1)/(c.totals[w-1]+1), farOff*mean)
}

// colour tells a colour's stems of a week. Unsaleable ones are all with the shortest.
func (c *weekCode) colour(w int, stems uint64, byGrade []uint64, byLength [][]uint64) {
	c.split(ofGrade, stems, byGrade, c.grades[w], c.here[0])
	c.here[0].add(byGrade)
	for g, stems := range byGrade {
		if g != crop.GradeOut.Rank() && stems > 0 {
			c.split(ofLength, stems, byLength[g], c.lengths[w*grades+g], c.here[1+g])
			c.here[1+g].add(byLength[g])
		}
	}
}

func (c *weekCode) split(of numberKind, left uint64, parts []uint64, seen, here partSums) {
	weights, last := c.weights[:len(parts)], len(parts)-1
	behind := weigh(weights, seen, here)
	for i := range last {
		if left == 0 {
			parts[i] = 0
			continue
		}
		guess := left * weights[i] / behind
		parts[i] = c.numbers.number(of, guess, min(guess, left-guess), parts[i])
		left -= parts[i]
		behind -= weights[i]
	}
	parts[last] = left
}

// weigh tells the sum too.
func weigh(weights []uint64, seen, here partSums) (sum uint64) {
	for i, n := range seen {
		weights[i] = n + 1
		sum += n + 1
	}
	if here == nil {
		return sum
	}
	all := sum
	sum = 0
	for i, n := range here {
		weights[i] = n*all + hereWorth*weights[i]
		sum += weights[i]
	}
	return sum
}

func (s partSums) add(stems []uint64) {
	for i, n := range stems {
		s[i] += n
	}
}

// learn adds a draw's stems, and halves all of them, rounded down, until they are few enough.
func (s partSums) learn(stems []uint64) {
	s.add(stems)
	for {
		sum := uint64(0)
		for _, n := range s {
			sum += n
		}
		if sum <= seenMost {
			return
		}
		for i := range s {
			s[i] /= 2
		}
	}
}

// misses is by how much numbers of a kind were missed that were guessed alike.
type misses struct{ sum, n uint64 }

const (
	// missesMost is how many of them are remembered: then both sum and n are halved.
	missesMost = 256
	// bitsOfNear is from how many bits on guesses are alike.
	bitsOfNear = 15
)

// missed is by kind and by the bits of what is near.
type missed [numberKinds][bitsOfNear + 1]misses

func (m *missed) of(of numberKind, near uint64) *misses {
	return &m[of][min(bits.Len64(near), bitsOfNear)]
}

// lowBits is how many bits of a miss are not told by their number of ones: as many as the mean has (of adaptive Golomb codes;
// Weinberger, Seroussi and Sapiro 2000, IEEE Transactions on Image Processing 9:1309-1324).
func (m *misses) lowBits() (k int) {
	for m.n<<k < m.sum {
		k++
	}
	return k
}

func (m *misses) learn(miss uint64) {
	m.sum, m.n = m.sum+miss, m.n+1
	if m.n == missesMost {
		m.sum, m.n = m.sum/2, m.n/2
	}
}

// bitWriter tells numbers as bits, of each byte the highest first. A miss of n is 2n, one below its guess by n 2n-1. It is
// told as so many ones as it has of 2^k (misses.lowBits), a zero and its lowest k bits; from mostOnes on, as mostOnes ones and
// 32 bits.
type bitWriter struct {
	missed missed
	bytes  []byte
	last   uint64 // bits that fill no byte yet
	n      int    // of them
}

const mostOnes = 20

func (b *bitWriter) number(of numberKind, guess, near, n uint64) uint64 {
	miss := 2 * (n - guess)
	if n < guess {
		miss = 2*(guess-n) - 1
	}
	m := b.missed.of(of, near)
	k := m.lowBits()
	if ones := miss >> k; ones < mostOnes {
		b.write(1<<(ones+1)-2, int(ones)+1)
		b.write(miss&(1<<k-1), k)
	} else {
		b.write(1<<mostOnes-1, mostOnes)
		b.write(miss, 32)
	}
	m.learn(miss)
	return n
}

func (b *bitWriter) write(bits uint64, n int) {
	b.last, b.n = b.last<<n|bits, b.n+n
	for ; b.n >= 8; b.n -= 8 {
		b.bytes = append(b.bytes, byte(b.last>>(b.n-8)))
	}
}

// filled are all bytes; the last one ends with zeros.
func (b *bitWriter) filled() []byte {
	if b.n > 0 {
		b.write(0, 8-b.n)
	}
	return b.bytes
}
