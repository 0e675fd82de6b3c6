package stats

import "math"

// pile is counts by how often each was seen: many rows of a beta-binomial hold the same.
type pile struct {
	counts []counted
	total  float64
}

type counted struct {
	count, times float64
}

func (p *pile) add(count int) {
	p.total += float64(count)
	for i, c := range p.counts {
		if c.count == float64(count) {
			p.counts[i].times++
			return
		}
	}
	p.counts = append(p.counts, counted{float64(count), 1})
}

// mostForGamma is where log gamma, some 1e7 there, still leaves eight digits behind the point of a
// difference.
const mostForGamma = 1e6

// logRise is the sum over the counts y of the sum over k<y of log(1 + k/a): the log of a (a+1) ... (a+y-1)
// over a^y, which by the gamma function is log G(a+y) - log G(a) - y log a.
func (p *pile) logRise(a float64) float64 {
	sum := 0.0
	if a > mostForGamma {
		for _, c := range p.counts {
			for k := 1.0; k < c.count; k++ {
				sum += c.times * math.Log1p(k/a)
			}
		}
		return sum
	}
	base, _ := math.Lgamma(a)
	logA := math.Log(a)
	for _, c := range p.counts {
		top, _ := math.Lgamma(a + c.count)
		sum += c.times * (top - base - c.count*logA)
	}
	return sum
}
