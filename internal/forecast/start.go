package forecast

import "math"

// A flush that is over may as well be a few stragglers before a far greater one: a sampler that begins there does not find
// back. So each season's flush begins where it fits best what was cut.

// The days by which a season's flush is tried earlier or later than the usual one, and how far apart seasons are taken to be.
const startReach, startStep, startSD = 75, 3, 20.0

// start moves each season's onset to where its stems lie.
func (s *sampler) start() {
	for _, p := range s.processes {
		before := 0
		for k, end := range p.ends { // as if it grew evenly over a year
			p.grown[k] = float64(max(end-before, 1)) / 365
			before = end
		}
	}
	s.shareOut()
	for f := range flushes {
		flush := &s.curves.flushes[f]
		for _, season := range sortedKeys(flush.seasons) {
			shift := flush.seasons[season]
			best, at := math.Inf(-1), 0.0
			for by := -startReach; by <= startReach; by += startStep {
				shift.onset = float64(by)
				z := shift.onset / startSD
				fit := -z * z / 2
				for _, p := range shift.processes {
					fit += s.likeness(p)
				}
				if fit > best {
					best, at = fit, shift.onset
				}
			}
			shift.onset = at
		}
	}
	for _, p := range s.processes {
		p.eachCell(s.curves.of(p), func(k int, share float64) { p.grown[k] = share })
	}
}

// likeness is how well a curve's shares fit those of the stems that were seen, as the log likelihood of a multinomial.
func (s *sampler) likeness(p *process) float64 {
	all, stems, sum := 0.0, 0.0, 0.0
	p.eachCell(s.curves.of(p), func(k int, share float64) {
		all += max(share, leastShape)
		stems += p.stems[k]
		if p.stems[k] > 0 {
			sum += p.stems[k] * math.Log(max(share, leastShape))
		}
	})
	if stems == 0 {
		return 0
	}
	return sum - stems*math.Log(all)
}
